"""Strokes strung together, so that a pen goes round corners without lifting.

In: straight strokes on the paper, mm.  Out: strokes with as many points as they go on for.
"""

from collections.abc import Hashable, Iterator, Sequence

from patternpress.drawing.hidden import Stroke2d
from patternpress.drawing.projection import Place

_Look = tuple[tuple[Hashable, ...], str, bool]
_Spot = tuple[int, int]
# A cell and those round it, the cell itself first.
_CELLS = tuple((i, j) for i in (0, -1, 1) for j in (0, -1, 1))


def chained(strokes: Sequence[Stroke2d], near: float = 1e-4) -> tuple[Stroke2d, ...]:
    """Return the strokes with those of one look joined where just two of them meet.

    A look is keys, kind and hidden; looks keep their order.  Where three or more of one look
    meet, all of them end.  A closed chain ends in the point it began with.  Ends closer than
    `near` mm are one place.
    """
    looks: dict[_Look, list[Stroke2d]] = {}
    for stroke in strokes:
        looks.setdefault((stroke.keys, stroke.kind, stroke.hidden), []).append(stroke)
    return tuple(
        Stroke2d(same[0].keys, same[0].kind, points, same[0].hidden)
        for same in looks.values()
        for points in _chains([stroke.points for stroke in same], near)
    )


def _chains(lines: Sequence[tuple[Place, ...]], near: float) -> Iterator[tuple[Place, ...]]:
    known: dict[_Spot, int] = {}
    ends = [(_spot(line[0], near, known), _spot(line[-1], near, known)) for line in lines]
    meeting: dict[int, list[int]] = {}
    for number, (start, end) in enumerate(ends):
        meeting.setdefault(start, []).append(number)
        meeting.setdefault(end, []).append(number)
    used = [False] * len(lines)
    # Chains with ends first; what is left over then goes round.
    stops = [number for number, pair in enumerate(ends) if any(len(meeting[s]) != 2 for s in pair)]
    for number in (*stops, *range(len(lines))):
        if not used[number]:
            turned = len(meeting[ends[number][0]]) == 2 and number in stops
            yield _follow(number, turned, (lines, ends, meeting), used)


def _follow(
    number: int,
    turned: bool,
    net: tuple[Sequence[tuple[Place, ...]], list[tuple[int, int]], dict[int, list[int]]],
    used: list[bool],
) -> tuple[Place, ...]:
    """Return the points from a line on, to where the chain stops or has come round."""
    lines, ends, meeting = net
    points: list[Place] = []
    while True:
        used[number] = True
        line = lines[number][::-1] if turned else lines[number]
        points += line if not points else line[1:]
        spot = ends[number][0 if turned else 1]
        following = [each for each in meeting[spot] if not used[each]]
        if len(meeting[spot]) != 2 or not following:
            return tuple(points)
        number = following[0]
        turned = ends[number][0] != spot


def _spot(place: Place, near: float, known: dict[_Spot, int]) -> int:
    """Return the number of a place; places in cells side by side are the same."""
    x, y = round(place[0] / near), round(place[1] / near)
    for i, j in _CELLS:
        cell = x + i, y + j
        if cell in known:
            return known[cell]
    known[x, y] = len(known)
    return known[x, y]

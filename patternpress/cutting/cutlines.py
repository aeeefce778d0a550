"""Where the cuts of a board run in its picture, and their numbers.

In: the lines of a cut and a picture in the making.  Out: a line, and its number if
there is room.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from patternpress.cutting.bareboard import BAR, Drawn
from patternpress.cutting.slicing import Line
from patternpress.drawing.ink import Anchor, Extent, Place, Stroke, Tone, Track, Words, straight
from patternpress.drawing.lettering import figure_width, words
from patternpress.drawing.lines import Pen
from patternpress.drawing.style import DrawingStyle

RING = 0.8  # mm that the ring round a number is wider and higher than the number
CORNER = 0.8  # mm that are cut off at its corners


def number_cut(
    number: str,
    lines: Sequence[Line],
    drawn: Drawn,
    style: DrawingStyle,
    board: tuple[float, float],
) -> bool:
    """The number of a cut at its lines, wherever there is room; in a white ring over the line, so
    that it is not read as a letter or a size.

    Returns whether one of the lines has it.
    """
    lettering = style.set_in(style.label)
    figure = words(number)
    wide, high = figure_width(figure, lettering) + RING, lettering.height + RING
    before = len(drawn.taken)
    for line in lines:
        for x, y in _candidates(line, drawn, board):
            box = Extent(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
            if any(box.meets(other) for other in drawn.taken):
                continue
            drawn.letters.append(Tone((_rounded(box),), 1.0))
            drawn.letters.append(Stroke((_rounded(box),), Pen(style.thin)))
            drawn.letters.append(
                Words(figure, (x, y - lettering.height / 2), lettering, Anchor.MIDDLE)
            )
            drawn.taken.append(box)
            break
    return len(drawn.taken) > before


def _rounded(box: Extent) -> Track:
    """A box with corners cut off, round a number: unlike any edge of a piece."""
    left, low, right, top, cut = box.left, box.bottom, box.right, box.top, CORNER
    return straight(
        (left + cut, low), (right - cut, low), (right, low + cut), (right, top - cut),
        (right - cut, top), (left + cut, top), (left, top - cut), (left, low + cut),
        closed=True,
    )  # fmt: skip


def cut_track(line: Line, drawn: Drawn) -> Track:
    """Where the blade runs, on the paper."""
    return straight(*_ends(line, drawn))


def _ends(line: Line, drawn: Drawn) -> tuple[Place, Place]:
    scale = drawn.scale
    start = scale.far(float(line.x)), float(line.y) * scale.by
    return start, (scale.far(float(line.to_x)), BAR if drawn.bar else float(line.to_y) * scale.by)


def _candidates(line: Line, drawn: Drawn, board: tuple[float, float]) -> Iterator[Place]:
    """Places for a number: outside where the line meets the board's edge, then on the line."""
    start, end = _ends(line, drawn)
    out = 2.2
    if start[0] == end[0]:
        if end[1] >= board[1] - 0.2:
            yield start[0], board[1] + out
        if start[1] <= 0.2:
            yield start[0], -out
    else:
        if start[0] <= 0.2:
            yield -out, start[1]
        if end[0] >= board[0] - 0.2:
            yield board[0] + out, start[1]
    for share in (0.5, 0.25, 0.75, 0.12, 0.88):
        yield start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])

"""Names of holes, grooves and marks that found no room on their part.

In: the callouts left over.  Out: words in a column to the right of the part, or in a row above a
flat one, with leaders that do not cross and that are no continuation of a line.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from patternpress.assembly.polygons import Edge, Place, meeting
from patternpress.drawing.callouts import Callout
from patternpress.drawing.dimensions import leader
from patternpress.drawing.features import Feature
from patternpress.drawing.ink import Extent, Ink, Words
from patternpress.drawing.lettering import figure_width
from patternpress.drawing.room import passes_through
from patternpress.drawing.style import DrawingStyle

_SLANT = 4.0  # mm from a line's height to the words that name it
_FROM_END = 5.0  # mm from the end of a line to the dot of its leader
_ROW = 4.4  # mm from row to row in the column


@dataclass(frozen=True, slots=True)
class Outside:
    """Words outside a part, and where their leaders cross its right edge and its top edge.

    `ways`: of words above it, the leaders themselves.
    """

    ink: tuple[Ink, ...] = ()
    levels: tuple[float, ...] = ()
    columns: tuple[float, ...] = ()
    ways: tuple[Edge, ...] = ()


def beside(left_over: Sequence[Callout], edge: float, style: DrawingStyle) -> Outside:
    """Return words in a column that begins at x = `edge`, each near the height of its feature."""
    lettering = style.set_in(style.label)
    aimed = [(_near_right(callout.feature), callout) for callout in left_over]
    # Of features at one height the one furthest to the right comes first, so that no two leaders
    # cross and none runs through another feature.
    aimed.sort(key=lambda each: (-round(each[0][1], 3), -each[0][0]))
    heights = []
    free = math.inf
    for target, callout in aimed:
        # A leader level with a line would look like more of it.
        lift = _SLANT if _is_line(callout.feature) else 0.0
        heights.append(min(target[1] + lift - style.label / 2, free))
        free = heights[-1] - _ROW
    half = style.label / 2
    starts = [(edge - 0.6, level + half) for level in heights]
    aimed = _untangled(aimed, starts)
    ink: list[Ink] = []
    levels = []
    for start, (target, callout) in zip(starts, aimed, strict=True):
        feature = callout.feature
        ink.append(Words(callout.figure, (edge, start[1] - half), lettering))
        levels += [start[1], target[1], (start[1] + target[1]) / 2]
        ink += leader((start, _reached(start, target, feature)), style, not feature.reach)
    return Outside(tuple(ink), tuple(levels))


def _untangled(
    aimed: Sequence[tuple[Place, Callout]], starts: Sequence[Place]
) -> list[tuple[Place, Callout]]:
    """Return what each start names so that no two leaders cross.

    Two that cross change places, which makes both together shorter, so that it comes to an end.
    """
    found = list(aimed)
    crossed = True
    while crossed:
        crossed = False
        for one, two in combinations(range(len(found)), 2):
            lines = (starts[one], found[one][0]), (starts[two], found[two][0])
            if meeting(*lines) is not None and found[one][0] != found[two][0]:
                swapped = math.dist(starts[one], found[two][0]) + math.dist(
                    starts[two], found[one][0]
                )
                if swapped < math.dist(*lines[0]) + math.dist(*lines[1]) - 1e-9:
                    found[one], found[two] = found[two], found[one]
                    crossed = True
    return found


def above(left_over: Sequence[Callout], whole: Extent, edge: float, style: DrawingStyle) -> Outside:
    """Return words in a row on the line y = `edge`, each above its feature: for flat parts.

    A row that would go on past the right of the part begins farther to the left.  A leader passes
    through no other feature that is named, where it can start elsewhere under its words.
    """
    lettering = style.set_in(style.label)
    row = sorted(left_over, key=lambda c: c.feature.points_to[0])
    lengths = [figure_width(callout.figure, lettering) for callout in row]
    lefts: list[float] = []
    free = -math.inf
    for callout, length in zip(row, lengths, strict=True):
        lefts.append(max(callout.feature.points_to[0] - 1.0, free))
        free = lefts[-1] + length + 3
    back = max(0.0, min(free - 3 - whole.right, lefts[0] - whole.left)) if row else 0.0
    ink: list[Ink] = []
    columns: list[float] = []
    ways: list[Edge] = []
    for callout, far, length in zip(row, lefts, lengths, strict=True):
        target, left = callout.feature.points_to, far - back
        ink.append(Words(callout.figure, (left, edge), lettering))
        ends = (left + 1.0, left + length - 1.0)
        under = max(ends[0], min(target[0], ends[1])) if back else ends[0]
        starts = [(at, edge - lettering.descent - 0.5) for at in (under, *ends)]
        others = [box for each in row if each is not callout for box in each.feature.blocked]
        clear = (s for s in starts if not any(passes_through((s, target), box) for box in others))
        start = next(clear, starts[0])
        columns += [target[0], start[0], (target[0] + start[0]) / 2]
        ways.append((start, _reached(start, target, callout.feature)))
        ink += leader(ways[-1], style, not callout.feature.reach)
    return Outside(tuple(ink), (), tuple(columns), tuple(ways))


def _is_line(feature: Feature) -> bool:
    """Say whether a feature is drawn as a line or a band across the page."""
    if feature.upright or feature.reach:
        return False
    if feature.blocked:
        return feature.blocked[0].width > 4 * max(feature.blocked[0].height, 1.0)
    return bool(feature.lines)


def _near_right(feature: Feature) -> Place:
    """Return where a leader from the right ends: near the end of what runs across the page."""
    x, y = feature.points_to
    if not _is_line(feature):
        return x, y
    right = (
        feature.blocked[0].right
        if feature.blocked
        else max(place[0] for line in feature.lines for place in line)
    )
    return max(x, right - _FROM_END), y


def _reached(start: Place, target: Place, feature: Feature) -> Place:
    away = math.dist(start, target)
    share = min(1.0, feature.reach / away) if away else 0.0
    return (
        target[0] + (start[0] - target[0]) * share,
        target[1] + (start[1] - target[1]) * share,
    )

"""Names beside holes, grooves and marks.

In: the features on a face and the surface that is still free.  Out: words near each, with a
leader where they do not lie right beside it, where there is room inside the part; `outside`
takes the rest.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from patternpress.assembly.polygons import Edge, Place, distance_to
from patternpress.drawing.dimensions import leader
from patternpress.drawing.features import Feature
from patternpress.drawing.ink import Extent, Ink, Words
from patternpress.drawing.lettering import Lettering, figure_width, words
from patternpress.drawing.room import Surface, find_room, passes_through
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.pieces import Figure, joined

_NEAR = 30.0  # mm that words may lie from their feature inside the part
_SLANT = 4.0  # mm that words begin beside an opening whose side their leader points to
_BESIDE = 2.4  # mm within which no leader is needed


@dataclass(frozen=True, slots=True)
class Callout:
    """Words and the feature they belong to."""

    figure: Figure
    feature: Feature


def callouts(
    found: Sequence[Feature],
    said: Mapping[str, Figure],
    style: DrawingStyle,
    window: Extent | None = None,
) -> tuple[Callout, ...]:
    """Return what is to be written: once for features that say the same, with their number.

    Within a `window` only what lies there is pointed at, but all are counted.
    """
    groups: dict[Figure, list[Feature]] = {}
    for feature in found:
        figure = said.get(feature.name, words(feature.name))
        if feature.underneath:
            figure = joined(figure, " ", style.say("underneath"))
        if figure.pieces:
            groups.setdefault(figure, []).append(feature)
    wanted = (_callout(figure, same, style, window) for figure, same in groups.items())
    return tuple(callout for callout in wanted if callout is not None)


def _callout(
    figure: Figure, same: list[Feature], style: DrawingStyle, window: Extent | None
) -> Callout | None:
    shown = [each for each in same if window is None or each.points_to[0] <= window.right]
    if not shown:
        return None
    # The one furthest to the upper right is the easiest to reach with a leader.
    chosen = max(
        shown, key=lambda feature: (feature.points_to[0] + feature.points_to[1], feature.name)
    )
    if len(same) > 1:
        figure = joined(style.say("several", count=len(same)), figure)
    return Callout(figure, chosen)


def inside(
    callout: Callout, surface: Surface, style: DrawingStyle
) -> tuple[tuple[Ink, ...], Surface] | None:
    """Return the words on the part and the surface without them, or None if there is no room.

    Words for what runs up the page are tried upright first; of several places the one
    nearest to the feature is taken whose leader crosses nothing.
    """
    lettering = style.set_in(style.label)
    length, deep = figure_width(callout.figure, lettering), style.label + lettering.descent
    feature = callout.feature
    for upright in (True, False) if feature.upright else (False,):
        size = (deep, length) if upright else (length, deep)
        spots = [find_room(surface, size, prefer, 0.9) for prefer in _preferred(feature, size)]
        found = [spot for spot in spots if spot is not None and _gap(spot, feature) <= _NEAR]
        for spot in sorted(found, key=lambda spot: _gap(spot, feature)):
            for line in (_leader_line(spot, feature), *_past_others(spot, feature)):
                if line is None or _is_clear(line, feature, surface):
                    text = _set_in(spot, callout.figure, lettering, upright)
                    return _placed(text, spot, line, feature, surface, style)
    return None


def _set_in(spot: Extent, figure: Figure, lettering: Lettering, upright: bool) -> Words:
    down = lettering.descent
    at = (spot.right - down, spot.bottom) if upright else (spot.left, spot.bottom + down)
    return Words(figure, at, lettering, upright=upright)


def _placed(
    text: Words,
    spot: Extent,
    line: Edge | None,
    feature: Feature,
    surface: Surface,
    style: DrawingStyle,
) -> tuple[tuple[Ink, ...], Surface]:
    taken = surface.without(spot.grown(0.5))
    if line is None:
        return (text,), taken
    drawn = leader(line, style, on_face=not feature.reach)
    return (text, *drawn), replace(taken, lines=(*taken.lines, line))


def _preferred(feature: Feature, size: tuple[float, float]) -> list[Place]:
    """Return places for the middle of the words: beside, above and below the feature."""
    if not feature.reach and not feature.blocked and len(feature.lines) > 1:
        # A line that is broken by a notch or a hole: beside any of its stretches.
        middles = [((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in feature.lines]
        whole = [replace(feature, points_to=at, lines=()) for at in middles]
        return [place for each in whole for place in _preferred(each, size)]
    x, y = feature.points_to
    box = feature.blocked[0] if feature.blocked else Extent(x, y, x, y)
    off = 3.5 if feature.reach else 1.0
    right, left = box.right + off + size[0] / 2, box.left - off - size[0] / 2
    above, below = box.top + off + size[1] / 2, box.bottom - off - size[1] / 2
    if feature.reach:
        return [(right, above), (left, above), (right, below), (left, below)]
    if feature.upright:
        return [(right, y), (left, y)]
    return [(x, above), (x, below), ((x + box.right) / 2, above), ((x + box.left) / 2, above)]


def _is_clear(line: Edge, feature: Feature, surface: Surface) -> bool:
    return not any(
        passes_through(line, box) for box in surface.blocked if box not in feature.blocked
    )


def _gap(spot: Extent, feature: Feature) -> float:
    """Return the distance from a rectangle to the feature it names, mm."""
    corners = (
        (spot.left, spot.bottom),
        (spot.right, spot.bottom),
        (spot.right, spot.top),
        (spot.left, spot.top),
    )
    if feature.blocked:
        box = feature.blocked[0]
        across = max(box.left - spot.right, spot.left - box.right, 0.0)
        up = max(box.bottom - spot.top, spot.bottom - box.top, 0.0)
        return math.hypot(across, up)
    return min(distance_to(corner, line) for corner in corners for line in feature.lines)


def _leader_line(spot: Extent, feature: Feature) -> Edge | None:
    """Return the leader from words to their feature, or None if they lie right beside it."""
    if _gap(spot, feature) <= _BESIDE and not feature.reach:
        return None
    x, y = feature.points_to
    level = (spot.bottom + spot.top) / 2
    if spot.left <= x <= spot.right:
        start = (x, spot.bottom - 0.5 if y < level else spot.top + 0.5)
    else:
        start = (spot.left - 0.6, level) if x < spot.left else (spot.right + 0.6, level)
    away = math.hypot(start[0] - x, start[1] - y)
    if away <= feature.reach + 0.5:
        return None
    share = feature.reach / away
    return start, (x + (start[0] - x) * share, y + (start[1] - y) * share)


def _past_others(spot: Extent, feature: Feature) -> Iterator[Edge]:
    """Yield leaders to the right and left side of an opening, from words over or under it: holes
    that stand in line with it are in the way of a leader to its middle.
    """
    if feature.reach or not feature.blocked:
        return
    box, (_, y) = feature.blocked[0], feature.points_to
    start = spot.bottom - 0.5 if y < spot.bottom else spot.top + 0.5
    for edge, x in ((box.right, box.right + _SLANT), (box.left, box.left - _SLANT)):
        if spot.left <= x <= spot.right and not spot.bottom <= y <= spot.top:
            yield (x, start), (edge, y)

"""Guide lines and arrows: where a piece that hangs in the air belongs.

In: a step's scene, rendered apart.  Out: guides, thin and dashed, parallel to the motion, from a
corner of the piece to the corner's place; and one block arrow for each group.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import shapely

from patternpress.assembly.solid import Vec, dot
from patternpress.drawing.groups import Group
from patternpress.drawing.ink import Place
from patternpress.drawing.projection import View, project
from patternpress.drawing.rendering import Render, scaled
from patternpress.drawing.scenes import StepScene
from patternpress.drawing.sight import Screens, in_sight

Path = tuple[Place, Place]
# Corners this close to the foremost one, as a share of the motion, lead as well.
_LEADING = 0.02
_ASTRAY = 3.0  # mm on the paper that a guide may end beside the face that is joined
_SHORTEST = 2.0  # mm on the paper that make a guide worth drawing
ARROW = 7.5
_LEAST_ARROW = 4.6
_LINE = 0.4
# What an arrow costs, as mm off its place, in a gap that is hidden, and behind its thing.
_HIDDEN = 12.0
_BEHIND = 7.0
_OVER = 4.0  # and for each mm² of what comes in the step that it lies over


@dataclass(frozen=True, slots=True)
class Guide:
    """The seen stretches of one guide line, at full size on the paper."""

    parts: tuple[Path, ...]
    home: Place  # where it ends, hidden or not

    @property
    def length(self) -> float:
        """How much of it is seen."""
        return sum(math.dist(*part) for part in self.parts)


def guides_of(
    scene: StepScene, group: Group, view: View, screens: Screens, scale: float
) -> tuple[Guide, ...]:
    """Return up to two guides for each thing of a group."""
    items = {item.key: item for item in scene.items}
    found: list[Guide] = []
    for thing in group.things:
        corners = [p for key in thing for p in items[key].solid.points]
        best = list(_best_two(_leading(corners, group), group, view, screens, scale))
        rings = [r[0] for p in scene.patches if p.under in thing for r in p.polygons]
        if any(_ends_in_air(guide, rings, group, view, scale) for guide in best):
            # Where the corners of a thing stand out past what it comes to, those of the face
            # that is joined tell more.
            rim = sorted({point for ring in rings for point in ring})
            best = list(_best_two(rim, group, view, screens, scale)) or best
        found += best
    return tuple(found)


def _ends_in_air(
    guide: Guide, rings: Sequence[Sequence[Vec]], group: Group, view: View, scale: float
) -> bool:
    """Say whether a guide ends far off every face that is joined; not where none is."""
    there = [[project(view, _plus(p, group.motion.place)) for p in ring] for ring in rings]
    end = shapely.Point(guide.home)
    near = (shapely.distance(end, shapely.Polygon(ring)) * scale <= _ASTRAY for ring in there)
    return bool(there) and not any(near)


def _leading(corners: Sequence[Vec], group: Group) -> list[Vec]:
    """Return the corners that get to their place first."""
    way, far = group.motion.way, group.motion.far
    foremost = min(dot(point, way) for point in corners)
    near = [p for p in corners if dot(p, way) <= foremost + _LEADING * far]
    return sorted(set(near))


def _best_two(
    corners: Sequence[Vec], group: Group, view: View, screens: Screens, scale: float
) -> Iterator[Guide]:
    """Yield the guide that is seen best, and of the rest the seen one farthest from it."""
    motion = group.motion
    near = 1e-4 * motion.far
    if len(corners) > 16:  # a round thing: enough of its rim
        corners = corners[:: len(corners) // 12]
    options = []
    for corner in corners:
        home = _plus(corner, motion.place)
        parts = in_sight(_plus(corner, motion.shift), home, view, screens, near)
        guide = Guide(parts, project(view, home))
        if guide.length * scale >= _SHORTEST:
            options.append(guide)
    if not options:
        return
    most = max(round(guide.length, 3) for guide in options)
    good = [each for each in options if each.length >= 0.6 * most]
    across = _across(group, view)
    offs = [round(each.home[0] * across[0] + each.home[1] * across[1], 4) for each in good]
    low, high = offs.index(min(offs)), offs.index(max(offs))
    yield good[low]
    if (offs[high] - offs[low]) * scale > 3.0:
        yield good[high]


def _across(group: Group, view: View) -> Place:
    x, y = project(view, group.motion.way)
    long = math.hypot(x, y) or 1.0
    return -y / long, x / long


def _plus(one: Vec, two: Vec) -> Vec:
    return one[0] + two[0], one[1] + two[1], one[2] + two[2]


# ------------------------------------------------------------------ arrows


def arrow_shape(tip: Place, towards: Place, length: float) -> Any:
    """Return a block arrow with its tip at a place, pointing along a direction of length 1."""
    x, y = towards
    wide, shaft, head = 0.27 * length, 0.115 * length, 0.45 * length

    def at(back: float, side: float) -> Place:
        return tip[0] - x * back - y * side, tip[1] - y * back + x * side

    return shapely.Polygon(
        [
            at(0, 0), at(head, wide), at(head, shaft), at(length, shaft),
            at(length, -shaft), at(head, -shaft), at(head, -wide),
        ]
    )  # fmt: skip


def arrow_of(
    scene: StepScene,
    group: Group,
    drawn: Render,
    screens: Screens,
    scale: float,
    taken: Sequence[Any],
    window: Any = None,
) -> Any | None:
    """Return the block arrow of a group on the paper: in the gap, beside it or behind what moves.

    Inside a `window`, if there is one.  None where the motion runs along the line of sight, or
    where the window has no room for it.
    """
    back = project(drawn.view, group.motion.way)
    long = math.hypot(*back)
    path = long * group.motion.far * scale
    if long < 0.15 or path < 2:
        return None
    towards = (-back[0] / long, -back[1] / long)
    length = min(ARROW, max(_LEAST_ARROW, 0.62 * path))
    coming = scaled(drawn.region([key for each in scene.groups for key in each.keys]), scale)
    # Lines have no area of their own to keep off.
    busy = shapely.union_all(shapely.buffer(list(taken), _LINE))
    quiet = scaled(drawn.whole, scale)
    for each in (busy, coming, quiet):
        shapely.prepare(each)
    best = None
    for off, tip in _tips(scene, group, drawn, screens, scale, towards, length):
        least = 0.35 * off
        # What an arrow covers only adds to that, so a place too far off need not be looked at.
        if best is not None and round(least, 3) >= best[0]:
            continue
        shape = arrow_shape(tip, towards, length)
        if window is not None and not window.contains(shape):
            continue
        around = shape.buffer(0.4)
        covered = 2 * _shared(busy, around) + _OVER * _shared(coming, around)
        if best is not None and round(covered + least, 3) >= best[0]:
            continue
        cost = round(covered + 0.08 * _shared(quiet, around) + least, 3)
        if best is None or cost < best[0]:
            best = (cost, shape)
    return best[1] if best else None


def _shared(prepared: Any, shape: Any) -> float:
    """Return the area that a shape shares with a prepared one; most lie in or beside it."""
    if not shapely.intersects(prepared, shape):
        return 0.0
    if shapely.contains(prepared, shape):
        return float(shape.area)
    return float(shapely.intersection(prepared, shape).area)


def _tips(
    scene: StepScene,
    group: Group,
    drawn: Render,
    screens: Screens,
    scale: float,
    towards: Place,
    length: float,
) -> Iterator[tuple[float, Place]]:
    """Yield tips, each with how far it is off the best place, mm: in the gap of each thing,
    beside the gap, and behind the thing, where a hand would push.
    """
    items = {item.key: item for item in scene.items}
    view, motion = drawn.view, group.motion
    across = (-towards[1], towards[0])
    for thing in group.things:
        every = [p for key in thing for p in items[key].solid.points]
        corners = _leading(every, group)
        homes = [project(view, _plus(each, motion.place)) for each in corners]
        away = [project(view, _plus(each, motion.shift)) for each in corners]
        sides = [p[0] * across[0] + p[1] * across[1] for p in homes]
        span = (max(sides) - min(sides)) * scale
        home, start = _mean(homes, scale), _mean(away, scale)
        middle = ((home[0] + start[0]) / 2, (home[1] + start[1]) / 2)
        hidden = _HIDDEN if _out_of_sight(corners, group, view, screens) else 0.0
        for off in (0.0, 0.2, -0.2, 0.35, -0.35, 0.5, -0.5):
            yield abs(off) * span / 2 + hidden, _tip(middle, across, towards, off * span, length)
        for out in (2.5, 4.0, 6.0, 9.0):
            for sign in (1, -1):
                side = sign * (span / 2 + out)
                yield abs(side) + hidden, _tip(middle, across, towards, side, length)
        behind = [project(view, _plus(each, motion.shift)) for each in _trailing(every, group)]
        end = _mean(behind, scale)
        for off in (0.0, 0.2, -0.2):
            side = off * span
            place = (end[0] + across[0] * side, end[1] + across[1] * side)
            yield _BEHIND + abs(side), (place[0] - towards[0], place[1] - towards[1])


def _trailing(corners: Sequence[Vec], group: Group) -> list[Vec]:
    way = group.motion.way
    last = max(dot(point, way) for point in corners)
    return sorted({p for p in corners if dot(p, way) >= last - _LEADING * group.motion.far})


def _out_of_sight(corners: Sequence[Vec], group: Group, view: View, screens: Screens) -> bool:
    """Say whether little is seen of the middle of the way between a thing and its place."""
    count = len(corners)
    x, y, z = (sum(each[axis] for each in corners) / count for axis in range(3))
    start, home = _plus((x, y, z), group.motion.shift), _plus((x, y, z), group.motion.place)
    parts = in_sight(start, home, view, screens, 1e-4 * group.motion.far)
    whole = math.dist(project(view, start), project(view, home))
    return sum(math.dist(*part) for part in parts) < 0.4 * whole


def _tip(middle: Place, across: Place, towards: Place, off: float, length: float) -> Place:
    return (
        middle[0] + across[0] * off + towards[0] * length / 2,
        middle[1] + across[1] * off + towards[1] * length / 2,
    )


def _mean(places: Sequence[Place], scale: float) -> Place:
    return (
        scale * sum(x for x, _ in places) / len(places),
        scale * sum(y for _, y in places) / len(places),
    )

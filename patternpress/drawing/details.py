"""What is too small, or too hidden, in a step's picture, and how a detail shows it.

In: the `Choice` of a step's view.  Out: a `Detail`, or None: one thing close to its place, seen
from where its place shows, and the round window of the paper that holds both.

A thing is small where, in a picture that fills its room, it is less than `LONG` mm long and its
box on the paper less than `LARGE` mm².  A detail that would be no larger is not drawn.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

import shapely

from patternpress.assembly.solid import Solid, Vec, dot
from patternpress.drawing.framing import BESIDE
from patternpress.drawing.groups import STILL, Group
from patternpress.drawing.motions import Motion
from patternpress.drawing.patches import Patch
from patternpress.drawing.projection import Place, View, project
from patternpress.drawing.rendering import Render, render
from patternpress.drawing.scenes import StepScene
from patternpress.drawing.things import span_of
from patternpress.drawing.views import EYES, FACE, Choice, share_of, view_of

Brought = tuple[Group, tuple[str, ...]]  # a group, and one of its things
Window = tuple[Place, float]
LONG = 15.0
LARGE = 60.0
GAIN = 1.5  # times larger than in the picture, at least
RADIUS = 16.0  # mm on the paper
LEAST, MOST = 1.2, 2.5  # and so much for a hidden face
_ROUND = 1.5  # how much larger the window of a face is than the face
_SPOTS = 6  # corners of hidden faces tried
_AIR = 1.15  # of the window round what it must hold
_NEAR = 0.4  # how far a thing hangs off its place, as a share of its length
_SEEN = 0.2  # of its silhouette: what shows less of itself in a window is not shown by it


@dataclass(frozen=True, eq=False)
class Detail:
    """One thing near its place: `scene` holds it alone as new, `drawn` what is seen of it.

    `thing`: the key of what comes there; `shares`: hidden faces, and how much of each the
    window shows; none for a small thing.
    The window lies at `middle` on the paper of the detail's own view and has a radius; `place`
    is where in the step's picture it belongs.  All at full size, mm.
    """

    scene: StepScene
    drawn: Render
    eye: str
    middle: Place
    radius: float
    place: Place
    thing: str
    shares: tuple[tuple[tuple[str, int, str], float], ...] = ()

    @property
    def scale(self) -> float:
        """How the window is drawn, as drawn to true."""
        return RADIUS / self.radius


def detail_of(choice: Choice) -> Detail | None:
    """Return the detail that a step's picture needs: for a hidden place first, then a small thing.

    A step has one at most; of like things it shows one.
    """
    hidden = _hidden(choice)
    if hidden:
        patches = [each for each in hidden if each.under == hidden[0].under]
        return _hidden_detail(choice, patches)
    return _small(choice)


def has_detail(choice: Choice) -> bool:
    """Say whether a step's picture has a detail, without looking for what it shows."""
    return bool(_hidden(choice)) or _small(choice) is not None


def _small(choice: Choice) -> Detail | None:
    for group in choice.scene.groups:
        shares = sorted(group.things, key=lambda each: -round(choice.things[each[0]], 2))
        if not _is_small(choice, shares[0]):
            continue
        # Close to its place a pin may still be behind what it goes into: then as far off as it is
        # drawn, then another of them.
        for thing, near in product(shares, (_NEAR, math.inf)):
            found = _small_detail(choice, group, thing, near)
            if found.scale < GAIN * fullest(choice.drawn):
                continue
            if _seen(found, thing) >= _SEEN:
                return found
    return None


def _seen(detail: Detail, thing: tuple[str, ...]) -> float:
    """Return how much of a thing's silhouette its window shows."""
    drawn = detail.drawn
    there = {key for key, _ in drawn.scene}
    keys = [key for key in thing if key in there]
    if not keys:
        return 0.0
    window = shapely.Point(detail.middle).buffer(detail.radius)
    seen = [shape for key in keys for shape in drawn.seen_of(key).values()]
    area = sum(shapely.intersection(shape, window).area for shape in seen)
    return float(area / drawn.outline(keys).area)


def fullest(drawn: Render) -> float:
    """Return the scale at which a picture fills its room, labels left aside."""
    low_x, low_y, high_x, high_y = drawn.bounds
    return min(BESIDE[0] / (high_x - low_x), BESIDE[1] / (high_y - low_y))


def size_on_paper(choice: Choice, thing: Sequence[str], scale: float) -> tuple[float, float]:
    """Return the length and the width of a thing's box in the picture at a scale, mm."""
    shape = choice.drawn.outline(thing)
    box = shapely.get_coordinates(shapely.minimum_rotated_rectangle(shape)).tolist()
    one, two = scale * math.dist(box[0], box[1]), scale * math.dist(box[1], box[2])
    return max(one, two), min(one, two)


def _is_small(choice: Choice, thing: Sequence[str]) -> bool:
    long, wide = size_on_paper(choice, thing, fullest(choice.drawn))
    return long < LONG and long * wide < LARGE


def _hidden(choice: Choice) -> list[Patch]:
    """Return the faces that take glue and show too little of themselves, the worst first."""
    faces = choice.faces
    found = [(faces[each.face], each) for each in choice.scene.patches]
    found = [(s, p) for s, p in found if s < FACE - 1e-9 and p.face not in choice.twins]
    return [patch for _, patch in sorted(found, key=lambda each: round(each[0], 2))]


def _thing_with(scene: StepScene, key: str) -> Brought:
    """Return the group and the thing that an item belongs to."""
    found = ((group, thing) for group in scene.groups for thing in group.things if key in thing)
    return next(found)


# ------------------------------------------------------------------ a small thing


def _small_detail(
    choice: Choice, group: Group, thing: tuple[str, ...], near: float = _NEAR
) -> Detail:
    """Return one thing near its place, in a window that holds both, seen as in the picture.

    `near`: how far off its place it is at most, as a share of its length.
    """
    scene = _close_scene(choice.scene, group, thing, near)
    view = view_of(choice.eye, scene.lies)
    places = _corners(scene, thing, view, STILL)
    middle, radius = _window([*places, *_corners(scene, thing, view, scene.shift_of(thing[0]))])
    home, _ = _window(_corners(choice.scene, thing, view, group.motion.place))
    drawn = render(list(_within(scene, view, middle, radius)), view)
    return Detail(scene, drawn, choice.eye, middle, radius, home, thing[0])


def _close_scene(
    scene: StepScene, group: Group, thing: tuple[str, ...], near: float = _NEAR
) -> StepScene:
    """Return the scene with one thing close to its place, and what it is laid on in place."""
    mine = tuple(item for item in scene.new if item.key in thing)
    low, high = span_of(mine)
    long = max(b - a for a, b in zip(low, high, strict=True))
    motion = Motion(group.motion.way, min(group.motion.far, near * long), group.motion.blocked)
    hosts = {patch.on for patch in scene.patches if patch.under in thing}
    there = tuple(item for item in scene.new if item.key in hosts and item.key not in thing)
    return replace(
        scene,
        old=(*scene.old, *there),
        new=mine,
        base=(),
        groups=(replace(group, things=(thing,), motion=motion),),
        patches=tuple(each for each in scene.patches if each.under in thing),
    )


# ------------------------------------------------------------------ a hidden face


@dataclass(frozen=True, eq=False)
class _Try:
    """A window on hidden faces: what an eye sees of each through it, none for more than needed."""

    shares: tuple[float, ...]
    scene: StepScene
    drawn: Render
    eye: str
    at: Vec

    @property
    def liking(self) -> float:
        """How much it shows of all that was hidden."""
        return round(sum(min(FACE, share) for share in self.shares), 3)


def _hidden_detail(choice: Choice, hidden: Sequence[Patch]) -> Detail:
    """Return hidden faces beside the thing that comes there, or with it left out, from the eye
    that sees most of them.
    """
    group, thing = _thing_with(choice.scene, hidden[0].under)
    scene = _close_scene(choice.scene, group, thing)
    full = fullest(choice.drawn)
    points = [p for patch in hidden for rings in patch.polygons for ring in rings for p in ring]
    radius = _window([project(view_of(choice.eye, scene.lies), p) for p in points])[1]
    radius = min(max(_ROUND * radius, RADIUS / (MOST * full)), RADIUS / (LEAST * full))
    others = [each for each in EYES if each != choice.eye and _turned_to(scene, each, hidden)]
    best: _Try | None = None
    for shown in (scene, replace(scene, new=(), groups=())):
        for eye in (choice.eye, *others):
            turned = sum(dot(p.normal, view_of(eye, scene.lies).toward) > 0 for p in hidden)
            if best is not None and FACE * turned <= best.liking:
                continue  # it cannot show more
            for tried in _tries(shown, eye, hidden, points, radius):
                if best is None or tried.liking > best.liking:
                    best = tried
        if best is not None and best.liking > FACE * len(hidden) - 0.01:
            break
    assert best is not None
    middle = project(view_of(best.eye, scene.lies), best.at)
    x, y, z = (a + b for a, b in zip(best.at, choice.scene.shift_of(hidden[0].on), strict=True))
    place = project(view_of(choice.eye, scene.lies), (x, y, z))
    shares = tuple((each.face, share) for each, share in zip(hidden, best.shares, strict=True))
    return Detail(best.scene, best.drawn, best.eye, middle, radius, place, thing[0], shares)


def _tries(
    scene: StepScene, eye: str, hidden: Sequence[Patch], points: Sequence[Vec], radius: float
) -> Iterator[_Try]:
    """Yield windows about the middle of hidden faces, and about their corners."""
    view = view_of(eye, scene.lies)
    whole, reach = _window([project(view, point) for point in points])
    drawn = render(list(_within(scene, view, whole, reach + radius)), view)
    there = {key for key, _ in drawn.scene}
    drawn.ask(each.on for each in hidden if each.on in there)
    count = len(points)
    x, y, z = (sum(p[axis] for p in points) / count for axis in range(3))
    corners = sorted(set(points)) if reach > radius else []
    for at in ((x, y, z), *corners[:: max(1, len(corners) // _SPOTS)]):
        window = shapely.Point(project(view, at)).buffer(radius)
        shares = tuple(share_of(scene, each, drawn, window) for each in hidden)
        yield _Try(shares, scene, drawn, eye, at)


def _turned_to(scene: StepScene, eye: str, patches: Sequence[Patch]) -> bool:
    toward = view_of(eye, scene.lies).toward
    return any(dot(each.normal, toward) > 0 for each in patches)


def _within(
    scene: StepScene, view: View, middle: Place, radius: float
) -> Iterator[tuple[str, Solid]]:
    """Yield what may be seen in a window; the rest need not be drawn."""
    for key, solid in scene.apart():
        places = [project(view, point) for point in solid.points]
        gaps = (
            max(min(each) - at - radius, at - radius - max(each))
            for at, each in zip(middle, zip(*places, strict=True), strict=True)
        )
        if max(gaps) < 0:
            yield key, solid


def _corners(scene: StepScene, thing: tuple[str, ...], view: View, by: Vec) -> list[Place]:
    points = [p for item in scene.items if item.key in thing for p in item.solid.points]
    return [project(view, (x + by[0], y + by[1], z + by[2])) for x, y, z in points]


def _window(places: Sequence[Place]) -> Window:
    """Return the middle and the radius of the least circle round places, with some air."""
    points = shapely.MultiPoint(places)
    radius = float(shapely.minimum_bounding_radius(points)) * _AIR
    middle = shapely.centroid(shapely.minimum_bounding_circle(points))
    return (float(middle.x), float(middle.y)), radius

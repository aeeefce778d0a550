"""From where a step is seen.

In: step scenes.  Out: a view for each, and a `Choice` that records why: how much of each new
piece and of each receiving face can be seen, and whether the view changed from the step before.

A new piece counts as shown when half of its own silhouette is to be seen, a face that takes glue
when a fifth of it is (thresholds after usual practice for assembly instructions; ours to tune).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

import shapely

from patternpress.assembly.lying import bench_way
from patternpress.assembly.solid import Vec, dot
from patternpress.drawing.patches import Patch
from patternpress.drawing.projection import View, from_direction, project
from patternpress.drawing.rendering import Render, render
from patternpress.drawing.scenes import StepScene

PIECE = 0.5
FACE = 0.2
# Directions of the eye on the bench, the usual ones first; names tell where one stands.
EYES: Mapping[str, Vec] = MappingProxyType(
    {
        "front right above": (0.8, -1.0, 0.75),
        "front left above": (-0.8, -1.0, 0.75),
        "front, a little right": (0.4, -1.0, 0.55),
        "front, a little left": (-0.4, -1.0, 0.55),
        "back right above": (0.8, 1.0, 0.75),
        "back left above": (-0.8, 1.0, 0.75),
        "front right high": (0.6, -1.0, 1.5),
        "front left high": (-0.6, -1.0, 1.5),
        "back right high": (0.6, 1.0, 1.5),
        "back left high": (-0.6, 1.0, 1.5),
        "front right below": (0.8, -1.0, -0.75),
        "front left below": (-0.8, -1.0, -0.75),
    }
)
FIRST = "front right above"
# So many times as far apart, where things hide each other or their places.
FARTHER = (1.3, 1.6)
_EDGE_ON = 0.05  # so much of a face turned to the eye, and nothing on it is to be seen


@dataclass(frozen=True)
class Choice:
    """The view of one step and what it shows.

    Shares from 0 to 1: `things` by the key of a new piece, or of the first of a sub-assembly;
    `faces` by receiving piece, facet and new piece.  `twins`: faces that need not be seen, since
    a like piece's face that looks the other way is.  `drawn`: what is seen, to draw it from.
    """

    number: int
    eye: str
    lies: str
    things: Mapping[str, float]
    faces: Mapping[tuple[str, int, str], float]
    twins: frozenset[tuple[str, int, str]]
    changed: bool
    scene: StepScene
    drawn: Render = field(compare=False, repr=False)

    @property
    def failing(self) -> int:
        """How many pieces and faces show too little."""
        small = sum(share < PIECE - 1e-9 for share in self.things.values())
        faces = self.faces.items()
        return small + sum(s < FACE - 1e-9 for face, s in faces if face not in self.twins)


def view_of(eye: str, lies: str) -> View:
    """Return the view of a work as it lies, from an eye of the bench."""
    up: Vec = (0.0, 0.0, 1.0)
    return from_direction(bench_way(lies, EYES[eye]), bench_way(lies, up))


def choose_views(scenes: Sequence[StepScene]) -> tuple[Choice, ...]:
    """Return a choice for each scene; a view stays as long as it shows enough."""
    found: list[Choice] = []
    before: dict[str, Choice] = {}
    for scene in scenes:
        last = before.get(scene.work)
        choice = _choose(scene, last)
        before[scene.work] = choice
        found.append(choice)
    return tuple(found)


def _choose(scene: StepScene, last: Choice | None) -> Choice:
    held, changes = (last.eye, True) if last else (FIRST, False)
    if scene.seen_from:
        return measured(scene, scene.seen_from, changes and scene.seen_from != held)
    best = _best_seen(scene, held, changes)
    assert best is not None
    # Things that come together may hide each other less, or their places, farther apart.
    for share in FARTHER if len(scene.groups) > 1 else ():
        if not best.failing:
            break
        best = _best_seen(scene.farther(share), held, changes, _shortcomings(best)) or best
    return best


def _best_seen(
    scene: StepScene, held: str, changes: bool, least: tuple[int, int] | None = None
) -> Choice | None:
    """Return what the eye sees that sees most of a scene; None if that lacks no less than `least`.

    The eye that is `held` from the step before comes first, and stays if it lacks nothing.
    """
    best: Choice | None = None
    for eye in (held, *(each for each in EYES if each != held)):
        if least is not None and (0, _turned_away(scene, eye) + _below(eye)) >= least:
            continue  # it cannot lack less
        choice = measured(scene, eye, changes and eye != held)
        lacks = _shortcomings(choice)
        as_good = best is not None and lacks == least and _shown(choice) > _shown(best)
        if least is None or lacks < least or as_good:
            best, least = choice, lacks
    return best


def _shortcomings(choice: Choice) -> tuple[int, int]:
    """Return how many new pieces show too little, and how many pieces and faces in all.

    A hidden face can have a detail of its own; a hidden piece cannot.
    """
    small = sum(share < PIECE - 1e-9 for share in choice.things.values())
    return small, choice.failing + _behind(choice) + _below(choice.eye)


def _behind(choice: Choice) -> int:
    """Return how many fittings go in at the far side of what bears them, where nobody sees it."""
    toward = choice.drawn.view.toward
    return sum(dot(each.way, toward) <= _EDGE_ON for each in choice.scene.fittings)


def _below(eye: str) -> int:
    """Nobody looks at the bench from below unless that shows a good deal more."""
    return 3 * (EYES[eye][2] < 0)


def _turned_away(scene: StepScene, eye: str) -> int:
    """Return how many faces cannot be seen from an eye, whatever stands before them."""
    view = view_of(eye, scene.lies)
    shares = [(each, float(dot(each.normal, view.toward) > 0)) for each in scene.patches]
    twins = _twins(scene, shares)
    return sum(not share and each.face not in twins for each, share in shares)


def _shown(choice: Choice) -> float:
    """Return how much is shown of all that should be."""
    shares = [min(1.0, share / PIECE) for share in choice.things.values()]
    shares += [min(1.0, share / FACE) for share in choice.faces.values()]
    return round(sum(shares), 2)


def measured(scene: StepScene, eye: str, changed: bool = False) -> Choice:
    """Return what a step shows from an eye of the bench."""
    view = view_of(eye, scene.lies)
    drawn = render(scene.apart(), view)
    coming = [key for group in scene.groups for key in group.keys]
    drawn.ask([*coming, *(patch.on for patch in scene.patches)])
    things = {
        thing[0]: _thing_share(thing, drawn) for group in scene.groups for thing in group.things
    }
    shares = [(each, share_of(scene, each, drawn)) for each in scene.patches]
    faces = {each.face: share for each, share in shares}
    twins = _twins(scene, shares)
    return Choice(scene.number, eye, scene.lies, things, faces, twins, changed, scene, drawn)


def _thing_share(thing: tuple[str, ...], drawn: Render) -> float:
    """Return how much of a thing's own silhouette is to be seen."""
    whole = drawn.outline(thing).area
    seen = sum(shape.area for key in thing for shape in drawn.seen_of(key).values())
    return min(1.0, seen / whole) if whole else 0.0


def _twins(
    scene: StepScene, shares: Sequence[tuple[Patch, float]]
) -> frozenset[tuple[str, int, str]]:
    """Return the faces whose opposite, under a like piece, is shown."""
    part = {item.key: item.part for item in scene.items}
    shown = [each for each, share in shares if share >= FACE]
    return frozenset(
        each.face
        for each, share in shares
        if share < FACE
        and any(
            part[each.under] == part[other.under] and dot(each.normal, other.normal) < -0.5
            for other in shown
        )
    )


def share_of(scene: StepScene, patch: Patch, drawn: Render, window: Any = None) -> float:
    """Return how much is seen of a face that takes glue, from 0 to 1, or of it in a window."""
    if dot(patch.normal, drawn.view.toward) <= 0:
        return 0.0
    whole = patch_shape(scene, patch, drawn.view)
    seen = drawn.seen_of(patch.on).get(patch.facet)
    if not whole.area:
        return 0.0
    within = whole if window is None else shapely.intersection(whole, window)
    share = 0.0 if seen is None else float(shapely.intersection(within, seen).area / whole.area)
    return share if share >= FACE else max(share, _mouth_share(scene, patch, drawn))


def _mouth_share(scene: StepScene, patch: Patch, drawn: Render) -> float:
    """Return how much is seen of the mouth of the hole or groove whose floor a patch is.

    The floor of a narrow hole is never seen aslant; one sees into its mouth instead.
    """
    solid = next(item.solid for item in scene.items if item.key == patch.on)
    if solid.facets[patch.facet].side:
        return 0.0
    floor = dot(patch.normal, patch.polygons[0][0][0])
    deep = max(dot(patch.normal, point) for point in solid.points) - floor
    mouth = patch_shape(scene, patch, drawn.view, deep)
    within = [
        shapely.intersection(shape, mouth).area
        for number, shape in drawn.seen_of(patch.on).items()
        if not solid.facets[number].side
    ]
    return float(sum(within) / mouth.area) if mouth.area else 0.0


def patch_shape(scene: StepScene, patch: Patch, view: View, above: float = 0.0) -> shapely.Geometry:
    """Return a patch on the paper, moved with the piece that bears it, mm.

    `above`: how far over its face it is drawn, as the mouth over the floor of a hole.
    """
    shift = scene.shift_of(patch.on)
    x, y, z = (s + above * n for s, n in zip(shift, patch.normal, strict=True))
    return shapely.union_all(
        [
            shapely.Polygon(
                [project(view, (p[0] + x, p[1] + y, p[2] + z)) for p in outer],
                [[project(view, (p[0] + x, p[1] + y, p[2] + z)) for p in hole] for hole in holes],
            )
            for outer, *holes in patch.polygons
        ]
    )

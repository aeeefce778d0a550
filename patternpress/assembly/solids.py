"""From a part to its solid.

In: a `CutPart`, its Shape and a solver.  Out: the convex blocks that fill it, and its `Solid`, in
the part's own frame: origin at the left front bottom corner of the blank, x to the right (wide),
y to the back (deep), z up (high).

Facets of the outside carry the name of a side, those of holes and grooves ''.  Curves stray by
at most `error` mm and never into the space beside the wood, so an exact fit still fits.
"""

from collections.abc import Collection, Mapping, Sequence
from functools import lru_cache, partial

from patternpress.assembly.blocks import Blade, Block, Label, dot, hollowed, split
from patternpress.assembly.body import Plane, body_of
from patternpress.assembly.bores import Bores
from patternpress.assembly.convex import Bulk, bulk_from
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.cuts import THIN_OF_VIEW, Cut, cuts_of, sizes_of
from patternpress.assembly.hugging import Chord, chords
from patternpress.assembly.joining import joined
from patternpress.assembly.layers import Slab, layered, tool_of
from patternpress.assembly.levelends import level_ends
from patternpress.assembly.outlines import circle, polygon
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.shape import EDGES, Line, Outline, Point, Shape, ShapeError, View
from patternpress.assembly.sizes import AXES, SIDE_AXIS, Solver
from patternpress.assembly.solid import Solid, box
from patternpress.assembly.specs import NEAR_FACE, PAGE_AXES, VIEW_OF_THIN
from patternpress.design.phrases import OPPOSITE

ERROR = 0.02
ROUGH = 0.1
_FLAT = 1e-9


def solid_of(part: CutPart, shape: Shape | None, solver: Solver, error: float = ERROR) -> Solid:
    """Return the solid of one piece of a part; `shape` is None where it has no sound one.

    Raises ShapeError "solid-without-size" for a fitting whose three sizes are not all known, and
    "nothing-left" if its cuts leave no wood.
    """
    return _solid(blocks_of(part, shape, solver, error), part)


def bulk_of(part: CutPart, shape: Shape | None, solver: Solver, error: float = ERROR) -> Bulk:
    """Return the solid of a piece with its blocks, for clash tests; raises as `solid_of` does."""
    blocks = blocks_of(part, shape, solver, error)
    return bulk_from(partial(_solid, blocks, part), blocks)


def rough_bulk_of(part: CutPart, shape: Shape | None, solver: Solver) -> Bulk:
    """Return the hulls of a piece, its curves roughly flattened inside the wood, for clash tests;
    its solid is only the blank.  Raises as `solid_of` does.
    """
    blank = partial(box, *(float(size) for size in sizes_of(part)))
    return bulk_from(blank, blocks_of(part, shape, solver, ROUGH))


def blocks_of(
    part: CutPart, shape: Shape | None, solver: Solver, error: float = ERROR, bores: Bores = ()
) -> tuple[Block, ...]:
    """Return convex blocks that fill a piece of a part and touch only along their faces.

    `bores`: the ways of its holes that lean; without them all are square to their faces.
    Raises ShapeError as `solid_of` does.
    """
    if len(part.extents) < len(AXES):
        raise ShapeError("solid-without-size", part=part.name)
    ends = _ends(part, shape, solver)
    drawn = {side for side, _, _ in level_ends(part, solver)} if shape is not None else set()
    slab = _slab(part, shape, ends, error, drawn)
    cuts = cuts_of(part, shape, solver, bores)
    square = [cut for cut in cuts if cut.out is None]
    own = tuple(cut for cut in square if cut.view is slab.view and part.form != "rod")
    others = tuple(cut for cut in cuts if cut not in own)
    blocks = _hewn(slab, own, others, tuple(ends.items()), error)
    if not blocks:
        raise ShapeError("nothing-left", part=part.name)
    return blocks


@lru_cache(maxsize=512)
def _hewn(
    slab: Slab,
    own: tuple[Cut, ...],
    others: tuple[Cut, ...],
    ends: tuple[tuple[str, Plane], ...],
    error: float,
) -> tuple[Block, ...]:
    """Return what cuts through a slab, those across it and slanting ends leave of it.

    Most parts are the same in all editions of a design, and on thin boards as on thick ones.
    """
    blocks = layered(slab, own, error)
    for index, cut in enumerate(others):
        thick = slab.sizes[AXES.index(THIN_OF_VIEW[cut.view])]
        tool = tool_of(cut, slab.sizes, thick, error, 10**6 + 1000 * index)
        blocks = [left for block in blocks for left in hollowed(block, tool)]
    for side, plane in ends:
        blade = _blade(plane, (side, 0))
        blocks = [under for block in blocks if (under := split(block, blade)[0]) is not None]
    return tuple(blocks)


def _solid(blocks: tuple[Block, ...], part: CutPart) -> Solid:
    """Return the solid of blocks; a plain box keeps its usual order of corners."""
    sizes = tuple(float(size) for size in sizes_of(part))
    corners = {point for block in blocks for point in block.points}
    if len(blocks) == 1 and corners == set(box(*sizes).points):
        return box(*sizes)
    return _joined(blocks)


@lru_cache(maxsize=512)
def _joined(blocks: tuple[Block, ...]) -> Solid:
    """Return the solid of blocks: most parts are the same in all editions, on all boards."""
    return joined(blocks)


# ------------------------------------------------------------------ the wood before its cuts


def _ends(part: CutPart, shape: Shape | None, solver: Solver) -> dict[str, Plane]:
    """Return the planes of the ends that are not cut square."""
    if not part.part.ends:
        return {}
    faces = body_of(part, shape, solver).faces
    sides = [each.value[0] for each, _ in part.part.ends]
    return {side: faces[side] for side in sides if faces[side].normal != DIRECTION[side]}


def _blade(plane: Plane, label: Label) -> Blade:
    x, y, z = (float(each) for each in plane.normal)
    at = (float(plane.point[0]), float(plane.point[1]), float(plane.point[2]))
    return Blade((x, y, z), dot((x, y, z), at), label)


def _slab(
    part: CutPart,
    shape: Shape | None,
    ends: Mapping[str, Plane],
    error: float,
    drawn: Collection[str] = (),
) -> Slab:
    """Return the wood before its cuts: along a rod's length, through a flat part's thickness.

    `drawn`: the ends whose slant the outline shows.
    """
    wide, deep, high = (float(size) for size in sizes_of(part))
    sizes = {"wide": wide, "deep": deep, "high": high}
    if part.form == "rod":
        view = VIEW_OF_THIN[part.along]
        outline = _round(part)
    elif shape is not None:
        view, outline = shape.view, shape.outline
    else:
        view = VIEW_OF_THIN[part.thin or "high"]
        outline = _oblong(part, view)
    # What the outline shows slanting reaches as far as it should.
    more = {s: 0.0 if s in drawn else _beyond(part, s, plane) for s, plane in ends.items()}
    ring = _named(view, chords(outline, error), outline, ends)
    near = NEAR_FACE[view]
    far = OPPOSITE[near]
    return Slab(
        view, (wide, deep, high), tuple(_pushed(part, view, ring, more)),
        -more.get(near, 0.0), sizes[THIN_OF_VIEW[view]] + more.get(far, 0.0), (near, far),
    )  # fmt: skip


def _round(part: CutPart) -> Outline:
    first, _ = PAGE_AXES[VIEW_OF_THIN[part.along]]
    radius = part.extents[first].value / 2
    return circle(Point(radius, radius), radius)


def _oblong(part: CutPart, view: View) -> Outline:
    across, up = (part.extents[axis].value for axis in PAGE_AXES[view])
    nil = across - across
    return polygon(Point(nil, nil), Point(across, nil), Point(across, up), Point(nil, up))


def _beyond(part: CutPart, side: str, plane: Plane) -> float:
    """Return how far a slanting end reaches beyond the blank, at the blank's farthest corner."""
    axis = AXES.index(SIDE_AXIS[side])
    sizes = sizes_of(part)
    others = [each for each in range(3) if each != axis]
    reach = []
    for one in (0, sizes[others[0]]):
        for two in (0, sizes[others[1]]):
            off = plane.normal[others[0]] * (one - plane.point[others[0]])
            off += plane.normal[others[1]] * (two - plane.point[others[1]])
            along = plane.point[axis] - off / plane.normal[axis]
            high = side in ("right", "back", "top")
            reach.append(along - sizes[axis] if high else -along)
    return max(0.0, float(max(reach)))


def _pushed(
    part: CutPart, view: View, ring: Sequence[tuple[Chord, Label]], more: Mapping[str, float]
) -> list[tuple[Chord, Label]]:
    """Return the chords with the blank's ends moved out to where a slanting end needs wood."""
    sizes = [float(part.extents[axis].value) for axis in PAGE_AXES[view]]
    low_x, high_x, low_y, high_y = (more.get(side, 0.0) for side in EDGES[view])

    def moved(place: tuple[float, float]) -> tuple[float, float]:
        at = []
        pairs = ((low_x, high_x), (low_y, high_y))
        for each, size, (low, high) in zip(place, sizes, pairs, strict=True):
            out = -low if each < _FLAT else high if each > size - _FLAT else 0.0
            at.append(each + out)
        return at[0], at[1]

    return [
        (Chord(moved(c.start), moved(c.to), c.segment, c.curved, c.smooth), label)
        for c, label in ring
    ]


# ------------------------------------------------------------------ the names of the sides


def _named(
    view: View, ring: Sequence[Chord], outline: Outline, ends: Mapping[str, Plane]
) -> list[tuple[Chord, Label]]:
    """Return each chord with the side that its wall belongs to.

    A wall belongs to the side that it faces most, a slanting end to its own.  An arch or a
    hollow that spans an edge belongs to that edge as a whole.
    """
    slants = _slants(view, ends)
    straight = any(isinstance(segment, Line) for segment in outline.segments)
    found: list[tuple[Chord, Label]] = []
    for chord in ring:
        whole = [each for each in ring if each.segment == chord.segment]
        across = _facing(whole[0].start, whole[-1].to)
        bowed = chord.curved and straight and min(map(abs, across)) < 1e-6
        facing = across if bowed else _facing(chord.start, chord.to)
        found.append((chord, (_side(view, facing, slants), chord.smooth)))
    return found


def _slants(view: View, ends: Mapping[str, Plane]) -> list[tuple[float, float, str]]:
    first, second = (AXES.index(axis) for axis in PAGE_AXES[view])
    turned = -1 if view is View.LEFT else 1
    return [
        (turned * float(plane.normal[first]), float(plane.normal[second]), side)
        for side, plane in ends.items()
    ]


def _facing(start: tuple[float, float], to: tuple[float, float]) -> tuple[float, float]:
    """Return the unit direction to the right of a way."""
    dx, dy = to[0] - start[0], to[1] - start[1]
    long = (dx * dx + dy * dy) ** 0.5
    return (dy / long, -dx / long) if long else (0.0, 0.0)


def _side(
    view: View, facing: tuple[float, float], slants: Sequence[tuple[float, float, str]]
) -> str:
    for x, y, side in slants:
        if x * facing[0] + y * facing[1] > 1 - 1e-9:
            return side
    low_x, high_x, low_y, high_y = (side.value for side in EDGES[view])
    if abs(facing[0]) > abs(facing[1]) + _FLAT:
        return high_x if facing[0] > 0 else low_x
    return high_y if facing[1] > 0 else low_y

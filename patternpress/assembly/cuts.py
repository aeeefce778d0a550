"""What is taken out of a part, and where the pages of its templates lie in space.

In: a `CutPart`, its Shape and a solver.  Out: `Cut`s, each an outline on a page and how far it
goes in.  A page is a face of the part: depths run from its near face, which the template shows.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.bores import Bores, mouth
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.otherface import corner_outlines
from patternpress.assembly.outlines import polygon
from patternpress.assembly.polygons import Place
from patternpress.assembly.realedge import mouth_behind
from patternpress.assembly.shape import Groove, Hole, Outline, Point, Shape, View
from patternpress.assembly.sizes import AXES, SIDE_AXIS, Solver
from patternpress.assembly.solid import Vec
from patternpress.assembly.specs import NEAR_FACE, PAGE_AXES, VIEW_OF_THIN, spec_of
from patternpress.assembly.trim import trim_all
from patternpress.design.phrases import OPPOSITE
from patternpress.design.records.parts import Part

THIN_OF_VIEW = {**{view: axis for axis, view in VIEW_OF_THIN.items()}, View.LEFT: "wide"}
LONG_WAY = Fraction(10**4)
Broad = tuple[Shape | None, Solver]  # the broad face behind an edge, for where the wood begins


@dataclass(frozen=True, slots=True)
class Cut:
    """Wood taken out within an outline between two depths, mm from the page's near face.

    `out`: of a bore that leans, the way out of it; its outline is its mouth, at `start` or, if it
    is `far`, at `stop`.  `depth` is how far it goes in along that way, None for right through.
    """

    view: View
    outline: Outline
    start: Fraction
    stop: Fraction
    out: Vec | None = None
    far: bool = False
    depth: Fraction | None = None


def sizes_of(part: CutPart) -> tuple[Fraction, Fraction, Fraction]:
    """Return a part's extents from left to right, front to back and bottom to top, mm."""
    wide, deep, high = (part.extents[axis].value for axis in AXES)
    return wide, deep, high


def in_space(view: View, sizes: Vec, at: Place, depth: float) -> Vec:
    """Return a place on a page, `depth` mm under its near face, in the part's own frame."""
    x, y = at
    if view is View.FRONT:
        return x, depth, y
    if view is View.RIGHT:
        return sizes[0] - depth, x, y
    if view is View.LEFT:
        return depth, sizes[1] - x, y
    return x, y, sizes[2] - depth


def on_page(view: View, sizes: Vec, at: Vec) -> Place:
    """Return where a place in the part's own frame shows on a page."""
    if view is View.FRONT:
        return at[0], at[2]
    if view is View.RIGHT:
        return at[1], at[2]
    if view is View.LEFT:
        return sizes[1] - at[1], at[2]
    return at[0], at[1]


def cuts_of(
    part: CutPart, shape: Shape | None, solver: Solver, bores: Bores = ()
) -> tuple[Cut, ...]:
    """Return every hole and groove: those of the template, then those in the edges.

    `bores`: the ways of holes that lean; without them every hole is square to its face.
    """
    found = [cut for _, cut in named_cuts(part, shape, solver, bores)]
    for axis in AXES:
        if axis != part.thin:
            view, thick = VIEW_OF_THIN[axis], part.extents[axis].value
            gone = corner_outlines(part, axis, solver)
            found += [Cut(view, outline, Fraction(0), thick) for outline in gone]
    return tuple(found)


def named_cuts(
    part: CutPart, shape: Shape | None, solver: Solver, bores: Bores = ()
) -> Iterator[tuple[Hole | Groove, Cut]]:
    """Every hole and groove with what it takes out, each of a row: first those of the template."""
    if shape is not None:
        yield from _cuts(part, shape, bores)
    for axis in AXES:
        edge = _edge_shape(part, axis, solver) if axis != part.thin else None
        if edge is not None:
            yield from _cuts(part, edge, bores, (shape, solver))


def _edge_shape(part: CutPart, axis: str, solver: Solver) -> Shape | None:
    """Return an edge as if it were the broad face, with only what is cut into it."""
    said = part.part
    holes = tuple(each for each in said.holes if each.on and SIDE_AXIS[each.on.value[0]] == axis)
    grooves = tuple(each for each in said.grooves if SIDE_AXIS[each.on.value[0]] == axis)
    if not holes and not grooves:
        return None
    bare = Part(name=said.name, span=said.span, stock=said.stock, holes=holes, grooves=grooves)
    spec, _ = spec_of(replace(part, part=bare, thin=axis), solver, ())
    return trim_all(spec)[0] if spec is not None else None


def _cuts(
    part: CutPart, shape: Shape, bores: Bores, broad: Broad | None = None
) -> Iterator[tuple[Hole | Groove, Cut]]:
    """What is cut into a face; into an edge, from where the wood of the `broad` face begins."""
    thick = part.extents[THIN_OF_VIEW[shape.view]].value
    near = NEAR_FACE[shape.view]
    from_side, ways = dict(_sides_drilled(part)), dict(bores)
    for hole in shape.holes:
        if hole.name in ways:
            yield hole, _bore(part, shape, hole, ways[hole.name], broad)
            continue
        side = from_side.get(hole.name, near)
        far, depth = side != near, thick
        if hole.depth is not None:
            begins = _begins(part, broad, (shape.view, side), hole) if broad is not None else 0
            depth = min(begins + hole.depth, thick)
        yield hole, Cut(shape.view, hole.outline, *_span(depth, thick, far=far))
    for groove in shape.grooves:
        span = _span(min(groove.depth, thick), thick, far=groove.far)
        yield groove, Cut(shape.view, _groove_outline(groove), *span)


def _bore(part: CutPart, shape: Shape, hole: Hole, out: Vec, broad: Broad | None) -> Cut:
    """Return a hole that leans: its mouth is on the side that it comes out of."""
    thin = THIN_OF_VIEW[shape.view]
    thick, near = part.extents[thin].value, NEAR_FACE[shape.view]
    far = (out[AXES.index(thin)] > 0) != (near in ("right", "back", "top"))
    side = OPPOSITE[near] if far else near
    begins = Fraction(0)
    if broad is not None:
        begins = _begins(part, broad, (shape.view, side), hole)
    span = (Fraction(0), thick - begins) if far else (begins, thick)
    return Cut(shape.view, mouth(hole, shape.view, out), *span, out, far, hole.depth)


def _sides_drilled(part: CutPart) -> Iterator[tuple[str, str]]:
    """The holes that say which side they are drilled from, each of a row for itself."""
    for hole in part.part.holes:
        if hole.on is not None:
            yield from ((name, hole.on.value[0]) for name in hole.names)


def _begins(part: CutPart, broad: Broad, face: tuple[View, str], hole: Hole) -> Fraction:
    """How far behind the outermost edge the wood begins, at the middle of a hole in it."""
    view, side = face
    at = [Fraction(0)] * len(AXES)
    for axis, far in zip(PAGE_AXES[view], (hole.centre.x, hole.centre.y), strict=True):
        at[AXES.index(axis)] = far
    return mouth_behind(part, *broad, side, (at[0], at[1], at[2]))


def _span(depth: Fraction, thick: Fraction, *, far: bool) -> tuple[Fraction, Fraction]:
    return (thick - depth, thick) if far else (Fraction(0), depth)


def _groove_outline(groove: Groove) -> Outline:
    """Return a groove's outline, carried on past the wood where it runs out."""
    before = LONG_WAY if groove.open_low else Fraction(0)
    after = LONG_WAY if groove.open_high else Fraction(0)
    low, high = groove.low, groove.high
    if groove.along.value == "x":
        low, high = Point(low.x - before, low.y), Point(high.x + after, high.y)
    else:
        low, high = Point(low.x, low.y - before), Point(high.x, high.y + after)
    return polygon(low, Point(high.x, low.y), high, Point(low.x, high.y))

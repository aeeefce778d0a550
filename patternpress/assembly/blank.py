"""The words for a flat part as an author asks for it.

In: nothing; this module holds records only.  Out: `ShapeSpec`, a blank and what is done to
it.  Lengths are Fractions of a mm, x to the right and y up from the blank's lower left
corner.  `trim` cuts the Shape from it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from patternpress.assembly.shape import Axis, Face, Mark, Point, View

# ------------------------------------------------------------------ corners, edges and ends


@dataclass(frozen=True, slots=True)
class Round:
    """A corner rounded over to a quarter circle."""

    radius: Fraction


@dataclass(frozen=True, slots=True)
class Hollow:
    """A corner scooped out by a quarter circle about the corner itself."""

    radius: Fraction


@dataclass(frozen=True, slots=True)
class CutOff:
    """A corner cut off straight: so far along x, so far along y."""

    x: Fraction
    y: Fraction


@dataclass(frozen=True, slots=True)
class Notch:
    """A rectangle taken out of a square corner: so far along x, so far along y."""

    x: Fraction
    y: Fraction


Corner = Round | Hollow | CutOff | Notch


@dataclass(frozen=True, slots=True)
class Arched:
    """An edge that swells to the blank's extent; beside the arch it lies `rise` lower.

    `start` and `stop` are distances from the left, front or bottom of the blank; without
    them the arch spans the whole edge.
    """

    rise: Fraction
    start: Fraction | None = None
    stop: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Hollowed:
    """An edge with a hollow `rise` deep in it; `start` and `stop` as for an arch."""

    rise: Fraction
    start: Fraction | None = None
    stop: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Angled:
    """An end cut at an angle, in degrees off a square cut; full length at face `longest`.

    `middle`: full length in the middle instead, so that it reaches beyond the blank there.
    """

    degrees: Fraction
    longest: Face
    middle: bool = False


@dataclass(frozen=True, slots=True)
class LineTo:
    """A straight line to a point."""

    to: Point


@dataclass(frozen=True, slots=True)
class ArcThrough:
    """A circular arc through one point to another."""

    through: Point
    to: Point


@dataclass(frozen=True, slots=True)
class ArcOfRadius:
    """The shorter circular arc of a radius, bulging out of the part or into it."""

    to: Point
    radius: Fraction
    outward: bool


@dataclass(frozen=True, slots=True)
class CurveThrough:
    """A smooth curve through points to the last of them.

    `leaving` and `arriving` are directions of travel in degrees anticlockwise from the
    right of the page; without them the curve runs out straight.
    """

    points: tuple[Point, ...]
    leaving: Fraction | None = None
    arriving: Fraction | None = None


Step = LineTo | ArcThrough | ArcOfRadius | CurveThrough


@dataclass(frozen=True, slots=True)
class Path:
    """A free outline, closed by a straight line if need be.

    With `mirrored` it describes one half: X mirrors it left to right about the blank's
    middle, Y bottom to top.  Holes and marks are never mirrored along with it.
    """

    start: Point
    steps: tuple[Step, ...]
    mirrored: Axis | None = None


@dataclass(frozen=True, slots=True)
class RoundHole:
    """A drilled hole; without a depth it goes through."""

    name: str
    centre: Point
    diameter: Fraction
    depth: Fraction | None = None
    far: bool = False  # it begins on the face that is not shown


@dataclass(frozen=True, slots=True)
class Slot:
    """A slot with round ends; `length` is measured over them."""

    name: str
    centre: Point
    length: Fraction
    width: Fraction
    along: Axis
    depth: Fraction | None = None
    far: bool = False  # it begins on the face that is not shown


@dataclass(frozen=True, slots=True)
class Window:
    """A rectangular opening, its corners rounded by `corner`."""

    name: str
    centre: Point
    width: Fraction
    height: Fraction
    corner: Fraction = Fraction(0)
    depth: Fraction | None = None
    far: bool = False  # it begins on the face that is not shown


Opening = RoundHole | Slot | Window


@dataclass(frozen=True, slots=True)
class GrooveRun:
    """A groove along an axis, its lower or left side at distance `at` from the blank's.

    Without `start` and `stop` it runs out at both ends.  `far` puts it on the face that the
    template does not show.
    """

    name: str
    along: Axis
    at: Fraction
    width: Fraction
    depth: Fraction
    start: Fraction | None = None
    stop: Fraction | None = None
    far: bool = False


@dataclass(frozen=True, slots=True)
class ShapeSpec:
    """A blank of `width` by `height` and everything that is done to it.

    Keys of `corners` name the x face first, then the y face.  A `path` replaces corners,
    edges and angled ends.
    """

    view: View
    width: Fraction
    height: Fraction
    corners: Mapping[tuple[Face, Face], Corner] = field(default_factory=dict)
    edges: Mapping[Face, Arched | Hollowed] = field(default_factory=dict)
    angled: Mapping[Face, Angled] = field(default_factory=dict)
    path: Path | None = None
    holes: tuple[Opening, ...] = ()
    grooves: tuple[GrooveRun, ...] = ()
    marks: tuple[Mark, ...] = ()

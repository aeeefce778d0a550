"""The words for a flat part as it is cut.

In: nothing; this module holds records only.  Out: `Shape`, an exact outline with holes,
grooves and marks, and what it is made of.  What an author may ask for is in `blank`.

Every length is a Fraction of a millimetre.  x runs to the right and y runs up, from the
lower left corner of the blank as its template shows it.  Outlines run anticlockwise.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction


class Face(StrEnum):
    """A face of a part, named as the part stands in the finished piece."""

    LEFT = "left"
    RIGHT = "right"
    FRONT = "front"
    BACK = "back"
    BOTTOM = "bottom"
    TOP = "top"


class View(StrEnum):
    """Where one stands to see a template: it shows the face nearest to that place."""

    FRONT = "front"
    RIGHT = "right"
    LEFT = "left"
    ABOVE = "above"
    BACK = "back"
    BELOW = "below"


# The edges of a template in the order low x, high x, low y, high y.
EDGES: Mapping[View, tuple[Face, Face, Face, Face]] = {
    View.FRONT: (Face.LEFT, Face.RIGHT, Face.BOTTOM, Face.TOP),
    View.RIGHT: (Face.FRONT, Face.BACK, Face.BOTTOM, Face.TOP),
    View.LEFT: (Face.BACK, Face.FRONT, Face.BOTTOM, Face.TOP),
    View.ABOVE: (Face.LEFT, Face.RIGHT, Face.FRONT, Face.BACK),
    View.BACK: (Face.RIGHT, Face.LEFT, Face.BOTTOM, Face.TOP),
    View.BELOW: (Face.RIGHT, Face.LEFT, Face.FRONT, Face.BACK),
}


class Axis(StrEnum):
    """A direction on a template: across the page or up it."""

    X = "x"
    Y = "y"


class ShapeError(Exception):
    """A shape that cannot be cut.

    `code` names the fault in lower-case words joined by hyphens; `facts` holds names and
    lengths in mm, to be worded by whoever knows the place in the author's file.
    """

    def __init__(self, code: str, **facts: Fraction | str):
        super().__init__(code, facts)
        self.code = code
        self.facts: Mapping[str, Fraction | str] = facts


# ------------------------------------------------------------------ outlines


@dataclass(frozen=True, slots=True)
class Point:
    """A place on a template, mm from the lower left corner of the blank."""

    x: Fraction
    y: Fraction


@dataclass(frozen=True, slots=True)
class Line:
    """A straight segment from the point before."""

    to: Point


@dataclass(frozen=True, slots=True)
class Arc:
    """A segment of a true circle from the point before, less than a full turn."""

    to: Point
    centre: Point
    anticlockwise: bool


@dataclass(frozen=True, slots=True)
class Curve:
    """A cubic Bezier segment from the point before."""

    to: Point
    control1: Point
    control2: Point


Segment = Line | Arc | Curve


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed line: the last segment ends at `start`."""

    start: Point
    segments: tuple[Segment, ...]


# ------------------------------------------------------------------ what is cut


@dataclass(frozen=True, slots=True)
class Hole:
    """An opening with its exact outline; `diameter` only for a round one."""

    name: str
    outline: Outline
    centre: Point
    depth: Fraction | None
    diameter: Fraction | None = None
    far: bool = False  # blind, from the face that is not shown


@dataclass(frozen=True, slots=True)
class Groove:
    """A band from corner `low` to corner `high`; `open_low` and `open_high` run out."""

    name: str
    along: Axis
    low: Point
    high: Point
    depth: Fraction
    far: bool
    open_low: bool = True
    open_high: bool = True


@dataclass(frozen=True, slots=True)
class MarkLine:
    """A line drawn on the part before it is used; `far`: on the face that its view hides."""

    name: str
    start: Point
    to: Point
    far: bool = False


@dataclass(frozen=True, slots=True)
class MarkPoint:
    """A point pricked or drawn on the part before it is used; `far` as a line's."""

    name: str
    at: Point
    far: bool = False


Mark = MarkLine | MarkPoint


@dataclass(frozen=True, slots=True)
class Shape:
    """A part as it is cut: `width` and `height` are the blank's.

    Of one broad face, `far_edges` are those of the other where an end slants through the thickness.
    """

    view: View
    width: Fraction
    height: Fraction
    outline: Outline
    holes: tuple[Hole, ...] = ()
    grooves: tuple[Groove, ...] = ()
    marks: tuple[Mark, ...] = ()
    far_edges: tuple[tuple[Point, Point], ...] = ()

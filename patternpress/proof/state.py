"""The state of a page that is being run.

In: nothing; records, and the arithmetic of matrices.  Out: `State`, what `q` keeps and `Q` brings
back (ISO 32000-1, 8.4), and `Run`, a page with what has been painted so far.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from pikepdf import Object

from patternpress.proof.lettering import Font
from patternpress.proof.marks import Box, Line, Matrix, Place, Tags, Track, Words

MM = 25.4 / 72  # one point in mm (ISO 32000-1, 8.3.2.3)
EVERYWHERE: Box = (-1e9, -1e9, 1e9, 1e9)


def times(one: Matrix, two: Matrix) -> Matrix:
    """Return the matrix that does `one` and then `two`."""
    a, b, c, d, e, f = one
    p, q, r, s, t, u = two
    return (
        a * p + b * r,
        a * q + b * s,
        c * p + d * r,
        c * q + d * s,
        e * p + f * r + t,
        e * q + f * s + u,
    )


def put(matrix: Matrix, x: float, y: float) -> Place:
    """Return where a matrix puts a point."""
    a, b, c, d, e, f = matrix
    return (a * x + c * y + e, b * x + d * y + f)


@dataclass
class State:
    """The part of the graphics state that `q` keeps and `Q` brings back."""

    matrix: Matrix
    width: float = 1.0
    dash: float = 0.0
    white_line: bool = False
    white_fill: bool = False
    clip: Box = EVERYWHERE
    font: Font | None = None
    size: float = 1.0
    spacing: float = 0.0
    word_spacing: float = 0.0
    stretch: float = 1.0
    leading: float = 0.0
    rise: float = 0.0
    hidden: bool = False

    def __copy__(self) -> State:
        kept = State.__new__(State)
        kept.__dict__.update(self.__dict__)
        return kept


@dataclass(slots=True)
class Run:
    """A page being run: what has been painted, and where it stands."""

    state: State
    resources: Object
    fonts: dict[Any, Font]
    tags: Tags = ()
    lines: list[Line] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    problems: list[str] = field(default_factory=list)
    images: int = 0
    kept: list[State] = field(default_factory=list)
    tracks: list[Track] = field(default_factory=list)
    points: list[Place] = field(default_factory=list)
    kinds: list[str] = field(default_factory=list)
    clipping: bool = False
    text: Matrix = (1, 0, 0, 1, 0, 0)
    row: Matrix = (1, 0, 0, 1, 0, 0)
    depth: int = 0


Work = Callable[[Run, Any], None]


def as_matrix(given: Iterable[Any]) -> Matrix:
    """Return six operands as a matrix."""
    a, b, c, d, e, f = map(float, given)
    return (a, b, c, d, e, f)

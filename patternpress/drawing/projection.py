"""Parallel views of things in space: faces, isometric, dimetric, any direction.

In: points in mm (x right, y away to the back, z up).  Out: places on the paper in mm, x to
the right and y up, at true scale; and the depth towards the eye.  Every view is at right
angles to the paper, so lengths along an axis shrink by the same factor everywhere.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from patternpress.assembly.solid import Vec, cross, dot

Place = tuple[float, float]
Hand = Literal["left", "right"]

# ISO 5456-3 draws these views larger than the projection, so that measures along the full
# axes can be taken off with a rule.
ISOMETRIC_AS_DRAWN = math.sqrt(3 / 2)
DIMETRIC_AS_DRAWN = 3 / math.sqrt(8)


@dataclass(frozen=True, slots=True)
class View:
    """Where one looks from: what points right and up on the paper, and towards the eye.

    Three directions of length 1 at right angles; right, up and toward are a right-handed
    set, else the picture would be a mirror image.  Raises ValueError if they are not.
    """

    right: Vec
    up: Vec
    toward: Vec

    def __post_init__(self) -> None:
        for got, meant in zip(cross(self.right, self.up), self.toward, strict=True):
            if not abs(got - meant) < 1e-9:
                raise ValueError("right, up and toward do not make a view")
        if not (abs(dot(self.right, self.up)) < 1e-9 and abs(dot(self.up, self.up) - 1) < 1e-9):
            raise ValueError("right, up and toward do not make a view")


X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
FACES: Mapping[str, View] = MappingProxyType(
    {
        "front": View(X, Z, (0.0, -1.0, 0.0)),
        "right": View(Y, Z, X),
        "back": View((-1.0, 0.0, 0.0), Z, Y),
        "left": View((0.0, -1.0, 0.0), Z, (-1.0, 0.0, 0.0)),
        "top": View(X, Y, Z),
        "bottom": View(X, (0.0, -1.0, 0.0), (0.0, 0.0, -1.0)),
    }
)


def from_direction(toward: Vec, up: Vec = Z) -> View:
    """Return the view from a direction (of any length), with `up` upright on the paper.

    Raises ValueError for a direction without length or along `up`.
    """
    eye = _unit(toward)
    right = _unit(cross(up, eye))
    return View(right, cross(eye, right), eye)


def isometric(hand: Hand = "right", above: bool = True, front: bool = True) -> View:
    """Return the isometric view of ISO 5456-3: all three axes shrink by √(2/3).

    `hand` is the side of the thing that shows, left or right; with it shows the front or the
    back, and the top or the bottom.
    """
    across, away = (1.0 if hand == "right" else -1.0), (-1.0 if front else 1.0)
    return from_direction((across, away, _lift(above)))


def dimetric(hand: Hand = "right", above: bool = True) -> View:
    """Return the dimetric view of ISO 5456-3: the front at 2√2/3, what runs back at √2/3.

    The edges of the front run at 7.18° and upright, those that run back at 41.41° to the
    level; the standard rounds to 7° and 42°.  From Gauss's theorem: a direction's share s of
    the line of sight leaves √(1 - s²) of a length along it.
    """
    # Shares of the line of sight along x, y, z: 1 - 8/9, 1 - 2/9, 1 - 8/9.
    small, large = 1 / 3, math.sqrt(7) / 3
    return from_direction((small if hand == "right" else -small, -large, small * _lift(above)))


def project(view: View, point: Vec) -> Place:
    """Return where a point comes to lie on the paper, mm."""
    return dot(point, view.right), dot(point, view.up)


def depth(view: View, point: Vec) -> float:
    """Return how far a point lies towards the eye, mm; the larger hides the smaller."""
    return dot(point, view.toward)


def axis_factors(view: View) -> Vec:
    """Return what is left of a length along x, y and z; the squares add up to 2."""
    x, y, z = (math.hypot(view.right[axis], view.up[axis]) for axis in range(3))
    return x, y, z


def axis_angles(view: View) -> Vec:
    """Return the directions of the x, y and z axes on the paper, degrees from the right.

    From -180 to 180, anticlockwise; 0 for an axis that points at the eye.
    """
    x, y, z = (math.degrees(math.atan2(view.up[a], view.right[a])) for a in range(3))
    return x, y, z


def _lift(above: bool) -> float:
    return 1.0 if above else -1.0


def _unit(vec: Vec) -> Vec:
    length = math.hypot(*vec)
    if not length > 1e-12:
        raise ValueError("a view needs a direction, and not along its upright")
    return vec[0] / length, vec[1] / length, vec[2] / length

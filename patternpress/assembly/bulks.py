"""Every placed piece as a solid, ready for fit checks and pictures.

In: a `Worked` design and its `Assembly`.  Out: a `Bulk` for each placed piece, in the work's own
axes, floats from here on.  A piece's solid is made once for its part and moved for each copy.
"""

from __future__ import annotations

from functools import cached_property

from patternpress.assembly.convex import Bulk, placed
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.pose import Pose
from patternpress.assembly.solid import Matrix, Vec
from patternpress.assembly.solids import bulk_of, rough_bulk_of
from patternpress.assembly.worked import Worked


class Bulks:
    """The solids of a design, made on demand: `of(placed)` for a piece where it sits.

    `rough`: made in a fifth of the time, for clash tests alone; curves lie inside the wood.
    """

    def __init__(self, worked: Worked, assembly: Assembly, *, rough: bool = False) -> None:
        self._make = rough_bulk_of if rough else bulk_of
        self.worked = worked
        self.assembly = assembly
        self._parts: dict[str, Bulk | None] = {}
        self._placed: dict[tuple[str, Pose], Bulk] = {}
        # By the piece itself: to hash the fractions of a pose takes longer than to look at it.
        self._known: dict[int, tuple[Placed, Bulk | None]] = {}

    @cached_property
    def by_name(self) -> dict[str, CutPart]:
        """Parts by name."""
        return {part.name: part for part in self.worked.parts}

    def part(self, name: str) -> Bulk | None:
        """The solid of a part in its own frame; None for a fitting without sizes."""
        if name not in self._parts:
            part = self.by_name[name]
            sized = len(part.extents) == 3
            shape = self.worked.shapes.get(name)
            self._parts[name] = self._make(part, shape, self.worked.solver) if sized else None
        return self._parts[name]

    def of(self, piece: Placed) -> Bulk | None:
        """The solid of a placed piece."""
        known = self._known.get(id(piece))
        if known is None or known[0] is not piece:
            known = self._known[id(piece)] = (piece, self._found(piece))
        return known[1]

    def _found(self, piece: Placed) -> Bulk | None:
        plain = self.part(piece.part)
        if plain is None:
            return None
        key = (piece.part, piece.pose)
        if key not in self._placed:
            self._placed[key] = placed(plain, floats(piece.pose), offset(piece.pose))
        return self._placed[key]


def bulks_of(worked: Worked, assembly: Assembly) -> Bulks:
    """The solids of an assembly: every check asks for them, and they are made once."""
    found: Bulks = assembly.kept.setdefault("bulks", Bulks(worked, assembly))
    return found


def floats(pose: Pose) -> Matrix:
    """The matrix of a pose in floats."""
    a, b, c = (tuple(float(each) for each in row) for row in pose.matrix)
    return ((a[0], a[1], a[2]), (b[0], b[1], b[2]), (c[0], c[1], c[2]))


def offset(pose: Pose) -> Vec:
    """The offset of a pose in floats."""
    return (float(pose.offset[0]), float(pose.offset[1]), float(pose.offset[2]))

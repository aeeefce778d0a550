"""Lines of a picture: which stretches of which edges can be seen.

In: named solids in mm, and a View.  Out: strokes on the paper in mm, each line once.  Solids
are closed and may touch but not run through each other.  Nothing here knows of designs.
"""

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from patternpress.drawing.contours import creases
from patternpress.drawing.flatscene import NONE, FlatScene, Scene, flatten
from patternpress.drawing.occlusion import before, meeting_pairs
from patternpress.drawing.overlay import Piece, overlaid
from patternpress.drawing.projection import Place, View
from patternpress.drawing.stretches import Along, all_of, left_open, shared

StrokeKind = Literal["contour", "crease"]


@dataclass(frozen=True, slots=True)
class Stroke2d:
    """A straight line on the paper, from the left (or from below) to the right, mm.

    `keys` are the solids whose line it is, in the scene's order.  "contour": beside it one
    sees something other than its own solid, or it is the silhouette of a curved surface;
    "crease": the same solid on both sides.
    """

    keys: tuple[Hashable, ...]
    kind: StrokeKind
    points: tuple[Place, ...]
    hidden: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Split:
    """Every edge of a flat scene taken apart twice: seen or unseen, and contour or crease."""

    seen: Along
    unseen: Along
    contour: Along
    crease: Along


def visible_lines(scene: Scene, view: View) -> tuple[Stroke2d, ...]:
    """Return the lines that can be seen, every line once, in a fixed order.

    Lines of several solids that fall together become one stroke with all their keys, and
    pieces of one straight line are joined.  Raises ValueError if two solids have one key.
    """
    return lines_of(flatten(scene, view))


def lines_of(flat: FlatScene) -> tuple[Stroke2d, ...]:
    """Return the lines that can be seen of a scene that is laid flat with its edges."""
    parts = split(flat)
    return _strokes(flat, [(parts.seen, False)], parts)


def all_lines(scene: Scene, view: View) -> tuple[Stroke2d, ...]:
    """Return the lines that can be seen and those that cannot, these flagged `hidden`.

    A hidden line is left out where a line that can be seen lies over it.
    """
    flat = flatten(scene, view)
    parts = split(flat)
    return _strokes(flat, [(parts.seen, False), (parts.unseen, True)], parts)


def split(flat: FlatScene) -> Split:
    """Split every edge at the places where something begins or ceases to cover it."""
    length, near = flat.edges.length, flat.near
    pairs = meeting_pairs(flat)
    hiding = before(flat, pairs)
    # Edges between facets that all turn away have wood before them.
    away = np.flatnonzero((flat.edges.left == NONE) & (flat.edges.right == NONE))
    covered = Along(pairs.edge[hiding.pair], hiding.start, hiding.end)
    seen = left_open(
        all_of((covered, Along(away, np.zeros(len(away)), length[away]))), length, near
    )
    contour = left_open(creases(flat, pairs), length, near)
    return Split(seen, left_open(seen, length, near), contour, left_open(contour, length, near))


def _strokes(
    flat: FlatScene, sets: Sequence[tuple[Along, bool]], parts: Split
) -> tuple[Stroke2d, ...]:
    pieces: list[Piece] = []
    for stretches, hidden in sets:
        for part, contour in ((parts.contour, True), (parts.crease, False)):
            pieces += _pieces(flat, shared(stretches, part, flat.near), (contour, hidden))
    return tuple(
        Stroke2d(
            tuple(flat.keys[owner] for owner in line.owners),
            "contour" if line.contour else "crease",
            (line.start, line.end),
            line.hidden,
        )
        for line in overlaid(pieces, flat.near)
    )


def _pieces(flat: FlatScene, stretches: Along, flags: tuple[bool, bool]) -> Iterator[Piece]:
    edges, spots = flat.edges, flat.spots
    edge = stretches.edge
    base, along = spots[edges.start[edge]], edges.along[edge]
    start = base + stretches.start[:, None] * along
    end = base + stretches.end[:, None] * along
    # A line that runs to the end of its edge ends in the very corner.
    whole = stretches.end == edges.length[edge]
    end[whole] = spots[edges.end[edge[whole]]]
    owners = edges.owner[edge].tolist()
    contour, hidden = flags
    for owner, one, two in zip(owners, start.tolist(), end.tolist(), strict=True):
        yield Piece((owner,), contour, hidden, (one[0], one[1]), (two[0], two[1]))

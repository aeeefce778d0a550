"""Left and right hands: which parts need a second template, for their mirror image.

In: a part and its shape.  Out: how many of its pieces are twins with work of their own.
"""

from __future__ import annotations

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.shape import Shape


def mirrored_pieces(part: CutPart) -> int:
    """How many of a part's named pieces are mirror images of it."""
    stands = [piece.stands.value for piece in part.part.pieces if piece.stands]
    return sum(each.startswith("mirrored") and "both" not in each for each in stands)


def handed(shape: Shape) -> bool:
    """Whether a mirrored piece needs work of its own: marks, grooves or blind holes on one face."""
    blind = any(hole.depth is not None for hole in shape.holes)
    return bool(shape.marks or shape.grooves or blind)


def twins_of(part: CutPart, shape: Shape) -> int:
    """How many pieces of a part are cut as its mirror image, with a template of their own.

    Without work on one face, a mirrored piece is the same piece turned over.
    """
    if not handed(shape):
        return 0
    return part.quantity * mirrored_pieces(part) // max(1, len(part.pieces))

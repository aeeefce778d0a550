"""Left and right hands: which parts need a second template, for their mirror image.

In: a part and its shape.  Out: how many of its pieces are twins with work of their own, and which
are no more than the part turned round.
"""

from __future__ import annotations

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.shape import Shape

ENDS = {"wide": ("left", "right"), "deep": ("front", "back"), "high": ("bottom", "top")}


def mirrored_pieces(part: CutPart) -> int:
    """How many of a part's named pieces are mirror images of it."""
    stands = [piece.stands.value for piece in part.part.pieces if piece.stands]
    return sum(each.startswith("mirrored") and "both" not in each for each in stands)


def same_turned(part: CutPart) -> bool:
    """Whether a mirrored piece is the same piece turned end for end: a round one that has nothing
    but holes in the middle of its ends.
    """
    said = part.part
    if part.form != "rod" or said.grooves or said.ends or said.corners or said.edges:
        return False
    ends = ENDS[part.along]
    return all(
        hole.on is not None and hole.on.value[0] in ends and not hole.at.offsets and not hole.row
        for hole in said.holes
    )


def mirror_images(part: CutPart) -> list[str]:
    """The names of the pieces that must be made as the mirror image of the part."""
    if same_turned(part):
        return []
    return [p.name.value for p in part.part.pieces if p.stands and "mirrored" in p.stands.value]


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

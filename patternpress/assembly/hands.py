"""Left and right hands: which parts need a second template, for their mirror image.

In: a part, its shape and its design.  Out: how many of its pieces are twins with work of their own,
which are no more than the part turned round, and what is drawn on the pieces of each hand.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import replace

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.faceoutline import with_face
from patternpress.assembly.flips import NONE, Flip, flips_of, mark_fact, wood
from patternpress.assembly.handwork import Work, work_on
from patternpress.assembly.shape import Shape
from patternpress.assembly.turning import mirrored_shape, seen_from_behind
from patternpress.assembly.worked import Worked
from patternpress.design.phrases import Target

_MIRRORED = ("mirrored left to right", "mirrored front to back")
# The axes along which a piece that stands so is the part inside out; a half turn changes two.
_AXES: dict[str, tuple[str, ...]] = {
    "as drawn": (),
    "mirrored left to right": ("wide",),
    "mirrored front to back": ("deep",),
    "mirrored both ways": ("wide", "deep"),
    "turned half round": ("wide", "deep"),
}
_SWAPPED = {"left": "right", "right": "left"}
Pieces = frozenset[str]


def mirrored_pieces(part: CutPart) -> int:
    """How many of a part's named pieces are mirror images of it."""
    return len(_mirrored(part))


def _mirrored(part: CutPart) -> Pieces:
    return frozenset(
        piece.name.value
        for piece in part.part.pieces
        if piece.stands and piece.stands.value in _MIRRORED
    )


def mirror_images(part: CutPart, worked: Worked) -> list[str]:
    """The names of the pieces that must be made as the mirror image of the part."""
    if same_turned(part, worked):
        return []
    return [p.name.value for p in part.part.pieces if p.stands and "mirrored" in p.stands.value]


def same_turned(part: CutPart, worked: Worked) -> bool:
    """Whether a mirrored piece is the same piece turned round, with all that is done to it."""
    shape = worked.shapes.get(part.name)
    return shape is not None and bool(mirrored_pieces(part)) and not twins_of(part, shape, worked)


def same_as_it_stands(part: CutPart, worked: Worked) -> bool:
    """Whether every piece of a part is cut as the part is drawn, without being turned for it."""
    shape = worked.shapes.get(part.name)
    if shape is None:
        return False
    plain = wood(part, shape, worked, NONE)
    stands = {each.stands.value for each in part.part.pieces if each.stands}
    return all(
        each in _AXES and wood(part, shape, worked, Flip(_AXES[each])) == plain for each in stands
    )


def handed(shape: Shape) -> bool:
    """Whether a part has work on one face: marks, grooves or blind holes."""
    blind = any(hole.depth is not None for hole in shape.holes)
    return bool(shape.marks or shape.grooves or blind)


def twins_of(part: CutPart, shape: Shape, worked: Worked) -> int:
    """How many pieces of a part are cut as its mirror image, with a template of their own.

    None where the mirrored pieces, with all that is done to them, are the part turned round.
    """
    mirrored = _mirrored(part)
    if not mirrored or _turn(part, shape, worked) is not None:
        return 0
    return part.quantity * len(mirrored) // max(1, len(part.pieces))


def _turn(part: CutPart, shape: Shape, worked: Worked) -> Flip | None:
    """The mirror in which the mirrored pieces look like the others; marks and treatments that some
    pieces alone have may be missing on the mirrored ones.
    """
    work, mirrored = work_on(part, worked), _mirrored(part)
    drawn = _done(work, shape, frozenset(part.pieces) - mirrored, NONE)
    for flip in flips_of(part, shape, worked):
        if _done(work, shape, mirrored, flip).keys() <= drawn.keys():
            return flip
    return None


def _done(
    work: tuple[Work, ...], shape: Shape, pieces: Pieces, flip: Flip
) -> Mapping[Hashable, Pieces]:
    """What is done to some pieces, in a mirror, and to which of them."""
    found: dict[Hashable, Pieces] = {}
    for each in work:
        for fact in _facts(each, shape, flip) if each.pieces & pieces else ():
            found[fact] = found.get(fact, frozenset()) | (each.pieces & pieces)
    return found


def _facts(work: Work, shape: Shape, flip: Flip) -> list[Hashable]:
    target = work.target
    if work.verb:
        return [(work.verb, target.kind, flip.sides(target.sides), target.feature)]
    return [mark_fact(each, shape, flip) for each in shape.marks if each.name == target.feature]


def work_of_hand(
    part: CutPart, shape: Shape, worked: Worked, *, twin: bool = False
) -> tuple[Work, ...]:
    """What a template of a part, or of its mirror image, shows as done: told of the sides that it
    names, with the pieces that it is done to; none where that is all for which the template is.
    """
    mirrored, work = _mirrored(part), work_on(part, worked)
    if twins_of(part, shape, worked):
        ours = mirrored if twin else frozenset(part.pieces) - mirrored
        return tuple(
            replace(each, target=_seen(each.target, twin), pieces=_some(each.pieces & ours, ours))
            for each in work
            if each.pieces & ours
        )
    flip = _turn(part, shape, worked) if mirrored else None
    straight = frozenset(part.pieces) - mirrored
    turned = _done(work, shape, mirrored, flip) if flip else {}
    found = []
    for each in work:
        if each.pieces & straight:
            on = each.pieces & straight
            for fact in _facts(each, shape, NONE):
                on |= turned.get(fact, frozenset())
            found.append(replace(each, pieces=_some(on, frozenset(part.pieces))))
    return tuple(found)


def _seen(target: Target, twin: bool) -> Target:
    """A target as the mirrored template names its sides: left and right change places."""
    return replace(target, sides=tuple(_SWAPPED.get(s, s) if twin else s for s in target.sides))


def _some(pieces: Pieces, of: Pieces) -> Pieces:
    return frozenset() if pieces >= of else pieces


def _from_behind(part: CutPart, shape: Shape, worked: Worked) -> bool:
    """Whether a template shows the face behind the usual one, for its holes, grooves and marks.

    Where holes lean it is the usual face, which the words about the drill go by.
    """
    on_face = [*shape.grooves, *shape.marks, *(h for h in shape.holes if h.depth is not None)]
    far = sum(each.far for each in on_face)
    return 2 * far > len(on_face) and not worked.bores.get(part.name)


def turned_shape(part: CutPart, shape: Shape, worked: Worked) -> Shape:
    """The shape seen from where its template shows it: from the face with the most to show."""
    return seen_from_behind(shape) if _from_behind(part, shape, worked) else shape


def shown_shape(part: CutPart, shape: Shape, worked: Worked) -> Shape:
    """The shape as its template shows it, with the outline of the face that it shows."""
    behind = _from_behind(part, shape, worked)
    face = with_face(part, shape, worked.solver, near=not behind)
    return seen_from_behind(face) if behind else face


def shapes_of_hands(
    part: CutPart, shape: Shape, worked: Worked, *, faced: bool = True
) -> tuple[Shape, ...]:
    """The shape that a part's template shows, and that of its mirror image if there is one; each
    only with the marks that are drawn on pieces of that hand.  `faced`: with the outline of the
    face that is shown, else with that of the whole.
    """
    told = {mark.name.value for mark in worked.book.marks}
    shown = (shown_shape if faced else turned_shape)(part, shape, worked)
    hands = (False, True) if twins_of(part, shape, worked) else (False,)
    found = []
    for twin in hands:
        work = work_of_hand(part, shape, worked, twin=twin)
        mine = {each.target.feature for each in work if not each.verb}
        marks = tuple(each for each in shown.marks if each.name in mine or each.name not in told)
        kept = replace(shown, marks=marks)
        found.append(mirrored_shape(kept) if twin else kept)
    return tuple(found)

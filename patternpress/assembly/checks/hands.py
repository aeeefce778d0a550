"""Is a piece of the wrong hand?

In: a `Worked` design and the problems of its places.  Out: the same problems; but where a piece
that does not fit would fit mirrored, that is told instead of what follows from it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace

from patternpress.assembly.worked import Worked
from patternpress.design.kinds import fit, placing
from patternpress.design.problem import Problem
from patternpress.design.records.parts import Part, Piece
from patternpress.design.span import Said

PLAIN = "as drawn"
MIRRORED = ("mirrored left to right", "mirrored front to back")
# So many pieces are tried: each try places and checks the whole design once more.
MOST_TRIED = 3

# What may follow from a wrong hand.
FOLLOWING = (
    fit.PiecesClash,
    fit.JointGapes,
    fit.PieceFloats,
    fit.CannotGoIn,
    fit.MovingPieceJams,
    placing.FacesNotFlat,
    placing.NotInHole,
    placing.SaidTwoWays,
)

Judge = Callable[[Worked], Iterable[Problem]]


def with_hands(worked: Worked, found: Sequence[Problem], judge: Judge) -> tuple[Problem, ...]:
    """The problems, with those of a piece of the wrong hand told as one.

    `judge` finds the problems of places of a design whose pieces stand otherwise.
    """
    wrong = [each for each in found if each.is_error]
    if not wrong or any(each.kind not in FOLLOWING for each in wrong):
        return tuple(found)
    for name, part, piece in list(_suspects(worked, wrong))[:MOST_TRIED]:
        stands = piece.stands.value if piece.stands else PLAIN
        for other in (*MIRRORED, PLAIN) if stands in (PLAIN, *MIRRORED) else ():
            if other != stands and not _errors(judge(_standing(worked, part, piece, other))):
                facts = {"piece": name, "found": _words(stands), "fits": _words(other)}
                span = piece.stands.span if piece.stands else piece.name.span
                told = Problem(
                    fit.WrongHand, span, facts, next((p.at for p in wrong if p.at), None)
                )
                return (*(each for each in found if not each.is_error), told)
    return tuple(found)


def _words(stands: str) -> str:
    return "as it is drawn" if stands == PLAIN else stands


def _errors(found: Iterable[Problem]) -> bool:
    return any(each.is_error for each in found)  # the first is enough


def _suspects(worked: Worked, wrong: Sequence[Problem]) -> Iterator[tuple[str, Part, Piece]]:
    """The pieces that problems name and that may stand otherwise, each once."""
    names = dict.fromkeys(
        name.rpartition("/")[2]
        for each in wrong
        for key in ("piece", "other")
        for name in (each.facts.get(key, ""),)
    )
    for part in worked.book.parts:
        if len(part.pieces) < 2:
            continue
        for piece in part.pieces:
            if piece.name.value in names:
                yield piece.name.value, part, piece


def _standing(worked: Worked, part: Part, piece: Piece, stands: str) -> Worked:
    """The design with one piece that stands otherwise."""
    said = Said(stands, piece.name.span, stands)
    pieces = tuple(replace(p, stands=said) if p is piece else p for p in part.pieces)
    turned = replace(part, pieces=pieces)
    parts = tuple(turned if each is part else each for each in worked.book.parts)
    return replace(worked, book=replace(worked.book, parts=parts))

"""What is done to the pieces of a part one by one: treatments and marks, told as the part is drawn.

In: a part and its design.  Out: `Work`s, each with the pieces that get it.  A mirrored or turned
piece is spoken of as it stands; its template, and its mirror image, are drawn as the part is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.placing import STANDS
from patternpress.assembly.pose import DIRECTION, dot
from patternpress.assembly.worked import Worked
from patternpress.design.phrases import Target

# Of what is done to wood, the verbs that a template tells.
VERBS = ("round over", "chamfer", "ease", "leave bare", "resist")
_EVERY = frozenset[str]()


@dataclass(frozen=True, slots=True)
class Work:
    """Something done to a part: a verb of `VERBS` and its target as the part is drawn, or no verb
    and the name of a mark; and the pieces that get it.
    """

    verb: str
    target: Target
    pieces: frozenset[str]


def as_drawn(thing: str, side: str, part: CutPart) -> str:
    """Return what a side of a piece as it stands is on its part as drawn."""
    piece = next((each for each in part.part.pieces if each.name.value == thing), None)
    if piece is None or piece.stands is None or side not in DIRECTION:
        return side
    columns = zip(*STANDS[piece.stands.value], strict=True)
    drawn = tuple(dot(column, DIRECTION[side]) for column in columns)
    return next(name for name, each in DIRECTION.items() if tuple(each) == drawn)


def work_on(part: CutPart, worked: Worked) -> tuple[Work, ...]:
    """What steps do to a part and draw on it, in their order, each once."""
    found: dict[tuple[str, Target], frozenset[str]] = {}
    for verb, target in (*_treatments(worked), *_marks(worked)):
        thing = worked.usage.in_copies.get(target.thing, (target.thing, ""))[0]
        if worked.usage.part_of.get(thing, thing) != part.name:
            continue
        pieces = part.pieces if thing == part.name else (thing,)
        sides = tuple(as_drawn(thing, each, part) for each in target.sides) if verb else ()
        drawn = replace(target, thing=part.name, sides=sides, span=part.part.name.span, owner="")
        found[verb, drawn] = found.get((verb, drawn), _EVERY) | {*pieces}
    return tuple(Work(verb, target, pieces) for (verb, target), pieces in found.items())


def _treatments(worked: Worked) -> Iterator[tuple[str, Target]]:
    for step in worked.usage.steps:
        for treatment in (*step.treat, *step.afterwards):
            if treatment.verb in VERBS:
                yield from ((treatment.verb, target) for target in treatment.targets)


def _marks(worked: Worked) -> Iterator[tuple[str, Target]]:
    for mark in worked.book.marks:
        for group in mark.on:
            for target in group:
                yield "", replace(target, kind="mark", feature=mark.name.value)

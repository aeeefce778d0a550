"""How long a step takes, and how long it waits.

In: a `Worked` design, the chosen answers and a step.  Out: `Spell`s: stretches of work with their
hands, each followed by a wait.  A step that says `takes` is believed.  Any other is estimated
from what it does, by the rates below: 45 s a glued joint is the rule of thumb of instruction
writers, the others are common practice without a source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.usage import MAIN, row_of
from patternpress.assembly.worked import Worked
from patternpress.design.records.goods import Length, Material
from patternpress.design.records.work import FINISHES, Joined, Step, Treatment
from patternpress.design.span import Said
from patternpress.measure.quantity import Kind

# Minutes.
JOINT = Fraction(3, 4)  # spread glue on two faces and press them together
LAY = Fraction(1, 2)  # a piece laid in place without glue
MARK = Fraction(1)
RUB_OUT = Fraction(1, 2)
TREATED = Fraction(2)  # one edge, face or hole of one piece
WHOLE = Fraction(10)  # the whole work, once
FIRST_PIECE = Fraction(3)  # measure, set up and cut the first piece of a part
NEXT_PIECE = Fraction(1)  # each further one of a strip, to the same stop
NEXT_OF_SHEET = Fraction(2)  # each further one of a sheet
SHAPED = 2  # times as long for a piece that is more than a rectangle
MEASURE = Fraction(2)
HOLD = Fraction(1)
TRY = Fraction(1)
LEAST = Fraction(1)  # no step takes less
GLUED = ("against", "in hole")
WET = (*FINISHES, "fill")
TOUCHING = (*GLUED, "loose against")


@dataclass(frozen=True, slots=True)
class Minutes:
    """A time in minutes, least to most."""

    low: Fraction
    high: Fraction

    def __add__(self, other: Minutes) -> Minutes:
        return Minutes(self.low + other.low, self.high + other.high)

    def __sub__(self, other: Minutes) -> Minutes:
        return Minutes(self.low - other.low, self.high - other.high)

    def share(self, part: Fraction) -> Minutes:
        """A part of it."""
        return Minutes(self.low * part, self.high * part)


NONE = Minutes(Fraction(0), Fraction(0))


@dataclass(frozen=True, slots=True)
class Spell:
    """Work of the hands without a pause, then a wait until the work can be touched again."""

    hands: Minutes
    wait: Minutes = NONE


def spells_of(worked: Worked, step: Step, chosen: frozenset[str]) -> tuple[Spell, ...]:
    """The spells of a step: coats of finish, and `afterwards`, wait for what is wet.

    What is only for other answers than the chosen ones is left out.
    """
    before, after = _treatments(step.treat, chosen), _treatments(step.afterwards, chosen)
    wet = wait_of(worked, step, chosen)
    later = _treating(worked, after, step)
    hands = hands_of(worked, step, chosen)
    if not after or not wet.high or not any(glued_joints(each) for each in step.join):
        return _coated(worked, (*before, *after), Spell(hands, wet))
    # What needs a dry joint is at most half of the time that the author allows.
    share = min(later / hands.high, Fraction(1, 2)) if hands.high else Fraction(0)
    second = hands.share(share)
    first = _coated(worked, before, Spell(hands - second, wet))
    return (*first, *_coated(worked, after, Spell(second, _dry(worked, after))))


def hands_of(worked: Worked, step: Step, chosen: frozenset[str]) -> Minutes:
    """How long the hands are busy: as said, or estimated."""
    said = _minutes(worked, step.takes)
    return said if said and said.high > 0 else _estimate(worked, step, chosen)


def wait_of(worked: Worked, step: Step, chosen: frozenset[str]) -> Minutes:
    """How long a step waits: a stated time, or what its glue or finish needs.

    A glued step that says nothing waits until its glue can be handled; one that only colours or
    fills, until that can.
    """
    wait = step.wait
    if wait is not None and wait.time is not None:
        return _minutes(worked, wait.time) or NONE
    if wait is None and not any(glued_joints(each) for each in step.join):
        wet = (each for each in (*step.treat, *step.afterwards) if each.verb in WET)
        return _dry(worked, _treatments(wet, chosen))
    material = material_of(worked, (wait.for_ if wait else None) or step.glue)
    hard = wait is not None and wait.until is not None and wait.until.value == "hard"
    said = (material.hard if hard else material.handle) if material else None
    return _minutes(worked, said) or NONE


def material_of(worked: Worked, named: Said[str] | None) -> Material | None:
    """The named material; where none is named, the only glue of the design."""
    materials = worked.book.materials
    if named is not None:
        return next((each for each in materials if each.name.value == named.value), None)
    glues = [each for each in materials if each.kind and each.kind.value == "glue"]
    return glues[0] if len(glues) == 1 else None


def glued_joints(joined: Joined) -> int:
    """How many faces of a joined piece (one of a row) get glue."""
    return sum(len(s.value) for s, place in joined.places if place.how in GLUED and place.glued)


def cutting_time(part: CutPart) -> Fraction:
    """The estimate for marking and cutting all pieces of a part, minutes."""
    if not part.quantity:
        return Fraction(0)
    following = NEXT_OF_SHEET if part.form == "sheet" else NEXT_PIECE
    time = FIRST_PIECE + following * (part.quantity - 1)
    said = part.part
    shaped = any((said.outline, said.corners, said.edges, said.ends, said.disc))
    return time * SHAPED if shaped else time


def copies_of(worked: Worked, step: Step) -> int:
    """How often a step is done: once for each copy of the sub-assembly that it builds."""
    return worked.usage.made.get(step.builds.value if step.builds else MAIN, 1)


def in_row(worked: Worked, joined: Joined) -> int:
    """How many pieces one entry of a join brings."""
    return len(row_of(joined, worked.usage.pieces)) if joined.row is not None else 1


def _estimate(worked: Worked, step: Step, chosen: frozenset[str]) -> Minutes:
    copies = copies_of(worked, step)
    time = MARK * len(step.mark) + RUB_OUT * len(step.rub_out) + MEASURE * len(step.measure)
    for said in step.cut:
        part = worked.part(said.value)
        time += cutting_time(part) if part else FIRST_PIECE
    once = HOLD * len(step.hold) + TRY * len(step.check)
    for joined in step.join:
        each = JOINT * glued_joints(joined) or LAY
        once += each * in_row(worked, joined)
    treatments = _treatments((*step.treat, *step.afterwards), chosen)
    time += once * copies + _treating(worked, treatments, step)
    return Minutes(max(time, LEAST), max(time, LEAST))


def _treating(worked: Worked, treatments: Iterable[Treatment], step: Step) -> Fraction:
    return sum((_treated(worked, each) for each in treatments), Fraction(0)) * copies_of(
        worked, step
    )


def _treated(worked: Worked, treatment: Treatment) -> Fraction:
    if treatment.verb == "leave bare":
        return Fraction(0)
    coats = treatment.coats.value if treatment.coats else 1
    pieces = worked.usage.pieces
    targets = treatment.targets
    count = sum(len(pieces.get(each.thing, ("",))) for each in targets if each.thing)
    whole = sum(1 for each in targets if not each.thing)
    return (TREATED * count + WHOLE * whole) * coats


def _treatments(treatments: Iterable[Treatment], chosen: frozenset[str]) -> tuple[Treatment, ...]:
    return tuple(t for t in treatments if t.only_if is None or t.only_if.value in chosen)


def _coated(worked: Worked, treatments: tuple[Treatment, ...], whole: Spell) -> tuple[Spell, ...]:
    """A spell for each coat, with the drying time of the finish between them."""
    coats = [(each.coats.value, _dry(worked, (each,))) for each in treatments if each.coats]
    count, between = max(coats, key=lambda each: (each[0], each[1].high), default=(1, NONE))
    if count < 2 or not between.high:
        return (whole,)
    one = whole.hands.share(Fraction(1, count))
    return (*(Spell(one, between),) * (count - 1), replace(whole, hands=one))


def _dry(worked: Worked, treatments: Iterable[Treatment]) -> Minutes:
    """How long the slowest material of some treatments takes until it can be handled."""
    times = list(_drying(worked, treatments))
    return max(times, key=lambda each: (each.high, each.low), default=NONE)


def _drying(worked: Worked, treatments: Iterable[Treatment]) -> Iterator[Minutes]:
    for treatment in treatments:
        material = material_of(worked, treatment.with_) if treatment.with_ else None
        time = _minutes(worked, material.handle) if material else None
        if time is not None:
            yield time


def _minutes(worked: Worked, said: Length | None) -> Minutes | None:
    measure = worked.solver.measure(said) if said else None
    if measure is None or measure.low.kind is not Kind.TIME:
        return None
    low, high = measure.low.value, (measure.high or measure.low).value
    return Minutes(max(low, Fraction(0)), max(low, high, Fraction(0)))

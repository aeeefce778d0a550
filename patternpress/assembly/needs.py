"""Which step needs which: the order that the bench really asks for.

In: a `Worked` design and the chosen answers.  Out: for each step, the earlier ones that it needs.
Everything that a step works on is a *thing*: a piece, a sub-assembly, a measured opening.  Things
that are joined are one from then on.  A step needs the last step before it that touched one of
its things, and needs it dry; so steps on the same things keep the author's order always, and
only steps that share nothing may change places.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.prosework import all_prose
from patternpress.assembly.usage import MAIN
from patternpress.assembly.worked import Worked
from patternpress.design.phrases import Target
from patternpress.design.records.work import Joined, Step
from patternpress.design.references import Ref, split
from patternpress.design.span import Said

CUTTING = 0  # the number of the work before step 1: cutting out
SUB, OPENING = "sub-assembly", "opening"  # kinds of things that are no pieces
Thing = tuple[str, str]  # kind and name
WHOLE_WORK = Target("", "work")


@dataclass(frozen=True, slots=True)
class Need:
    """An earlier step that has to be done; with `dry`, its glue or finish dry as well."""

    step: int
    dry: bool = True


def needs_of(
    worked: Worked, numbers: Iterable[int], chosen: frozenset[str]
) -> dict[int, tuple[Need, ...]]:
    """The needs of each step of `numbers`, by number; each kept once, in order."""
    touched = _Touched()
    for piece in (p for part in parts_cut_first(worked, chosen) for p in part.pieces):
        touched.touch(CUTTING, {("piece", piece)}, dry=False)
    found: dict[int, tuple[Need, ...]] = {}
    follows: dict[int, dict[int, bool]] = {CUTTING: {}}  # all that each step comes after
    for number in numbers:
        step = worked.usage.steps[number - 1]
        joined = set(_joined_things(worked, number, step))
        worked_on = joined | set(_worked_things(worked, number, step, chosen))
        light = set(_light_things(worked, step)) - worked_on
        if not worked_on | light:  # it says nothing of what it works on: all that is there
            worked_on = set(_target(worked, WHOLE_WORK, number, step))
        found[number] = _nearest(touched.needs(worked_on | light), follows)
        follows[number] = _all_before(found[number], follows)
        touched.join(joined)
        touched.touch(number, light, dry=False)
        touched.touch(number, worked_on, dry=True)
    return found


def parts_cut_first(worked: Worked, chosen: frozenset[str]) -> tuple[CutPart, ...]:
    """The parts that are cut before step 1: none that is fitted, or cut in a step, or bought."""
    later = {said.value for step in worked.usage.steps for said in step.cut}
    return tuple(
        each
        for each in worked.parts
        if each.name not in later
        and not each.opening
        and each.form != "bought"
        and is_chosen(each.part.only_if, chosen)
    )


def is_chosen(only_if: Said[str] | None, chosen: frozenset[str]) -> bool:
    """Whether something is done at all, for the buyer who picks the chosen answers."""
    return only_if is None or only_if.value in chosen


def _nearest(needs: dict[int, bool], follows: dict[int, dict[int, bool]]) -> tuple[Need, ...]:
    """The needs without those that another of them has already."""
    kept = []
    for step, dry in sorted(needs.items()):
        others = (follows[other].get(step) for other in needs if other != step)
        if not any(had is not None and had >= dry for had in others):
            kept.append(Need(step, dry))
    return tuple(kept)


def _all_before(needs: tuple[Need, ...], follows: dict[int, dict[int, bool]]) -> dict[int, bool]:
    """Every step that is done before, and whether it is sure to be dry."""
    found: dict[int, bool] = {}
    for need in needs:
        for step, dry in {**follows[need.step], need.step: need.dry}.items():
            found[step] = found.get(step, False) or dry
    return found


class _Touched:
    """Who touched what last, while the steps are gone through in the author's order."""

    def __init__(self) -> None:
        self._group: dict[Thing, set[Thing]] = {}
        self._last: dict[Thing, dict[int, bool]] = {}

    def join(self, things: set[Thing]) -> None:
        """Make one of several things, with all that was joined to them before."""
        whole: set[Thing] = set()
        for thing in sorted(things):
            whole |= self._group.get(thing, {thing})
        self._group |= dict.fromkeys(whole, whole)

    def touch(self, step: int, things: set[Thing], *, dry: bool) -> None:
        """Note that a step works on things; whatever is joined to them is touched too.

        Light work (cutting, marking) adds to what came before, since it does not wait for it.
        """
        for thing in self._spread(things):
            before = {} if dry else self._last.get(thing, {})
            self._last[thing] = {**before, step: dry}

    def needs(self, things: set[Thing]) -> dict[int, bool]:
        """The last steps that touched any of the things, and whether they have to be dry."""
        found: dict[int, bool] = {}
        for thing in self._spread(things):
            for step, dry in self._last.get(thing, {}).items():
                found[step] = found.get(step, False) or dry
        return found

    def _spread(self, things: set[Thing]) -> list[Thing]:
        return sorted({each for thing in things for each in self._group.get(thing, {thing})})


def _joined_things(worked: Worked, number: int, step: Step) -> Iterator[Thing]:
    """What a step makes one: the pieces that it brings and those that they are set against."""
    if step.builds is not None:
        yield from _things(worked, step.builds.value)
    for use in worked.usage.uses:
        if use.step == number:
            yield from _things(worked, use.name)
    for joined in step.join:
        for target in _placed_on(joined):
            if target.kind != "mark":
                yield from _target(worked, target, number, step)


def _placed_on(joined: Joined) -> Iterator[Target]:
    yield from (place.target for _, place in joined.places)
    if joined.row is not None and joined.row.up_to is not None:
        yield joined.row.up_to.target


def _worked_things(
    worked: Worked, number: int, step: Step, chosen: frozenset[str]
) -> Iterator[Thing]:
    """What else a step works on: what it treats, measures, and names in its own sentences."""
    for treatment in (*step.treat, *step.afterwards):
        if is_chosen(treatment.only_if, chosen):
            for target in treatment.targets:
                yield from _target(worked, target, number, step)
    openings = {each.name.value: each for each in worked.book.openings}
    for said in step.measure:
        yield OPENING, said.value
        for group in openings[said.value].between if said.value in openings else ():
            for target in group:
                yield from _target(worked, target, number, step)
    for joined in step.join:
        for target in _placed_on(joined):
            if target.kind == "mark":
                yield from _marked(worked, target.thing, number, step)
    yield from _named(worked, (*step.say, *step.also_say, *step.check))


def _light_things(worked: Worked, step: Step) -> Iterator[Thing]:
    """What a step cuts and marks, and what is done while it dries: these do not get wet."""
    for said in step.cut:
        yield from _things(worked, said.value)
        part = worked.part(said.value)
        if part is not None and part.opening:
            yield OPENING, part.opening
    for said in (*step.mark, *step.rub_out):
        yield from _marked(worked, said.value, 0, step)
    yield from _named(worked, step.meanwhile)


def _named(worked: Worked, sentences: Iterable[object]) -> Iterator[Thing]:
    for sentence in sentences:
        for prose in all_prose(sentence):
            for piece in split(prose.main.value):
                if isinstance(piece, Ref):
                    yield from _things(worked, piece.name)


def _marked(worked: Worked, mark: str, number: int, step: Step) -> Iterator[Thing]:
    said = next((each for each in worked.book.marks if each.name.value == mark), None)
    for group in said.on if said else ():
        for target in group:
            yield from _target(worked, target, number, step)


def _target(worked: Worked, target: Target, number: int, step: Step) -> Iterator[Thing]:
    if target.thing:
        yield from _things(worked, target.thing)
        return
    builds = step.builds.value if step.builds else MAIN
    for use in worked.usage.uses:  # the whole work: all that has been brought to it so far
        if use.builds == builds and use.step <= number:
            yield from _things(worked, use.name)


def _things(worked: Worked, name: str) -> Iterator[Thing]:
    """The things behind a name: a part is all its pieces, a copy is its sub-assembly."""
    usage = worked.usage
    if name in usage.pieces:
        yield from (("piece", piece) for piece in usage.pieces[name])
    elif name in usage.part_of:
        yield "piece", name
    elif name in usage.sub_of:
        yield SUB, usage.sub_of[name]

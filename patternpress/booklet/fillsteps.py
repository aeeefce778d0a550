"""Steps, measure cards and finishing, as content.

In: a `Wording`.  Out: groups of steps in the order of work.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from markupsafe import Markup

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.shown import shown_size
from patternpress.assembly.sizes import AXES
from patternpress.booklet.content import (
    Brought,
    Caution,
    Check,
    Choice,
    Figure,
    Finishing,
    MeasureCard,
    MeasureResult,
    MeasureRow,
    Outcome,
    Signal,
    Step,
    StepGroup,
)  # fmt: skip
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.records.goods import Material
from patternpress.design.records.parts import Opening
from patternpress.design.records.work import Step as SaidStep
from patternpress.measure.quantity import Quantity

Pictures = Mapping[int, tuple[Figure, ...]]  # by the step's number
NO_PICTURES: Pictures = MappingProxyType({})


def steps(wording: Wording, pictures: Pictures = NO_PICTURES) -> tuple[StepGroup, ...]:
    """Groups of steps: one for each stretch that builds the same sub-assembly."""
    book = wording.model.worked.book
    groups: list[tuple[str, list[Step]]] = []
    for number, said in enumerate(book.steps, 1):
        builds = said.builds.value if said.builds else ""
        if not groups or groups[-1][0] != builds:
            groups.append((builds, []))
        groups[-1][1].append(step(said, number, wording, pictures.get(number, ())))
    return tuple(StepGroup(_heading(name, wording), tuple(made)) for name, made in groups)


def _heading(sub: str, wording: Wording) -> Markup:
    return wording.say("stage_sub", sub=sub) if sub else wording.say("stage_main")


def step(said: SaidStep, number: int, wording: Wording, figures: tuple[Figure, ...] = ()) -> Step:
    """One step as content."""
    return Step(
        number=str(number),
        title=wording.prose(said.step),
        actions=(*_only_if(said, wording), *actions(said, wording)),
        brought=tuple(_brought(number, wording)),
        uses=_capital(Markup(", ").join(Markup.escape(each.value) for each in said.uses)),
        figures=figures,
        cautions=tuple(_caution(wording.prose(each), wording) for each in said.caution),
        measure=tuple(_cards(said, wording)),
        hold=_hold(said, wording),
        wait=wait_words(said, wording),
        meanwhile=Markup(" ").join(wording.prose(each) for each in said.meanwhile),
        checks=tuple(_checks(said, wording)),
        tips=tuple(wording.prose(each) for each in said.tip),
    )


def _caution(words: Markup, wording: Wording) -> Caution:
    return Caution(Signal.NOTICE, words, NOTHING, NOTHING)


def _only_if(said: SaidStep, wording: Wording) -> Iterator[Markup]:
    """A step for one choice says so before anything else."""
    if said.only_if is not None:
        yield wording.say("do_if_chosen", answer=said.only_if.value)


def _brought(number: int, wording: Wording) -> Iterator[Brought]:
    """The pieces that come to the bench, pieces of one part together."""
    usage = wording.model.worked.usage
    counted: dict[str, list[str]] = {}
    subs: list[str] = []
    for use in usage.uses:
        if use.step != number:
            continue
        if use.kind == "sub-assembly":
            subs.append(use.name)
            continue
        owner = usage.part_of.get(use.name, use.name)
        brought = usage.pieces[use.name] if use.kind == "part" else (use.name,)
        counted.setdefault(owner, []).extend(brought)
    for owner, pieces in counted.items():
        first = usage.first_use(pieces[0])
        part = wording.model.worked.part(owner)
        if part is None or first is None or first.step != number:
            continue
        name = pieces[0] if len(pieces) == 1 else part.name
        yield Brought(
            part.letter, name, wording.size(*shown_size(part, wording.model.edition)), len(pieces)
        )
    for sub in subs:
        yield Brought("", sub)


def _cards(said: SaidStep, wording: Wording) -> Iterator[MeasureCard]:
    openings = {each.name.value: each for each in wording.model.worked.book.openings}
    for each in said.measure:
        if each.value in openings:
            yield from _card(openings[each.value], wording)


def _card(opening: Opening, wording: Wording) -> Iterator[MeasureCard]:
    """One card an opening; where its sub-assembly is made several times, one for each copy."""
    worked = wording.model.worked
    fitted = [part for part in worked.parts if part.opening == opening.name.value]
    found = (_measured(axis, fitted, opening, wording) for axis in AXES)
    rows = tuple(row for row in found if row is not None)
    if not rows:
        return
    letters = ", ".join(dict.fromkeys(part.letter for part in fitted))
    between = [wording.thing(t.thing) for group in opening.between for t in group]
    where = wording.prose(opening.where)
    copies = _copies(fitted, wording)
    if len(copies) > 1:
        between = []  # the pieces around one of several like openings are not those of the others
    key = ("card_between" if between else "card_at") + ("_where" if where else "")
    words = wording.say(key, pieces=wording.listed(between), where=where)
    for copy in copies:
        name = (
            wording.say("card_copy", opening=opening.name.value, copy=copy)
            if copy
            else opening.name.value
        )
        yield MeasureCard(name, rows, words=words, letters=letters)


def _copies(fitted: list[CutPart], wording: Wording) -> tuple[str, ...]:
    usage = wording.model.worked.usage
    subs = {
        use.builds for part in fitted for piece in part.pieces if (use := usage.first_use(piece))
    }
    for sub in wording.model.worked.book.sub_assemblies:
        if sub.name.value in subs and sub.copies:
            return tuple(each.value for each in sub.copies)
    return ("",)


def _measured(
    axis: str, fitted: list[CutPart], opening: Opening, wording: Wording
) -> MeasureRow | None:
    """One measurement of the opening, and the size of each part that follows from it."""
    planned = wording.model.worked.solver.opening(opening, axis)
    if planned is None:
        return None
    results = []
    for part in fitted:
        most, least = part.extents.get(axis), part.smallest.get(axis)
        if most is None or least is None or most == least:
            continue
        off = wording.range_of(_minus(planned, most), _minus(planned, least))
        name = wording.say("card_of", axis=wording.say(f"card_{axis}"), part=wording.part(part))
        results.append(
            MeasureResult(_capital(name).rstrip("."), off, wording.range_of(least, most))
        )
    if not results:
        return None
    what = wording.say("card_measure", axis=wording.say(f"card_{axis}"))
    return MeasureRow(what, wording.size(planned), tuple(results))


def _minus(whole: Quantity, part: Quantity) -> Quantity:
    """What is taken off.

    Where both come from the same angle, the difference is a plain figure again: a fraction with
    a small denominator within an error of 1e-40 is that fraction.
    """
    value, error = whole.value - part.value, whole.error + part.error
    simple = value.limit_denominator(10**6)
    if abs(value - simple) <= error:
        return Quantity(simple, whole.kind)
    return Quantity(value, whole.kind, error)


def _hold(said: SaidStep, wording: Wording) -> Markup:
    holds = []
    for hold in said.hold:
        where = wording.prose(hold.where)
        key = "hold_where" if where else "hold_with"
        holds.append(wording.say(key, tool=hold.with_.value, where=where))
        note = wording.prose(hold.note)
        holds += [note] if note else []
    return _capital(Markup("; ").join(holds))


def _capital(words: Markup) -> Markup:
    if not words:
        return NOTHING
    text = Markup(words[:1].upper() + words[1:])
    return text if text.endswith((".", "!", "?")) else text + "."


def wait_words(said: SaidStep, wording: Wording) -> Markup:
    """How long to wait, and for what."""
    wait = said.wait
    if wait is None:
        return NOTHING
    until = wait.until.value if wait.until else "handle"
    material = _material(said, wording)
    if wait.time is not None:
        return _capital(wording.said(wait.time))
    time = getattr(material, until) if material else None
    if material is None or time is None:
        return NOTHING
    return _capital(
        wording.say(f"wait_{until}", time=wording.said(time), material=material.name.value)
    )


def _material(said: SaidStep, wording: Wording) -> Material | None:
    materials = {each.name.value: each for each in wording.model.worked.book.materials}
    named = (said.wait.for_ if said.wait else None) or said.glue
    if named is not None:
        return materials.get(named.value)
    glues = [m for m in materials.values() if m.kind and m.kind.value == "glue"]
    return glues[0] if len(glues) == 1 else None


def _checks(said: SaidStep, wording: Wording) -> Iterator[Check]:
    for check in said.check:
        outcomes = tuple(
            Outcome(_capital(wording.text(found.value)).rstrip("."), wording.prose(remedy))
            for found, remedy in check.if_
        )
        yield Check(wording.prose(check.try_), outcomes)


def finishing(
    wording: Wording, pictures: Pictures = NO_PICTURES
) -> tuple[Finishing, tuple[StepGroup, ...]]:
    """The buyer's choices, and the finishing steps as a group of their own."""
    book = wording.model.worked.book
    choices = []
    words = []
    for choice in book.choices:
        words.append(wording.prose(choice.ask))
        for answer in choice.answers:
            needs = [
                each.name.value
                for each in book.materials
                if each.only_if and each.only_if.value == answer.name.value
            ]
            name = _capital(Markup.escape(answer.name.value)).rstrip(".")
            choices.append(Choice(name, wording.prose(answer.means), needs=tuple(needs)))
    first = len(book.steps) + 1
    made = tuple(
        step(said, number, wording, pictures.get(number, ()))
        for number, said in enumerate(book.finishing, first)
    )
    groups = (StepGroup(wording.say("stage_finish"), made),) if made else ()
    return Finishing(tuple(words), tuple(choices)), groups

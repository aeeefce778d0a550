"""The sentences of a step, made from what the step says.

In: a `Step` and a `Wording`.  Out: one sentence for each action, imperative and short, in the
order of the bench: lay down, measure, cut, prepare, mark, try dry, glue and join; what needs the
joint dry comes apart, for after the wait.  Where the author wrote sentences of their own, those
stand in place of the ones for joining.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from markupsafe import Markup

from patternpress.assembly.gluing import HELD, TOUCHING, is_glued, meets
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.usage import MAIN, row_of
from patternpress.booklet.joinwords import joins_words
from patternpress.booklet.markwords import marks_words
from patternpress.booklet.plain import key_of, lower, upper
from patternpress.booklet.seatwords import leans
from patternpress.booklet.sidewords import pieces_named
from patternpress.booklet.treatwords import treats_words
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import SIDES, Turn
from patternpress.design.records.parts import Mark, SubAssembly
from patternpress.design.records.work import FINISHES, Check, Joined, Step, Treatment

BEFORE_MARKS = ("sand", "ease")  # a pencil line would be sanded off again
BARE = ("leave bare", "resist")


def actions(step: Step, wording: Wording) -> tuple[Markup, ...]:
    """Every action of a step up to its wait, one sentence each."""
    return tuple(_all(step, _within(step, wording)))


def later_actions(step: Step, wording: Wording) -> tuple[Markup, ...]:
    """What a step does to the dry joint, after its wait."""
    if not dries_first(step, wording):
        return ()
    return tuple(treats_words(step.afterwards, _within(step, wording)))


def _within(step: Step, wording: Wording) -> Wording:
    return replace(wording, building=step.builds.value) if step.builds else wording


def dries_first(step: Step, wording: Wording) -> bool:
    """Whether a step's `afterwards` has to wait for its glue."""
    glued = any(is_glued(wording.model.worked, step, each) for each in step.join)
    return glued and step.wait is not None


def _all(step: Step, wording: Wording) -> Iterator[Markup]:
    early, late = _marks(step, wording)
    below = [mark for mark in early if _lies_below(mark, step, wording)]
    yield from marks_words(below, wording)
    ready = tuple(_ready(step, wording))
    stands = step.start is not None and _lies(step, wording) == "upright"
    if not stands:  # what stands is in the way of the drill, and falls over
        yield from ready
    yield from _taken_out(step, wording)
    own, more = (
        [each for prose in said for each in wording.paragraphs(prose)]
        for said in (step.say, step.also_say)
    )
    if not step.join:
        yield from _rubbed(step, wording)
        yield from own
    first = [t for t in step.treat if step.mark and t.verb in BEFORE_MARKS]
    yield from treats_words(first, wording)
    yield from marks_words([mark for mark in early if mark not in below], wording)
    if not step.say:
        yield from _cutting(step, wording)
    yield from marks_words(late, wording)
    yield from treats_words(_bare_first([t for t in step.treat if t not in first]), wording)
    if stands:
        yield from ready
    for check in step.check:
        if check.when is not None and check.when.value == "before gluing":
            yield from _tried(check, wording)
    if step.join:
        yield from own or joins_words(step, wording)
    yield from more
    if not dries_first(step, wording):
        yield from treats_words(step.afterwards, wording)
    if step.join:
        yield from _rubbed(step, wording)


def _rubbed(step: Step, wording: Wording) -> Iterator[Markup]:
    if step.rub_out:
        marks = wording.listed(
            wording.say("the", thing=wording.name(each.value)) for each in step.rub_out
        )
        yield wording.say("do_rub_out", marks=marks)


def _taken_out(step: Step, wording: Wording) -> Iterator[Markup]:
    """Before the whole work is coloured: what only lies or slides in it, and would stick."""
    coloured = [t for each in step.treat if each.verb in FINISHES for t in each.targets]
    if not any(target.kind == "work" for target in coloured):
        return
    worked = wording.model.worked
    number = next(n for n, each in enumerate(worked.usage.steps, 1) if each is step)
    glued_on = _glued_on(number, wording)
    loose = [
        row_of(use.joined, worked.usage.pieces)
        for use in worked.usage.uses
        if use.step < number and use.builds == MAIN and use.joined is not None
        if any(not place.glued for _, place in use.joined.places)
        and not is_glued(worked, worked.usage.steps[use.step - 1], use.joined)
        and use.name not in glued_on
        and not _hinged(use.joined, wording)
    ]
    if loose:
        things = wording.listed(_all_of(loose, wording))
        yield wording.say("do_take_out", things=things)


def _hinged(joined: Joined, wording: Wording) -> bool:
    """Whether a thing turns on its hinges or pins: it stays where it is."""
    worked = wording.model.worked
    sub = worked.usage.sub_of.get(joined.piece.value)
    swings = (each.moves.value == "swings" for each in worked.book.sub_assemblies
              if each.name.value == sub and each.moves)  # fmt: skip
    return isinstance(joined.opens, Turn) or any(swings)


def _all_of(loose: list[tuple[str, ...]], wording: Wording) -> Iterator[Markup]:
    """Each thing; those of rows by their number, all of a part together: “18 slats (J)”."""
    rows: dict[str, int] = {}
    for names in loose:
        part = wording.model.worked.part(names[0])
        if len(names) > 1 and part is not None:
            rows[part.name] = rows.get(part.name, 0) + len(names)
        else:
            yield wording.say("the", thing=wording.thing(names[0]))
    yield from (pieces_named(name, count, wording) for name, count in rows.items())


def _glued_on(number: int, wording: Wording) -> set[str]:
    """What pieces have been glued to before a step: a rod with a knob on each end stays in."""
    worked, assembly = wording.model.worked, wording.model.assembly
    joins = [
        (use.step, use.joined)
        for use in worked.usage.uses
        if use.step < number and use.builds == MAIN and use.joined is not None
        if is_glued(worked, worked.usage.steps[use.step - 1], use.joined)
    ]
    met = {each for step, joined in joins for each in meets(worked, assembly, step, joined)}
    said = {
        place.target.thing
        for _, joined in joins
        for _, place in joined.places
        if place.glued and place.how in (*HELD, *TOUCHING)
    }
    return met | said


def _bare_first(treatments: list[Treatment]) -> list[Treatment]:
    """What stays bare is masked before anything is coloured; all else keeps its order."""
    colouring = [each for each in treatments if each.verb in (*FINISHES, *BARE)]
    ordered = iter(sorted(colouring, key=lambda each: each.verb not in BARE))
    return [next(ordered) if each in colouring else each for each in treatments]


def _tried(check: Check, wording: Wording) -> Iterator[Markup]:
    """A check that is made without glue: the question, then what to do unless all is well."""
    yield wording.say("do_try", question=wording.prose(check.try_))
    go_on = {*wording.listed_in("go_on"), *wording.meant("go_on")}
    for found, remedy in check.if_:
        words = wording.prose(remedy)
        if words.rstrip(".! ").lower() not in go_on:
            yield upper(
                wording.say("do_if", found=wording.label(found.value), remedy=lower(words, wording))
            )


def _ready(step: Step, wording: Wording) -> Iterator[Markup]:
    """What comes first: the work on the bench, and how it lies."""
    lies = _lies(step, wording)
    if step.start is not None and step.join and not step.say:
        leaning = [*leans(Joined(step.start, "", ()), wording)] if lies == "upright" else []
        key = f"do_start_{'leaning' if leaning else lies}" if lies else "do_start"
        yield wording.say(key, piece=wording.thing(step.start.value))
        yield from leaning
    elif lies:
        yield wording.say(f"do_lies_{lies}")


def _lies(step: Step, wording: Wording) -> str:
    """How the work is to lie, where that is to be told; what is low and flat cannot stand."""
    lies = key_of(step.work_lies.value) if step.work_lies else ""
    if lies and _lies_so(step, wording):
        lies = ""
    if step.start is None or lies not in ("", "upright"):
        return lies
    return "upright" if _stands_up(step, wording) else "flat" if lies else ""


def _stands_up(step: Step, wording: Wording) -> bool:
    """Whether the first thing of a step stands, as its picture shows it: a board on its edge, a
    strip on its end.
    """
    worked, assembly = wording.model.worked, wording.model.assembly
    now = next((each for each in worked.usage.lying if each.step is step), None)
    if now is None or now.lies != "upright" or step.start is None:
        return False
    name = step.start.value
    brought = (each for each in assembly.works.get(now.work, ()) if each.brought == name)
    thing = assembly.thing(name, *brought)
    if not thing.bodies:
        return False
    reach = [thing.reach(DIRECTION[side]) for side in SIDES]
    wide, deep, high = (low + far for low, far in zip(reach[::2], reach[1::2], strict=True))
    part = worked.part(name)
    if part is not None and part.form in ("strip", "rod"):
        return high > max(wide, deep)  # a rail lies, though it is higher than it is thick
    return high > min(wide, deep)


def _cutting(step: Step, wording: Wording) -> Iterator[Markup]:
    for said in step.measure:
        key = "do_measure_each" if copies_of_opening(said.value, wording) else "do_measure"
        yield wording.say(key, opening=wording.name(said.value))
    if step.measure and step.cut:
        yield wording.say("do_sums")
    if step.cut:
        parts = wording.listed(_cut(each.value, wording) for each in step.cut)
        yield wording.say("do_cut", parts=parts)


def _cut(name: str, wording: Wording) -> Markup:
    """“the lid (G)”, or how many of them: “2 doors (J)”."""
    part = wording.model.worked.part(name)
    count = 1 if part is None else len(part.pieces) if wording.building else part.quantity
    if count < 2:
        return wording.say("the", thing=wording.thing(name))
    return pieces_named(name, count, wording)


def _marks(step: Step, wording: Wording) -> tuple[list[Mark], list[Mark]]:
    """The marks that a step draws: first those on pieces that are there, then on those cut now."""
    marks = {each.name.value: each for each in wording.model.worked.book.marks}
    drawn = [marks[said.value] for said in step.mark if said.value in marks]
    cut = {said.value for said in step.cut}
    cut |= {piece for part in cut for piece in wording.model.worked.usage.pieces.get(part, ())}
    late = [m for m in drawn if any(t.thing in cut for group in m.on for t in group)]
    return [mark for mark in drawn if mark not in late], late


def _lies_below(mark: Mark, step: Step, wording: Wording) -> bool:
    """Whether a mark is drawn on the face on which the first piece is to lie: before it is laid."""
    lies = step.work_lies.value.removeprefix("on its ") if step.work_lies else ""
    if step.start is None or lies not in SIDES:
        return False
    start = step.start.value
    owner = wording.model.worked.usage.part_of.get(start, start)
    return any(
        target.thing in (start, owner) and target.sides == (lies,)
        for group in mark.on
        for target in group
    )


# ------------------------------------------------------------------ made several times


def twins_of(name: str, wording: Wording) -> tuple[tuple[str, ...], bool]:
    """The names of all copies that the steps of a sub-assembly make; whether one is mirrored."""
    subs = wording.model.worked.book.sub_assemblies
    own = next((each for each in subs if each.name.value == name), None)
    if own is None:
        return (name,), False
    twins = [each for each in subs if name in (_twin_name(each),)]
    names = [each.value for each in own.copies] or [name]
    return (*names, *(each.name.value for each in twins)), any(each.mirror_of for each in twins)


def _twin_name(sub: SubAssembly) -> str:
    said = sub.mirror_of or sub.same_as
    return said.value if said else ""


def copies_of_opening(name: str, wording: Wording) -> tuple[str, ...]:
    """The copies of the sub-assembly that is made to an opening; nothing where it is made once."""
    worked = wording.model.worked
    fitted = worked.fitted_in(name)
    uses = (worked.usage.first_use(piece) for part in fitted for piece in part.pieces)
    subs = {use.builds for use in uses if use is not None}
    for sub in worked.book.sub_assemblies:
        if sub.name.value in subs and len(sub.copies) > 1:
            return tuple(each.value for each in sub.copies)
    return ()


def times(step: Step, wording: Wording) -> Iterator[Markup]:
    """Before the first step of a sub-assembly: how often its steps are done, and for what."""
    if step.builds is None:
        return
    steps = wording.model.worked.usage.steps
    name = step.builds.value
    numbers = [n for n, each in enumerate(steps, 1) if each.builds and each.builds.value == name]
    names, mirrored = twins_of(name, wording)
    if len(names) < 2 or steps[numbers[0] - 1] is not step:
        return
    shown = wording.listed(Markup(number) for number in numbers)
    what = wording.say("these_steps" if len(numbers) > 1 else "this_step", steps=shown)
    often = (
        wording.say("times_two") if len(names) == 2 else wording.say("times_n", count=len(names))
    )
    copies = wording.listed(wording.say("the", thing=wording.name(each)) for each in names)
    key = "do_times_mirrored" if mirrored else "do_times"
    yield wording.say(key, steps=what, times=often, copies=copies)


def _lies_so(step: Step, wording: Wording) -> bool:
    """Whether the last step of the same work left it lying just so."""
    steps = wording.model.worked.usage.steps
    same = [s for s in steps[: steps.index(step)] if s.builds == step.builds and s.work_lies]
    return bool(same) and same[-1].work_lies == step.work_lies

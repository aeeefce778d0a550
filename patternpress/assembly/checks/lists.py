"""Do the lists agree with the work?

In: a `Worked` design.  Out: problems of tools, materials, stock, sizes and answers that are
listed and unused, letters given twice, holes that nobody drills, waits that are too short.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.prosework import all_prose
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import parts, work
from patternpress.design.problem import Problem
from patternpress.design.records.goods import Material
from patternpress.design.records.work import Step, Wait
from patternpress.design.references import Ref, split
from patternpress.design.span import Said
from patternpress.measure.quantity import Kind


def check_letters(worked: Worked) -> Iterator[Problem]:
    """Two parts with one letter."""
    owners: dict[str, str] = {}
    for part in worked.book.parts:
        if part.letter is None:
            continue
        other = owners.setdefault(part.letter.value, part.name.value)
        if other != part.name.value:
            facts = {"letter": part.letter.value, "other": other}
            yield Problem(parts.LetterTwice, part.letter.span, facts)


def referred(worked: Worked) -> set[str]:
    """Every name that a sentence refers to."""
    texts = (said for prose in all_prose(worked.book) for _, said in prose.by_language)
    return {p.name for said in texts for p in split(said.value) if isinstance(p, Ref)}


def used_things(worked: Worked) -> set[str]:
    """Every tool and material that a step, stock or sentence uses."""
    used = referred(worked)
    for step in worked.usage.steps:
        used |= {each.value for each in step.uses}
        used |= {hold.with_.value for hold in step.hold}
        used |= {t.with_.value for t in (*step.treat, *step.afterwards) if t.with_}
        used |= {each.value for each in (step.glue, step.wait.for_ if step.wait else None) if each}
        used |= {joined.glue.value for joined in step.join if joined.glue}
    used |= {stock.cut_with.value for stock in worked.book.stock if stock.cut_with}
    glues = [m.name.value for m in worked.book.materials if m.kind and m.kind.value == "glue"]
    if len(glues) == 1 and any(_glues(step) for step in worked.usage.steps):
        used.add(glues[0])
    return used


def used_materials(worked: Worked) -> list[Material]:
    """What steps use up: glue, finish and the like, in the order of the design."""
    used = used_things(worked)
    return [each for each in worked.book.materials if each.name.value in used]


def check_tools(worked: Worked) -> Iterator[Problem]:
    """Tools and materials that are listed in this file and used nowhere."""
    used = used_things(worked)
    for tool in worked.book.tools:
        if tool.name.value not in used and _own(worked, tool.name.span.file):
            yield Problem(work.ToolUnused, tool.name.span, {"name": tool.name.value})
    for material in worked.book.materials:
        if material.name.value not in used and _own(worked, material.name.span.file):
            yield Problem(work.MaterialUnused, material.name.span, {"name": material.name.value})


def _own(worked: Worked, file: str) -> bool:
    """A shared list serves many designs, so not all of it need be used in each."""
    return file == worked.book.span.file


def check_stock(worked: Worked) -> Iterator[Problem]:
    """Stock that no part is cut from, in this file."""
    used = {part.stock.value for part in worked.book.parts}
    for stock in worked.book.stock:
        if stock.name.value not in used and _own(worked, stock.name.span.file):
            yield Problem(parts.StockUnused, stock.name.span, {"stock": stock.name.value})


def check_sizes(worked: Worked) -> Iterator[Problem]:
    """Sizes that nothing uses."""
    used = worked.solver.used | referred(worked) | {each.value for each in worked.book.keep}
    for size in worked.book.sizes:
        if size.name.value not in used and _own(worked, size.name.span.file):
            yield Problem(parts.SizeUnused, size.name.span, {"size": size.name.value})


def check_answers(worked: Worked) -> Iterator[Problem]:
    """Answers that change nothing and mean nothing."""
    book = worked.book
    said: list[Said[str] | None] = [each.only_if for each in book.tools]
    said += [each.only_if for each in book.materials]
    said += [each.only_if for each in book.parts]
    asked = {each.value for each in said if each}
    for step in worked.usage.steps:
        asked |= {step.only_if.value} if step.only_if else set()
        asked |= {t.only_if.value for t in (*step.treat, *step.afterwards) if t.only_if}
    for choice in book.choices:
        for answer in choice.answers:
            if answer.name.value not in asked and answer.means is None:
                yield Problem(work.AnswerUnused, answer.name.span, {"answer": answer.name.value})


def check_holes(worked: Worked) -> Iterator[Problem]:
    """Holes that no step drills."""
    drilled = {
        (target.thing, target.feature)
        for step in worked.usage.steps
        for treatment in (*step.treat, *step.afterwards)
        if treatment.drill
        for target in treatment.drill
    }
    for part in worked.book.parts:
        names = {part.name.value, *worked.usage.pieces[part.name.value]}
        whole = {thing for thing, feature in drilled if not feature}
        for hole in part.holes:
            made = any((name, hole.name.value) in drilled for name in names) or names & whole
            if hole.round is not None and not made:
                facts = {"hole": hole.name.value, "part": f"“{part.name.value}”"}
                facts["owner"] = part.name.value
                yield Problem(work.HoleNeverDrilled, hole.name.span, facts)


def check_waits(worked: Worked) -> Iterator[Problem]:
    """Waits that are missing, too short, or of unknown length."""
    materials = {each.name.value: each for each in worked.book.materials}
    for number, step in enumerate(worked.usage.steps, 1):
        if step.wait is not None:
            yield from _wait(worked, step, step.wait, number, materials)
        elif _glues(step) and number < len(worked.usage.steps):
            yield Problem(work.NoWait, step.step.main.span, {"step": str(number)})


def _glues(step: Step) -> bool:
    return any(place.how == "against" for joined in step.join for _, place in joined.places)


def _wait(
    worked: Worked, step: Step, wait: Wait, number: int, materials: dict[str, Material]
) -> Iterator[Problem]:
    if wait.time is None and wait.for_ is None:
        yield Problem(work.WaitForNothing, wait.span, {"step": str(number)})
        return
    named = wait.for_ or step.glue
    material = materials.get(named.value) if named else _only_glue(worked)
    until = wait.until.value if wait.until else "handle"
    said = getattr(material, until) if material else None
    if wait.time is None:
        if material is not None and said is None:
            facts = {"material": f"“{material.name.value}”", "until": until}
            yield Problem(work.DryingTimeMissing, wait.span, facts)
        return
    least = material.handle if material else None
    time = worked.solver.value(wait.time, Kind.TIME)
    needs = worked.solver.measure(least) if least else None
    if material and time and needs and _glues(step) and time.value < needs.low.value and named:
        facts = {"said": wait.time.text, "material": f"“{material.name.value}”"}
        facts["needed"] = least.text if least else ""
        yield Problem(work.WaitTooShort, wait.time.span, facts)


def _only_glue(worked: Worked) -> Material | None:
    glues = [m for m in worked.book.materials if m.kind and m.kind.value == "glue"]
    return glues[0] if len(glues) == 1 else None

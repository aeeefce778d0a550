"""What is cut before the first step, and what is not.

In: a `Wording`.  Out: the sentence above the first step; nothing where steps cut every part.
"""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup

from patternpress.assembly.cutparts import by_letter
from patternpress.assembly.needs import parts_cut_first
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.cutting.jobs import jobs
from patternpress.measure.pieces import NO_BREAK


def cut_first_words(wording: Wording) -> Markup:
    """That all pieces are cut by now, but those that a step cuts; those by letter.

    What is measured first is sawn oversize by the layouts, where there are some.
    """
    worked = wording.model.worked
    answers = frozenset(a.name.value for choice in worked.book.choices for a in choice.answers)
    first = parts_cut_first(worked, answers)
    if not first:
        return NOTHING
    steps = {part.name: worked.usage.step_where("cut", part.name) for part in worked.parts}
    later = [part for part in worked.parts if steps[part.name] is not None]
    later.sort(key=lambda part: by_letter(part.letter))
    if not later:
        return wording.say("steps_cut_all")
    where = steps_words((number for number in steps.values() if number is not None), wording)
    letters = wording.listed(Markup(part.letter) for part in later)
    said = wording.say("steps_cut_but", letters=letters, steps=where)
    laid = {item.letter for job in jobs(wording.model) for item in job.items if item.fitted}
    aside = [Markup(part.letter) for part in later if part.letter in laid]
    if not aside:
        return said
    return said + " " + wording.say("steps_cut_aside", letters=wording.listed(aside))


def steps_words(numbers: Iterable[int], wording: Wording) -> Markup:
    """“step 2”, “steps 2 and 5”: each once, in order."""
    listed = [Markup(str(number)) for number in sorted(set(numbers))]
    key = "plan_steps" if len(listed) > 1 else "plan_step"
    where = wording.say(key, steps=wording.listed(listed))
    return Markup(where.replace(" ", NO_BREAK, 1))

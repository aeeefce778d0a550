"""The bench plan as plain text.

In: a `Plan`, its page as content, and a `Wording`.  Out: `bench-plan.txt`: the words of the page,
then what stands in its chart, sitting by sitting, a line each work, readable in any typeface.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.plan import Plan
from patternpress.booklet import content as c
from patternpress.booklet.fillplan import chart_words, work_titles
from patternpress.booklet.shoptext import plain_words, told_of
from patternpress.booklet.wording import Wording
from patternpress.drawing.planchart import plan_text


def bench_text(title: str, plan: Plan, page: c.Plan, wording: Wording) -> str:
    """The whole text under a title; empty where there is nothing to plan."""
    if not plan.sittings:
        return ""
    phrases = wording.phrases
    say = phrases.say
    words = [each for each in page.words if each]
    ends = [("plan_finish_label", page.finish), ("plan_chain_label", page.chain)]
    passages = [
        told_of(title, say("plan"), phrases),
        *map(plain_words, words),
        "\n".join(told_of(say(key), told, phrases) for key, told in ends),
        plan_text(plan, work_titles(plan, wording), chart_words(wording)).rstrip(),
        "\n".join(_meanwhile(page, wording)),
    ]
    return "\n\n".join(each for each in passages if each) + "\n"


def _meanwhile(page: c.Plan, wording: Wording) -> Iterator[str]:
    """What to do while something dries, by sittings; nothing where the author says nothing."""
    told = [each for each in page.sittings if each.meanwhile]
    if told:
        yield plain_words(wording.phrases.say("plan_meanwhile"))
    for each in told:
        yield told_of(each.name, each.meanwhile, wording.phrases)

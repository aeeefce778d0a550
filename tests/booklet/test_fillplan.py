"""The bench plan's page: what it says, in the words of the edition."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from patternpress.assembly.model import Model, work_out
from patternpress.assembly.plan import bench_plan
from patternpress.booklet import content as c
from patternpress.booklet.fillplan import bench_page, time_facts
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from patternpress.design.read import read_text
from tests.assembly.plandesign import BODY, CARCASS, DRAWER, LID

CHOICES = """\
  - {step: Oil it, only if: oiled, treat: {oil: lid, with: oil}, wait: {for: oil}, takes: 5 min}
  - {step: Paint it, only if: painted, treat: {paint: lid, with: paint}, takes: 5 min}
"""


def page(steps: str) -> tuple[c.Plan, tuple[c.Fact, ...]]:
    made: Model = work_out(
        read_text(BODY + "steps:\n" + steps, "boxes.yaml", Path(__file__).parent), "metric"
    )
    wording = Wording(made, read_phrases("en"))
    plan = bench_plan(made.worked)
    return bench_page(plan, wording), time_facts(plan, wording)


def said(text: str) -> str:
    return re.sub(r"<[^>]*>", "", text).replace("\u00a0", " ")


def test_the_page_of_a_plan() -> None:
    made, facts = page(CARCASS + "    meanwhile: Sand <lid>.\n" + DRAWER + LID)
    assert [said(each.value) for each in facts] == [
        "about 1 h 10 min to 1 h 15 min",
        "Up to 24 h of drying, one thing after the other",
        "On day 2, in sittings of at most 2 h of work; 25 h with the shortest waits, no pauses",
    ]
    assert said(made.finish) == said(facts[2].value)
    assert said(made.chain).startswith(
        "Cutting out and steps 1 and 3 need each other, one after the next: "
        "59 min at the bench and 24 h of drying."
    )
    first, second = made.sittings
    assert said(first.name) == "Sitting 1"
    assert said(first.works) == "Day 1. Cutting out and steps 1 and 2. 1 h 9 min at the bench."
    assert said(first.pause) == "Then leave it to dry for 24 h."
    assert said(first.meanwhile).startswith("Sand lid (")
    assert said(second.works) == "Day 2. Step 3. 5 min at the bench."
    assert second.pause == ""
    assert said(made.words[1]) == "Estimated times: cutting out."
    assert len(made.figures) == 1


def test_choices_are_told_where_steps_depend_on_them() -> None:
    made, _ = page(LID + CHOICES)
    assert said(made.words[1]) == (
        "Estimated times: cutting out. Drawn for these choices: oiled. If you choose painted: all "
        "done on day 1, with about 40 min at the bench. "
        "Left out, for another choice: step 3."
    )
    assert said(made.finish).startswith("In one sitting; ")
    assert said(made.finish).endswith("The last coat or joint is dry 6 h after that sitting")
    assert said(made.sittings[-1].pause) == "Then leave it to dry for 6 h, and it is done."


def test_a_step_longer_than_a_sitting_is_told() -> None:
    made, _ = page("  - {step: Carve, say: Carve <lid>., takes: 3 h}\n")
    assert said(made.sittings[1].works) == (
        "Day 2. Step 1. 3 h at the bench, longer than one sitting: stop where you like."
    )


@pytest.mark.parametrize(("count", "told"), [(1, "step 1"), (2, "steps 1 and 2"), (4, "1 to 4")])
def test_runs_of_steps_are_told_short(count: int, told: str) -> None:
    steps = "".join(f"  - {{step: Do {n}, say: Rub <lid>., takes: 5 min}}\n" for n in range(count))
    assert told in said(page(steps)[0].sittings[0].works)

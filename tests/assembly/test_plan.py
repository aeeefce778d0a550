"""The bench plan of small designs, against plans worked out by hand."""

from __future__ import annotations

import json
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest

from patternpress.assembly.benchtime import Minutes
from patternpress.assembly.plan import Plan, PlanStep, bench_plan, plan_facts
from patternpress.assembly.worked import work
from patternpress.design.read import read_design
from tests.assembly.plandesign import CARCASS, DRAWER, LID, worked

DESIGNS = Path(__file__).parents[2] / "designs"
DEMOS = ("keepers-desk", "net-tote", "signal-shelf")
HOUR, DAY = 60, 24 * 60


def minutes(low: int, high: int | None = None) -> Minutes:
    return Minutes(Fraction(low), Fraction(low if high is None else high))


def step(plan: Plan, number: int) -> PlanStep:
    return next(each for each in plan.steps if each.number == number)


def spans(plan: Plan, number: int) -> list[tuple[Fraction, Fraction, Fraction]]:
    return [(work.starts, work.ends, work.dry) for work in step(plan, number).works]


# ------------------------------------------------------------------ a plan worked out by hand


def test_the_drawer_is_built_while_the_walls_dry() -> None:
    """One base, two walls, one lid, two trays, four rims, four slats: 3+5+3+5+9+9 = 34 min."""
    plan = bench_plan(worked(CARCASS + DRAWER + LID))
    assert spans(plan, 0) == [(0, 34, 34)]
    assert spans(plan, 1) == [(34, 54, 54 + DAY)]
    # It touches nothing of the walls; 15 min is the most that its author allows.
    assert spans(plan, 2) == [(54, 69, 69 + HOUR)]
    assert spans(plan, 3) == [(54 + DAY, 59 + DAY, 59 + DAY)]
    assert [each.needs for each in plan.steps] == [(), (0,), (0,), (1,)]
    assert plan.chain == (0, 1, 3)
    assert (plan.chain_hands, plan.chain_waiting) == (59, DAY)
    assert plan.finish == 59 + DAY
    assert plan.soonest == 59 + DAY
    first, second = plan.sittings
    assert (first.steps, first.hands_on, first.ends, first.day) == ((0, 1, 2), 69, 69, 1)
    assert (second.steps, second.hands_on, second.day) == ((3,), 5, 2)
    assert first.pause == 46 + DAY - 61
    assert second.pause == 0


def test_a_range_is_planned_at_its_longest_and_soonest_at_its_shortest() -> None:
    plan = bench_plan(worked(DRAWER + "  - {step: Try it, say: Lift <drawer>., takes: 5 min}\n"))
    assert step(plan, 1).hands_on == minutes(10, 15)
    assert step(plan, 1).waiting == minutes(30, 60)
    assert plan.finish == 34 + 15 + 60 + 5
    assert plan.soonest == 34 + 10 + 30 + 5


def test_an_evening_takes_only_what_fits() -> None:
    steps = "".join(f"  - {{step: Sand {n}, say: Sand <lid>., takes: 50 min}}\n" for n in range(3))
    plan = bench_plan(worked(steps))
    assert [each.steps for each in plan.sittings] == [(0, 1), (2, 3)]
    assert [each.day for each in plan.sittings] == [1, 2]
    assert plan.sittings[1].starts == DAY
    assert bench_plan(worked(steps), Fraction(300)).days == 1
    assert plan.soonest == 28 + 150


def test_a_step_longer_than_an_evening_has_a_sitting_to_itself() -> None:
    steps = "  - {step: Carve, say: Carve <lid>., takes: 200 min}\n" + LID
    plan = bench_plan(worked(steps))
    assert [each.steps for each in plan.sittings] == [(0,), (1,), (2,)]


def test_no_sitting_lasts_longer_than_four_hours_by_the_clock() -> None:
    steps = "".join(
        f"  - {{step: Coat {n}, say: Coat <lid>., wait: 90 min, takes: 5 min}}\n" for n in range(4)
    )
    plan = bench_plan(worked(steps))
    assert [each.steps for each in plan.sittings] == [(0, 1, 2, 3), (4,)]
    assert plan.sittings[1].starts == DAY


@pytest.mark.parametrize("evening", [0, -1])
def test_an_evening_has_some_minutes(evening: int) -> None:
    with pytest.raises(ValueError, match="evening"):
        bench_plan(worked(LID), Fraction(evening))


# ------------------------------------------------------------------ how long a step takes


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        # The rates are stated in `benchtime`; here they are added up by hand.
        ("join: {left wall: {right: against base, bottom: flush with base}}", "3/4 + 1/4"),
        ("join: {left wall: {right: against base}, right wall: {left: against base}}", "3/2"),
        ("join: {left wall: {right: against base}, lid: {bottom: loose against base}}", "5/4"),
        ("join: {slat: {bottom: against base, row: {toward: right, every: 12 mm}}}", "3"),
        ("mark: line", "1"),
        ("mark: line\n    rub out: line", "3/2"),
        ("measure: gap", "2"),
        ("cut: stopper", "3"),
        ("treat: {ease: top edge of lid, with: block}", "2"),
        ("treat: {ease: top edge of wall, with: block}", "4"),
        ("treat: {oil: work, with: oil, coats: 1}", "10"),
        ("treat: {leave bare: top of lid}", "1"),  # nothing to do, and no step takes less
        ("treat: [{ease: top edge of lid}, {paint: lid, only if: painted}]", "2"),
        ("treat: {sand: top of lid}\n    check: {try: Look., if: {ok: Go on.}}", "3"),
        ("join: {left wall: {right: against base}}\n    hold: {with: block}", "7/4"),
    ],
)
def test_what_is_not_said_is_estimated(lines: str, expected: str) -> None:
    text = f"  - step: Do it\n    start: base\n    {lines}\n    wait: 1 min\n"
    plan = bench_plan(worked(text))
    total = sum((Fraction(each) for each in expected.split(" + ")), Fraction(0))
    assert step(plan, 1).estimated
    assert step(plan, 1).hands_on == Minutes(total, total)


def test_a_step_that_is_done_for_each_copy_is_estimated_for_each() -> None:
    plan = bench_plan(worked(DRAWER.replace("    takes: 10 to 15 min\n", "")))
    assert step(plan, 1).hands_on == Minutes(Fraction(3), Fraction(3))  # 2 joints, 2 drawers


def test_what_the_author_says_is_believed() -> None:
    said = step(bench_plan(worked(DRAWER)), 1)
    assert not said.estimated
    assert said.hands_on == minutes(10, 15)


# ------------------------------------------------------------------ waiting


@pytest.mark.parametrize(
    ("wait", "expected"),
    [
        ("wait: {for: glue, until: handle}", minutes(30, 60)),
        ("wait: {for: glue, until: hard}", minutes(DAY)),
        ("wait: {until: hard}", minutes(DAY)),
        ("wait: {for: oil}", minutes(6 * HOUR)),
        ("wait: 20 to 40 min", minutes(20, 40)),
        ("tip: Mind it.", minutes(30, 60)),  # glued and nothing said: until it can be handled
    ],
)
def test_how_long_a_step_waits(wait: str, expected: Minutes) -> None:
    lines = f"    join: {{left wall: {{right: against base}}}}\n    {wait}\n"
    plan = bench_plan(worked("  - step: Glue it\n    start: base\n" + lines))
    assert step(plan, 1).waiting == expected


def test_work_without_glue_waits_for_nothing() -> None:
    assert step(bench_plan(worked(LID)), 1).waiting == minutes(0)


def test_afterwards_comes_when_the_joint_is_dry() -> None:
    lines = "    afterwards: {sand flush: drawer, with: block}\n"
    plan = bench_plan(worked(DRAWER + lines))
    # One target, two drawers: 4 of the 15 minutes.
    assert spans(plan, 1) == [(34, 45, 105), (105, 109, 109)]


def test_coats_wait_for_each_other() -> None:
    lines = (
        "  - step: Oil it\n    treat: {oil: lid, with: oil, coats: 3, only if: oiled}\n"
        "    wait: {for: oil, until: hard}\n    takes: 30 min\n"
    )
    plan = bench_plan(worked(lines))
    assert step(plan, 1).waiting == minutes(2 * 6 * HOUR + DAY)
    assert [end - start for start, end, _ in spans(plan, 1)] == [10, 10, 10]
    assert [dry - end for _, end, dry in spans(plan, 1)] == [6 * HOUR, 6 * HOUR, DAY]


# ------------------------------------------------------------------ what needs what


def needs(steps: str, finishing: str = "") -> dict[int, tuple[int, ...]]:
    plan = bench_plan(worked(steps, finishing))
    return {each.number: each.needs for each in plan.steps}


def test_a_sub_assembly_is_needed_where_it_is_joined() -> None:
    fit = "  - step: Fit\n    join: {left drawer: {bottom: loose against base}}\n    takes: 5 min\n"
    assert needs(CARCASS + DRAWER + fit)[3] == (1, 2)


def test_a_mark_is_drawn_before_its_piece_is_used() -> None:
    mark = "  - {step: Mark, mark: line, takes: 5 min}\n"
    assert needs(mark + DRAWER + CARCASS) == {0: (), 1: (0,), 2: (0,), 3: (1,)}


def test_an_opening_is_measured_when_it_is_there_and_before_its_part_is_cut() -> None:
    measure = "  - {step: Measure, measure: gap, takes: 5 min}\n"
    cut = "  - {step: Cut, cut: stopper, takes: 5 min}\n"
    fit = "  - step: Fit\n    join: {stopper: {bottom: against base}}\n    takes: 5 min\n"
    assert needs(CARCASS + measure + cut + fit) == {
        0: (),
        1: (0,),
        2: (1,),
        3: (2,),
        4: (3,),
    }


def test_sentences_and_meanwhile_name_what_they_work_on() -> None:
    sand = "    meanwhile: Sand <lid>.\n"
    plan = bench_plan(worked(CARCASS + sand + "  - {step: Wax, say: Wax <lid>., takes: 5 min}\n"))
    # The lid was sanded while the walls dry; it is not wet, so the wax need not wait a day.
    assert step(plan, 2).needs == (1,)
    assert step(plan, 2).starts == 48


def test_the_whole_work_is_all_that_was_joined_and_nothing_else() -> None:
    oil = "  - {step: Oil, treat: {oil: work, with: oil}, takes: 5 min}\n"
    assert needs(CARCASS + DRAWER, oil)[3] == (1,)


def test_steps_on_one_piece_keep_their_order() -> None:
    steps = "".join(f"  - {{step: Do {n}, say: Rub <lid>., takes: 5 min}}\n" for n in range(3))
    assert needs(steps) == {0: (), 1: (0,), 2: (1,), 3: (2,)}


def test_the_buyer_of_the_plan_takes_the_first_answer_of_each_choice() -> None:
    steps = "".join(
        f"  - {{step: Make it {a}, only if: {a}, say: Do <lid>., takes: 5 min}}\n"
        for a in ("oiled", "painted")
    )
    plan = bench_plan(worked(steps))
    assert [each.number for each in plan.steps] == [0, 1]
    assert plan.answers == ("oiled",)
    assert plan.left_out == (2,)
    assert bench_plan(worked(LID)).answers == ()  # no step asks


# ------------------------------------------------------------------ facts, and the designs


def test_the_facts_are_ready_for_json() -> None:
    found = json.loads(json.dumps(plan_facts(bench_plan(worked(CARCASS + DRAWER + LID)))))
    assert found["finish"] == str(59 + DAY)
    assert found["steps"][2]["hands_on"] == {"least": "10", "most": "15", "estimated": False}
    assert found["chain"] == {"steps": [0, 1, 3], "hands_on": "59", "waiting": str(DAY)}
    assert [each["steps"] for each in found["sittings"]] == [[0, 1, 2], [3]]


@pytest.mark.parametrize("name", DEMOS)
def test_the_plans_of_the_designs_hold(name: str) -> None:
    reading = read_design(DESIGNS / f"{name}.yaml")
    assert reading.book is not None
    made = work(reading.book, reading.names)
    plan = bench_plan(made)
    by_number = {each.number: each for each in plan.steps}
    assert set(by_number) | set(plan.left_out) >= set(range(1, len(made.usage.steps) + 1))
    busy = sorted((w.starts, w.ends) for each in plan.steps for w in each.works)
    assert all(end <= start for (_, end), (start, _) in pairwise(busy))
    for each in plan.steps:
        for need in each.needs:
            assert by_number[need].works[-1].ends <= each.starts
    assert plan.finish >= plan.chain_hands + plan.chain_waiting
    assert sum(each.hands_on for each in plan.sittings) == plan.hands_on.high
    assert all(each.hands_on <= plan.evening or len(each.steps) == 1 for each in plan.sittings)
    assert plan_facts(plan) == plan_facts(bench_plan(work(reading.book, reading.names)))


def test_the_lamps_and_screens_of_the_signal_shelf_are_built_while_the_dye_dries() -> None:
    """They are sub-assemblies of their own; at least one of them is brought forward."""
    reading = read_design(DESIGNS / "signal-shelf.yaml")
    assert reading.book is not None
    plan = bench_plan(work(reading.book, reading.names))
    starts = [each.starts for each in plan.steps]
    assert starts != sorted(starts)

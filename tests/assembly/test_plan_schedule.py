"""List scheduling: rules that hold for any tasks, and small cases worked out by hand."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.assembly.schedule import DAY, LONGEST, Slot, Task, schedule

EVENINGS = st.sampled_from((None, Fraction(20), Fraction(60), Fraction(120)))


@st.composite
def tasks(draw: st.DrawFn) -> tuple[Task, ...]:
    """Up to a dozen tasks; each needs some before it, dry or only done."""
    made: list[Task] = []
    for index in range(draw(st.integers(0, 12))):
        hands = Fraction(draw(st.integers(1, 90)), draw(st.sampled_from((1, 2, 3))))
        wait = Fraction(draw(st.sampled_from((0, 0, 5, 30, 60, 240, 1440))))
        before = draw(st.sets(st.integers(0, index - 1), max_size=3)) if index else set()
        needs = tuple((each, draw(st.booleans())) for each in sorted(before))
        made.append(Task(hands, wait, needs))
    return tuple(made)


def chain(work: tuple[Task, ...]) -> Fraction:
    """The longest way through the needs, straight from its definition."""
    ends: list[tuple[Fraction, Fraction]] = []
    for task in work:
        start = max((ends[n][1 if dry else 0] for n, dry in task.needs), default=Fraction(0))
        ends.append((start + task.hands, start + task.hands + task.wait))
    return max((dry for _, dry in ends), default=Fraction(0))


@settings(max_examples=150)
@given(work=tasks(), evening=EVENINGS)
def test_what_holds_for_every_plan(work: tuple[Task, ...], evening: Fraction | None) -> None:
    slots = schedule(work, evening)
    assert len(slots) == len(work)
    for task, slot in zip(work, slots, strict=True):
        assert slot.ends - slot.starts == task.hands
        assert slot.dry - slot.ends == task.wait
        for need, dry in task.needs:
            assert slot.starts >= (slots[need].dry if dry else slots[need].ends)
    order = sorted(slots, key=lambda each: each.starts)
    assert all(one.ends <= other.starts for one, other in pairwise(order))
    assert max((each.dry for each in slots), default=0) >= chain(work)
    assert schedule(work, evening) == slots


@settings(max_examples=100)
@given(work=tasks(), evening=st.sampled_from((Fraction(20), Fraction(60), Fraction(120))))
def test_what_holds_for_every_sitting(work: tuple[Task, ...], evening: Fraction) -> None:
    sittings: dict[int, list[Slot]] = {}
    for slot in schedule(work, evening):
        sittings.setdefault(slot.sitting, []).append(slot)
    assert sorted(sittings) == list(range(1, len(sittings) + 1))
    begun = []
    for _, slots in sorted(sittings.items()):
        starts, ends = min(s.starts for s in slots), max(s.ends for s in slots)
        hands = sum(s.ends - s.starts for s in slots)
        assert len(slots) == 1 or (hands <= evening and ends - starts <= LONGEST)
        begun.append(starts)
    assert all(later - one >= DAY for one, later in pairwise(begun))


@settings(max_examples=80)
@given(work=tasks())
def test_nobody_idles_who_has_work_that_is_done_in_time(work: tuple[Task, ...]) -> None:
    """Before each task the hands rested only if nothing ready would have fitted in the rest."""
    slots = schedule(work, None)
    order = sorted(range(len(work)), key=lambda index: slots[index].starts)
    clock = Fraction(0)
    for at, index in enumerate(order):
        rest = slots[index].starts - clock
        for later in order[at + 1 :] if rest else ():
            needs = work[later].needs
            met = all(n in order[:at] for n, _ in needs)
            ready = max((slots[n].dry if d else slots[n].ends for n, d in needs), default=0)
            assert not (met and max(ready, clock) + work[later].hands <= slots[index].starts)
        clock = slots[index].ends


def task(hands: int, wait: int = 0, *needs: int) -> Task:
    return Task(Fraction(hands), Fraction(wait), tuple((each, True) for each in needs))


def starts(work: list[Task], evening: int | None = None) -> list[Fraction]:
    limit = None if evening is None else Fraction(evening)
    return [each.starts for each in schedule(work, limit)]


def test_free_work_fills_a_wait() -> None:
    assert starts([task(10, 30), task(5, 0, 0), task(20)]) == [0, 40, 10]


def test_the_author_s_order_stands_where_nothing_waits() -> None:
    assert starts([task(10), task(10), task(10)]) == [0, 10, 20]


def test_work_that_would_hold_up_the_next_step_waits_where_that_is_sooner() -> None:
    # 50 min of free work in a wait of 30, after which a day's drying follows: glue first.
    assert starts([task(10, 30), task(5, 1440, 0), task(50)]) == [0, 40, 45]


def test_work_that_does_not_fit_is_begun_where_that_is_sooner() -> None:
    # Nothing long follows, so resting for 30 min gains nothing.
    assert starts([task(10, 30), task(5, 0, 0), task(50)]) == [0, 60, 10]


def test_a_need_that_is_not_dry_is_enough_where_nothing_is_wet() -> None:
    work = (task(10, 60), Task(Fraction(5), Fraction(0), ((0, False),)))
    assert [each.starts for each in schedule(work, None)] == [0, 10]


def test_a_full_evening_ends_and_the_next_is_a_day_later() -> None:
    assert starts([task(40), task(40), task(40)], 90) == [0, 40, DAY]


def test_a_long_wait_ends_an_evening() -> None:
    # Dry at 250: still the first evening's night, so the next evening it is.
    assert starts([task(10, 240), task(5, 0, 0)], 120) == [0, DAY]
    assert starts([task(10, 225), task(5, 0, 0)], 120) == [0, 235]  # just within four hours


def test_an_evening_begins_when_the_first_thing_is_dry() -> None:
    assert starts([task(30), task(30, 1440, 0), task(5, 0, 1)], 120) == [0, 30, 60 + 1440]


def test_needs_come_before() -> None:
    with pytest.raises(ValueError, match="task 0"):
        schedule((Task(Fraction(1), Fraction(0), ((0, True),)),), None)


def test_nothing_to_do() -> None:
    assert schedule((), Fraction(120)) == ()

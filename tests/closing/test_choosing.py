"""Small choices equal a search through every answer; a second solver agrees on each optimum."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator
from fractions import Fraction

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from patternpress.closing import choosing
from patternpress.closing.choosing import choose, moves_of, worst_of
from patternpress.closing.clash import clash
from patternpress.closing.demands import Demand
from patternpress.closing.draft import Aim, Task
from patternpress.closing.grid import SIXTY_FOURTH, Grid
from patternpress.closing.lengths import Length
from patternpress.closing.programme import Programme, solved
from patternpress.closing.traced import Form

ONE = Fraction(1)
GRID = Grid("in", SIXTY_FOURTH, SIXTY_FOURTH)
STEPS = Fraction(3, 2) * SIXTY_FOURTH


def task(number: int) -> Task:
    """A carcass in one direction: a board, some lengths, and what is made of them."""
    pick = random.Random(number)
    count = pick.randint(2, 3)
    board = pick.choice([Fraction(5), Fraction(4), Fraction(6)]) * SIXTY_FOURTH
    lengths = [Length(0, "stock", board, "board")]
    lengths += [
        Length(n, "given", Fraction(pick.randint(200, 900), 10), f"length {n}")
        for n in range(1, count + 1)
    ]
    forms: list[Form] = [{n: ONE} for n in range(1, count + 1)]
    forms += [{1: ONE, 0: Fraction(-2)}, {1: ONE, 2: Fraction(pick.choice([-1, 1]))}]
    aims = [Aim(form, sum(s * lengths[n].mm for n, s in form.items()), STEPS) for form in forms]
    demands = []
    if pick.random() < 0.5:
        share = Fraction(1, pick.choice([2, 3, 4]))
        number_of = len(lengths)
        mm = share * (lengths[1].mm - 3 * board)
        lengths.append(Length(number_of, "target", mm, "bay"))
        aims.append(Aim({number_of: ONE}, mm, STEPS))
        form = {1: share, 0: -3 * share, number_of: -ONE}
        demands.append(Demand(form, "the bay is its share", soft=True))
    if pick.random() < 0.5:
        form = {1: Fraction(1, 2), 2: Fraction(-1, 2)}
        demands.append(Demand(form, "it stands out evenly", whole=True, soft=pick.random() < 0.5))
    return Task(lengths, aims, demands, GRID)


def every_answer(of: Task) -> Iterator[dict[int, Fraction]]:
    """All values within three steps of each length."""
    moving = [each for each in of.lengths if each.sort != "stock"]
    fixed = {each.number: each.mm for each in of.lengths if each.sort == "stock"}
    near = [round(each.mm / SIXTY_FOURTH) for each in moving]
    for offsets in itertools.product(range(-3, 4), repeat=len(moving)):
        steps = zip(moving, near, offsets, strict=True)
        yield fixed | {each.number: (n + off) * SIXTY_FOURTH for each, n, off in steps}


def kept(of: Task, values: dict[int, Fraction]) -> int:
    return sum(each.holds(values, SIXTY_FOURTH) for each in of.demands if each.soft)


def searched(of: Task) -> tuple[int, Fraction]:
    """By looking at every answer: the most soft demands kept, and the least worst move then."""
    sound = [
        (values, worst_of(of, values), kept(of, values))
        for values in every_answer(of)
        if all(each.holds(values, SIXTY_FOURTH) for each in of.demands if not each.soft)
    ]
    least = min(worst for _, worst, _ in sound)
    allowed = max(ONE, least)
    most = max(count for _, worst, count in sound if worst <= allowed)
    return most, min(worst for _, worst, count in sound if count == most and worst <= allowed)


@pytest.mark.parametrize("number", range(60))
def test_a_choice_is_as_good_as_the_best_of_all(number: int) -> None:
    of = task(number)
    found = choose(of)
    assert found is not None
    most, least = searched(of)
    assert kept(of, found.values) == most
    assert len(found.given_up) == sum(each.soft for each in of.demands) - most
    assert worst_of(of, found.values) == least


@pytest.mark.parametrize("number", range(12))
def test_no_better_total_is_left_beside_it(number: int) -> None:
    """Among answers as good as the choice, with no more odd 64ths, none moves less in all."""
    of = task(number)
    found = choose(of)
    assert found is not None

    def odd(values: dict[int, Fraction]) -> int:
        return sum(bool(values[e.number] / SIXTY_FOURTH % 2) for e in of.lengths if e.number)

    rivals = [
        values
        for values in every_answer(of)
        if all(e.holds(values, SIXTY_FOURTH) for e in of.demands if e not in found.given_up)
        and worst_of(of, values) <= found.worst
        and odd(values) <= odd(found.values)
        and all(
            abs(sum(s * values[n] for n, s in aim.form.items()) - aim.mm)
            <= max(abs(sum(s * found.values[n] for n, s in aim.form.items()) - aim.mm), STEPS / 3)
            for aim in of.aims
        )
    ]
    assert min(moves_of(of, values) for values in rivals) == moves_of(of, found.values)


def by_scipy(programme: Programme) -> float | None:
    """The least cost by scipy's own copy of a solver; the search above is the independent one."""
    count = len(programme.columns)
    cost = np.array([programme.cost.get(n, 0.0) for n in range(count)])
    matrix = np.zeros((len(programme.rows), count))
    for number, (_, shares, _) in enumerate(programme.rows):
        for column, share in shares.items():
            matrix[number, column] = share
    lows, highs = ([row[n] for row in programme.rows] for n in (0, 2))
    found = milp(
        cost,
        integrality=np.array([whole for _, _, whole in programme.columns], dtype=int),
        bounds=Bounds([c[0] for c in programme.columns], [c[1] for c in programme.columns]),
        constraints=LinearConstraint(matrix, lows, highs),
        options={"mip_rel_gap": 0},
    )
    return float(found.fun) if found.success else None


@pytest.mark.parametrize("number", range(20))
def test_another_solver_finds_the_same_optimum_at_every_stage(
    number: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[tuple[Programme, float | None]] = []

    def spied(programme: Programme) -> tuple[float, ...] | None:
        found = solved(programme)
        cost = found and sum(found[n] * share for n, share in programme.cost.items())
        seen.append((programme.copy(), cost))
        return found

    monkeypatch.setattr(choosing, "solved", spied)
    choose(task(number))
    assert len(seen) >= 5
    for programme, cost in seen:
        other = by_scipy(programme)
        assert (other is None) is (cost is None)
        assert cost is None or other == pytest.approx(cost, abs=1e-5)


def test_the_same_task_has_the_same_answer() -> None:
    assert [choose(task(n)) for n in range(10)] == [choose(task(n)) for n in range(10)]


def test_a_clash_names_no_demand_too_many() -> None:
    of = task(1)
    needless = Demand({1: ONE, 2: ONE}, "both are something", low=Fraction(0), high=None)
    first = Demand({1: ONE}, "at most", low=None, high=of.lengths[1].mm - SIXTY_FOURTH)
    second = Demand({1: ONE}, "at least", low=of.lengths[1].mm, high=None)
    clashing = Task(of.lengths, of.aims, (needless, first, second, *of.demands), GRID)
    assert choose(clashing) is None
    assert {each.words for each in clash(clashing)} == {"at most", "at least"}


def test_what_cannot_move_at_all_clashes_too() -> None:
    lengths = [Length(0, "stock", Fraction(2), "board")]
    of = Task(lengths, (), (Demand({0: ONE}, "the board is nought"),), GRID)
    assert choose(of) is None
    assert [each.words for each in clash(of)] == ["the board is nought"]

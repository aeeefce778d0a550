"""Figures that remember what they were made from."""

from __future__ import annotations

import pickle
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from patternpress.closing.traced import CURVED, Traced, explained, form_of, worth

VALUES = {0: Fraction(84), 1: Fraction(2), 2: Fraction(127, 64)}
shares = st.fractions(-6, 6, max_denominator=12)


def traced(number: int) -> Traced:
    return Traced(VALUES[number], {number: Fraction(1)})


@given(st.lists(st.tuples(st.sampled_from([0, 1, 2]), shares), max_size=8), st.booleans())
def test_sums_and_shares_are_told_as_they_were_made(
    terms: list[tuple[int, Fraction]], leading: bool
) -> None:
    total: Fraction = Fraction(0)
    expected: dict[int, Fraction] = {}
    for number, share in terms:
        term = share * traced(number) if leading else traced(number) * share
        total = total + term if leading else total - (-term)
        expected[number] = expected.get(number, Fraction(0)) + share
    form = {number: share for number, share in form_of(total).items() if share}
    assert form == {number: share for number, share in expected.items() if share}
    assert total == sum((share * VALUES[number] for number, share in terms), Fraction(0))
    assert explained(total, form, VALUES)


def test_it_is_the_plain_fraction_in_every_other_way() -> None:
    width = traced(0)
    assert width == 84
    assert hash(width) == hash(Fraction(84))
    assert {Fraction(84): "known"}[width] == "known"
    assert max(width, Fraction(3)) is width
    assert float(width) / 2 == 42.0
    assert 168.0 / width == 2.0
    assert sorted([width, Fraction(3)]) == [3, 84]
    assert form_of(abs(-width)) == {0: 1}
    assert form_of(5 - width) == {0: -1}


def test_products_and_ratios_of_lengths_are_no_sums() -> None:
    for found in (traced(0) * traced(1), traced(0) / traced(1), 3 / traced(1)):
        assert CURVED in form_of(found)
        assert not explained(found, form_of(found), VALUES)
    after = traced(0) + traced(1) * traced(2) - traced(1) * traced(2)
    assert not explained(after, form_of(after), VALUES)  # what is curved stays so


def test_a_lost_trace_is_noticed() -> None:
    lost = traced(0) + Fraction(3)  # a length from nowhere
    assert worth(form_of(lost), VALUES) == 84
    assert not explained(lost, form_of(lost), VALUES)
    slanting = traced(0) * Fraction(10**18 // 3, 10**18)  # a sine, cut at 1e-18
    assert not explained(slanting, form_of(slanting), VALUES)


def test_a_nought_that_may_become_something_counts() -> None:
    same = Traced(Fraction(84), {3: Fraction(1)})
    assert traced(0) - same  # 84 - 84, but two different lengths
    assert not traced(0) - traced(0)


def test_a_figure_keeps_what_it_was_made_from_on_its_way_to_another_process() -> None:
    figure = traced(0) - 2 * traced(1)
    again = pickle.loads(pickle.dumps(figure))
    assert again == figure
    assert form_of(again) == form_of(figure) == {0: 1, 1: -2}

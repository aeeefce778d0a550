"""Printed figures are read back: fractions, both systems, and how far they may be rounded."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.proof.amounts import (
    INCH,
    Amount,
    Rounding,
    agrees,
    amounts_of,
    groups_of,
    plain,
    rounding_of,
)

F = Fraction


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12 mm", [F(12)]),
        ("9.1 mm", [F(91, 10)]),
        ("9,1 mm", [F(91, 10)]),
        ("3/4 in", [F(3, 4) * INCH]),
        ("3⁄4 in", [F(3, 4) * INCH]),
        ("1 27⁄32 in", [F(59, 32) * INCH]),
        ("1\u00a035⁄64\u00a0in", [F(99, 64) * INCH]),
        ("42 × 25 × 2 mm", [F(42), F(25), F(2)]),
        ("9.1 × 18 × 2 mm (23/64 × 45/64 × 5/64 in)", [
            F(91, 10), F(18), F(2), F(23, 64) * INCH, F(45, 64) * INCH, F(5, 64) * INCH,
        ]),
        ("Ø1/16 in (1.6 mm) × 1/16 in", [F(1, 16) * INCH, F(8, 5), F(1, 16) * INCH]),
        ("30 to 60 minutes in all", []),
        ("4 inches", []),
        ("16 mm² of 2 mm", [F(2)]),
        ("1/0 in", []),
    ],
)  # fmt: skip
def test_lengths_in_a_text(text: str, mm: list[Fraction]) -> None:
    assert [each.mm for each in amounts_of(text, "en")] == mm


@pytest.mark.parametrize(
    ("text", "language", "mm"),
    [
        ("3/4 po", "fr", [F(3, 4) * INCH]),
        ("80 mm (3 5⁄32 po)", "fr-CA", [F(80), F(101, 32) * INCH]),
        ("3/4 in", "fr", [F(3, 4) * INCH]),  # told as a fault where the model prints it
        ("3/4 po", "de", []),
        ("3 potences, 4 points", "fr", []),
        ("3/4 tum, 1 tommer", "sv", [F(3, 4) * INCH]),
        ("3/4 in", "no such language", [F(3, 4) * INCH]),
    ],
)
def test_units_are_read_by_their_names_in_the_language(
    text: str, language: str, mm: list[Fraction]
) -> None:
    assert [each.mm for each in amounts_of(text, language)] == mm


def test_a_size_is_one_group() -> None:
    assert [
        len(group) for group in groups_of("42 × 25 × 2 mm (1 21/32 × 63/64 in), 4 mm", "en")
    ] == [
        3,
        2,
        1,
    ]


@given(st.fractions(F(0), F(500)), st.sampled_from([10, 2, 5]))
def test_a_length_rounded_to_the_nearest_agrees_and_one_step_further_does_not(
    length: Fraction, parts: int
) -> None:
    step = F(1, parts)
    rounding = Rounding(step, INCH / 64)
    printed = round(length / step) * step
    assert agrees(Amount(printed, "mm", ""), float(length), rounding)
    assert not agrees(Amount(printed + 2 * step, "mm", ""), float(length), rounding)
    assert not agrees(Amount(printed - 2 * step, "mm", ""), float(length), rounding)


def test_the_steps_of_a_booklet() -> None:
    assert rounding_of("1/10 mm, 1/64 in") == Rounding()
    assert rounding_of("1/2 mm, 1/32 in") == Rounding(F(1, 2), INCH / 32)
    assert rounding_of("nothing of the kind") == rounding_of("1/0 mm, 1/64 in") == Rounding()


def test_a_word_broken_at_the_end_of_a_line_is_whole_again() -> None:
    assert plain("Schubladen\u2010 rückwand") == "Schubladenrückwand"
    assert plain("pin-hole, see a - b") == "pin-hole, see a - b"

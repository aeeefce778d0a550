"""Printed figures: rounded once, inwards at limits, never nothing for something."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.measure.digits import System, as_printed, in_system
from patternpress.measure.errors import MeasureError
from patternpress.measure.figures import (
    Display,
    Figure,
    Stack,
    Text,
    markup,
    plain,
    show_angle,
    show_length,
    show_measure,
    show_size,
)
from patternpress.measure.formula import evaluate, parse
from patternpress.measure.quantity import length
from patternpress.measure.values import Kind, Quantity, Thickness, millimetres

MM, INCH = Display(), Display("in")
NO_NAMES = {}.__getitem__
BOTH, INCH_FIRST = Display("mm", "in"), Display("in", "mm")


def shown(text: str, display: Display) -> str:
    """Plain text, the unbreakable space written as `~` to be seen."""
    measure = evaluate(parse(text), NO_NAMES)
    return plain(show_measure(measure, display)).replace("\u00a0", "~")


@pytest.mark.parametrize(
    ("text", "mm", "inches"),
    [
        ("14 mm", "14~mm", "35/64~in"),
        ("1 3/8 in", "34.9~mm", "1 3/8~in"),
        ("2 in", "50.8~mm", "2~in"),
        ("0 mm", "0~mm", "0~in"),
        ("0.25 mm", "0.2~mm", "1/64~in"),
        ("0.35 mm", "0.4~mm", "1/64~in"),
        ("-3/8 in", "−9.5~mm", "−3/8~in"),
        ("-1 3/8 in", "−34.9~mm", "−1 3/8~in"),
        ("1234.56 mm", "1234.6~mm", "48 39/64~in"),
        ("10 mm * sqrt(2)", "14.1~mm", "9/16~in"),
        ("about 14 mm", "about 14~mm", "about 35/64~in"),
        ("0.25 to 0.5 mm", "0.25 to 0.5~mm", "0.01 to 0.019~in"),
        ("1/16 to 1/8 in", "1.59 to 3.17~mm", "1/16 to 1/8~in"),
        ("0 to 1 mm", "0 to 1~mm", "0 to 1/32~in"),
        ("0.001 to 0.002 mm", "0.001 to 0.002~mm", "0.00004 to 0.00007~in"),
        ("3 to 3 mm", "3~mm", "1/8~in"),
        # limits are rounded inwards (ASME A112.18.1 Annex A.2 e)
        ("at most 1.5 mm", "at most 1.5~mm", "at most 3/64~in"),
        ("at least 1.5 mm", "at least 1.5~mm", "at least 1/16~in"),
        ("at most 1.99 mm", "at most 1.9~mm", "at most 5/64~in"),
        ("at least 1.91 mm", "at least 2~mm", "at least 5/64~in"),
        # never nothing for something
        ("0.04 mm", "0.04~mm", "0.002~in"),
        ("0.1 mm", "0.1~mm", "0.004~in"),
        ("-0.01 mm", "−0.01~mm", "−0.0004~in"),
    ],
)
def test_lengths(text: str, mm: str, inches: str) -> None:
    assert shown(text, MM) == mm
    assert shown(text, INCH) == inches


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("45 deg", "45°"),
        ("26.565 deg", "26.6°"),
        ("about 40 min", "about 40~min"),
        ("20 to 30 min", "20 to 30~min"),
        ("3", "3"),
        ("2 to 4", "2 to 4"),
        ("250 g", "250~g"),
        ("5 ml", "5~ml"),
        ("6 mm * 4 mm", "24~mm²"),
    ],
)
def test_other_kinds_look_the_same_in_every_edition(text: str, expected: str) -> None:
    assert {shown(text, display) for display in (MM, INCH, BOTH)} == {expected}


def test_two_systems_stand_side_by_side() -> None:
    assert shown("14 mm", BOTH) == "14~mm (35/64~in)"
    assert shown("about 14 mm", INCH_FIRST) == "about 35/64~in (14~mm)"
    assert shown("at most 1/4 in", BOTH) == "at most 6.3~mm (1/4~in)"
    assert shown("1 to 2 mm", BOTH) == "1 to 2~mm (3/64 to 5/64~in)"
    assert shown("14 mm", Display("mm", "mm")) == "14~mm"


def test_sizes_name_their_unit_once() -> None:
    size = [millimetres(side) for side in (80, 42, 2)]
    assert plain(show_size(size, MM)) == "80 × 42 × 2\u00a0mm"
    assert plain(show_size(size, INCH)) == "3 5/32 × 1 21/32 × 5/64\u00a0in"
    assert plain(show_size(size, BOTH)) == "80 × 42 × 2\u00a0mm (3 5/32 × 1 21/32 × 5/64\u00a0in)"


def test_steps_are_the_editions_own() -> None:
    size = millimetres(Fraction("12.34"))
    assert plain(show_length(size, Display(mm_step=Fraction(1, 2)))) == "12.5\u00a0mm"
    assert plain(show_length(size, Display(mm_step=Fraction(1, 100)))) == "12.34\u00a0mm"
    assert plain(show_length(size, Display("in", inch_denominator=16))) == "1/2\u00a0in"
    with pytest.raises(MeasureError, match="bad-step"):
        show_length(size, Display(mm_step=Fraction(1, 3)))


def test_words_of_another_language() -> None:
    words = {
        "about": "etwa {}",
        "at most": "höchstens {}",
        "at least": "mindestens {}",
        "range": "{} bis {}",
    }
    german = Display(locale="de-DE")

    def say(text: str) -> str:
        return plain(show_measure(evaluate(parse(text), NO_NAMES), german, words))

    assert say("about 12.5 mm") == "etwa 12,5\u00a0mm"
    assert say("0.25 to 0.5 mm") == "0,25 bis 0,5\u00a0mm"


# CLDR 47 rows, by way of Babel: decimal marks of each locale.
@pytest.mark.parametrize(
    ("locale", "expected"),
    [
        ("en-US", "12.7"),
        ("en-GB", "12.7"),
        ("de-DE", "12,7"),
        ("de-CH", "12.7"),
        ("fr-FR", "12,7"),
        ("es-ES", "12,7"),
        ("es-MX", "12.7"),
        ("ja-JP", "12.7"),
        ("en_GB", "12.7"),
    ],
)
def test_decimal_marks_follow_the_locale(locale: str, expected: str) -> None:
    text = plain(show_length(millimetres(Fraction("12.7")), Display(locale=locale)))
    assert text == f"{expected}\u00a0mm"
    large = plain(show_length(millimetres(Fraction("1234.5")), Display("mm", "in", locale=locale)))
    assert re.fullmatch(r"1234[.,]5\u00a0mm \(48 39/64\u00a0(in|po)\)", large)
    # A raw unit name leaks from CLDR's narrow forms; ours never asks for them.
    assert "length-" not in text + large


def test_an_unknown_locale_is_refused() -> None:
    for locale in ("tlh-XX", "!", ""):
        with pytest.raises(MeasureError, match="unknown-locale"):
            show_length(millimetres(1), Display(locale=locale))


def test_pieces_and_markup() -> None:
    figure = show_length(millimetres(length("1 3/8 in")), INCH)
    assert figure == Figure((Text("1"), Stack(3, 8), Text("\u00a0in")))
    assert (
        markup(figure)
        == '<span class="fig">1\u202f<span class="stack">3\u20448</span>&nbsp;in</span>'
    )
    half = show_length(millimetres(length("1/2 in")), INCH)
    assert markup(half) == '<span class="fig"><span class="stack">1\u20442</span>&nbsp;in</span>'


def test_markup_is_escaped_whatever_the_words() -> None:
    measure = evaluate(parse("about 3/8 in"), NO_NAMES)
    figure = show_measure(measure, INCH, {"about": '<b title="x">&{}'})
    assert markup(figure).startswith(
        '<span class="fig">&lt;b title=&quot;x&quot;&gt;&amp;<span class="stack">'
    )


def test_angles_only_as_angles_and_lengths_only_as_lengths() -> None:
    right = Quantity(Fraction("33.333"), Kind.ANGLE)
    assert plain(show_angle(right, Display(locale="de"))) == "33,3°"
    assert plain(show_angle(right, MM, Fraction(1))) == "33°"
    with pytest.raises(MeasureError, match="mixed-kinds"):
        show_angle(millimetres(3), MM)
    with pytest.raises(MeasureError, match="mixed-kinds"):
        show_length(right, MM)


def test_a_doubtful_figure_is_refused() -> None:
    doubtful = Quantity(Fraction("0.25"), Kind.LENGTH, Fraction(1, 10**40))
    with pytest.raises(MeasureError, match="uncertain-rounding"):
        show_length(doubtful, MM)


sizes = st.fractions(min_value=-2000, max_value=2000, max_denominator=640)


@given(sizes)
def test_a_printed_length_reads_back_within_half_a_step(size: Fraction) -> None:
    for display, step in ((MM, Fraction(1, 10)), (INCH, Fraction("25.4") / 64)):
        figure = show_length(millimetres(size), display)
        copied = re.sub("<[^>]*>", "", markup(figure)).replace("&nbsp;", "\u00a0")
        assert length(plain(figure)) == length(copied)
        assert abs(length(plain(figure)) - size) <= step / 2
        assert (length(plain(figure)) == 0) == (size == 0)


@given(sizes, st.fractions(min_value=Fraction(1, 1000), max_value=5, max_denominator=1000))
def test_printed_limits_never_overstep(low: Fraction, span: Fraction) -> None:
    high = low + span
    for display in (MM, INCH):
        text = f"({low} mm) to ({high} mm)"
        ends = plain(show_measure(evaluate(parse(text), NO_NAMES), display))
        read = evaluate(parse(ends), NO_NAMES)
        assert read.high is not None
        assert low <= read.low.value < read.high.value <= high


def test_the_ends_of_a_range_are_no_names_of_boards() -> None:
    """A board of 2 mm is sold as 3/32 in, and one of 3 mm as 1/8 in, which is more than 3 mm."""
    sold = ((Fraction(2), length("3/32 in")), (Fraction(3), length("1/8 in")))
    display = Display("mm", "in", beside=sold)
    assert shown("2 mm to 3 mm", display) == "2 to 3~mm (3/32 to 7/64~in)"
    assert shown("3 mm", display) == "3~mm (1/8~in)"


def test_what_was_worked_out_beside_another_range_is_left_out() -> None:
    ends = (Fraction(2), Fraction(3))
    closed = Display("mm", "in", ranges=((ends, (length("3/32 in"), length("7/64 in"))),))
    other = Display("mm", "in", ranges=((ends, (length("3/32 in"), length("5/32 in"))),))
    assert shown("2 mm to 3 mm", closed) == "2 to 3~mm (3/32 to 7/64~in)"
    assert shown("2 mm to 3 mm", other) == "2 to 3~mm"


tenths = st.integers(0, 400).map(lambda each: Fraction(each, 10))
marks = st.integers(0, 120).map(lambda each: Fraction("25.4") * each / 64)


@given(tenths, tenths, marks, marks, st.booleans())
def test_both_ends_of_a_range_convert_to_what_stands_beside_them(
    one: Fraction, other: Fraction, here: Fraction, there: Fraction, ranged: bool
) -> None:
    """Whatever was worked out for lengths that happen to be as long."""
    low, high = min(one, other), max(one, other) + Fraction(1, 10)
    beside = tuple({low: here, high: there}.items())
    ranges = (((low, high), (min(here, there), max(here, there))),)
    display = Display("mm", "in", ranges=ranges) if ranged else Display("mm", "in", beside=beside)
    text = shown(f"({low} mm) to ({high} mm)", display).replace("~", "\u00a0")
    first, _, second = text.removesuffix(")").partition(" (")
    assert evaluate(parse(first), NO_NAMES).low.value == low
    if second:
        read = evaluate(parse(second), NO_NAMES)
        least, most = read.low.value, (read.high or read.low).value
        off = Fraction("25.4") / 64 * 3 / 2 if ranged else Fraction(1, 10**9)
        assert low - off < least <= most < high + off


@given(sizes)
def test_a_figure_never_breaks_between_number_and_unit(size: Fraction) -> None:
    text = plain(show_length(millimetres(size), BOTH))
    assert not re.search(r"\d (mm|in)", text)
    assert text.count("\u00a0") == 2


@given(st.fractions(0, 300, max_denominator=1000), st.sampled_from(["mm", "in"]))
def test_what_a_printed_length_comes_to_is_what_is_printed(mm: Fraction, system: System) -> None:
    """Read back as a buyer does: who multiplies it counts with the printed figure, not another."""
    display = Display(system, unnamed=(Fraction(1),))
    for quantity in (
        millimetres(mm),
        Thickness(mm, Kind.LENGTH),
        Thickness(Fraction(1), Kind.LENGTH),
    ):
        read = sum(Fraction(each) for each in plain(in_system(quantity, system, display)).split())
        unit = Fraction(1) if system == "mm" else Fraction(127, 5)
        assert as_printed(quantity, system, display) == read * unit

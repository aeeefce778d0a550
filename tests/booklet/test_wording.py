"""Words and figures of one edition: references, ranges, times, both units, and what is escaped."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from patternpress.booklet.build import sections_of
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from patternpress.measure.nodes import Manner, Measure
from patternpress.measure.quantity import Kind, Quantity
from tests.whole.small import BODY, STEP, TOP, model, read, worded

MINUTES = [
    ((Fraction(1), None), "1 minute"),
    ((Fraction(2), None), "2 minutes"),
    ((Fraction(60), None), "1 hour"),
    ((Fraction(90), None), "90 minutes"),
    ((Fraction(120), None), "2 hours"),
    ((Fraction(30), Fraction(60)), "30 to 60 minutes"),
    ((Fraction(1440), None), "1 day"),
    ((Fraction(2160), None), "36 hours"),
    ((Fraction(2880), Fraction(4320)), "2 to 3 days"),
    ((Fraction(5, 2), None), "2.5 minutes"),
]
"""Minutes, least and most, and how they are said: our own wording, no source."""


ANY = worded()[1]


@pytest.fixture(scope="module")
def wording() -> Wording:
    return ANY


def length(value: str) -> Quantity:
    return Quantity(Fraction(value), Kind.LENGTH)


def shown(markup: Markup) -> str:
    return markup.striptags().replace("\u00a0", " ").replace("\u202f", " ")


@pytest.mark.parametrize(("ends", "words"), MINUTES)
def test_a_time(ends: tuple[Fraction, Fraction | None], words: str, wording: Wording) -> None:
    low = Quantity(ends[0], Kind.TIME)
    high = Quantity(ends[1], Kind.TIME) if ends[1] is not None else None
    manner = Manner.RANGE if high else Manner.EXACT
    assert wording.time(Measure(low, high, manner)) == words


@given(st.integers(1, 60 * 24 * 14))
def test_a_whole_number_of_minutes_is_said_exactly(minutes: int) -> None:
    words = ANY.time(Measure(Quantity(Fraction(minutes), Kind.TIME), None, Manner.EXACT))
    figure, unit = words.split()
    worth = {"minute": 1, "hour": 60, "day": 1440}[unit.removesuffix("s")]
    assert Fraction(figure) * worth == minutes


REFERENCES = [
    ("A <shelf> here.", "A shelf (C) here."),
    ("On <left side>.", "On left side (B)."),
    ("The <frame> stands.", "The frame stands."),
    ("Leave <gap> free.", "Leave 13.9 mm free."),
    ("Leave <play> free.", "Leave 0.25 to 0.5 mm free."),
    ("Soak it <soak>.", "Soak it about 20 minutes."),
    ("It is <width of base> wide.", "It is 80 mm wide."),
    ("With <fine saw>.", "With fine saw."),
]


@pytest.mark.parametrize(("prose", "words"), REFERENCES)
def test_a_reference_is_filled_in(prose: str, words: str) -> None:
    step, wording = worded(f"say: ['{prose}']")
    assert [shown(each) for each in actions(step, wording)] == [words]


EDITIONS = [
    ("mm", "metric", "13.9 mm"),
    ("mm", "inch", "35⁄64 in"),
    ("mm", "both", "13.9 mm (35⁄64 in)"),
    ("in", "both", "35⁄64 in (13.9 mm)"),
]
"""35/64 in = 13.890625 mm exactly (the shop table of decimal equivalents)."""


@pytest.mark.parametrize(("own", "edition", "words"), EDITIONS)
def test_in_both_units_the_designs_own_comes_first(own: str, edition: str, words: str) -> None:
    top = TOP.replace("units: mm", f"units: {own}")
    step, wording = worded("say: ['<gap>']", edition, top=top)
    assert [shown(each) for each in actions(step, wording)] == [words]


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        ("0.25", "0.5", "0.25 to 0.5 mm"),
        ("38.5", "38.75", "38.5 to 38.75 mm"),
        ("4", "4", "4 mm"),
        # Inwards, so that nothing printed lies outside what was meant (ASME A112.18.1 Annex A.2 e).
        ("1.234", "2.345", "1.24 to 2.34 mm"),
    ],
)
def test_a_range(low: str, high: str, words: str, wording: Wording) -> None:
    assert shown(wording.range_of(length(low), length(high))) == words


@pytest.mark.parametrize(
    ("things", "words"),
    [
        ([], ""),
        (["a"], "a"),
        (["a", "b"], "a and b"),
        (["a", "b", "c"], "a, b and c"),
    ],
)
def test_a_list(things: list[str], words: str, wording: Wording) -> None:
    assert wording.listed(Markup(each) for each in things) == words


ODD = "<script>alert(1)</script>"


def test_names_may_not_hold_markup() -> None:
    text = (TOP + BODY + STEP).replace("  block:\n", f"  '{ODD}':\n")
    assert [each.kind.__name__ for each in read(text).problems] == ["BadName"]


def test_fixed_words_escape_what_is_put_into_them(wording: Wording) -> None:
    said = wording.say("do_with", action="Sand it", tool=ODD)
    assert said == "Sand it, with the &lt;script&gt;alert(1)&lt;/script&gt;"


def test_prose_is_escaped_but_for_its_references() -> None:
    step, wording = worded("say: ['Is <gap> > 3 & \"so\"?']")
    (sentence,) = actions(step, wording)
    assert sentence.endswith("</span> &gt; 3 &amp; “so”?")


def test_no_text_of_a_design_brings_markup_onto_a_page() -> None:
    """Texts that are no prose, so that `<` opens no reference, in every place that takes one."""
    text = (TOP + BODY + STEP).replace("sheet: 2 mm", f"sheet: 2 mm, wood: '{ODD}'")
    text = f"author: {{called: '{ODD}', contact: '{ODD}', address: '{ODD}'}}\n{text}"
    text += f"    check:\n      try: Look.\n      if: {{'{ODD}': Go on.}}\n"
    sections = sections_of(model(text))
    pages = "".join(section.html for section in sections)
    assert pages.count("alert(1)") >= 4
    assert "<script" not in pages

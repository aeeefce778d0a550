"""Units are called as a language calls them.

Outside check: Babel's own format of a whole length (CLDR), beside what we print. The space is
ours; see the module.
"""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from babel.units import format_unit

from patternpress.measure.errors import MeasureError
from patternpress.measure.figures import Display, markup, plain, show_length, show_size
from patternpress.measure.inches import MM_PER_INCH
from patternpress.measure.quantity import millimetres
from patternpress.measure.unitwords import behind, behind_typed, in_language

LOCALES = ("en-GB", "en-US", "de", "de-AT", "fr", "fr-CA", "es", "it", "sv", "pt", "zh", "ja", "ar")


def by_babel(number: int, unit: str, locale: str) -> str:
    shown = str(format_unit(number, unit, "short", locale=locale.replace("-", "_")))
    return re.sub(r"\s", "\u00a0", shown)


@pytest.mark.parametrize("locale", LOCALES)
@pytest.mark.parametrize("number", [3, 12, 64])
def test_a_length_is_printed_as_babel_formats_it(locale: str, number: int) -> None:
    in_mm, in_inches = Display("mm", locale=locale), Display("in", locale=locale)
    inches = millimetres(number * MM_PER_INCH)
    assert plain(show_length(millimetres(number), in_mm)) == by_babel(
        number, "length-millimeter", locale
    )
    assert plain(show_length(inches, in_inches)) == by_babel(number, "length-inch", locale)


def test_fractions_and_both_systems_in_french() -> None:
    both = Display("mm", "in", locale="fr")
    size = [millimetres(side) for side in (80, Fraction("42.5"), 2)]
    assert plain(show_size(size, both)) == "80 × 42,5 × 2\u00a0mm (3 5/32 × 1 43/64 × 5/64\u00a0po)"
    shown = markup(show_length(millimetres(Fraction("9.525")), Display("in", locale="fr")))
    assert shown == '<span class="fig"><span class="stack">3\u20448</span>&nbsp;po</span>'


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("large de 3/16 in, à coller", "large de 3/16 po, à coller"),
        ("n° 4 sur 1 1/4 in", "n° 4 sur 1 1/4 po"),
        ("24 x 48 inches, 3\u00a0in", "24 x 48 po, 3\u00a0po"),
        ("½in", "½po"),
        ("4 mm, inox, 3 inox, mis in, 3 in-8", "4 mm, inox, 3 inox, mis in, 3 in-8"),
    ],
)
def test_what_is_typed_in_a_language_is_called_as_it_calls_it(typed: str, shown: str) -> None:
    assert in_language(typed, "fr") == in_language(shown, "fr") == shown
    # Where the name is the same, nothing is touched: “in” is a word of German as well.
    assert in_language(typed, "de") == in_language(typed, "en-GB") == typed


def test_a_typed_unit_stays_itself_where_it_has_no_other_name() -> None:
    typed = ("in", "inches", "mm", "cm", "″")
    assert [behind_typed(each, "fr").strip() for each in typed] == ["po", "po", "mm", "cm", "″"]
    assert [behind_typed(each, "de").strip() for each in typed] == list(typed)


def test_an_unknown_language_is_refused() -> None:
    with pytest.raises(MeasureError, match="unknown-locale"):
        behind("in", "tlh-XX")

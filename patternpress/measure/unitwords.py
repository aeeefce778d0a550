"""What a unit of length is called in a language.

In: `mm` or `in`, and a locale such as `fr`. Out: what stands behind a figure, `3/16 po` in French.
Source: the short forms of CLDR, by way of Babel (UTS 35, part 2, unit elements); nothing is typed
here. The space is the same in every language, and no line breaks at it: the narrow one that CLDR
has in French is an eighth of an em in our faces, less than the gap before a fraction, so that
`3 1/4 po` would read as a unit stuck to its fraction.
"""

from __future__ import annotations

import re
from functools import cache

from babel import Locale, UnknownLocaleError
from babel.units import format_unit

from patternpress.measure.errors import MeasureError
from patternpress.measure.pieces import NO_BREAK

CALLED = {"mm": "length-millimeter", "in": "length-inch"}
"""Our units by their names in CLDR."""

# The form of this many: where a unit has plural forms, most figures take that of ten.
_MANY = 10
_TYPED = re.compile(
    r"(?P<figure>(?<=[\d½¼¾⅛⅜⅝⅞])[ \u00a0\u202f]?)(?:(?P<mm>mm)|(?P<in>in|inch|inches))(?![\w²³-])"
)


@cache
def locale_of(name: str) -> Locale:
    """The locale of a tag such as `en-GB`. Raises MeasureError `unknown-locale`."""
    try:
        return Locale.parse(name.replace("-", "_"))
    except (UnknownLocaleError, ValueError):
        raise MeasureError("unknown-locale", {"locale": name}) from None


@cache
def behind(unit: str, locale: str) -> str:
    """What stands behind a figure: a space that does not break, if any, and the unit's name.

    Where a language sets the unit first, `mm` and `in`, which are understood everywhere.
    Raises MeasureError `unknown-locale`.
    """
    shown = format_unit(_MANY, CALLED[unit], "short", locale=locale_of(locale))
    figure, found, name = shown.partition(str(_MANY))
    if figure.strip() or not found or not name.strip():
        return f"{NO_BREAK}{unit}"
    gap = NO_BREAK if name[:1].isspace() else ""
    return gap + name.strip().replace(" ", NO_BREAK)


def unit_word(unit: str, locale: str) -> str:
    """The name alone: `mm`, `in`, in French `po`. Raises MeasureError `unknown-locale`."""
    return behind(unit, locale).strip()


def behind_typed(unit: str, locale: str) -> str:
    """What stands behind a figure for a unit as it was typed; one that is neither stays itself.

    Raises MeasureError `unknown-locale`.
    """
    known = {"inch": "in", "inches": "in"}.get(unit, unit)
    if known in CALLED and unit_word(known, locale) != known:
        return behind(known, locale)
    return f"{NO_BREAK}{unit}"


def in_language(text: str, locale: str) -> str:
    """A text with its typed units named as its language names them: `3/16 in` as `3/16 po`.

    The text must be in that language: an English “3 in the same way” has no inches in it.
    Raises MeasureError `unknown-locale`.
    """

    def called(found: re.Match[str]) -> str:
        unit = "mm" if found["mm"] else "in"
        name = unit_word(unit, locale)
        return found[0] if name == unit else f"{found['figure']}{name}"

    return _TYPED.sub(called, text)

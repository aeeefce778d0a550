"""Figures and signs as a typesetter would have them, over the whole of a section's HTML.

In: HTML.  Out: the same HTML with, in its words only: fractions stacked, a multiplication sign
between figures, a minus before one, no break between a figure and its unit or a piece and its
letter, curly apostrophes; in French, a space that does not break before tall signs.
Whatever wrote the words (the author, a word list, a table of drills), they come out alike.
Drawings and tags are left as they are.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from patternpress.measure.pieces import FRACTION_SLASH, NARROW_NO_BREAK, NO_BREAK
from patternpress.measure.unitwords import CALLED, unit_word

# What is no text: whole drawings, tags.
_APART = re.compile(r"(<svg\b.*?</svg>|<[^>]*>)", re.DOTALL)
_ANY = re.compile(r"[\d'’(]|&#39;")
_TIMES = re.compile(r"(?<=\d) ?[x×] ?(?=\d)")
_MINUS = re.compile(r"(?<![\w.,)\]–−-])-(?=\d)")
_SPACE = "(?:&nbsp;|[ \u00a0\u202f])"
_FRACTION = r"(?<![\w./,:⁄-])(?:(\d+)[ \u00a0\u202f])?(\d{1,2})/(\d{1,2})(?![\w/⁄]|[.,]\d)"
_UNITS = "mm|cm|m|km|in|ft|kg|g|ml|l|min|minutes?|hours?|h|days?|s|%|°C|degrees|times|fois"
# “shelf (D)”: a name and its letter, also where a tag closes between them.
_LETTER = re.compile(r"(?:(?<=\w)|^) (?=\([A-Z]{1,2}\))")
_MANY = re.compile(r"(?<=\d) × (?=[A-Z]{1,2}\b)")  # “2 × N”: how many of a letter
_APOSTROPHE = re.compile(r"(?<=[^\W_])(?:&#39;|')")
# French sets a space before tall signs and inside its quotation marks (Imprimerie nationale,
# Lexique des règles typographiques; from memory).  A sign of HTML, such as “&amp;”, stays.
_TALL = re.compile(
    r"(?:&nbsp;|[ \u00a0\u202f])?(?P<sign>[;:?!]+)(?=\s|&nbsp;|$)|(?P<apart>&#?\w+;)"
    r"|«(?:&nbsp;|[ \u00a0\u202f])?|(?:&nbsp;|[ \u00a0\u202f])?»"
)
_COMMON = {2, 3, 4, 5, 6, 8, 10, 16, 32, 64}


@dataclass(frozen=True)
class _Units:
    """What finds a fraction with its unit, and the space before a unit, in one language."""

    fraction: re.Pattern[str]
    unit: re.Pattern[str]


@cache
def _units(language: str) -> _Units:
    """Units as a language calls them; those that its authors typed stand as they are."""
    words = "|".join(dict.fromkeys(re.escape(unit_word(each, language)) for each in CALLED))
    return _Units(
        re.compile(rf"{_FRACTION}(?:{_SPACE}({words}|in)(?!\w))?"),
        re.compile(rf"(?<=\d) (?=(?:{words}|{_UNITS})(?![\w-]))"),
    )


def typeset(html: str, language: str = "en") -> str:
    """Return HTML whose words are set as above, by the habits of a language."""
    parts = _APART.split(html)
    units = _units(language)
    parts[::2] = [_set(each, units) if _ANY.search(each) else each for each in parts[::2]]
    if language.partition("-")[0] == "fr":
        parts[::2] = [_TALL.sub(_spaced, each) for each in parts[::2]]
    return "".join(parts)


def typeset_text(text: str) -> str:
    """Return plain text with curly apostrophes and signs; its fractions stay in a line."""
    return _APOSTROPHE.sub("’", _MINUS.sub("−", _TIMES.sub(f"{NO_BREAK}×{NO_BREAK}", text)))


def _spaced(found: re.Match[str]) -> str:
    """A tall sign with the space that French sets before it: narrow, but before a colon whole."""
    if found["apart"]:
        return found["apart"]
    if found["sign"]:
        return f"{NO_BREAK if found['sign'] == ':' else NARROW_NO_BREAK}{found['sign']}"
    return f"«{NO_BREAK}" if "«" in found[0] else f"{NO_BREAK}»"


def _set(words: str, units: _Units) -> str:
    words = _APOSTROPHE.sub("’", words)
    words = _MINUS.sub("−", _TIMES.sub(" × ", words))
    words = _MANY.sub("&nbsp;×&nbsp;", words)
    words = units.fraction.sub(_stacked, words)
    return _LETTER.sub("&nbsp;", units.unit.sub("&nbsp;", words))


def _stacked(found: re.Match[str]) -> str:
    whole, top, bottom, unit = found.groups()
    if int(top) >= int(bottom) or int(bottom) not in _COMMON:
        return found[0]
    before = f"{whole}{NARROW_NO_BREAK}" if whole else ""
    after = f"&nbsp;{unit}" if unit else ""
    stack = f'<span class="stack">{top}{FRACTION_SLASH}{bottom}</span>'
    return f'<span class="fig">{before}{stack}{after}</span>'

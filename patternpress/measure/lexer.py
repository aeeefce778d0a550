"""Cut a formula into tokens.

In: text as a maker wrote it. Out: tokens with their places, signs in one spelling each.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from patternpress.measure.errors import MeasureError
from patternpress.measure.units import SIGNS


class Sort(Enum):
    """The sorts of token."""

    NUMBER = "number"
    VULGAR = "fraction"
    WORD = "word"
    UNIT_SIGN = "unit"
    SIGN = "sign"
    END = "end"


@dataclass(frozen=True, slots=True)
class Token:
    """One token; `text` in its one spelling, `start` and `end` in characters of the source."""

    sort: Sort
    text: str
    start: int
    end: int


_SPELLINGS = {"×": "*", "÷": "/", "⁄": "/", "−": "-", "–": "-"}
_PLAIN_SIGNS = frozenset("+-*/(),")
_DIGITS = frozenset("0123456789")
_COMMA_NUMBER = re.compile(r"[0-9][0-9.]*,[0-9][0-9,.]*")
_NUMBER = re.compile(r"\.?[0-9][0-9.]*")
_GOOD_NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?|\.[0-9]+")
_HYPHENED_MIXED = re.compile(r"([0-9]+)-([0-9]+/[0-9]+)(?![0-9])")
_THOUSANDS = re.compile(r"[0-9]{1,3}(,[0-9]{3})+")


def tokens(text: str) -> tuple[Token, ...]:
    """All tokens of the text, the last one END.

    Raises MeasureError `unknown-character`, `bad-number` or `decimal-comma`.
    """
    return tuple(_scan(text))


def _scan(text: str) -> Iterator[Token]:
    place = 0
    while place < len(text):
        if text[place].isspace():
            place += 1
            continue
        token = _next(text, place)
        yield token
        place = token.end
    yield Token(Sort.END, "", len(text), len(text))


def _next(text: str, place: int) -> Token:
    first = text[place]
    if _NUMBER.match(text, place):
        return _number(text, place)
    plain = unicodedata.normalize("NFKC", first)
    # “⅟” opens a fraction and has no number below its line.
    if unicodedata.decomposition(first).startswith("<fraction>") and plain[-1] in _DIGITS:
        return Token(Sort.VULGAR, plain, place, place + 1)
    if first.isalpha():
        return _word(text, place)
    if first in SIGNS:
        return Token(Sort.UNIT_SIGN, first, place, place + 1)
    sign = _SPELLINGS.get(first, first)
    if sign in _PLAIN_SIGNS:
        return Token(Sort.SIGN, sign, place, place + 1)
    raise MeasureError("unknown-character", {"character": first}, place, place + 1)


def _number(text: str, place: int) -> Token:
    if comma := _COMMA_NUMBER.match(text, place):
        raise _decimal_comma(comma)
    if hyphened := _HYPHENED_MIXED.match(text, place):
        # "1-3/8" is a mixed number to some makers and a sum to others: never guess.
        whole, part = hyphened.groups()
        facts = {"text": hyphened[0], "write": f"{whole} {part}", "or": f"{whole} - {part}"}
        raise MeasureError("bad-number", facts, *hyphened.span())
    found = _NUMBER.match(text, place)
    assert found is not None
    if not _GOOD_NUMBER.fullmatch(found[0]):
        raise MeasureError("bad-number", {"text": found[0]}, *found.span())
    return Token(Sort.NUMBER, found[0], *found.span())


def _decimal_comma(found: re.Match[str]) -> MeasureError:
    facts = {
        "text": found[0],
        "write": found[0].replace(",", "."),
        "apart": found[0].replace(",", ", "),
    }
    if _THOUSANDS.fullmatch(found[0]):
        facts["or"] = found[0].replace(",", "")
    return MeasureError("decimal-comma", facts, *found.span())


def _word(text: str, place: int) -> Token:
    """A letter, then letters, digits, and hyphens or apostrophes that stand inside."""
    end = place + 1
    while end < len(text):
        after = text[end + 1 : end + 2]
        if _inner(text[end]) or (text[end] in "-'’" and after and _inner(after)):
            end += 1
        else:
            break
    return Token(Sort.WORD, text[place:end].replace("’", "'"), place, end)


def _inner(character: str) -> bool:
    return character.isalpha() or character in _DIGITS

"""Names that a formula can use.

In: a name as a maker wrote it. Out: the same name as formulas know it, or what is wrong with it.
"""

from __future__ import annotations

from patternpress.measure.errors import MeasureError
from patternpress.measure.lexer import tokens
from patternpress.measure.nodes import Named
from patternpress.measure.parser import RESERVED, parse
from patternpress.measure.units import SYMBOLS


def check_name(text: str) -> str:
    """The name as formulas know it (a curly apostrophe made straight), or `bad-name`.

    A name is words of letters, digits, inner hyphens and apostrophes, one space apart. It
    starts with a letter, holds no word of the language, and is not a unit symbol alone.
    """
    facts = {"name": text}
    try:
        words = tokens(text)[:-1]
    except MeasureError as error:
        raise MeasureError(
            "bad-name", {**facts, "why": error.code}, error.start, error.end
        ) from None
    for word in words:
        if word.text.casefold() in RESERVED:
            facts |= {"why": "reserved-word", "word": word.text}
            raise MeasureError("bad-name", facts, word.start, word.end)
    if text.casefold() in SYMBOLS:
        raise MeasureError("bad-name", {**facts, "why": "unit"}, 0, len(text))
    plain = text.replace("’", "'")
    if not _reads_back(plain):
        raise MeasureError("bad-name", {**facts, "why": "form"}, 0, len(text))
    return plain


def _reads_back(text: str) -> bool:
    try:
        formula = parse(text)
    except MeasureError:
        return False
    return isinstance(formula.low, Named) and formula.low.name == text and not formula.high

"""A cursor over the tokens of one text.

In: text. Out: the token under the cursor, steps past it, whole numbers and fractions, and
errors that know their place. The rules of the language are the parser's.
"""

from __future__ import annotations

from fractions import Fraction

from patternpress.measure.errors import MeasureError
from patternpress.measure.lexer import Sort, Token, tokens


class Cursor:
    """A cursor over the tokens of one text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.tokens = tokens(text)
        self.at = 0

    @property
    def here(self) -> Token:
        """The token under the cursor."""
        return self.tokens[self.at]

    @property
    def after(self) -> Token:
        """The token after that one; END follows END."""
        return self.tokens[min(self.at + 1, len(self.tokens) - 1)]

    @property
    def passed(self) -> int:
        """Where the last token taken ends."""
        return self.tokens[self.at - 1].end if self.at else 0

    @property
    def word(self) -> str:
        """The word under the cursor in small letters; empty if there is none."""
        return self.here.text.casefold() if self.here.sort is Sort.WORD else ""

    def take(self) -> Token:
        """Step past the token under the cursor, and give it."""
        token = self.here
        self.at = min(self.at + 1, len(self.tokens) - 1)
        return token

    def sign(self, *signs: str) -> bool:
        """Whether one of these signs stands here."""
        return self.here.sort is Sort.SIGN and self.here.text in signs

    def fail(self, code: str, facts: dict[str, str] | None = None) -> MeasureError:
        """An error at the token under the cursor; fact `found` is its text."""
        found = self.text[self.here.start : self.here.end]
        return MeasureError(code, {"found": found, **(facts or {})}, self.here.start, self.here.end)

    def close(self, opened: Token) -> int:
        """Step over the closing bracket; where it ends."""
        if not self.sign(")"):
            raise self.fail("missing-bracket", {"opened": str(opened.start)})
        return self.take().end

    def number(self) -> Fraction:
        """`14`, `14.5`, `1/2`, `½`, `1 3/8` or `1½`; a fraction is written without spaces."""
        if self.vulgar_here() or self.fraction_here():
            return self.fraction()
        whole = self.take()
        value = Fraction(whole.text)
        if not whole.text.isdigit():
            return value
        if not self.vulgar_here() and not self.fraction_here():
            return value
        part = self.fraction()
        if part >= 1:
            facts = {"text": self.text[whole.start : self.passed]}
            raise MeasureError("bad-number", facts, whole.start, self.passed)
        return value + part

    def vulgar_here(self) -> bool:
        """Whether a fraction in one character stands here."""
        return self.here.sort is Sort.VULGAR

    def fraction_here(self) -> bool:
        """Whether `3/8` stands here: three tokens that touch."""
        three = self.tokens[self.at : self.at + 3]
        if len(three) < 3 or [t.sort for t in three] != [Sort.NUMBER, Sort.SIGN, Sort.NUMBER]:
            return False
        over, bar, under = three
        whole = over.text.isdigit() and under.text.isdigit()
        return whole and bar.text == "/" and over.end == bar.start and bar.end == under.start

    def fraction(self) -> Fraction:
        """Step over a fraction of either form. Raises `divided-by-zero`."""
        if self.vulgar_here():
            return Fraction(self.take().text.replace("⁄", "/"))
        over, _, under = self.take(), self.take(), self.take()
        if int(under.text) == 0:
            raise MeasureError("divided-by-zero", {}, over.start, under.end)
        return Fraction(int(over.text), int(under.text))

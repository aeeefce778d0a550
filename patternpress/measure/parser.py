"""Read a formula into its tree.

In: one line of text, as a maker wrote it. Out: a frozen Formula, every node with its span.
Recursive descent, one small method for each rule; nothing is ever handed to Python to run.

    formula  = ["about" | "at most" | "at least"] sum ["to" sum]
    sum      = product {("+" | "-") product}
    product  = operand {("*" | "/") operand}
    operand  = "-" operand | share operand | number [unit] | call | name | "(" sum ")"
"""

from __future__ import annotations

import difflib
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from patternpress.measure.cursor import Cursor
from patternpress.measure.errors import MeasureError
from patternpress.measure.lexer import Sort
from patternpress.measure.nodes import (
    PROPERTIES,
    Call,
    Chain,
    Formula,
    Literal,
    Manner,
    Name,
    Named,
    Negative,
    Node,
    Property,
    Share,
)
from patternpress.measure.units import is_unit, unknown_unit

LONGEST = 400
DEEPEST = 40
SHARES = {"half": Fraction(1, 2), "third": Fraction(1, 3), "quarter": Fraction(1, 4)}
SEVERAL = frozenset({"min", "max"})
FUNCTIONS = SEVERAL | {"sqrt", "sin", "cos", "tan", "asin", "acos", "atan", "round"}
RESERVED = FUNCTIONS | frozenset(SHARES) | {"of", "to", "about", "at"}
_MANNERS = {"most": Manner.AT_MOST, "least": Manner.AT_LEAST}


def parse(text: str) -> Formula:
    """The tree of a formula of at most 400 characters, nested at most 40 deep.

    Raises MeasureError with the span of what could not be read.
    """
    if len(text) > LONGEST:
        facts = {"length": str(len(text)), "most": str(LONGEST)}
        raise MeasureError("too-long", facts, LONGEST, len(text))
    return _Reader(text).formula()


class _Reader(Cursor):
    """The rules of the language, over the tokens of one text."""

    depth = 0

    def formula(self) -> Formula:
        manner = self.manner()
        low = self.sum()
        high = None
        if self.word == "to" and manner is Manner.EXACT:
            self.take()
            manner, high = Manner.RANGE, self.sum()
            low = _share_unit(low, high)
        if self.word == "to":
            raise self.fail("misplaced-word")
        if self.here.sort is not Sort.END:
            raise self.fail("unexpected")
        return Formula(self.text, manner, low, high)

    def manner(self) -> Manner:
        if self.word == "about":
            self.take()
            return Manner.ABOUT
        if self.word == "at" and self.after.text.casefold() in _MANNERS:
            self.take()
            return _MANNERS[self.take().text.casefold()]
        return Manner.EXACT

    def sum(self) -> Node:
        return self.chain(self.product, "+", "-")

    def product(self) -> Node:
        return self.chain(self.factor, "*", "/")

    def chain(self, part: Callable[[], Node], *signs: str) -> Node:
        items = [("", part())]
        while self.sign(*signs):
            sign = self.take().text
            if sign == "/" and self.fraction_here():
                raise self.unclear()
            items.append((sign, part()))
        if len(items) == 1:
            return items[0][1]
        return Chain(items[0][1].start, items[-1][1].end, tuple(items))

    def unclear(self) -> MeasureError:
        """`x/3/4` is x/12 to some and x ÷ ¾ to others: never guess."""
        start = self.here.start
        value = self.fraction()
        facts = {"write": f"/ ({value})", "or": f"/ {value.numerator} / {value.denominator}"}
        return MeasureError("unclear-division", facts, start, self.passed)

    def factor(self) -> Node:
        """An operand that no second one follows: `5 mm 3` has no meaning."""
        node = self.operand()
        if self.sign("(") or (
            self.here.sort not in {Sort.SIGN, Sort.END} and self.word not in {"to", "of"}
        ):
            raise self.fail("missing-operator", {"after": self.text[node.start : node.end]})
        return node

    def operand(self) -> Node:
        self.depth += 1
        if self.depth > DEEPEST:
            raise self.fail("too-deep", {"most": str(DEEPEST)})
        node = self.one_operand()
        self.depth -= 1
        return node

    def one_operand(self) -> Node:
        token = self.here
        if self.sign("-"):
            self.take()
            of = self.operand()
            return Negative(token.start, of.end, of)
        if self.sign("("):
            self.take()
            inner = self.sum()
            return replace(inner, start=token.start, end=self.close(token))
        if token.sort in {Sort.NUMBER, Sort.VULGAR}:
            return self.literal()
        if token.sort is Sort.WORD:
            return self.worded()
        raise self.fail("missing-operand")

    def worded(self) -> Node:
        start = self.here.start
        if self.word == "a" and self.after.text.casefold() in SHARES:
            self.take()
        if self.word in SHARES:
            share = SHARES[self.take().text.casefold()]
            if self.word == "of":
                self.take()
            of = self.operand()
            return Share(start, of.end, share, of)
        if self.word in FUNCTIONS:
            return self.call()
        if self.word in RESERVED:
            raise self.fail("misplaced-word")
        return self.named()

    def call(self) -> Node:
        start = self.here.start
        function = self.take().text.casefold()
        if function == "round" and self.word in {"up", "down"}:
            function += f" {self.take().text.casefold()}"
        opened = self.here
        if not self.sign("("):
            raise self.fail("missing-bracket", {"function": function})
        self.take()
        arguments = [self.sum()]
        while self.sign(","):
            self.take()
            arguments.append(self.sum())
        end = self.close(opened)
        if len(arguments) > 1 and function not in SEVERAL:
            facts = {"function": function, "given": str(len(arguments)), "wanted": "1"}
            raise MeasureError("wrong-count", facts, start, end)
        return Call(start, end, function, tuple(arguments))

    def named(self) -> Node:
        first, words = self.here, self.words()
        end = self.passed
        name: Name = words
        if self.word == "of":
            name = self.property(words, first.start, end)
            end = self.passed
        if self.sign("(") and self.here.start == end:
            near = difflib.get_close_matches(words.casefold(), sorted(FUNCTIONS), n=3)
            facts = {"function": words, "near": ", ".join(near)}
            raise MeasureError("unknown-function", facts, first.start, end)
        return Named(first.start, end, name)

    def property(self, words: str, start: int, end: int) -> Property:
        what = words.casefold()
        if what not in PROPERTIES:
            near = difflib.get_close_matches(what, sorted(PROPERTIES), n=3)
            facts = {"property": words, "near": ", ".join(near)}
            raise MeasureError("unknown-property", facts, start, end)
        self.take()
        if self.here.sort is not Sort.WORD or self.word in RESERVED:
            raise self.fail("missing-operand", {"after": f"{words} of"})
        return Property(what, self.words())

    def words(self) -> str:
        """A run of words, one space apart; `2` and `2a` are words once a name has begun."""
        run = self.take().text
        end = self.passed
        while True:
            token = self.here
            plain = token.sort is Sort.NUMBER and token.text.isdigit()
            if not plain and (token.sort is not Sort.WORD or self.word in RESERVED):
                return run
            run += ("" if token.start == end else " ") + self.take().text
            end = token.end

    def literal(self) -> Node:
        start = self.here.start
        value = self.number()
        end = self.passed
        if self.here.sort is Sort.UNIT_SIGN:
            return Literal(start, self.here.end, value, self.take().text)
        if self.here.sort is not Sort.WORD:
            return Literal(start, end, value, None)
        if is_unit(self.here.text):
            return Literal(start, self.here.end, value, self.take().text)
        if self.word in RESERVED or (self.word == "a" and self.after.text in SHARES):
            return Literal(start, end, value, None)
        raise self.no_unit()

    def no_unit(self) -> MeasureError:
        """The error for a word after a number; fact `words` is the whole run of words there."""
        error, start, end = unknown_unit(self.here.text), self.here.start, self.here.end
        facts = dict(error.facts)
        if self.word == "x":
            facts["write"] = "×"
        return MeasureError(error.code, {**facts, "words": self.words()}, start, end)


def _share_unit(low: Node, high: Node) -> Node:
    """In `0.25 to 0.5 mm` the unit of the second serves the first."""
    if isinstance(high, Negative):
        return _share_unit(low, high.of)
    if isinstance(low, Negative):
        return replace(low, of=_share_unit(low.of, high))
    if isinstance(low, Literal) and isinstance(high, Literal) and low.unit is None:
        return replace(low, unit=high.unit)
    return low

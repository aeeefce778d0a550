"""The front door for quantities.

In: what others need to hold and reckon with exact sizes. Out: the same, under one name, with
`length`, which reads a written length. (The records are in `values`: units need them first.)
"""

from __future__ import annotations

from fractions import Fraction

from patternpress.measure.errors import MeasureError, MixedKinds
from patternpress.measure.formula import Manner, evaluate, parse
from patternpress.measure.nodes import Name
from patternpress.measure.values import (
    Kind,
    Quantity,
    Thickness,
    add,
    div,
    least,
    millimetres,
    mixed,
    most,
    mul,
    neg,
    number,
    sub,
)

__all__ = [
    "Kind",
    "MeasureError",
    "MixedKinds",
    "Quantity",
    "Thickness",
    "add",
    "div",
    "least",
    "length",
    "millimetres",
    "most",
    "mul",
    "neg",
    "number",
    "sub",
]


def length(text: str) -> Fraction:
    """A plain written length in mm, exactly: `1/64 in` is 127/320.

    Raises MeasureError for names, for other kinds, and for `about`, `at most` or a range.
    """
    formula = parse(text)
    if formula.manner is not Manner.EXACT:
        raise MeasureError("not-exact", {"manner": formula.manner.value}, 0, len(text))
    quantity = evaluate(formula, _nothing).low
    if quantity.kind is not Kind.LENGTH:
        raise mixed("length", quantity.kind, Kind.LENGTH).at(0, len(text))
    if not quantity.exact:
        raise MeasureError("not-exact", {"manner": "irrational"}, 0, len(text))
    return quantity.value


def _nothing(name: Name) -> Quantity:
    raise KeyError(name)

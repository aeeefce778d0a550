"""Formulas with units, written by makers and worked out by us.

In: text such as `shelf depth - 2 * width of post`, and a lookup for its names.
Out: a Measure, exact wherever it can be. The front door of lexer, parser and functions.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from patternpress.measure import functions
from patternpress.measure.errors import MeasureError, MixedKinds
from patternpress.measure.naming import check_name
from patternpress.measure.nodes import (
    Call,
    Chain,
    Formula,
    Literal,
    Manner,
    Measure,
    Name,
    Named,
    Negative,
    Node,
    Property,
    Share,
)
from patternpress.measure.parser import parse
from patternpress.measure.units import convert
from patternpress.measure.values import (
    Kind,
    Quantity,
    add,
    div,
    least,
    mixed,
    most,
    mul,
    neg,
    number,
    settle,
    sub,
)

__all__ = [
    "Formula",
    "Lookup",
    "Manner",
    "Measure",
    "MeasureError",
    "MixedKinds",
    "Name",
    "Property",
    "check_name",
    "evaluate",
    "names",
    "parse",
]

Lookup = Callable[[Name], Quantity]

_SIGNS = {"+": add, "-": sub, "*": mul, "/": div}

_ONE = {
    "sqrt": functions.sqrt,
    "sin": functions.sin,
    "cos": functions.cos,
    "tan": functions.tan,
    "asin": functions.asin,
    "acos": functions.acos,
    "atan": functions.atan,
    "round": functions.round_number,
    "round up": functions.round_up,
    "round down": functions.round_down,
}

_SEVERAL = {"min": least, "max": most}


def names(formula: Formula) -> frozenset[Name]:
    """Every name that the formula asks for."""
    trees = [formula.low] if formula.high is None else [formula.low, formula.high]
    return frozenset(node.name for tree in trees for node in _walk(tree) if isinstance(node, Named))


def evaluate(formula: Formula, lookup: Lookup) -> Measure:
    """Work the formula out; `lookup` gives each name's quantity, or raises KeyError.

    Raises MeasureError with the span of the part that failed: `unknown-name` (facts `left` and
    `right` where a hyphen may be meant as a minus), `mixed-kinds`, `divided-by-zero` and others.
    A MeasureError that `lookup` raises with a place of its own passes through untouched.
    """
    low = _value(formula.low, lookup)
    if formula.high is None:
        return Measure(low, None, formula.manner)
    high = _value(formula.high, lookup)
    if high.kind is not low.kind:
        raise mixed("range", low.kind, high.kind).at(formula.low.start, formula.high.end)
    if low.value > high.value:
        raise MeasureError("range-order", {}, formula.low.start, formula.high.end)
    return Measure(low, high, formula.manner)


def _value(node: Node, lookup: Lookup) -> Quantity:
    """The quantity of a node; an error without a place gets the node's."""
    try:
        return _worked_out(node, lookup)
    except MeasureError as error:
        if error.end:
            raise
        raise error.at(node.start, node.end) from None


def _worked_out(node: Node, lookup: Lookup) -> Quantity:
    match node:
        case Literal(value=value, unit=None):
            return settle(value, Kind.NUMBER)
        case Literal(value=value, unit=str(unit)):
            return convert(value, unit)
        case Named():
            return _named(node, lookup)
        case Negative(of=of):
            return neg(_value(of, lookup))
        case Share(share=share, of=of):
            return mul(number(share), _value(of, lookup))
        case Chain():
            return _chain(node, lookup)
        case Call(function=function, arguments=arguments):
            given = [_value(argument, lookup) for argument in arguments]
            return _SEVERAL[function](given) if function in _SEVERAL else _ONE[function](given[0])
    raise TypeError(node)


def _chain(node: Chain, lookup: Lookup) -> Quantity:
    """From left to right; a failure spans from the start to the operand that did not go."""
    total = _value(node.items[0][1], lookup)
    for sign, operand in node.items[1:]:
        quantity = _value(operand, lookup)
        try:
            total = _SIGNS[sign](total, quantity)
        except MeasureError as error:
            raise error.at(node.start, operand.end) from None
    return total


def _named(node: Named, lookup: Lookup) -> Quantity:
    try:
        return lookup(node.name)
    except KeyError:
        raise MeasureError("unknown-name", _about_name(node.name, lookup)) from None


def _about_name(name: Name, lookup: Lookup) -> dict[str, str]:
    """Facts about an unknown name; a hyphen between two known ones may be meant as a minus."""
    facts = {"what": name.what, "of": name.of} if isinstance(name, Property) else {}
    text = name if isinstance(name, str) else f"{name.what} of {name.of}"
    facts["name"] = text
    for place, character in enumerate(text):
        left, right = text[:place], text[place + 1 :]
        if character == "-" and _known(left, lookup) and _known(right, lookup):
            return {**facts, "left": left, "right": right}
    return facts


def _known(text: str, lookup: Lookup) -> bool:
    """Whether one side of a hyphen has a value by itself; a number has one too."""
    try:
        tree = parse(text).low
    except MeasureError:
        return False
    try:
        _value(tree, lookup)
    except MeasureError as error:
        # A name that exists but whose own formula fails is known all the same.
        return error.code != "unknown-name"
    return True


def _walk(node: Node) -> Iterator[Node]:
    yield node
    match node:
        case Negative(of=of) | Share(of=of):
            yield from _walk(of)
        case Chain(items=items):
            for _, operand in items:
                yield from _walk(operand)
        case Call(arguments=arguments):
            for argument in arguments:
                yield from _walk(argument)

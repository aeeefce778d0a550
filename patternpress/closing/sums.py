"""What kind of sum a formula is.

In: a formula, and what its names come to.  Out: how often each name and each typed length is in
it, or None where it is no plain sum (an angle, a root, the larger of two).
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from patternpress.measure.errors import MeasureError
from patternpress.measure.nodes import (
    Chain,
    Literal,
    Name,
    Named,
    Negative,
    Node,
    Share,
)
from patternpress.measure.quantity import Kind, Quantity
from patternpress.measure.units import convert

Term = Name | Literal
Sum = dict[Term, Fraction]
Look = Callable[[Name], Quantity]


def sum_of(node: Node, look: Look) -> Sum | None:
    """The terms of a length with how often each is in it; None where it is no plain sum."""
    found = _worth(node, look)
    return found if isinstance(found, dict) else None


def length_of(literal: Literal) -> Fraction | None:
    """A typed length in mm; None for anything else."""
    if literal.unit is None:
        return None
    found = convert(literal.value, literal.unit)
    return found.value if found.kind is Kind.LENGTH else None


def is_whole(found: Sum) -> bool:
    """Whether every term is in a sum a whole number of times."""
    return all(share.denominator == 1 for share in found.values())


def literals(node: Node) -> tuple[Literal, ...]:
    """Every typed figure of a formula, in order."""
    match node:
        case Literal():
            return (node,)
        case Negative(of=of) | Share(of=of):
            return literals(of)
        case Chain(items=items):
            return tuple(each for _, operand in items for each in literals(operand))
    return tuple(each for argument in getattr(node, "arguments", ()) for each in literals(argument))


def _worth(node: Node, look: Look) -> Sum | Fraction | None:
    """A sum of lengths, a plain number, or None."""
    match node:
        case Literal(value=value, unit=unit):
            if unit is None:
                return value
            return {node: Fraction(1)} if length_of(node) is not None else None
        case Named(name=name):
            return _named(name, look)
        case Negative(of=of):
            return _times(_worth(of, look), Fraction(-1))
        case Share(share=share, of=of):
            return _times(_worth(of, look), share)
        case Chain():
            return _chain(node, look)
    return None


def _named(name: Name, look: Look) -> Sum | Fraction | None:
    try:
        found = look(name)
    except (KeyError, MeasureError):
        return None
    if found.kind is Kind.LENGTH:
        return {name: Fraction(1)}
    return found.value if found.kind is Kind.NUMBER and found.exact else None


def _times(found: Sum | Fraction | None, by: Fraction) -> Sum | Fraction | None:
    if isinstance(found, dict):
        return {term: share * by for term, share in found.items()}
    return None if found is None else found * by


def _chain(chain: Chain, look: Look) -> Sum | Fraction | None:
    total = _worth(chain.items[0][1], look)
    for sign, operand in chain.items[1:]:
        total = _joined(total, sign, _worth(operand, look))
    return total


def _joined(
    first: Sum | Fraction | None, sign: str, second: Sum | Fraction | None
) -> Sum | Fraction | None:
    if first is None or second is None:
        return None
    if sign in ("+", "-"):
        return _added(first, second if sign == "+" else _times(second, Fraction(-1)))
    if sign == "*":
        if isinstance(second, dict):
            return None if isinstance(first, dict) else _times(second, first)
        return _times(first, second)
    return None if isinstance(second, dict) or not second else _times(first, 1 / second)


def _added(first: Sum | Fraction, second: Sum | Fraction | None) -> Sum | Fraction | None:
    if isinstance(first, dict) and isinstance(second, dict):
        found = dict(first)
        for term, share in second.items():
            found[term] = found.get(term, Fraction(0)) + share
        return found
    if isinstance(first, dict) or isinstance(second, dict) or second is None:
        # A bare nought may stand beside a length; anything else is told where it is read.
        return first if second == 0 else (second if first == 0 else None)
    return first + second

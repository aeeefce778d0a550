"""Figures that remember what they were made from.

In: exact lengths of a design, each with a number of its own.  Out: `Traced` fractions: whatever
adds and scales them gets, beside the value, how often each of those lengths is in it.  So the
code that places pieces needs no second version that finds out which sums must hold.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

Form = Mapping[int, Fraction]
"""How often each length is in a figure, by its number."""

CURVED = -1
"""In a form: the figure is not a plain sum of the others in it."""
PLAIN = 27720
"""The largest denominator of a share, twelfths and all below them together; a sine or a root comes
with a far larger one."""
_NOTHING: Form = {}
_ONE = Fraction(1)


class Traced(Fraction):
    """A fraction with its form; equal to, and hashed like, the plain fraction."""

    __slots__ = ("form",)
    form: Form

    def __new__(cls, value: Fraction, form: Form) -> Traced:
        """The value with its form."""
        made = super().__new__(cls, value.numerator, value.denominator)
        made.form = form
        return made

    def __reduce__(self) -> tuple[type[Traced], tuple[Fraction, Form]]:
        """Keep the form where figures go to another process; a fraction would leave it behind."""
        return Traced, (Fraction(self.numerator, self.denominator), dict(self.form))

    def __add__(self, other: Any) -> Any:
        return _sum(self, other, Fraction.__add__, 1)

    def __radd__(self, other: Any) -> Any:
        return _sum(self, other, Fraction.__add__, 1)

    def __sub__(self, other: Any) -> Any:
        return _sum(self, other, Fraction.__sub__, -1)

    def __rsub__(self, other: Any) -> Any:
        return -_sum(self, other, Fraction.__sub__, -1)

    def __mul__(self, other: Any) -> Any:
        if not isinstance(other, int | Fraction):
            return float(self) * other
        if isinstance(other, Traced):
            return Traced(Fraction.__mul__(self, other), _curved(self.form, other.form))
        if other == 1:
            return self
        if not other:
            return Fraction(0)
        return Traced(Fraction.__mul__(self, other), _scaled(self.form, other))

    __rmul__ = __mul__

    def __truediv__(self, other: Any) -> Any:
        if not isinstance(other, int | Fraction):
            return float(self) / other
        if isinstance(other, Traced):
            return Traced(Fraction.__truediv__(self, other), _curved(self.form, other.form))
        return Traced(Fraction.__truediv__(self, other), _scaled(self.form, 1 / Fraction(other)))

    def __rtruediv__(self, other: Any) -> Any:
        if not isinstance(other, int | Fraction):
            return other / float(self)
        return Traced(Fraction(other) / Fraction(self), _curved(self.form))

    def __neg__(self) -> Traced:
        return Traced(Fraction.__neg__(self), _scaled(self.form, -1))

    def __pos__(self) -> Traced:
        return self

    def __bool__(self) -> bool:
        """A nought that is two lengths' difference may become something; it is not skipped."""
        return bool(self.form) or self.numerator != 0

    def __abs__(self) -> Traced:
        return -self if self < 0 else self


def form_of(value: Fraction) -> Form:
    """The form of a figure; an empty one for a plain fraction."""
    return value.form if isinstance(value, Traced) else _NOTHING


def explained(value: Fraction, form: Form, values: Mapping[int, Fraction]) -> bool:
    """Whether a figure is the sum that its form tells: shares of lengths, and nothing besides.

    Where a trace was lost on the way (through a sine, a float) the sum comes out wrong.
    """
    if CURVED in form or any(share.denominator > PLAIN for share in form.values()):
        return False
    return worth(form, values) == value


def worth(form: Form, values: Mapping[int, Fraction]) -> Fraction:
    """What a form comes to."""
    return sum((share * values[number] for number, share in form.items()), Fraction(0))


def difference(first: Form, second: Form) -> dict[int, Fraction]:
    """The form of one figure less another, without what cancels out."""
    found = dict(first)
    for number, share in second.items():
        found[number] = found.get(number, Fraction(0)) - share
    return {number: share for number, share in found.items() if share}


def _sum(first: Traced, second: Any, work: Any, sign: int) -> Any:
    if not isinstance(second, int | Fraction):
        return work(Fraction(first), second)
    value = work(first, second)
    if not isinstance(second, Traced):
        return Traced(value, first.form)
    form = dict(first.form)
    for number, share in second.form.items():
        kept = form.get(number, 0) + sign * share
        if kept or number == CURVED:
            form[number] = kept or _ONE
        else:
            del form[number]
    return Traced(value, form)


def _scaled(form: Form, by: Fraction | int) -> Form:
    return {number: share * by for number, share in form.items()}


def _curved(*forms: Form) -> Form:
    """The form of a product: what is in it, marked as no sum."""
    return {**_united(forms), CURVED: _ONE}


def _united(forms: Iterable[Form]) -> dict[int, Fraction]:
    return {number: share for form in forms for number, share in form.items()}

"""Ranges of fit that a step is too coarse for.

In: `Figures`.  Out: each size that is cut to a measured opening and has a least and a most in the
design, but on the step only one figure.  A buyer then cuts to that; it lies within the range or is
the step nearest to its middle.  A range shrinks so most easily where two doors share what the
opening has over: each has half of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.closing.close import Figures
from patternpress.measure.rounding import step_down, step_up


@dataclass(frozen=True)
class Narrowed:
    """A size with one figure for a range: its words, and both ends in the design, mm."""

    words: str
    least: Fraction
    most: Fraction


def narrowed(figures: Figures) -> Iterator[Narrowed]:
    """Each size of which only one figure is left, in the order of the book."""
    step = figures.grid.unit
    for key, before in figures.before.items():
        other = (*key[:-1], "most")
        if key[0] != "part" or key[-1] != "least" or other not in figures.before:
            continue
        least, most = before.mm, figures.before[other].mm
        ends = [figures.after[each].mm for each in (key, other) if each in figures.after]
        if least < most and len(ends) == len((key, other)):
            low, high = step_up(ends[0], step), step_down(ends[1], step)
            if low >= high:
                words = before.words.removesuffix(", least")
                yield Narrowed(words, _plain(least), _plain(most))


def _plain(mm: Fraction) -> Fraction:
    return Fraction(mm.numerator, mm.denominator)

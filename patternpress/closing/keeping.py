"""What is kept when the stock changes.

In: a design that was looked through, its lengths with the stock as sold, and the names of what
the author wants kept.  Out: the lengths as they have to be for that, and the demands that say so.
Other stock makes a sum such as `width - 2 * board` come out otherwise; where the sum is to be
kept, the least change of the given lengths makes up for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from patternpress.closing.analysed import Analysed
from patternpress.closing.demands import Demand
from patternpress.closing.grid import Grid
from patternpress.closing.lengths import Length
from patternpress.closing.programme import Programme, solved
from patternpress.closing.quoting import Quoted
from patternpress.closing.traced import Form, form_of
from patternpress.design.records.book import Book

FINE = 10**6  # lengths are aimed at to a millionth of a millimetre
LIGHT = 1e-3
INFINITE = float("inf")


def kept_figures(book: Book, of: Analysed) -> Iterator[Quoted]:
    """The sizes and openings that the author wants kept, as they are in the design."""
    names = {each.value for each in book.keep}
    openings = {("openings", number): each.name.value for number, each in enumerate(book.openings)}
    for key, each in of.plain.items():
        size = each.group == "size" and each.words in names
        if (
            size
            or openings.get((str(key[0]), int(key[1]) if key[0] == "openings" else -1)) in names
        ):
            yield each


def kept_lengths(of: Analysed, lengths: Sequence[Length], kept: Sequence[Quoted]) -> list[Length]:
    """The lengths with the least change by which the kept figures come out as designed.

    As they were where nothing has to change, or where no change would do.
    """
    programme = Programme()
    columns: dict[int, int] = {}
    for each in lengths:
        if each.sort in ("given", "target"):
            columns[each.number] = programme.column(0, INFINITE)
            # Targets follow what they are worked out from; one of an angle stays where it is.
            cost = 1.0 if each.sort == "given" else LIGHT
            _moved(programme, columns[each.number], each.mm, cost)
    for demand in of.held:
        if demand.low == demand.high == 0 and not demand.whole:
            _row(programme, demand.form, Fraction(0), columns, lengths)
    for figure in kept:
        _row(programme, form_of(figure.mm), figure.mm, columns, lengths)
    found = solved(programme)
    if found is None:
        return list(lengths)
    return [
        replace(each, mm=Fraction(round(found[columns[each.number]] * FINE), FINE))
        if each.number in columns and abs(found[columns[each.number]] - float(each.mm)) > 1 / FINE
        else each
        for each in lengths
    ]


def kept_demands(kept: Sequence[Quoted], grid: Grid) -> Iterator[Demand]:
    """Kept figures come within a step of the design."""
    for each in kept:
        mm = Fraction(each.mm.numerator, each.mm.denominator)
        words = f"{each.words} is kept"
        yield Demand(form_of(each.mm), words, each.span, mm - grid.unit, mm + grid.unit)


def _moved(programme: Programme, column: int, mm: Fraction, cost: float) -> None:
    """How far a length moves costs so much a millimetre."""
    far = programme.column(0, INFINITE)
    programme.row(-INFINITE, {column: 1.0, far: -1.0}, float(mm))
    programme.row(float(mm), {column: 1.0, far: 1.0}, INFINITE)
    programme.cost[far] = cost


def _row(
    programme: Programme,
    form: Form,
    mm: Fraction,
    columns: Mapping[int, int],
    lengths: Sequence[Length],
) -> None:
    """A sum of lengths that comes to a figure."""
    still = sum(
        (share * lengths[n].mm for n, share in form.items() if n not in columns), Fraction(0)
    )
    shares = {columns[n]: float(share) for n, share in form.items() if n in columns}
    if shares:
        programme.row(float(mm - still), shares, float(mm - still))

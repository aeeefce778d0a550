"""What is to be chosen.

In: a design that was looked through, its stock, a grid and pins.  Out: a `Task`: each figure as
near as can be to what it is with the stock as sold, and every demand.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from types import MappingProxyType

from patternpress.assembly.sizes import Solver
from patternpress.closing.analysed import Analysed
from patternpress.closing.choosing import USUAL
from patternpress.closing.demands import Demand
from patternpress.closing.draft import WINDOW, Aim, Task
from patternpress.closing.grid import Grid
from patternpress.closing.keeping import kept_demands, kept_figures, kept_lengths
from patternpress.closing.lengths import Length, Survey
from patternpress.closing.settled import followed, off_step
from patternpress.closing.steps import stepped
from patternpress.closing.traced import form_of, worth
from patternpress.closing.walking import Saying, Way, said_at
from patternpress.design.names import Names
from patternpress.design.records.book import Book
from patternpress.design.span import NOWHERE

Pins = Mapping[str, Saying]
NO_PINS: Pins = MappingProxyType({})
# Lengths this many steps apart keep their order by themselves.
APART = 8
# Lengths below this many steps may be what keeps pieces apart.
SMALL = 8


def task_of(
    of: Analysed,
    books: tuple[Book, Book],
    names: Names,
    grid: Grid,
    pins: Pins = NO_PINS,
    *,
    careful: bool = False,
) -> Task:
    """What is to be chosen: each figure as near as can be to what it is with the stock as sold.

    `books`: the design with true thicknesses, and with the names that stand for them.
    `careful`: small lengths, which may be what keeps pieces apart, do not get smaller.
    """
    true, sold = books
    aimed = _sold_lengths(of.survey, true, names)
    kept = tuple(kept_figures(true, of)) if aimed != of.survey.lengths else ()
    aimed = kept_lengths(of, aimed, kept) if kept else aimed
    aimed, _ = followed(aimed, of.held)
    values = {each.number: each.mm for each in aimed}
    named = _sold_lengths(of.survey, sold, names)
    lengths = [n if n.sort == "stock" else a for a, n in zip(aimed, named, strict=True)]
    lengths, stand = followed(lengths, of.held)
    still, limits = _limits(of.survey, grid)
    still |= off_step(lengths, stand, grid)
    aims, tolerances = _aims(of, values, grid)
    steps = tuple(stepped(of, values, Solver(sold, names), grid))
    pinned = tuple(_pinned(of, pins, Solver(sold, names)))
    own = [tuple(sorted(each.form.items())) for each in pinned]
    demands = (
        # An author who pins the width of a hole knows the fitting that goes in it there.
        *(e for e in of.held if not (e.yields and tuple(sorted(e.form.items())) in own)),
        *limits,
        *_order([each for each in lengths if each.number not in of.survey.widths], grid),
        *_order([lengths[number] for number in sorted(of.survey.widths)], grid),
        *(_small(lengths, grid) if careful else ()),
        *tolerances,
        *steps,
        *kept_demands(kept, grid),
        *pinned,
    )
    far = max(
        (abs((each.low or 0) - worth(each.form, values)) for each in pinned if each.form), default=0
    )
    window = WINDOW + int(far / grid.unit) + max((each.units for each in steps), default=0)
    return Task(lengths, aims, demands, grid, _loose(of.survey, sold), still, window)


def _aims(
    of: Analysed, values: Mapping[int, Fraction], grid: Grid
) -> tuple[list[Aim], list[Demand]]:
    """What each figure should be, once for each sum; and the tolerances that the author set."""
    aims, tolerances = [], []
    seen: set[object] = set()
    for each in of.plain.values():
        form = form_of(each.mm)
        key = (tuple(sorted(form.items())), each.tolerance)
        if key in seen or all(of.survey.lengths[n].sort in ("stock", "drawn") for n in form):
            continue
        seen.add(key)
        mm = worth(form, values)
        usual = USUAL * grid.unit * grid.units(mm)
        aims.append(Aim(form, mm, each.tolerance or usual))
        if each.tolerance is not None:
            words = f"{each.words} moves by its tolerance at most"
            low, high = mm - each.tolerance, mm + each.tolerance
            tolerances.append(Demand(form, words, each.span, low, high))
    # What only stands in sums with angles is printed nowhere by itself, and still means a size.
    told = {number for aim in aims for number in aim.form}
    for length in of.survey.lengths:
        if length.sort == "given" and length.number not in told and not grid.fine(length.mm):
            mm = values[length.number]
            usual = USUAL * grid.unit * grid.units(mm)
            aims.append(Aim({length.number: Fraction(1)}, mm, usual))
    return aims, tolerances


def _small(lengths: Sequence[Length], grid: Grid) -> Iterator[Demand]:
    """Small lengths that the author gave: gaps and plays among them."""
    for each in lengths:
        if each.sort == "given" and not grid.fine(each.mm) and each.mm < SMALL * grid.unit:
            form = {each.number: Fraction(1)}
            low = each.mm - grid.unit / 8  # a name for a thickness may be a little less
            yield Demand(form, f"{each.words} does not get smaller", each.span, low, None)


def pins_of(book: Book, edition: str) -> dict[str, Saying]:
    """The sizes that an edition pins, those of the editions it starts from included."""
    by_name = {each.name.value: each for each in book.editions}
    found: dict[str, Saying] = {}
    each = by_name.get(edition)
    seen: set[str] = set()
    while each is not None and each.name.value not in seen:
        seen.add(each.name.value)
        for name, said in each.pins:
            found.setdefault(name.value, said)
        each = by_name.get(each.like.value) if each.like is not None else None
    return found


def _pinned(of: Analysed, pins: Pins, solver: Solver) -> Iterator[Demand]:
    """Sizes that the author pinned to a figure of the edition's own."""
    by_name = {each.words: each for each in of.plain.values() if each.group == "size"}
    for name, said in pins.items():
        value = solver.value(said)
        if value is None:
            continue
        words = f"{name} is pinned to {' '.join(said.text.split())}"
        if name in by_name:
            form = form_of(by_name[name].mm)
            yield Demand(form, words, said.span, value.value, value.value)
        else:  # pieces are placed by it at an angle: no figure of its own can stand for it
            words += ", and angles fix it"
            yield Demand({}, words, said.span, value.value, value.value)


def _sold_lengths(found: Survey, sold: Book, names: Names) -> list[Length]:
    """The lengths with the stock as it is sold: thicknesses, and what shares and angles make."""
    solver = Solver(sold, names)
    lengths = list(found.lengths)
    for way, numbers in found.instead.items():
        measure = solver.measure(said_at(sold, way))
        ends = [measure.low, measure.high] if measure else []
        for number, end in zip(numbers, ends, strict=False):
            if end is not None:
                lengths[number] = replace(lengths[number], mm=end.value)
    for number, rod in found.follow.items():  # the play about a rod stays what it is
        more = lengths[rod].mm - found.lengths[rod].mm
        lengths[number] = replace(lengths[number], mm=lengths[number].mm + more)
    return lengths


def _loose(found: Survey, book: Book) -> frozenset[int]:
    """The lengths of sizes that the author wants cut to fit."""
    ways = [
        ("parts", number, each.value)
        for number, part in enumerate(book.parts)
        for each in part.cut_to_fit
    ]
    return frozenset(n for way in ways for n in _ends(found, way))


def _limits(found: Survey, grid: Grid) -> tuple[frozenset[int], tuple[Demand, ...]]:
    """Ranges stay inside what was said; those without a step inside stay as they are."""
    still: set[int] = set()
    made: list[Demand] = []
    for way, spot in found.spots.items():
        numbers = _ends(found, way)
        ends = [found.lengths[n] for n in numbers]
        if not ends or all(each.least is None and each.most is None for each in ends):
            continue
        low, high = ends[0].least, ends[-1].most
        words = f"{spot.words} stays within its limits"
        if low is not None and high is not None and -(-low // grid.unit) > high // grid.unit:
            if "less" in way and len(set(numbers)) == 2 and not grid.fine(low):
                # One figure is printed for it, so it is that figure: the nearest step.
                form = {numbers[1]: Fraction(1), numbers[0]: Fraction(-1)}
                made.append(Demand(form, f"{spot.words} is one figure", spot.said.span))
            else:
                still |= set(numbers)
            continue
        if low is not None:
            made.append(Demand({numbers[0]: Fraction(1)}, words, spot.said.span, low, None))
        if high is not None:
            made.append(Demand({numbers[-1]: Fraction(1)}, words, spot.said.span, None, high))
        if len(numbers) == 2 and numbers[0] != numbers[1]:
            form = {numbers[1]: Fraction(1), numbers[0]: Fraction(-1)}
            made.append(Demand(form, words, spot.said.span, Fraction(0), None))
    return frozenset(still), tuple(made)


def _ends(found: Survey, way: Way) -> tuple[int, ...]:
    if way in found.instead:
        return found.instead[way]
    return tuple(found.inside.get(way, {}).values())


def _order(lengths: list[Length], grid: Grid) -> Iterator[Demand]:
    """What is smaller in the design is never larger in an edition, each among its like."""
    moving = sorted(
        (each for each in lengths if each.sort in ("given", "target") and not grid.fine(each.mm)),
        key=lambda each: each.mm,
    )
    for first, second in pairwise(moving):
        if second.mm - first.mm < APART * grid.step:
            form = {second.number: Fraction(1), first.number: Fraction(-1)}
            words = f"{first.words} stays no more than {second.words}"
            yield Demand(form, words, NOWHERE, Fraction(0), None, plain=True)

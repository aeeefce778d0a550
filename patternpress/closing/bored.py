"""What goes into a hole still goes in.

In: a design whose figures are `Traced`, or one that is worked out.  Out: demands: the hole of a
rod is no narrower than the rod that is sold, and what play the author gave it is not closed up;
the hole of a bought fitting, which is the same in every system, is no narrower than designed.  And
how thin a bit may be.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.worked import Worked
from patternpress.closing.demands import Demand
from patternpress.closing.filled import bores
from patternpress.closing.grid import Grid
from patternpress.closing.lengths import Survey
from patternpress.closing.traced import explained, form_of
from patternpress.closing.walking import said_at
from patternpress.design.records.book import Book

# A drill cuts wood over its size by more than this, so 5/64 in does for a shank of 2 mm: common
# practice, no source.
PRESSED = Fraction(2, 100)


def least_bores(worked: Worked) -> dict[tuple[str, str], Fraction]:
    """How wide a bit must be at least, by part and hole: what goes in goes in, with half its play.

    Of a fitting nobody knows more than its hole.  Holes that nothing goes into have no entry.
    """
    stocks = {each.name.value: each for each in worked.book.stock}
    found: dict[tuple[str, str], Fraction] = {}
    for way, stock in bores(worked.book):
        if way[0] != "parts":
            continue
        part = worked.book.parts[int(way[1])]
        hole = part.holes[int(way[3])]
        wide = worked.solver.value(hole.round) if hole.round else None
        rod = stocks[stock].rod
        thick = worked.solver.value(rod) if rod is not None else None
        if wide is not None:
            play = max(wide.value - thick.value, Fraction(0)) if thick is not None else Fraction(0)
            found[part.name.value, hole.name.value] = wide.value - max(play / 2, PRESSED)
    return found


def bored(worked: Worked, found: Survey, book: Book, grid: Grid) -> Iterator[Demand]:
    """A demand for each width of a hole that something goes in; each sum once."""
    rods = {each.name.value: each.rod for each in worked.book.stock}
    seen: set[object] = set()
    for way, stock in bores(book):
        if way[0] != "parts" or way not in found.spots:
            continue
        wide = worked.solver.value(said_at(worked.book, way))
        said = rods[stock]
        rod = worked.solver.value(said) if said is not None else None
        if wide is None or (said is not None and rod is None):
            continue
        room = wide.value - rod.value if rod is not None else wide.value
        form = form_of(room)
        if room < 0 or not form or not explained(room, form, found.values):
            continue  # a hole just as wide by the rod's own figure needs no demand
        low = room - PRESSED if rod is None else min(room, grid.unit) / 2
        if (key := (tuple(sorted(form.items())), low)) not in seen:
            seen.add(key)
            spot = found.spots[way]
            words = f"{spot.owner} stays wide enough for “{stock}”"
            yield Demand(form, words, spot.said.span, low, None, yields=rod is None)

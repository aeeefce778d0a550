"""Put rectangles on pages.

In: extents in the order of the parts, a page's room in mm and what stands in it already.  Out:
for each page the places of what it holds.  Nothing is turned, nothing overlaps.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from patternpress.drawing.ink import Extent

BETWEEN = 7.0  # mm between templates
_ALMOST = 0.99


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one thing lies: its number in the order given, which of its forms, and its place."""

    index: int
    form: int
    extent: Extent


def arranged(
    things: Sequence[Sequence[Extent]],
    room: tuple[float, float],
    taken: Sequence[Extent] = (),
    started: Sequence[Sequence[Extent]] = (),
) -> list[list[Spot]]:
    """Return pages, as few as several orders of trying find; of equals the given order.

    Each thing may take one of several forms; one of them must fit the empty room clear of what is
    `taken`, ValueError if none does.  The first pages are those `started`, each with something
    on it already; they may come back empty.
    """
    numbers = range(len(things))
    tallest = [max(box.height for box in forms) for forms in things]
    widest = [max(box.width for box in forms) for forms in things]
    orders = [
        list(numbers),
        sorted(numbers, key=lambda i: -tallest[i]),
        sorted(numbers, key=lambda i: -min(b.height * b.width for b in things[i])),
        sorted(numbers, key=lambda i: -widest[i]),
    ]
    firsts = range(max((len(forms) for forms in things), default=0))
    space = _Space(room, tuple(taken), tuple(map(tuple, started)))
    tries = (_placed(order, things, first, space) for first in firsts for order in orders)
    best: list[list[Spot]] = min(tries, key=len, default=[[] for _ in started])
    pages = [sorted(page, key=lambda spot: spot.index) for page in best]
    count = len(started)
    return [*pages[:count], *sorted(pages[count:], key=lambda page: page[0].index)]


@dataclass(frozen=True, slots=True)
class _Space:
    """A page's room, what stands on every page, and what stands on each of the first."""

    room: tuple[float, float]
    taken: tuple[Extent, ...]
    started: tuple[tuple[Extent, ...], ...]

    def on(self, page: int) -> tuple[Extent, ...]:
        """What stands on a page before anything is put there."""
        return (*self.taken, *self.started[page]) if page < len(self.started) else self.taken


def fits(box: Extent, room: tuple[float, float], taken: Sequence[Extent] = ()) -> bool:
    """Say whether a rectangle has a place in an empty room."""
    return _first_place([], box, room, taken) is not None


def _placed(
    order: Sequence[int],
    things: Sequence[Sequence[Extent]],
    first: int,
    space: _Space,
) -> list[list[Spot]]:
    """Return pages, each thing on the first that has a place for a form, that numbered `first`
    before the others.
    """
    pages: list[list[Spot]] = [[] for _ in space.started]
    for index in order:
        forms = things[index]
        turns = sorted(range(len(forms)), key=lambda form: (form != first, form))
        tries = (
            _put(page, index, turns, forms, space.room, space.on(number))
            for number, page in enumerate(pages)
        )
        if not any(tries):
            pages.append([])
            if not _put(pages[-1], index, turns, forms, space.room, space.taken):
                raise ValueError(f"thing {index} does not fit the page")
    return pages


def _put(
    page: list[Spot],
    index: int,
    turns: Sequence[int],
    forms: Sequence[Extent],
    room: tuple[float, float],
    taken: Sequence[Extent],
) -> bool:
    """Put one thing on a page if there is a place for it."""
    spots = [spot.extent for spot in page]
    for form in turns:
        place = _first_place(spots, forms[form], room, taken)
        if place is not None:
            page.append(Spot(index, form, place))
            return True
    return False


def _first_place(
    spots: list[Extent], box: Extent, room: tuple[float, float], taken: Sequence[Extent]
) -> Extent | None:
    """Return the highest and then leftmost place level with an edge of the page or a template."""
    around = [*spots, *taken]
    tops = {room[1], *(spot.bottom - BETWEEN for spot in around)}
    lefts = {0.0, *(spot.right + BETWEEN for spot in around)}
    for top in sorted(tops, reverse=True):
        for left in sorted(lefts):
            place = Extent(left, top - box.height, left + box.width, top)
            if place.bottom < 0 or place.right > room[0]:
                continue
            grown = place.grown(BETWEEN * _ALMOST)
            if not any(grown.meets(other) for other in around):
                return place
    return None

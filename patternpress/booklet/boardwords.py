"""What the cutting list says of sizes that follow from a board's real thickness.

In: a `CutPart` or a `Stock`, and a `Wording`.  Out: sentences: which board to measure before the
part is cut, and by how much the part is longer or shorter where the board is not as labelled.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby

from markupsafe import Markup, escape

from patternpress.assembly.cutparts import CutPart, by_letter
from patternpress.assembly.measurefirst import End, Waiting
from patternpress.booklet.fitwords import column_of, in_system, step_of
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.records.goods import Stock
from patternpress.measure.digits import System
from patternpress.measure.rounding import round_half_even


def board_notes(part: CutPart, wording: Wording) -> Iterator[Markup]:
    """A sentence for each board that is measured before the part is cut."""
    for stock, group in groupby(_of(part, wording), key=lambda each: each.stock):
        changes = [words for each in group if (words := _change(each, wording))]
        if changes:
            joined = Markup("; ").join(changes)
            yield wording.say("note_board", stock=wording.name(stock), changes=joined)


def measured_before(stock: Stock, wording: Wording) -> Markup:
    """Under a board's heading: the parts, of whatever stock, that wait until it is measured."""
    name = stock.name.value
    waiting = {each.part for each in wording.model.waiting if each.stock == name}
    parts = (each for each in wording.model.worked.parts if each.name in waiting)
    letters = [
        Markup(escape(part.letter))
        for part in sorted(parts, key=lambda each: by_letter(each.letter))
        if any(each.stock == name and _change(each, wording) for each in _of(part, wording))
    ]
    return wording.say("board_first", letters=wording.listed(letters)) if letters else NOTHING


def _of(part: CutPart, wording: Wording) -> Iterator[Waiting]:
    # What is cut to fit takes up any thickness, and its own note says so.
    fitted = {each.value for each in part.part.cut_to_fit}
    for each in wording.model.waiting:
        if each.part == part.name and (each.feature or each.axis not in fitted):
            yield each


def _change(waiting: Waiting, wording: Wording) -> Markup:
    """One size and what becomes of it; nothing where no printed figure would change."""
    if waiting.feature:
        axis = wording.say(f"card_{waiting.axis}")
        what = wording.say("board_feature", axis=axis, feature=wording.name(waiting.feature))
    else:
        part = wording.model.worked.part(waiting.part)
        what = column_of(part, waiting.axis, wording) if part else NOTHING
    moved = [end for end in waiting.ends if _off(end.size - waiting.planned, wording)]
    if waiting.ends and not moved:
        return NOTHING
    systems = _apart(waiting, moved, wording)
    if not moved or not systems:
        return wording.say("board_follows", what=what)
    ends = Markup(", ").join(_end(end, waiting.planned, systems, wording) for end in moved)
    return wording.say("board_change", what=what, ends=ends)


def _apart(waiting: Waiting, moved: list[End], wording: Wording) -> tuple[System, ...]:
    """The systems in which label and ends print differently: alike, they would say nonsense."""
    display = wording.model.edition.display
    label = wording.model.worked.solver.thickness(_stock(waiting.stock, wording))
    thick = [each.thickness for each in moved] + ([label.value] if label is not None else [])
    return tuple(
        system
        for system in display.systems
        if len({round_half_even(each, step_of(display, system)) for each in thick}) == len(thick)
    )


def _stock(name: str, wording: Wording) -> Stock:
    return next(each for each in wording.model.worked.book.stock if each.name.value == name)


def _end(end: End, planned: Fraction, systems: tuple[System, ...], wording: Wording) -> Markup:
    key = "board_more" if end.size > planned else "board_less"
    off = _off(end.size - planned, wording)
    return wording.say(key, off=off, thick=_in(end.thickness, systems, wording))


def _off(by: Fraction, wording: Wording) -> Markup:
    """A difference in the systems whose steps can show it."""
    display = wording.model.edition.display
    seen = [s for s in display.systems if round_half_even(abs(by), step_of(display, s))]
    return _in(abs(by), seen, wording)


def _in(mm: Fraction, systems: Sequence[System], wording: Wording) -> Markup:
    """A length in these systems, the second in brackets."""
    display = wording.model.edition.display
    shown = [
        in_system(round_half_even(mm, step_of(display, each)), display, each) for each in systems
    ]
    return Markup("{} ({})").format(*shown) if len(shown) > 1 else Markup(" ").join(shown)

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
from patternpress.booklet.fitwords import column_of, fine
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.records.goods import Stock
from patternpress.measure.digits import MIL, Display, System
from patternpress.measure.inches import MM_PER_INCH
from patternpress.measure.rounding import round_half_even

# What a steel rule can be read to, and what is told of a change with each such step, in mm.
EACH: dict[System, Fraction] = {"mm": Fraction(1, 10), "in": MM_PER_INCH / 64}
HAIR = Fraction(1, 10)  # mm; less is not told in inches
FINEST: dict[System, Fraction] = {"mm": Fraction(1, 100), "in": MM_PER_INCH * MIL}


def board_notes(part: CutPart, wording: Wording) -> Iterator[Markup]:
    """A sentence for each board that is measured before the part is cut.

    The size at either end of the board's range; where that is not known, or its ends print like
    the label, by how much the size moves with each step of the rule that the board is measured by.
    """
    for stock, group in groupby(_of(part, wording), key=lambda each: each.stock):
        waiting = list(group)
        name = wording.name(stock)
        changes = [words for each in waiting if (words := _change(each, wording))]
        rates = [words for each in waiting if (words := _rate(each, wording))]
        if changes:
            yield wording.say("note_board", stock=name, changes=Markup("; ").join(changes))
        if rates:
            system = wording.model.edition.display.first
            yield wording.say(
                "note_board_rate",
                stock=name,
                each=_in(EACH[system], (system,), wording),
                thick=_in(_label(stock, wording), (system,), wording),
                changes=wording.listed(rates),
            )


def measured_before(stock: Stock, wording: Wording) -> Markup:
    """Under a board's heading: the parts, of whatever stock, that wait until it is measured."""
    name = stock.name.value
    waiting = {each.part for each in wording.model.waiting if each.stock == name}
    parts = (each for each in wording.model.worked.parts if each.name in waiting)
    letters = [
        Markup(escape(part.letter))
        for part in sorted(parts, key=lambda each: by_letter(each.letter))
        if any(each.stock == name and _told(each, wording) for each in _of(part, wording))
    ]
    return wording.say("board_first", letters=wording.listed(letters)) if letters else NOTHING


def _of(part: CutPart, wording: Wording) -> Iterator[Waiting]:
    # What is cut to fit takes up any thickness, and its own note says so.
    fitted = {each.value for each in part.part.cut_to_fit}
    for each in wording.model.waiting:
        if each.part == part.name and (each.feature or each.axis not in fitted):
            yield each


def _told(waiting: Waiting, wording: Wording) -> Markup:
    return _change(waiting, wording) or _rate(waiting, wording)


def _change(waiting: Waiting, wording: Wording) -> Markup:
    """One size and what becomes of it at the ends of the range, where they can be told apart."""
    moved = _moved(waiting, wording)
    systems = _apart(waiting, moved, wording)
    if not moved or not systems:
        return NOTHING
    ends = Markup(", ").join(_end(end, waiting.planned, systems, wording) for end in moved)
    return wording.say("board_change", what=_what(waiting, wording), ends=ends)


def _rate(waiting: Waiting, wording: Wording) -> Markup:
    """One size and how much it moves with each step that the board is thicker.

    Nothing where the ends tell it, or where no printed figure would change.
    """
    moved = _moved(waiting, wording)
    system = wording.model.edition.display.first
    off = abs(waiting.per) * EACH[system]
    if (
        not round_half_even(off, FINEST[system])
        or (waiting.ends and not moved)
        or _apart(waiting, moved, wording)
    ):
        return NOTHING
    key = "board_rate_more" if waiting.per > 0 else "board_rate_less"
    return wording.say(key, what=_what(waiting, wording), off=fine(off, system, wording))


def _moved(waiting: Waiting, wording: Wording) -> list[End]:
    return [end for end in waiting.ends if _off(end.size - waiting.planned, wording)]


def _what(waiting: Waiting, wording: Wording) -> Markup:
    if waiting.feature:
        axis = wording.say(f"card_{waiting.axis}")
        return wording.say("board_feature", axis=axis, feature=wording.name(waiting.feature))
    part = wording.model.worked.part(waiting.part)
    return column_of(part, waiting.axis, wording) if part else NOTHING


def _apart(waiting: Waiting, moved: list[End], wording: Wording) -> tuple[System, ...]:
    """The systems in which label and ends print differently: alike, they would say nonsense."""
    display = wording.model.edition.display
    thick = [*(each.thickness for each in moved), _label(waiting.stock, wording)]
    return tuple(
        system
        for system in display.systems
        if moved
        and len({round_half_even(each, _step(display, system)) for each in thick}) == len(thick)
    )


def _label(name: str, wording: Wording) -> Fraction:
    """The thickness that a board is sold by, mm."""
    worked = wording.model.worked
    stock = next(each for each in worked.book.stock if each.name.value == name)
    found = worked.solver.thickness(stock)
    return found.value if found is not None else Fraction(0)


def _end(end: End, planned: Fraction, systems: tuple[System, ...], wording: Wording) -> Markup:
    key = "board_more" if end.size > planned else "board_less"
    off = _off(end.size - planned, wording)
    return wording.say(key, off=off, thick=_in(end.thickness, systems, wording))


def _off(by: Fraction, wording: Wording) -> Markup:
    """A difference in the systems that can show it: nobody cuts to a thousandth of an inch."""
    display = wording.model.edition.display
    least = {"mm": display.mm_step, "in": HAIR}
    seen = [s for s in display.systems if round_half_even(abs(by), least[s])]
    return _in(abs(by), seen, wording)


def _in(mm: Fraction, systems: Sequence[System], wording: Wording) -> Markup:
    """A length in these systems, the second in brackets."""
    display = wording.model.edition.display
    as_told = {"mm": round_half_even(mm, display.mm_step), "in": mm}
    shown = [fine(as_told[each], each, wording) for each in systems]
    return Markup("{} ({})").format(*shown) if len(shown) > 1 else Markup(" ").join(shown)


def _step(display: Display, system: System) -> Fraction:
    """The step in mm that what a board is off by is told to: in inches no fraction is as small."""
    return display.mm_step if system == "mm" else FINEST["in"]

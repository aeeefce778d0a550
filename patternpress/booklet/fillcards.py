"""Measure cards: where to measure an opening, what to take off, what every part comes to.

In: a `Step` that measures.  Out: a `MeasureCard` for each opening, with a column for each copy of
the sub-assembly that is made to one.  Every sum adds up in the figures that are printed: the
opening and what is taken off are rounded to what the edition shows, the clearance inwards, and
the sizes of the parts are the differences of the two.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from markupsafe import Markup

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.fitted import step_of, sums
from patternpress.assembly.measurefirst import between
from patternpress.assembly.shown import shown_extent
from patternpress.assembly.sizes import AXES, shared
from patternpress.booklet.contentcards import MeasureCard, MeasureResult, MeasureRow
from patternpress.booklet.plain import capital
from patternpress.booklet.sentences import copies_of_opening
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.records.parts import Opening
from patternpress.design.records.work import Step
from patternpress.measure.figures import Display, markup, show_measure, show_size
from patternpress.measure.nodes import Manner, Measure
from patternpress.measure.quantity import Kind, Quantity
from patternpress.measure.rounding import round_half_even

WORDS = {"wide": "width", "deep": "depth", "high": "height"}


def cards(said: Step, wording: Wording) -> Iterator[MeasureCard]:
    """The cards of a step."""
    openings = {each.name.value: each for each in wording.model.worked.book.openings}
    for each in said.measure:
        card = _card(openings[each.value], wording) if each.value in openings else None
        if card is not None:
            yield card


def measured_along(opening: Opening, wording: Wording) -> tuple[str, ...]:
    """The axes along which an opening is measured: wide, deep, high."""
    fitted = wording.model.worked.fitted_in(opening.name.value)
    return tuple(axis for axis in AXES if _row(axis, fitted, opening, wording))


def _card(opening: Opening, wording: Wording) -> MeasureCard | None:
    """One card an opening; where its sub-assembly is made several times, a column for each."""
    fitted = wording.model.worked.fitted_in(opening.name.value)
    rows = tuple(row for axis in AXES if (row := _row(axis, fitted, opening, wording)))
    if not rows:
        return None
    copies = copies_of_opening(opening.name.value, wording)
    letters = sorted({part.letter for part in fitted}, key=lambda each: (len(each), each))
    return MeasureCard(
        wording.name(opening.name.value),
        rows,
        words=Markup(" ").join(_words(opening, fitted, copies, wording)),
        letters=", ".join(letters),
        columns=tuple(wording.name(each) for each in copies),
    )


def _words(
    opening: Opening, fitted: list[CutPart], copies: tuple[str, ...], wording: Wording
) -> Iterator[Markup]:
    """Where to lay the rule, and which thickness of board the figures reckon with."""
    # The pieces around one of several like openings are not those of the others.
    around = [] if copies else [t.thing for group in opening.between for t in group]
    around_it = wording.listed(wording.say("the", thing=wording.thing(each)) for each in around)
    where = wording.prose(opening.where)
    key = ("card_between" if around_it else "card_at") + ("_where" if where else "")
    yield wording.say(key, pieces=around_it, where=where)
    if copies:
        yield wording.say("card_each")
    if any(_ranges(axis, fitted, wording) > 1 for axis in AXES):
        yield wording.say("card_ranges")
    reckoned = [*_reckoned_with(fitted, wording)]
    if reckoned:
        counted = any(_boards(part, axis, wording) for part in fitted for axis in part.planned)
        key = "card_board_counted" if counted else "card_board"
        yield wording.say(key, boards=wording.listed(reckoned))
    axes = measured_along(opening, wording)
    expected = [words for axis in axes if (words := _expected(opening, axis, wording))]
    if expected:
        yield wording.say("card_expect", sizes=Markup("; ").join(expected))


def _reckoned_with(fitted: Sequence[CutPart], wording: Wording) -> Iterator[Markup]:
    """The boards of which the thickness is in what is taken off."""
    model, names = wording.model, {part.name for part in fitted}
    taken = {each.stock for each in model.taken if each.part in names}
    boards: dict[str, CutPart] = {}
    for part in (*fitted, *model.worked.parts):
        if part.thin and part.stock.name.value in taken:
            boards.setdefault(part.stock.name.value, part)
    for name, part in boards.items():
        thick = wording.size(shown_extent(part, part.thin, model.edition))
        yield wording.say("board_of", stock=wording.name(name), thick=thick)


def _expected(opening: Opening, axis: str, wording: Wording) -> Markup:
    """Between which figures an opening lies with the boards as sold, where they print apart."""
    ends = between(wording.model.openings, opening.name.value, axis)
    display, shown = wording.model.edition.display, []
    for system in display.systems if ends else ():
        one = replace(display, first=system, second=None)
        low, high = (round_half_even(each, step_of(one, system)) for each in ends or ())
        if low != high:
            shown.append(_shown(low, high, one, wording))
    if not shown:
        return NOTHING
    size = _second_in_brackets(shown)
    return wording.say("card_size", axis=wording.say(f"card_{axis}"), size=size)


def _ranges(axis: str, fitted: Sequence[CutPart], wording: Wording) -> int:
    """How many parts print a range along an axis: they only fit each other at one end of it."""
    ends = ((part.extents.get(axis), part.smallest.get(axis)) for part in fitted)
    return sum(
        most is not None and least is not None and _print_apart(least, most, wording)
        for most, least in ends
    )


def _print_apart(least: Quantity, most: Quantity, wording: Wording) -> bool:
    """Whether two sizes are two figures in a unit of the edition: inches may round to one."""
    display = wording.model.edition.display
    steps = (step_of(replace(display, first=each, second=None), each) for each in display.systems)
    return any(round_half_even(least.value, s) != round_half_even(most.value, s) for s in steps)


# ------------------------------------------------------------------ the sums


def _row(axis: str, fitted: list[CutPart], opening: Opening, wording: Wording) -> MeasureRow | None:
    """One measurement of the opening, and the size of each part that follows from it."""
    planned = wording.model.worked.solver.opening(opening, axis)
    if planned is None:
        return None
    results = []
    for part in fitted:
        if axis not in part.planned:
            continue
        name = wording.say("card_of", axis=wording.say(f"card_{axis}"), part=wording.part(part))
        count = shared(part.part, axis)
        off, left = _told(part, axis, wording)
        if count > 1:
            off = wording.say("card_shared", off=off, count=count)
        results.append(MeasureResult(_bare(name), off, left, _boards(part, axis, wording)))
    if not results:
        return None
    what = wording.say("card_measure", axis=wording.say(f"card_{axis}"))
    at = wording.say("card_at_depth") if axis == "deep" and opening.where is None else NOTHING
    return MeasureRow(what, wording.size(planned), tuple(results), at=at)


def _boards(part: CutPart, axis: str, wording: Wording) -> Markup:
    """How often the thickness of each board is in what is taken off; nothing where not whole."""
    taken = [e for e in wording.model.taken if (e.part, e.axis) == (part.name, axis)]
    if not taken or any(each.per.denominator != 1 or each.per < 0 for each in taken):
        return NOTHING
    boards = [
        wording.say("card_times", count=each.per.numerator, board=wording.name(each.stock))
        for each in taken
    ]
    return wording.say("card_with", boards=wording.listed(boards))


def _bare(words: Markup) -> Markup:
    return Markup(capital(words).rstrip("."))


def _told(part: CutPart, axis: str, wording: Wording) -> tuple[Markup, Markup]:
    """What is taken off, and what is left (for each of those that share), in each system for
    itself: both sums add up.
    """
    display = wording.model.edition.display
    offs, lefts = [], []
    for system in dict.fromkeys(display.systems):
        one = replace(display, first=system, second=None)
        found = sums(part, axis, system, display)
        offs.append(_shown(*found.off, one, wording))
        lefts.append(_shown(*found.left, one, wording))
    return _second_in_brackets(offs), _second_in_brackets(lefts)


def _second_in_brackets(shown: Sequence[Markup]) -> Markup:
    return shown[0] if len(shown) == 1 else Markup("{} ({})").format(*shown)


def _shown(low: Fraction, high: Fraction, display: Display, wording: Wording) -> Markup:
    """A figure or a range in one system; its ends lie on the edition's steps already."""
    ends = (Quantity(low, Kind.LENGTH), Quantity(high, Kind.LENGTH))
    if low == high:
        return Markup(markup(show_size(ends[:1], display)))
    words = {"range": str(wording.phrases.texts["figure_range"])}
    return Markup(markup(show_measure(Measure(*ends, Manner.RANGE), display, words)))

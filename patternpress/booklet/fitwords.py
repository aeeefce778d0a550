"""What the cutting list says of figures that cannot be all that they should.

In: a `CutPart` and a `Wording`.  Out: sentences: which sizes are cut to fit, and by how much they
are not the figure in the list; and where the two systems of a page lie apart.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from markupsafe import Markup

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.fitted import step_of
from patternpress.assembly.shown import shown_extent
from patternpress.booklet.wording import Wording
from patternpress.measure.digits import Display, System, beside
from patternpress.measure.figures import markup, show_size
from patternpress.measure.inches import MM_PER_INCH
from patternpress.measure.quantity import Kind, Quantity, Thickness
from patternpress.measure.rounding import round_half_even

_HAIR = Fraction(1, 20)  # mm


def fit_notes(part: CutPart, wording: Wording) -> Iterator[Markup]:
    """Sizes that take up an odd thickness, and sizes whose two figures differ by over a step."""
    display = wording.model.edition.display
    to_fit = dict.fromkeys(each.value for each in part.part.cut_to_fit)
    for axis in to_fit:
        told = [note for each in display.systems for note in _to_fit(part, axis, each, wording)]
        yield from told or [wording.say("note_to_fit", axis=column_of(part, axis, wording))]
    for axis in (part.along, part.across):
        if axis and axis not in to_fit and display.second is not None:
            yield from _apart(part, axis, display.second, wording)


def column_of(part: CutPart, axis: str, wording: Wording) -> Markup:
    """What a size is called in the cutting list: by its column, not by how the piece stands.

    The column of lengths may hold what is the piece's width where it stands; a buyer who reads
    “the width is 0.2 mm more” beside it alters the figure of the other column.
    """
    keys = {part.along: "list_length", part.across: "list_width", part.thin: "list_thickness"}
    return wording.say(keys.get(axis, f"card_{axis}"))


def _to_fit(part: CutPart, axis: str, system: System, wording: Wording) -> Iterator[Markup]:
    display = wording.model.edition.display
    size = beside(shown_extent(part, axis, wording.model.edition), system, display).value
    listed = round_half_even(size, step_of(display, system))
    if abs(size - listed) > _HAIR:  # what nobody can cut by hand is not told
        yield wording.say(
            "note_to_fit_more" if size > listed else "note_to_fit_less",
            axis=column_of(part, axis, wording),
            figure=in_system(listed, display, system),
            off=in_system(abs(size - listed), display, system),
        )


def _apart(part: CutPart, axis: str, second: System, wording: Wording) -> Iterator[Markup]:
    display = wording.model.edition.display
    first = shown_extent(part, axis, wording.model.edition)
    by = beside(first, second, display).value - first.value
    if abs(by) > step_of(display, second):
        yield wording.say(
            "note_apart_more" if by > 0 else "note_apart_less",
            axis=column_of(part, axis, wording),
            off=in_system(abs(by), display, display.first),
        )


def in_system(mm: Fraction, display: Display, system: System) -> Markup:
    """A length in mm, as it is printed in one system alone."""
    one = replace(display, first=system, second=None, beside=(), ranges=())
    return Markup(markup(show_size((Quantity(mm, Kind.LENGTH),), one)))


def fine(mm: Fraction, system: System, wording: Wording) -> Markup:
    """A small length in one system: hundredths of a mm; thousandths of an inch, or a fraction.

    A fraction only where it is the length: 1/64 in for 0.2 mm would be twice as much.
    """
    display = wording.model.edition.display
    inches = mm / MM_PER_INCH
    named = (inches * display.inch_denominator).denominator == 1
    alone = replace(display, first=system, second=None, beside=(), ranges=())
    one = replace(alone, mm_step=Fraction(1, 100), unnamed=() if named else (mm,))
    return Markup(markup(show_size((Thickness(mm, Kind.LENGTH),), one)))

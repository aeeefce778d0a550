"""The author's table of a closed edition.

In: `Figures`.  Out: a `Row` for each printed figure: what it is in the design, what is printed,
its step, and why it moved; and the table as text.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.leaning import ways_of
from patternpress.closing.choosing import PRETTY
from patternpress.closing.close import Closed, Figures
from patternpress.closing.demands import Demand
from patternpress.closing.filled import widths
from patternpress.closing.narrowed import narrowed
from patternpress.closing.quoting import Key, Quoted
from patternpress.closing.scales import left_words
from patternpress.closing.scaling import ratio_words
from patternpress.closing.traced import Form, worth
from patternpress.measure.digits import System
from patternpress.measure.figures import Display, plain, show_length
from patternpress.measure.quantity import Kind, Quantity
from patternpress.measure.rounding import round_half_even

HEADS = ("figure", "design", "printed", "moved", "why")


@dataclass(frozen=True)
class Row:
    """One figure: in the design and closed (mm), as printed, and by how many steps it moved."""

    key: Key
    words: str
    group: str
    mm: Fraction
    closed: Fraction
    printed: str
    steps: Fraction
    why: str

    @property
    def moved(self) -> str:
        """By how many steps it moved, in words; nothing where it did not."""
        return f"{float(self.steps):+.2f}".replace("-", "−") if self.steps else ""


def rows(figures: Figures, display: Display) -> tuple[Row, ...]:
    """Every printed figure of one system, in the order of the book."""
    return tuple(
        _row(figures, key, before, figures.after[key], display)
        for key, before in figures.before.items()
        if key in figures.after
    )


def _row(figures: Figures, key: Key, before: Quoted, after: Quoted, display: Display) -> Row:
    mm = Fraction(before.mm.numerator, before.mm.denominator)
    display = display.grooved if _hollow(figures, key) else display
    return Row(
        key,
        before.words,
        before.group,
        mm,
        after.mm,
        plain(show_length(Quantity(after.mm, Kind.LENGTH), display)),
        (after.mm - mm) / figures.grid.unit,
        why(figures, key),
    )


def _hollow(figures: Figures, key: Key) -> bool:
    """Whether a figure is how wide a hole or a groove is."""
    if key[0] == "sizes":
        return figures.book.sizes[int(key[1])].name.value in widths(figures.book)
    return key[2:3] in (("holes",), ("grooves",)) and key[4:5] in (("round",), ("wide",))


def why(figures: Figures, key: Key) -> str:
    """Why a figure is what it is, in a maker's words."""
    form, unit = figures.form(key), figures.grid.unit
    closed = figures.after[key].mm
    if not form:
        return _curved(figures, key)
    lengths = [figures.found.survey.lengths[n] for n in form]
    stand = {n for n in form if figures.task.stands(n)}
    moving = [e for e in lengths if e.sort not in ("stock", "drawn") and e.number not in stand]
    if not moving:
        return "the thickness as sold" if figures.grid.on(closed) else "as sold; no fraction fits"
    if not figures.grid.on(closed):
        fine = all(figures.task.grid.fine(each.mm) for each in moving)
        if fine:
            return "smaller than the step, kept as it is"
        return "cut to fit" if figures.after[key].group == "part" else "beside stock off the step"
    aims = {tuple(sorted(aim.form.items())): aim.mm for aim in figures.task.aims}
    target = aims.get(tuple(sorted(form.items())), figures.before[key].mm)
    stock = "follows from the stock" if abs(target - figures.before[key].mm) > unit / 2 else ""
    if closed == target:
        return stock or "as designed"
    if abs(closed - target) <= unit * figures.grid.units(target) / 2:
        return stock or "nearest step"
    reason = _reason(figures, form)
    near = abs(closed - target) <= PRETTY * unit
    told = f"so that {reason.words}" if reason else _together(figures, key, form, near=near)
    return f"{stock}, {told}" if stock else told


def _curved(figures: Figures, key: Key) -> str:
    return "no plain sum: rounded" if not figures.grid.on(figures.after[key].mm) else "as it comes"


def _reason(figures: Figures, form: Form) -> Demand | None:
    """The first demand that would break if the lengths of a figure were each at the nearest."""
    values = dict(figures.choice.values)
    for number in form:
        length = figures.task.lengths[number]
        if figures.task.moves(length):
            size = figures.grid.unit * figures.grid.units(length.mm)
            values[number] = round_half_even(length.mm, size)
    for each in figures.kept:
        if set(form) & set(each.form) and not each.holds(values, figures.grid.unit):
            return each
    return None


def _together(figures: Figures, key: Key, form: Form, *, near: bool) -> str:
    """No demand asks for it: figures that share a length are as near as can be together."""
    every = 2 if figures.grid.system == "in" else 5
    if near and (figures.after[key].mm / figures.grid.unit) % every == 0:
        return "for a coarser fraction" if every == 2 else "for a rounder figure"
    if len(form) > 1:
        typed = _typed(figures, key)
        lengths = [figures.found.survey.lengths[n] for n in form]
        names = (typed.get(each.number, each.words) for each in lengths)
        return "follows from " + ", ".join(dict.fromkeys(names))
    return "so that the figures made from it move less"


def _typed(figures: Figures, key: Key) -> dict[int, str]:
    """What is typed into a figure's own sum, though another figure of its value is named first."""
    survey, way = figures.found.survey, key[:-1]
    if key[0] == "part":
        names = [each.name.value for each in figures.book.parts]
        way = ("parts", names.index(str(key[1])), key[2])
    found = {}
    for literal, number in survey.inside.get(way, {}).items():
        first = survey.lengths[number]
        said = f"{_decimal(literal.value)} {literal.unit}"
        named = first.words != figures.before[key].words and not first.words.startswith(said)
        found[number] = f"{said} (moved with {first.words})" if named else said
    return found


def table(closed: Closed) -> str:
    """The tables of a closed edition as text, with what was kept and given up."""
    parts = [*_scale(closed), *(_one(*each) for each in systems_of(closed))]
    one_by_one = "Figures in brackets are rounded one by one"
    parts += [f"{one_by_one}: {each.what}." for each in closed.rounded]
    parts += ["\n".join(each) for each in (list(_leaning(closed)),) if each]
    return "\n\n".join(parts) + "\n"


def _leaning(closed: Closed) -> Iterator[str]:
    """Holes that are not drilled square, a line each: an angle is the same in every system."""
    for (part, hole), ways in ways_of(closed.model.worked, closed.model.assembly).items():
        told = " and ".join(f"{float(angle):g} degrees toward the {side}" for angle, side in ways)
        yield f"Leans: {hole} of {part}, drilled {told}."


def _scale(closed: Closed) -> Iterator[str]:
    """What another scale does to stock, and what it leaves alone."""
    made = closed.scaled
    if made is None or not made.other:
        return
    lines = [f"At {ratio_words(closed.model.edition.scale)}, in place of {made.ratio}."]
    if made.left:
        lines.append(f"Left as it is: {left_words(made.left)}.")
    yield "\n".join(lines)


def systems_of(closed: Closed) -> Iterator[tuple[Figures, Display]]:
    """The figures of each system that a closed edition shows, with a display of it alone."""
    display = closed.model.edition.display
    yield closed.figures, only(display, display.first)
    if closed.second is not None and display.second is not None:
        yield closed.second, only(display, display.second)


def only(display: Display, system: System) -> Display:
    """A display of one of its systems alone."""
    return replace(display, first=system, second=None, beside=())


def _one(figures: Figures, display: Display) -> str:
    found = rows(figures, display)
    lines = [HEADS, *(_cells(row) for row in found)]
    widths = [max(len(line[n]) for line in lines) for n in range(len(HEADS) - 1)]
    text = ["  ".join(_padded(line, widths)).rstrip() for line in lines]
    return "\n".join([*text, "", *_told(figures, display)])


def _cells(row: Row) -> tuple[str, ...]:
    printed = row.printed.replace("\u00a0", " ")
    return row.words, f"{_decimal(row.mm)} mm", printed, row.moved, row.why


def _decimal(mm: Fraction) -> str:
    return f"{float(mm):.3f}".rstrip("0").rstrip(".")


def _padded(line: tuple[str, ...], widths: list[int]) -> Iterator[str]:
    for cell, width in zip(line, [*widths, 0], strict=True):
        yield cell.ljust(width)


def _told(figures: Figures, display: Display) -> Iterator[str]:
    """Stock, demands and what was given up, a line each."""
    step = plain(show_length(Quantity(figures.grid.unit, Kind.LENGTH), display))
    yield f"One step is {step}; figures moved by {_worst(figures)} steps at most."
    for each in figures.stock:
        if each.instead_of not in (None, each.sold):
            yield (
                f"Stock: {each.stock} is sold as {_decimal(each.sold)} mm in place of "
                f"{_decimal(each.instead_of)} mm."
            )
        if each.glued > 1:
            yield f"Stock: {each.stock} is glued up of {each.glued} sheets, one on the other."
        if each.taken != each.sold:
            yield (
                f"Stock: {each.stock}, {_decimal(each.sold)} mm, goes by the name of "
                f"{_shown(each.taken, display)}."
            )
        elif not each.named:
            yield f"Stock: no fraction stands for the {_decimal(each.sold)} mm of {each.stock}."
    for narrow in narrowed(figures):
        ends = f"{_decimal(narrow.least)} to {_decimal(narrow.most)} mm"
        yield f"One figure: {narrow.words}; the step leaves no range of {ends}."
    for words in dict.fromkeys(each.words for each in figures.kept if not each.plain):
        yield f"Kept: {words}."
    for demand in figures.choice.given_up:
        yield f"Given up: {demand.words} ({_off(demand, figures)})."


def _worst(figures: Figures) -> str:
    moves = [
        abs(worth(aim.form, figures.choice.values) - aim.mm) / figures.grid.unit
        for aim in figures.task.aims
    ]
    return f"{float(max(moves, default=Fraction(0))):.2f}"


def _off(demand: Demand, figures: Figures) -> str:
    """How far what was given up is from what was asked; or what it comes to in place of steps."""
    values: Mapping[int, Fraction] = figures.choice.values
    mm = worth(demand.form, values)
    steps = _decimal(Fraction(round(100 * abs(mm) / figures.grid.unit), 100))
    if demand.whole:
        return f"it comes to {_decimal(abs(mm))} mm, {steps} steps"
    return f"out by {_decimal(abs(mm))} mm, {steps} steps"


def _shown(mm: Fraction, display: Display) -> str:
    return plain(show_length(Quantity(mm, Kind.LENGTH), display)).replace("\u00a0", " ")

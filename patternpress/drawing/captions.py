"""A part's label: its letter, name, number and what else the maker must know.

In: a TemplatePart.  Out: its words in one arrangement, the letter at the left of the lines, as
blocks of ink with their lower left corner at the origin.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from patternpress.drawing.ink import Ink, Words
from patternpress.drawing.lettering import Lettering, broken, figure_width, words
from patternpress.drawing.part import Hand, TemplatePart
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.pieces import Figure, Text, joined

_BETWEEN = 1.62  # line feed in heights of a capital
_LARGEST_FEED = 3.5  # mm
_DOT = " · "
_LONGEST, _NARROW = 58.0, 36.0  # mm of a note before it is broken


@dataclass(frozen=True, slots=True)
class Block:
    """Words set together: ink from (0, 0) to (width, height), mm."""

    ink: tuple[Ink, ...]
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class _Row:
    figure: Figure
    lettering: Lettering


def scale_words(scale: Fraction, style: DrawingStyle) -> str:
    """Return "full size", or the warning with the scale as 1:n."""
    if scale == 1:
        return style.say("full size")
    return style.say("reduced", scale=f"{scale.numerator}:{scale.denominator}")


def captions(
    part: TemplatePart, count: int, scale: Fraction, style: DrawingStyle
) -> tuple[Block, ...]:
    """Return the whole label, the same lines everywhere: notes are broken wide or narrow."""
    name = _Row(words(part.name), style.set_in(style.name, 600))
    make = _plain(_make(part.hand, count, style), style, 600)
    facts = (*_one_each(_facts(part, style), style), *_drills(part, style))
    return tuple(
        _beside(part.letter, (name, make, *facts, *_warnings(part, scale, style, longest)), style)
        for longest in (_LONGEST, _NARROW)
    )


def said_alone(figures: tuple[Figure, ...], style: DrawingStyle) -> Block:
    """Return figures under each other, for what found no room where it belongs."""
    return _stack(tuple(_plain(figure, style) for figure in figures), 0.0)


def letters_alone(part: TemplatePart, style: DrawingStyle) -> tuple[Block, ...]:
    """Return the letter by itself, large to small."""
    heights = (style.letter, 5.0, style.name, style.label)
    return tuple(_stack((_Row(words(part.letter), style.set_in(h, 700)),), 0.0) for h in heights)


def _make(hand: Hand | None, count: int, style: DrawingStyle) -> Figure:
    make = style.say("make", count=count)
    return words(make if hand is None else make + _DOT + style.say(hand.value))


def _facts(part: TemplatePart, style: DrawingStyle) -> tuple[Figure, ...]:
    seen = words(style.say(f"seen from {part.shape.view.value}"))
    stock = (words(part.stock),) if part.stock else ()
    return (part.size, *stock, seen)


def _drills(part: TemplatePart, style: DrawingStyle) -> tuple[_Row, ...]:
    """Return a row for each size of hole, its two systems together."""
    said = (
        joined(each.hole, style.say("drill", metric=each.metric, inch=each.inch))
        for each in part.drills
    )
    return tuple(_plain(figure, style) for figure in said)


def _warnings(
    part: TemplatePart, scale: Fraction, style: DrawingStyle, longest: float
) -> tuple[_Row, ...]:
    slanted = style.set_in(style.label, italic=True)
    notes = tuple(
        _Row(words(line), slanted) for note in part.notes for line in broken(note, slanted, longest)
    )
    bold = style.set_in(style.label, 700)
    loud = [style.say("planned")] if part.planned else []
    loud += [scale_words(scale, style)] if scale != 1 else []
    return (*notes, *(_Row(words(line), bold) for line in loud))


def _one_each(facts: tuple[Figure, ...], style: DrawingStyle) -> tuple[_Row, ...]:
    """Return a row for each fact, a size in two systems in a row for each."""
    return tuple(_plain(half, style) for fact in facts for half in _halves(fact))


def _halves(figure: Figure) -> tuple[Figure, ...]:
    """Return a figure parted before the bracket that ends it, if one does."""
    for index, piece in enumerate(figure.pieces):
        if isinstance(piece, Text) and " (" in piece.text:
            before, after = piece.text.split(" (", 1)
            second = (Text("(" + after), *figure.pieces[index + 1 :])
            return Figure((*figure.pieces[:index], Text(before))), Figure(second)
    return (figure,)


def _plain(figure: Figure, style: DrawingStyle, weight: int = 400) -> _Row:
    return _Row(figure, style.set_in(style.label, weight))


def _stack(rows: tuple[_Row, ...], left: float) -> Block:
    """Return rows under each other, the top of the first capital at the top."""
    up = feed = 0.0
    places: list[float] = []
    for row in rows:
        up -= row.lettering.height if not places else row.lettering.height + feed
        # The gap under a name is that of its own height; a letter's would look like a hole.
        feed = min(row.lettering.height, _LARGEST_FEED) * (_BETWEEN - 1)
        places.append(up)
    drop = rows[-1].lettering.descent - up
    ink = tuple(
        Words(row.figure, (left, place + drop), row.lettering)
        for row, place in zip(rows, places, strict=True)
    )
    width = max(figure_width(row.figure, row.lettering) for row in rows)
    return Block(ink, left + width, drop)


def _beside(letter: str, rows: tuple[_Row, ...], style: DrawingStyle) -> Block:
    """Return the letter with the rows to its right."""
    large = style.set_in(style.letter, 700)
    indent = figure_width(words(letter), large) + 2.2
    block = _stack(rows, indent)
    height = max(block.height, style.letter + 0.5)
    lift = height - block.height
    ink = tuple(
        Words(w.figure, (w.at[0], w.at[1] + lift), w.lettering)
        for w in block.ink
        if isinstance(w, Words)
    )
    mark = Words(words(letter), (0.0, height - style.letter), large)
    return Block((mark, *ink), block.width, height)

"""A part's label: its letter, name, number and what else the maker must know.

In: a TemplatePart.  Out: the same words in several arrangements, widest first, each a block of
ink with its lower left corner at the origin.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.drawing.ink import Ink, Words
from patternpress.drawing.lettering import Lettering, broken, figure_width, words
from patternpress.drawing.part import Hand, TemplatePart
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.tags import Tag, said
from patternpress.measure.pieces import Figure, Text

_BETWEEN = 1.62  # line feed in heights of a capital
_LARGEST_FEED = 3.5  # mm
_SMALLER = 5.0  # mm, the letter where a large one has no room
_DOT = " · "
_LONGEST = 58.0  # mm of a note before it is broken


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
    tag: Tag | None = None


def scale_words(scale: Fraction, style: DrawingStyle) -> str:
    """Return "full size", or the warning with the scale as 1:n."""
    if scale == 1:
        return style.say("full size")
    return style.say("reduced", scale=f"{scale.numerator}:{scale.denominator}")


def captions(
    part: TemplatePart, count: int, scale: Fraction, style: DrawingStyle
) -> tuple[Block, ...]:
    """Return the whole label arranged in lines, in few long lines, and as a narrow column."""
    name = _Row(words(part.name), style.set_in(style.name, 600))
    short = _Row(words(part.name), style.set_in(style.label, 600))
    make = _make(part.hand, count, style)
    facts = _facts(part, style)
    tail = _warnings(part, scale, style)
    number = replace(_plain(make, style, 600), tag=said("number"))
    lines = (name, number, *_one_each(facts, style), *tail)
    first = _joined(words(part.name), make)
    few = (
        _Row(first, style.set_in(style.label, 600), said("number")),
        *(_plain(_joined(*pair), style) for pair in _pairs(facts)),
        *tail,
    )
    narrow = (short, *lines[1:])
    return (
        _beside(part.letter, lines, style),
        _beside(part.letter, few, style),
        _under(part.letter, narrow, style),
    )


def brief_captions(part: TemplatePart, count: int, style: DrawingStyle) -> tuple[Block, ...]:
    """Return letter, name and number alone, for a part that cannot hold the rest."""
    make = replace(_plain(_make(part.hand, count, style), style, 600), tag=said("number"))
    name = _Row(words(part.name), style.set_in(style.label, 600))
    rows = (name, make)
    return (
        _beside(part.letter, rows, style),
        _beside(part.letter, rows, replace(style, letter=_SMALLER)),
        _under(part.letter, rows, style),
    )


def rest_captions(part: TemplatePart, scale: Fraction, style: DrawingStyle) -> tuple[Block, ...]:
    """Return what `brief_captions` leave out, in lines and in few long lines."""
    facts, tail = _facts(part, style), _warnings(part, scale, style)
    few = tuple(_plain(_joined(*pair), style) for pair in _pairs(facts))
    return (
        _stack((*_one_each(facts, style), *tail), 0.0),
        _stack((*few, *tail), 0.0),
    )


def letters_alone(part: TemplatePart, style: DrawingStyle) -> tuple[Block, ...]:
    """Return the letter by itself, large to small."""
    heights = (style.letter, 5.0, style.name, style.label)
    return tuple(_stack((_letter(part.letter, h, style),), 0.0) for h in heights)


def _make(hand: Hand | None, count: int, style: DrawingStyle) -> Figure:
    make = style.say("make", count=count)
    return words(make if hand is None else make + _DOT + style.say(hand.value))


def _facts(part: TemplatePart, style: DrawingStyle) -> tuple[Figure, ...]:
    seen = words(style.say(f"seen from {part.shape.view.value}"))
    stock = (words(part.stock),) if part.stock else ()
    return (part.size, *stock, seen)


def _warnings(part: TemplatePart, scale: Fraction, style: DrawingStyle) -> tuple[_Row, ...]:
    slanted = style.set_in(style.label, italic=True)
    notes = tuple(
        _Row(words(line), slanted)
        for note in part.notes
        for line in broken(note, slanted, _LONGEST)
    )
    if scale == 1:
        return notes
    return (*notes, _Row(words(scale_words(scale, style)), style.set_in(style.label, 700)))


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


def _joined(*figures: Figure) -> Figure:
    pieces = figures[0].pieces
    for figure in figures[1:]:
        pieces = (*pieces, Text(_DOT), *figure.pieces)
    return Figure(pieces)


def _pairs(facts: tuple[Figure, ...]) -> tuple[tuple[Figure, ...], ...]:
    return tuple(facts[index : index + 2] for index in range(0, len(facts), 2))


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
        Words(row.figure, (left, place + drop), row.lettering, tag=row.tag)
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
    ink = tuple(replace(w, at=(w.at[0], w.at[1] + lift)) for w in block.ink if isinstance(w, Words))
    mark = Words(words(letter), (0.0, height - style.letter), large, tag=said("letter"))
    return Block((mark, *ink), block.width, height)


def _under(letter: str, rows: tuple[_Row, ...], style: DrawingStyle) -> Block:
    """Return the letter with the rows beneath it."""
    return _stack((_letter(letter, style.letter, style), *rows), 0.0)


def _letter(letter: str, height: float, style: DrawingStyle) -> _Row:
    return _Row(words(letter), style.set_in(height, 700), said("letter"))

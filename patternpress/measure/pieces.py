"""A figure cut into pieces that every renderer can draw.

In: numbers and words. Out: text for pasting, or markup for the page. Drawings take the pieces
themselves. The gap between a whole number and its fraction belongs to the renderer.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from html import escape

NO_BREAK = "\u00a0"
NARROW_NO_BREAK = "\u202f"
FRACTION_SLASH = "\u2044"


@dataclass(frozen=True, slots=True)
class Text:
    """A run of plain text; a number never breaks from its unit."""

    text: str


@dataclass(frozen=True, slots=True)
class Stack:
    """A fraction, one number over another."""

    numerator: int
    denominator: int


Piece = Text | Stack


@dataclass(frozen=True, slots=True)
class Figure:
    """A printed size, in reading order."""

    pieces: tuple[Piece, ...]


def joined(*parts: Figure | str) -> Figure:
    """One figure of several, neighbouring texts run together."""
    pieces: list[Piece] = []
    for part in parts:
        for piece in (Text(part),) if isinstance(part, str) else part.pieces:
            last = pieces[-1] if pieces else None
            if isinstance(piece, Text) and isinstance(last, Text):
                pieces[-1] = Text(last.text + piece.text)
            elif piece != Text(""):
                pieces.append(piece)
    return Figure(tuple(pieces))


def plain(figure: Figure) -> str:
    """The figure as text for pasting: `1 3/8 in`, before the unit a space that does not break."""
    return _drawn(figure, " ", str, lambda stack: f"{stack.numerator}/{stack.denominator}")


def markup(figure: Figure) -> str:
    """The figure as HTML: a span of class `fig`, each fraction in a span of class `stack`.

    The fraction slash (U+2044) lets a font's `frac` feature stack the fraction; U+202F before it
    keeps `1 3⁄8` from being copied as `13⁄8`.
    """

    def stacked(stack: Stack) -> str:
        return f'<span class="stack">{stack.numerator}{FRACTION_SLASH}{stack.denominator}</span>'

    def safe(text: str) -> str:
        return escape(text).replace(NO_BREAK, "&nbsp;")

    return f'<span class="fig">{_drawn(figure, NARROW_NO_BREAK, safe, stacked)}</span>'


def _drawn(
    figure: Figure, gap: str, of_text: Callable[[str], str], of_stack: Callable[[Stack], str]
) -> str:
    out = ""
    for piece in figure.pieces:
        if isinstance(piece, Text):
            out += of_text(piece.text)
        else:
            # Only a digit can run into the fraction; a minus or a word cannot.
            out += (gap if out[-1:].isdigit() else "") + of_stack(piece)
    return out

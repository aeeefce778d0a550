"""Lettering: how high letters stand and how long words become.

In: the font files of one family.  Out: widths in mm, so that words can be fitted into parts.
A fraction is set as its numerator, raised and small, a stroke, and its denominator, small:
it stays legible at 1.8 mm and is copied in order, "35/64", which figures set over a drawn
bar are not.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from fontTools.ttLib import TTFont

from patternpress.measure.pieces import FRACTION_SLASH, NO_BREAK, Figure, Stack, Text

# A small digit is this part of a full one: 1.8 mm beside 2.5 mm, both of the ISO 3098 series.
SMALL = 0.72
# Of Source Sans Pro: what goes below the line, and what goes above capitals, by how much of an em.
_LOW, _TALL, _OVER = frozenset("Qgjpqy,;()[]ç"), frozenset("bdfhklßÄÖÜÉÈÊÀÂ"), 0.06


@dataclass(frozen=True, slots=True)
class Typeface:
    """One family: height of a capital and widths of letters, in parts of the font size."""

    family: str
    capital: float
    descender: float
    widths: Mapping[tuple[int, bool], Mapping[str, float]]

    def width(self, text: str, weight: int, italic: bool = False) -> float:
        """Return the length of a text at size 1; unknown letters count as a wide one."""
        widths = self.widths[weight, italic]
        return sum(widths.get(letter, 0.65) for letter in text)


@dataclass(frozen=True, slots=True)
class Lettering:
    """A typeface at a height of its capitals in mm."""

    typeface: Typeface
    height: float
    weight: int = 400
    italic: bool = False

    @property
    def size(self) -> float:
        """The font size in mm."""
        return self.height / self.typeface.capital

    @property
    def descent(self) -> float:
        """How far letters reach below their line, mm."""
        return self.typeface.descender * self.size

    def width(self, text: str) -> float:
        """The length of a text at size 1."""
        return self.typeface.width(text, self.weight, self.italic)


@dataclass(frozen=True, slots=True)
class Run:
    """Letters of one size: their offset from the start of the words, mm, y up."""

    text: str
    across: float
    up: float
    size: float


def runs(figure: Figure, lettering: Lettering) -> Iterator[Run]:
    """Yield the runs of a figure, each placed by itself."""
    across, full = 0.0, lettering.size
    small = full * SMALL
    before = ""
    for piece in figure.pieces:
        if isinstance(piece, Text):
            parts = [Run(piece.text, 0, 0, full)]
        else:
            parts = _stacked(piece, before[-1:].isdigit(), lettering.height, (full, small))
        for part in parts:
            yield Run(part.text, across, part.up, part.size)
            across += lettering.width(part.text) * part.size
        before = parts[-1].text


def _stacked(
    stack: Stack, after_digit: bool, height: float, sizes: tuple[float, float]
) -> list[Run]:
    full, small = sizes
    gap = NO_BREAK if after_digit else ""
    return [
        Run(f"{gap}{stack.numerator}", 0, height * (1 - SMALL) * 1.1, small),
        Run(FRACTION_SLASH, 0, 0, full),
        Run(f"{stack.denominator}", 0, 0, small),
    ]


def figure_width(figure: Figure, lettering: Lettering) -> float:
    """Return the length of set words, mm."""
    end = 0.0
    for run in runs(figure, lettering):
        end = run.across + lettering.width(run.text) * run.size
    return end


def reach(figure: Figure, lettering: Lettering) -> tuple[float, float]:
    """Return how far set words reach below their line and above their capitals, mm."""
    letters = {letter for run in runs(figure, lettering) for letter in run.text}
    below = lettering.descent if letters & _LOW else 0.0
    return below, lettering.size * _OVER if letters & _TALL else 0.0


def words(text: str) -> Figure:
    """Return plain text as a figure."""
    return Figure((Text(text),))


def broken(text: str, lettering: Lettering, longest: float) -> tuple[str, ...]:
    """Return a text in lines of at most `longest` mm, broken at spaces only."""
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and figure_width(words(longer), lettering) <= longest:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


# ------------------------------------------------------------------ font files

_FILES = {
    (400, False): "SourceSansPro-Regular.ttf",
    (400, True): "SourceSansPro-It.ttf",
    (600, False): "SourceSansPro-Semibold.ttf",
    (700, False): "SourceSansPro-Bold.ttf",
}


@lru_cache(maxsize=1)
def source_sans() -> Typeface:
    """Return the booklets' own drawing face, measured once.

    Raises ModuleNotFoundError if its package is not installed.
    """
    found = importlib.util.find_spec("font_source_sans_pro")
    if found is None or not found.submodule_search_locations:
        raise ModuleNotFoundError("font_source_sans_pro")
    folder = Path(found.submodule_search_locations[0]) / "files"
    return measured("Source Sans Pro", {cut: folder / name for cut, name in _FILES.items()})


def measured(family: str, files: Mapping[tuple[int, bool], Path]) -> Typeface:
    """Return a typeface measured from one font file for each weight, upright and italic."""
    widths: dict[tuple[int, bool], Mapping[str, float]] = {}
    capital = descender = 0.0
    for cut, file in files.items():
        with TTFont(file, lazy=True) as font:
            units = font["head"].unitsPerEm
            advances = font["hmtx"].metrics
            widths[cut] = {
                chr(code): advances[glyph][0] / units for code, glyph in font.getBestCmap().items()
            }
            capital = font["OS/2"].sCapHeight / units
            # The y of "grain", not the line spacing: what ink needs below the line.
            descender = 0.205
    return Typeface(family, capital, descender, widths)

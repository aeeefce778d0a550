"""What every page of templates carries: bars both ways, a square, a key, and a band if need be.

In: what is on the page.  Out: `PageFigure`s in mm from the page's lower left corner, and the room
that they leave for templates.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from patternpress.drawing.bars import check_square, lying_bar, upright_bar
from patternpress.drawing.ink import (
    Anchor,
    Extent,
    Ink,
    Place,
    Stroke,
    Tagged,
    Words,
    shifted,
    straight,
)
from patternpress.drawing.key import ROW, Rows, key_ink, key_rows
from patternpress.drawing.lettering import words
from patternpress.drawing.signs import Sign
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.tags import bar as bar_tag
from patternpress.drawing.tags import square as square_tag
from patternpress.measure.printers import Correction

_ROWS = 2  # of the key over the bar; further ones stand above these, as wide as the page
_KEY = 9.0  # mm, so many rows
_CLEAR = 2.5  # mm that further ones are higher, to keep off the square and its words
_ABOVE = 4.0  # mm between foot and templates
BAND = 9.0
_UNDER_BAND = 3.0
_LINE = 4.0  # mm from line to line of the advice


@dataclass(frozen=True, slots=True)
class PageFigure:
    """One drawing on a page: its ink, the rectangle it takes, its title, and whose it is.

    `tagged`: ink of which the finished file says what it is.
    """

    ink: tuple[Ink, ...]
    spot: Extent
    title: str
    letter: str = ""
    tagged: tuple[Tagged, ...] = ()


@dataclass(frozen=True, slots=True)
class Frame:
    """A page's size in mm, as laid out, and what is said of it.

    `bands` are warnings across its head; a `correction` changes the advice; `further` rows of the
    key make the foot higher.
    """

    width: float
    height: float
    style: DrawingStyle
    bands: tuple[str, ...] = ()
    correction: Correction | None = None
    further: int = 0

    @property
    def foot(self) -> float:
        """How high the foot is, mm."""
        further = self.further * ROW + (_CLEAR if self.further else 0.0)
        return lying_bar(self.style).height + _KEY + further + _ABOVE

    def key(self, signs: Iterable[Sign]) -> Rows | None:
        """Return the rows of the key of some signs, no more than they need; None without room."""
        beside = lying_bar(self.style).width - 2.0
        wide = self.width - upright_bar(self.style).width - 2.0
        wanted = tuple(signs)
        tried = ((*(wide,) * more, *(beside,) * _ROWS) for more in range(self.further + 1))
        found = (key_rows(wanted, widths, self.style) for widths in tried)
        return next((rows for rows in found if rows is not None), None)

    def holds(self, signs: Iterable[Sign]) -> bool:
        """Return whether there is room for the key of some signs.

        Raises ValueError if the words of one of them are wider than the page.
        """
        wanted = tuple(signs)
        rows = self.key(wanted)
        if rows is None and len(wanted) <= self.further:
            raise ValueError(f"a word of the key is wider than {self.width:g} mm")
        return rows is not None

    @property
    def head(self) -> float:
        """How much the bands take, mm."""
        return len(self.bands) * BAND + (_UNDER_BAND if self.bands else 0.0)

    @property
    def room(self) -> tuple[float, float]:
        """What is left above the foot: width and height, mm."""
        return self.width, self.height - self.foot - self.head

    @property
    def column(self) -> Extent:
        """The upright bar's place, seen from the lower left corner of the room."""
        bar = upright_bar(self.style)
        low = -self.foot
        return Extent(self.width - bar.width, low, self.width, low + bar.height)


def furniture(
    frame: Frame, signs: Iterable[Sign], advice: Sequence[Words] = ()
) -> tuple[PageFigure, ...]:
    """Return the bars with the square and the key, the upright bar, and the bands.

    `advice`: lines for what to measure, in place of the usual ones.
    """
    style = frame.style
    bar, square, upright = lying_bar(style), check_square(style), upright_bar(style)
    beside = bar.width + 2.0
    rows = frame.key(signs)
    if rows is None:
        raise ValueError("the key of a page needs a higher foot")
    low_rows, further = rows[-_ROWS:], rows[:-_ROWS]
    base = bar.height + 0.8
    ink = [*shifted(key_ink(low_rows, style), 1.0, base)]
    ink += shifted(key_ink(further, style), 1.0, base + len(low_rows) * ROW + _CLEAR)
    ink += _advice(frame, (beside + square.width + 2.5, square.height - 3.0), advice)
    low = Extent(0.0, 0.0, frame.width - upright.width, frame.foot - _ABOVE)
    column = frame.column
    high = Extent(column.left, 0.0, column.right, upright.height)
    found = [
        PageFigure(
            tuple(ink),
            low,
            style.say("bars title"),
            tagged=(
                Tagged(bar.ink, bar_tag("across")),
                Tagged(shifted(square.ink, beside, 0.5), square_tag()),
            ),
        ),
        PageFigure(
            (),
            high,
            style.say("upright title"),
            tagged=(Tagged(shifted(upright.ink, high.left, 0.0), bar_tag("up")),),
        ),
    ]
    for number, band in enumerate(frame.bands):
        top = frame.height - number * BAND
        spot = Extent(0.0, top - BAND, frame.width, top)
        found.append(PageFigure(_band(band, spot, style), spot, _band_title(band, style)))
    return tuple(found)


def _advice(frame: Frame, at: Place, advice: Sequence[Words]) -> list[Ink]:
    style = frame.style
    key = "check corrected" if frame.correction else "check full"
    usual = [words(line) for line in style.say(key).split("|")]
    lines = advice or [Words(line, (0.0, 0.0), style.set_in(style.label)) for line in usual]
    found: list[Ink] = [Words(words(style.say("check")), at, style.set_in(style.label, 600))]
    for number, line in enumerate(lines, 1):
        found.append(replace(line, at=(at[0], at[1] - number * _LINE)))
    return found


def _band(text: str, spot: Extent, style: DrawingStyle) -> tuple[Ink, ...]:
    box = spot.grown(-0.8)
    middle = ((box.left + box.right) / 2, (box.bottom + box.top) / 2 - style.name / 2)
    said = Words(words(text), middle, style.set_in(style.name, 700), Anchor.MIDDLE)
    return Stroke((straight(*box.corners, closed=True),), style.band), said


def _band_title(band: str, style: DrawingStyle) -> str:
    return style.say("band title", words=band)

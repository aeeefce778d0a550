"""How templates are drawn: pens, lettering and words.

In: nothing.  Out: `DrawingStyle`, which every drawing function is handed.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from types import MappingProxyType

from patternpress.drawing.lettering import Lettering, Typeface, source_sans
from patternpress.drawing.lines import Pen, chain, dashed, wider

# English.  Other languages hand in a mapping with the same keys.
WORDS: Mapping[str, str] = MappingProxyType(
    {
        "left": "left",
        "right": "right",
        "front": "front",
        "back": "back",
        "top": "top",
        "bottom": "bottom",
        "seen from front": "seen from the front",
        "seen from right": "seen from the right",
        "seen from left": "seen from the left",
        "seen from above": "seen from above",
        "seen from back": "seen from the back",
        "seen from below": "seen from below",
        "grain": "grain",
        "make": "make {count}",
        "left hand": "left hand",
        "right hand": "right hand",
        "underneath": "(on the far side)",
        "drill": ": drill {metric} or {inch}",
        "deep": " deep",
        "away": "{far} from {side}",
        "planned": "planned only: measure before you cut",
        "several": "{count} × ",
        "full size": "full size",
        "reduced": "not full size – drawn at {scale}",
        "fold": "centre line: once marked round, turn over along it",
        "half": "half of it: turn over along the centre line",
        "check": "Check your print:",
        "check full": "measure both bars|and the square with|your own rule.",
        "check corrected": "on your printer the|bars now measure|100 mm and 4 in.",
        "check joined": "the joined sheets’ two|diagonals, point to|point, must both be|",
        "band reduced": "NOT FULL SIZE: take the sizes from the figures, never by tracing",
        "band corrected": "ONLY for the printer whose 100 mm bars measure {across} × {up} mm",
        "key cut": "cut, waste outside",
        "key opening": "cut out",
        "key mark": "pencil line",
        "key groove": "groove",
        "key far": "on the far side",
        "key centre": "hole centre",
        "key grain": "grain",
        "key fold": "turn over",
        "key trim": "trim paper",
        "key lap": "lay next sheet",
        "key corner": "corner point",
        "key match": "match up",
        "key point": "pencil cross",
        "key origin": "sizes from here",
        "key round over": "round over",
        "key chamfer": "chamfer",
        "key ease": "ease",
        "key leave bare": "leave bare",
        "key resist": "glue smeared",
        "sheet": "sheet {letter}{number} of {letter}{count}",
        "words of": "for sheets {letter}1 to {letter}{count}",
        "words title": "Words of {letter} {name}, for its sheets {letter}1 to {letter}{count}.",
        "bars title": "Bars of 100 mm and 4 in and a square of 20 mm, to check the print.",
        "upright title": "An upright bar of 100 mm and 4 in, to check the print.",
        "band title": "On this page: {words}.",
        "map title": "How the sheets of {letter} lie beside each other; this is {sheet}.",
        "title": "Template {letter} {name}, {scale}.",
        "handed title": "Template {letter} {name}, {hand}, {scale}.",
        "tile title": "Template {letter} {name}{hand}, {scale}, {sheet}: "
        "{left} to {right} mm from the left and {bottom} to {top} mm from the bottom{turned}.",
        "turned": ". Turned to be read from the right",
    }
)


@dataclass(frozen=True, slots=True)
class DrawingStyle:
    """Pens in mm (ISO 128 widths), lettering heights in mm (ISO 3098), and words.

    `locale` says what units are called.  `label` is the least height of words; `name` and
    `letter` are for a part's own.  `piece` and `hands` are greys, of pieces on their board and of
    the time at the bench.
    """

    typeface: Typeface = field(default_factory=source_sans)
    words: Mapping[str, str] = field(default_factory=lambda: WORDS)
    locale: str = "en-GB"
    wide: Fraction = Fraction("0.5")
    middle: Fraction = Fraction("0.35")
    narrow: Fraction = Fraction("0.25")
    thin: Fraction = Fraction("0.18")
    label: float = 2.5
    name: float = 3.5
    letter: float = 7.0
    piece: float = 0.9
    hands: float = 0.0

    @property
    def cut(self) -> Pen:
        """The pen for an outline to cut along."""
        return Pen(self.wide)

    @property
    def band(self) -> Pen:
        """The pen round a warning: wider than any other line, so that none is taken for it."""
        return Pen(Fraction("0.7"))

    @property
    def opening(self) -> Pen:
        """The pen for holes and windows, finer so that a small one stays true."""
        return Pen(self.middle)

    @property
    def mark(self) -> Pen:
        """The pen for marks and grooves on the face shown."""
        return Pen(self.narrow)

    @property
    def hidden(self) -> Pen:
        """The pen for grooves on the far face."""
        return dashed(self.narrow)

    @property
    def centre(self) -> Pen:
        """The pen for centre lines."""
        return chain(self.thin)

    @property
    def trim(self) -> Pen:
        """The pen for the line along which a sheet's paper is cut: long dashes."""
        return Pen(self.narrow, (Fraction(4), Fraction(1)))

    @property
    def lap(self) -> Pen:
        """The pen for the line to which the next sheet is laid: dots."""
        return Pen(self.narrow, (Fraction(1, 2), Fraction(1)))

    @property
    def fine(self) -> Pen:
        """The pen for dimension, extension and leader lines and hatching."""
        return Pen(self.thin)

    def set_in(self, height: float, weight: int = 400, italic: bool = False) -> Lettering:
        """Return lettering of a height in mm."""
        return Lettering(self.typeface, height, weight, italic)

    def say(self, key: str, **values: object) -> str:
        """Return fixed words with values in their places; KeyError for an unknown key."""
        return self.words[key].format(**values)


def heavy_lines(style: DrawingStyle) -> DrawingStyle:
    """Return the style with every line one width of ISO 128 up, for large print."""
    return replace(
        style,
        wide=wider(style.wide),
        middle=wider(style.middle),
        narrow=wider(style.narrow),
        thin=wider(style.thin),
    )


def sparing_areas(style: DrawingStyle) -> DrawingStyle:
    """Return the style that saves ink: areas are told by their outlines."""
    return replace(style, piece=1.0, hands=1.0)

"""How templates are drawn: pens, lettering and words.

In: nothing.  Out: `DrawingStyle`, which every drawing function is handed.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType

from patternpress.drawing.lettering import Lettering, Typeface, source_sans
from patternpress.drawing.lines import Pen, chain, dashed

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
        "grain": "grain",
        "make": "make {count}",
        "left hand": "left hand",
        "right hand": "right hand",
        "underneath": "(underneath)",
        "several": "{count} × ",
        "full size": "full size",
        "reduced": "not full size – drawn at {scale}",
        "check": "Check your print first:|measure these bars with your own rule.",
        "title": "Cutting templates: {parts}. Bars of 100 mm and 4 in check the print.",
        "titled part": "{letter} {name}, {scale}",
    }
)


@dataclass(frozen=True, slots=True)
class DrawingStyle:
    """Pens in mm (ISO 128 widths), lettering heights in mm (ISO 3098), and words.

    `label` is the least height of words; `name` and `letter` are for a part's own.
    """

    typeface: Typeface = field(default_factory=source_sans)
    words: Mapping[str, str] = field(default_factory=lambda: WORDS)
    wide: Fraction = Fraction("0.5")
    middle: Fraction = Fraction("0.35")
    narrow: Fraction = Fraction("0.25")
    thin: Fraction = Fraction("0.18")
    label: float = 2.5
    name: float = 3.5
    letter: float = 7.0

    @property
    def cut(self) -> Pen:
        """The pen for an outline to cut along."""
        return Pen(self.wide)

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
    def fine(self) -> Pen:
        """The pen for dimension, extension and leader lines and hatching."""
        return Pen(self.thin)

    def set_in(self, height: float, weight: int = 400, italic: bool = False) -> Lettering:
        """Return lettering of a height in mm."""
        return Lettering(self.typeface, height, weight, italic)

    def say(self, key: str, **values: object) -> str:
        """Return fixed words with values in their places; KeyError for an unknown key."""
        return self.words[key].format(**values)

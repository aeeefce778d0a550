"""How pictures are drawn: pens, greys, sizes and words.

In: nothing.  Out: `PictureStyle`, which every function that draws a picture is handed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from types import MappingProxyType

from patternpress.drawing.lettering import Lettering
from patternpress.drawing.lines import Pen, heavier
from patternpress.drawing.style import DrawingStyle, heavy_lines, sparing_areas

# English.  Other languages hand in a mapping with the same keys.
WORDS: Mapping[str, str] = MappingProxyType(
    {
        "left": "left",
        "right": "right",
        "front": "front",
        "back": "back",
        "top": "top",
        "bottom": "bottom",
        "several": "{count} × {what}",
        "upright": "upright again",
        "on its back": "now on its back",
        "on its front": "now on its front",
        "on its left": "now on its left side",
        "on its right": "now on its right side",
        "on its top": "now on its top",
        "view front": "front",
        "view left": "from the left",
        "view top": "from above",
        "scale": "Scale {scale}",
        "detail below": "from below",
        "detail back": "from the back",
        "detail front": "from the front",
        "detail high": "from above",
        "detail left": "from the left",
        "detail right": "from the right",
        "detail otherwise": "from another side",
        "face": "{letter} {name}, {seen}",
        "deep": "{size}, {deep} deep",
        "wide": "{size} wide",
        "round over": "round over",
        "round over by": "round over by {by}",
        "ease": "take the sharpness off",
        "ease by": "ease by {by}",
        "chamfer": "chamfer",
        "chamfer by": "chamfer by {by}",
        "seen front": "from the front",
        "seen back": "from the back",
        "seen left": "from the left",
        "seen right": "from the right",
        "seen top": "from above",
        "seen bottom": "from below",
    }
)


def _pen(width: str, *dashes: str) -> Pen:
    return Pen(Fraction(width), tuple(Fraction(each) for each in dashes))


_STRONG = (_pen("0.5"), _pen("0.25"))
_QUIET = (_pen("0.25"), _pen("0.18"))
_PLAIN = (_pen("0.35"), _pen("0.18"))
_GUIDE = _pen("0.18", "1.6", "0.9")
_FINE = _pen("0.18")
_GLUE = _pen("0.35", "0.35", "0.55")
_ARROW = _pen("0.35")
_UNSEEN = _pen("0.25", "1.2", "0.8")
_HIDDEN = _pen("0.18", "1.5", "0.9")
_FRAME = _pen("0.35")
_OUTLINE = _pen("0.7")


@dataclass(frozen=True, slots=True)
class PictureStyle:
    """Pens as (contour, inner edges), greys as (top, side to the light, side away), mm.

    `clear` is the air kept round labels; `letter` and `label` are heights of capitals.
    """

    drawing: DrawingStyle = field(default_factory=DrawingStyle)
    words: Mapping[str, str] = field(default_factory=lambda: WORDS)
    strong_pens: tuple[Pen, Pen] = _STRONG
    quiet_pens: tuple[Pen, Pen] = _QUIET
    plain_pens: tuple[Pen, Pen] = _PLAIN
    strong_tones: tuple[float, float, float] = (0.94, 0.86, 0.74)
    quiet_tones: tuple[float, float, float] = (1.0, 0.985, 0.95)
    guide: Pen = _GUIDE
    fine: Pen = _FINE
    glue: Pen = _GLUE
    pencil: Pen = _FINE
    arrow: Pen = _ARROW
    outline: Pen = _OUTLINE
    frame: Pen = _FRAME
    unseen: Pen = _UNSEEN
    hidden: Pen = _HIDDEN
    shadow: float = 0.92
    floor: float = 0.8  # of holes and grooves that a step makes
    letter: float = 3.5
    label: float = 2.5
    clear: float = 1.2

    def set_in(self, height: float, weight: int = 400, italic: bool = False) -> Lettering:
        """Return lettering of a height in mm."""
        return self.drawing.set_in(height, weight, italic)

    def say(self, key: str, **values: object) -> str:
        """Return fixed words with values in their places; KeyError for an unknown key."""
        return self.words[key].format(**values)

    def plain_lines(self) -> PictureStyle:
        """Return the style whose quiet lines suit a picture in which nothing is new."""
        return replace(self, quiet_pens=self.plain_pens)


def large(style: PictureStyle) -> PictureStyle:
    """Return the style for large print: letters one step of ISO 3098 up, lines one of ISO 128."""
    return replace(
        style,
        drawing=heavy_lines(replace(style.drawing, label=3.5)),
        letter=5.0,
        label=3.5,
        strong_pens=_both_heavier(style.strong_pens),
        quiet_pens=_both_heavier(style.quiet_pens),
        plain_pens=_both_heavier(style.plain_pens),
        guide=heavier(style.guide),
        fine=heavier(style.fine),
        glue=heavier(style.glue),
        pencil=heavier(style.pencil),
        arrow=heavier(style.arrow),
        outline=heavier(style.outline),
        frame=heavier(style.frame),
        unseen=heavier(style.unseen),
        hidden=heavier(style.hidden),
    )


def _both_heavier(pens: tuple[Pen, Pen]) -> tuple[Pen, Pen]:
    contour, inner = pens
    return heavier(contour), heavier(inner)


def sparing(style: PictureStyle) -> PictureStyle:
    """Return the style that saves ink: no greys, finer lines.

    What is new still has heavier lines than what is there already.
    """
    white = (1.0, 1.0, 1.0)
    return replace(
        style,
        drawing=sparing_areas(style.drawing),
        strong_tones=white,
        quiet_tones=white,
        shadow=1.0,
        floor=1.0,
        strong_pens=style.plain_pens,
        quiet_pens=(style.fine, style.fine),
        outline=style.frame,
    )

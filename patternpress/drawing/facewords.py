"""What is written at a hole, a groove or an edge in a picture of a face.

In: exact holes and grooves at full size, and how lengths and fixed words are said.  Out:
`Figure`s: "3 × Ø1.6, 1.6 deep".
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.shape import Axis, Groove, Hole
from patternpress.drawing.fromparts import DIAMETER
from patternpress.drawing.workpieces import EdgeWork
from patternpress.measure.pieces import Figure, Text, joined

_PLACE = "\x00"


@dataclass(frozen=True)
class Texts:
    """How a length and the widths of holes and grooves are shown; fixed words with values in their
    places.
    """

    show: Callable[[Fraction], Figure]
    bore: Callable[[Fraction], Figure]
    groove: Callable[[Fraction], Figure]
    say: Callable[..., str]

    def figure(self, key: str, **values: Figure) -> Figure:
        """Return fixed words with figures in their places, in the order of the language."""
        marks = {name: f"{_PLACE}{name}{_PLACE}" for name in values}
        parts = self.say(key, **marks).split(_PLACE)
        return joined(*self._pieces(parts, values))

    def counted(self, count: int, figure: Figure) -> Figure:
        """Return a figure with the number of things that it holds for."""
        if count == 1:
            return figure
        number = Figure((Text(str(count)),))
        return self.figure("several", count=number, what=figure)

    def _pieces(self, parts: list[str], values: dict[str, Figure]) -> Iterator[Figure]:
        for number, part in enumerate(parts):
            if number % 2:
                yield values[part]
            elif part:
                yield Figure((Text(part),))


def hole_words(hole: Hole, called: str, texts: Texts) -> Figure:
    """Return a hole's diameter and, if it does not go through, its depth; else its name."""
    if hole.diameter is None:
        return Figure((Text(called),))
    size = joined(Figure((Text(DIAMETER),)), texts.bore(hole.diameter))
    if hole.depth is None:
        return size
    return texts.figure("deep", size=size, deep=texts.show(hole.depth))


def groove_words(groove: Groove, texts: Texts) -> Figure:
    """Return a groove's width and depth."""
    low, high = groove.low, groove.high
    wide = high.y - low.y if groove.along is Axis.X else high.x - low.x
    size = texts.figure("wide", size=texts.groove(wide))
    return texts.figure("deep", size=size, deep=texts.show(groove.depth))


def edge_words(edge: EdgeWork, texts: Texts) -> Figure:
    """Return what is done to an edge, and by how much."""
    if edge.by is None:
        return Figure((Text(texts.say(edge.how)),))
    return texts.figure(f"{edge.how} by", by=texts.show(edge.by.value))

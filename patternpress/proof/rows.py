"""Put letters together to words and rows.

In: `Words` in the order of the file; drawings show them letter by letter.  Out: rows as text, with
a space where there is a gap as wide as one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from patternpress.proof.marks import Box, Words

_SPACE = 0.12  # of the size: a gap this wide is a space (a space is 0.2 in the fonts used)
_APART = 1.3  # of the size: a gap this wide parts two rows
_OFF_LINE = 0.55  # of the size: as much a numerator is raised at most
MM = 25.4 / 72


@dataclass(frozen=True, slots=True)
class Row:
    """Words that stand on one line beside each other."""

    text: str
    words: tuple[Words, ...]

    @property
    def box(self) -> Box:
        """The rectangle round the row, mm."""
        boxes = [each.box for each in self.words]
        return (
            min(box[0] for box in boxes),
            min(box[1] for box in boxes),
            max(box[2] for box in boxes),
            max(box[3] for box in boxes),
        )


def rows_of(words: Iterable[Words], apart: float = _APART) -> Iterator[Row]:
    """Yield rows in the order of the file; a gap of `apart` sizes parts two."""
    kept: list[Words] = []
    text = ""
    for each in words:
        gap = _gap(kept[-1], each, apart) if kept else None
        if gap is None:
            if kept:
                yield Row(_plain(text), tuple(kept))
            kept, text = [each], each.text
            continue
        text += (" " if gap and not text.endswith(" ") else "") + each.text
        kept.append(each)
    if kept:
        yield Row(_plain(text), tuple(kept))


def joined_words(words: Iterable[Words]) -> str:
    """Return all words as one text, rows parted by spaces."""
    return " ".join(row.text for row in rows_of(words))


def _gap(one: Words, two: Words, apart: float) -> bool | None:
    """Say whether a space parts two words of a row; None if they stand in different rows."""
    size = min(one.size, two.size) * MM
    large = max(one.size, two.size) * MM
    (a, b), (x, y) = one.along, one.at
    if large > size * 1.02 and not _fraction(one, two):
        return None
    if abs(a - two.along[0]) + abs(b - two.along[1]) > 0.01:
        return None
    away = (two.at[0] - x - a * one.length, two.at[1] - y - b * one.length)
    along, off = away[0] * a + away[1] * b, away[1] * a - away[0] * b
    if abs(off) > _OFF_LINE * large or not -0.6 * size < along < apart * large:
        return None
    return along > _SPACE * size


def _fraction(one: Words, two: Words) -> bool:
    """Say whether the smaller of two words is a digit of a fraction."""
    small = one if one.size < two.size else two
    return small.text.strip("\u00a0 ").isdigit() and one.size < 2 * two.size < 4 * one.size


def _plain(text: str) -> str:
    return " ".join(text.replace("\u00a0", " ").replace("\u202f", " ").split())

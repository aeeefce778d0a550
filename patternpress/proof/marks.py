"""What is on a page once it is read: lines, words and what they are said to be.

In: nothing; records only.  Out: `Line`, `Words`, `Image` and `Page`.  Lengths are millimetres of
the sheet, x to the right and y upwards from its lower left corner, whatever the file's own units.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

Place = tuple[float, float]
Matrix = tuple[float, float, float, float, float, float]
Box = tuple[float, float, float, float]  # left, low, right, high


@dataclass(frozen=True, slots=True)
class Tag:
    """Marked content round a mark: its name and its property list, as text."""

    name: str
    facts: Mapping[str, str]


Tags = tuple[Tag, ...]  # outermost first


def tag_of(tags: Tags, name: str) -> Tag | None:
    """Return the innermost tag of a name, or None."""
    return next((tag for tag in reversed(tags) if tag.name == name), None)


@dataclass(frozen=True, slots=True)
class Track:
    """One connected line: `points` are places and handles in turn, `kinds` says which.

    A "l" takes one place, a "c" two handles and a place; the first place starts it.
    """

    points: tuple[Place, ...]
    kinds: str
    closed: bool


@dataclass(frozen=True, slots=True)
class Line:
    """Tracks painted together; `width` in mm, 0 where only filled.

    `unseen`: painted white on white, or covering what lies beneath with white.  `dash`: how long
    its first dash is, mm, 0 for a whole line.
    """

    tracks: tuple[Track, ...]
    width: float
    dashed: bool
    filled: bool
    tags: Tags
    clip: Box | None = None
    unseen: bool = False
    dash: float = 0.0


@dataclass(frozen=True, slots=True)
class Words:
    """Letters shown by one operator.

    `at` is where the first stands on its line, `along` the unit vector they run in; `length` in
    mm; `size` the size of the letters in points as printed; `font` its name.
    """

    text: str
    at: Place
    along: Place
    length: float
    size: float
    font: str
    tags: Tags
    clip: Box | None = None

    @property
    def box(self) -> Box:
        """The rectangle of the letters' middles: where ink is sure to stand, in mm."""
        high = self.size * 25.4 / 72 * 0.45
        (x, y), (a, b) = self.at, self.along
        to = (x + a * self.length - b * high, y + b * self.length + a * high)
        return (min(x, to[0]), min(y, to[1]), max(x, to[0]), max(y, to[1]))


@dataclass(frozen=True)
class Page:
    """One sheet: its size in mm, its boxes, everything painted on it, in order."""

    number: int
    width: float
    height: float
    boxes: Mapping[str, Box]
    lines: tuple[Line, ...]
    words: tuple[Words, ...]
    images: int
    problems: tuple[str, ...] = ()

    @cached_property
    def text(self) -> str:
        """All words in the order of the file, parted by spaces."""
        return " ".join(each.text for each in self.words)

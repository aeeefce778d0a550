"""What the pages of the cutting layouts print.

In: nothing; these are records, part of `content.Content`.  Out: `LaidStock`s.  Text may be markup
(`markupsafe.Markup`); pictures are whole `<svg>` elements.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

LINE = 47  # letters in a line of a list of cuts that stands beside another
TOGETHER = 40  # cuts whose two halves are kept on one page


@dataclass(frozen=True)
class LaidDetail:
    """A crowded part of a board, drawn larger than the board."""

    picture: Markup
    caption: str


@dataclass(frozen=True)
class LaidBoard:
    """One board: its picture, and its cuts in order, numbered as in the picture.

    `pieces`: "2 × A side, 70 × 22 mm", for where there is no picture; `scale`: "1:4.5", of it;
    `shortened`: its empty end is drawn shorter than it is; `details`: what is framed in it.
    """

    heading: str
    picture: Markup
    cuts: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()
    scale: str = ""
    shortened: bool = False
    details: tuple[LaidDetail, ...] = ()

    def abreast(self) -> tuple[tuple[tuple[str, ...], ...], ...]:
        """Return the cuts as lists side by side, about as high as each other, a few at a time."""
        few = (self.cuts[at : at + TOGETHER] for at in range(0, len(self.cuts), TOGETHER))
        return tuple(_halves(cuts) for cuts in few)


@dataclass(frozen=True)
class LaidStock:
    """How all pieces of one stock come out of what is bought or at hand."""

    stock: str
    words: tuple[str, ...]
    boards: tuple[LaidBoard, ...]

    @property
    def shortened(self) -> bool:
        """Whether the end of one of its boards is drawn shorter than it is."""
        return any(board.shortened for board in self.boards)


def _halves(cuts: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    lines = [-(-len(Markup(cut).striptags()) // LINE) for cut in cuts]
    at = min(range(1, len(cuts) + 1), key=lambda n: (max(sum(lines[:n]), sum(lines[n:])), -n))
    return tuple(half for half in (cuts[:at], cuts[at:]) if half)

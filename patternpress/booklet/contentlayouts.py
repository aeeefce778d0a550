"""What the pages of the cutting layouts print.

In: nothing; these are records, part of `content.Content`.  Out: `LaidStock`s.  Text may be markup
(`markupsafe.Markup`); pictures are whole `<svg>` elements.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup


@dataclass(frozen=True)
class LaidBoard:
    """One board: its picture, and its cuts in order, numbered as in the picture.

    `pieces`: "2 × A side, 70 × 22 mm", for where there is no picture.
    """

    heading: str
    picture: Markup
    cuts: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()


@dataclass(frozen=True)
class LaidStock:
    """How all pieces of one stock come out of what is bought or at hand."""

    stock: str
    words: tuple[str, ...]
    boards: tuple[LaidBoard, ...]

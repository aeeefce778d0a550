"""The cutting layouts as plain text.

In: layouts and a `Wording`.  Out: `cutting-layouts.txt`: what to buy, the cuts of each
board in order, and its pieces, a line each, readable in any typeface.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from patternpress.booklet.contentlayouts import LaidBoard
from patternpress.booklet.filllayouts import laid_stocks
from patternpress.booklet.phrases import Phrases
from patternpress.booklet.shoptext import plain_words, told_of
from patternpress.booklet.wording import Wording
from patternpress.cutting.layouts import Layout


def layouts_text(title: str, layouts: Sequence[Layout], wording: Wording) -> str:
    """All layouts under a title, a paragraph each stock."""
    phrases = wording.phrases
    lines = [told_of(title, phrases.say("layouts"), phrases)]
    for stock in laid_stocks(layouts, wording, drawn=False):
        lines += ["", plain_words(stock.stock), *map(plain_words, stock.words)]
        for board in stock.boards:
            lines += _board(board, phrases)
    return "\n".join(lines) + "\n"


def _board(board: LaidBoard, phrases: Phrases) -> Iterator[str]:
    if board.heading:
        yield plain_words(board.heading)
    for number, cut in enumerate(board.cuts, 1):
        yield f"{number}. {plain_words(cut)}"
    yield from map(plain_words, board.notes)
    if board.pieces:
        pieces = "; ".join(map(plain_words, board.pieces))
        yield plain_words(phrases.say("lay_pieces", pieces=pieces))

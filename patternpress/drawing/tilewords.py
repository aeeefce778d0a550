"""Where the words of a tiled template stand that found no room on it.

In: a `Tiled` template, the size of its sheets as they lie on the page, and the frame.  Out: ink
beside or under the sheet that shows what they name; where that leaves no room, cells of words
alone, which go on a page as small templates do.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from patternpress.drawing.captions import Block
from patternpress.drawing.foot import Frame
from patternpress.drawing.ink import Extent, Ink, Words, extent, shifted
from patternpress.drawing.lettering import broken, figure_width, words
from patternpress.drawing.template import Cell
from patternpress.drawing.tiles import HEAD, Tiled

_BESIDE = 6.0  # mm from a sheet to words on its right
_UNDER = 4.0  # mm from a sheet to words under it, and from block to block
INDENT = 8.0  # mm from a part's letter to its name
_FEED = 1.62  # line feed in heights of a capital


def words_of(tiled: Tiled, number: int) -> tuple[tuple[Block, ...], ...]:
    """Return the blocks of words that belong beside a sheet, in several arrangements: on the first
    those of the whole template stand before its own.
    """
    own = tuple(tiled.named.get(number, ()))
    whole = tiled.beside if number == 1 else ()
    return tuple((*blocks, *own) for blocks in whole or ((),))


def on_sheet(
    said: Sequence[Sequence[Block]],
    size: tuple[float, float],
    frame: Frame,
    taken: Sequence[Extent],
) -> tuple[Ink, ...] | None:
    """Return words to the right of a sheet or under it, None where they fit neither.

    `size`: of a sheet as it lies on the page; `taken`: what stands there besides.
    """
    ceiling = frame.height - frame.head - HEAD
    page = Extent(0.0, frame.foot, frame.width, ceiling)
    for blocks in said:
        if not blocks:
            return ()
        for block in (_stacked(blocks), _in_a_row(blocks)):
            for left, top in ((size[0] + _BESIDE, ceiling), (0.0, ceiling - size[1] - _UNDER)):
                spot = Extent(left, top - block.height, left + block.width, top)
                inside = page.bottom <= spot.bottom and spot.right <= page.right
                if inside and not any(spot.meets(other) for other in taken):
                    return shifted(block.ink, spot.left, spot.bottom)
    return None


def cells_of_words(tiled: Tiled, blocks: Sequence[Block], frame: Frame) -> Iterator[Cell]:
    """Yield cells of words alone, each under a line that tells whose they are."""
    head = _head(tiled, frame)
    high = frame.room[1] - head.height - _UNDER
    for run in _runs(blocks, high):
        ink = _stacked((head, *run)).ink
        yield Cell(tiled.part, ink, extent(ink), Fraction(1), words_of=len(tiled.tiles))


def _head(tiled: Tiled, frame: Frame) -> Block:
    """Return the part's letter, its name and hand, and the sheets that the words belong to."""
    style, part = frame.style, tiled.part
    lettering = style.set_in(style.name, 600)
    whose = " · ".join([part.name, *([style.say(part.hand.value)] if part.hand else [])])
    sheets = style.say("words of", letter=part.letter, count=len(tiled.tiles))
    room = frame.column.left - INDENT - _UNDER
    lines: tuple[str, ...] = (f"{whose} · {sheets}",)
    if figure_width(words(lines[0]), lettering) > room:
        lines = (*broken(whose, lettering, room), sheets)
    feed = lettering.height * _FEED
    low = lettering.descent
    rows = [
        Words(words(line), (INDENT, low + feed * number), lettering)
        for number, line in enumerate(reversed(lines))
    ]
    top = low + feed * (len(lines) - 1) + lettering.height
    mark = Words(words(part.letter), (0.0, top - lettering.height), style.set_in(5.0, 700))
    box = extent((mark, *rows))
    return Block((mark, *rows), box.right, box.top)


def _runs(blocks: Sequence[Block], high: float) -> Iterator[list[Block]]:
    """Yield the blocks in runs that are no higher than so many mm; a block is never torn."""
    run: list[Block] = []
    for block in blocks:
        if run and _stacked((*run, block)).height > high:
            yield run
            run = []
        run.append(block)
    yield run


def _stacked(blocks: Sequence[Block]) -> Block:
    """Return blocks under each other, the first on top."""
    ink: list[Ink] = []
    up = 0.0
    for block in reversed(blocks):
        ink[:0] = shifted(block.ink, 0.0, up)
        up += block.height + _UNDER
    return Block(tuple(ink), max(block.width for block in blocks), up - _UNDER)


def _in_a_row(blocks: Sequence[Block]) -> Block:
    """Return blocks beside each other, their tops level."""
    ink: list[Ink] = []
    high, along = max(block.height for block in blocks), 0.0
    for block in blocks:
        ink += shifted(block.ink, along, high - block.height)
        along += block.width + _BESIDE
    return Block(tuple(ink), along - _BESIDE, high)

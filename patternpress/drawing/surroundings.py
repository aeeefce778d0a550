"""Words that found no room on their part.

In: a draft, which is a part's ink so far and the arrangements of the words left over.  Out:
the ink with those words beside the part or above it, where the whole takes least paper.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from patternpress.drawing.captions import Block
from patternpress.drawing.dimensions import leader
from patternpress.drawing.ink import Extent, Ink, extent, shifted
from patternpress.drawing.room import Surface, find_room
from patternpress.drawing.style import DrawingStyle

_APART = 4.0  # mm between a part with its dimensions and words outside it
_DOT = 0.6  # mm of wood that the end of a leader needs
_THIRTY = 3**0.5  # run over rise of a line at 30 degrees


class Aside(Enum):
    """Where words outside go: making the drawing longer one way only, above, or on least paper."""

    SHORT = "short"
    ABOVE = "above"
    LEAST = "least"


@dataclass(frozen=True, slots=True)
class Setting:
    """Where words outside a template may stand: the room in mm that it should keep to."""

    style: DrawingStyle
    room: tuple[float, float]
    words: Aside = Aside.SHORT


@dataclass(frozen=True, slots=True)
class Draft:
    """What has been drawn, what is still free, and what must still go outside.

    `outside` holds arrangements of the same words, of which one is used.
    """

    ink: tuple[Ink, ...]
    surface: Surface
    outside: tuple[Block, ...] = ()
    loose: Block | None = None
    needs_leader: bool = False


def with_outside(draft: Draft, setting: Setting) -> tuple[Ink, ...]:
    """Return the ink with the words left over, where the whole takes least paper.

    Places that keep to the room come first, then those that make the drawing longer in one
    direction only.
    """
    style = setting.style
    blocks = _with_loose(draft.outside, draft.loose, under=not draft.needs_leader)
    if not blocks:
        return draft.ink
    held, whole = extent(draft.ink), draft.surface.extent
    tries = []
    for block in blocks:
        for left, low in _places(block, held, whole, draft.needs_leader, style):
            spot = Extent(left, low, left + block.width, low + block.height)
            both = _around(held, spot)
            over = both.width > setting.room[0] or both.height > setting.room[1]
            grows = both.width > held.width + 1 and both.height > held.height + 1
            if setting.words is Aside.ABOVE:
                grows = low < whole.top
            elif setting.words is Aside.LEAST:
                grows = False
            cost = (over, grows, both.width * both.height)
            tries.append((cost, block, spot))
    _, block, spot = min(tries, key=lambda tried: tried[0])
    ink = shifted(block.ink, spot.left, spot.bottom)
    if not draft.needs_leader:
        return (*draft.ink, *ink)
    return (*draft.ink, *ink, *_leader_to(draft.surface, spot, style))


def _places(
    block: Block, held: Extent, whole: Extent, needs_leader: bool, style: DrawingStyle
) -> list[tuple[float, float]]:
    """Return where outside words may stand: to the right of everything, or above it."""
    middle = (whole.bottom + whole.top - block.height) / 2
    above = (whole.left, held.top + _APART * 0.7)
    if not needs_leader:
        return [(held.right + _APART, max(middle, held.bottom)), above]
    # The leader comes down from beside the letter and passes over the edge's name.
    lifted = whole.top + 5 - (block.height - style.letter / 2)
    beside = (held.right + _APART, max(lifted, held.bottom))
    return [beside, above] if whole.width >= 40 else [beside]


def _around(one: Extent, two: Extent) -> Extent:
    return Extent(
        min(one.left, two.left),
        min(one.bottom, two.bottom),
        max(one.right, two.right),
        max(one.top, two.top),
    )


def _with_loose(blocks: tuple[Block, ...], loose: Block | None, under: bool) -> tuple[Block, ...]:
    """Return the blocks with the loose grain arrow to the right of each, or also under each."""
    if loose is None:
        return blocks
    if not blocks:
        return (loose,)
    return tuple(
        both
        for block in blocks
        for both in (_side_by_side(block, loose), *((_stacked(block, loose),) if under else ()))
    )


def _side_by_side(block: Block, loose: Block) -> Block:
    high = max(block.height, loose.height)
    ink = (
        *shifted(block.ink, 0, high - block.height),
        *shifted(loose.ink, block.width + 5, (high - loose.height) / 2),
    )
    return Block(ink, block.width + 5 + loose.width, high)


def _stacked(block: Block, loose: Block) -> Block:
    ink = (*shifted(block.ink, 0, loose.height + 2), *loose.ink)
    return Block(ink, max(block.width, loose.width), block.height + loose.height + 2)


def _on_wood(surface: Surface, prefer: tuple[float, float]) -> tuple[float, float]:
    """Return a place on the part itself, not in a hole, near the one preferred."""
    spot = find_room(surface, (_DOT, _DOT), prefer, _DOT / 2)
    return prefer if spot is None else (spot.left + _DOT / 2, spot.bottom + _DOT / 2)


def _leader_to(surface: Surface, spot: Extent, style: DrawingStyle) -> list[Ink]:
    """Return a leader from outside words to a part that holds not even its letter.

    From beside, it comes level from the letter and then down at 30 degrees, between the names
    of the top and the right edge.
    """
    whole = surface.extent
    down = min(whole.height / 4, 1.0)
    if spot.left > whole.right:
        level = spot.top - style.letter / 2
        tip = _on_wood(surface, (whole.right - min(whole.width / 3, 2.0), whole.top - down))
        # Words that stand near are reached more steeply: the knee never lies behind the letter.
        knee = (min(tip[0] + (level - tip[1]) * _THIRTY, spot.left - 1.5), level)
        return leader(((spot.left - 0.8, level), knee, tip), style, on_face=True)
    start = (spot.left + style.letter / 3, spot.top - style.letter - 1.0)
    middle = (whole.bottom + whole.top) / 2
    tip = _on_wood(surface, (whole.left + min(whole.width / 3, 5.0), middle))
    return leader((start, tip), style, on_face=True)

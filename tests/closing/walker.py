"""A walker that finds chains of pieces, and knows nothing of how figures are closed.

In: facts as JSON (places, extents, printed figures).  Out: `Chain`s: rows of pieces that lie face
to face along an axis and together are as long as one other piece, or as the whole work; and what
a buyer gets who reads the printed figures and adds.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

AXES = ("wide", "deep", "high")
INCH = Fraction(254, 10)


@dataclass(frozen=True)
class Box:
    """A placed piece: its part, and its low and high corner in mm; part axes run as the work's."""

    key: str
    part: str
    low: tuple[Fraction, ...]
    high: tuple[Fraction, ...]


@dataclass(frozen=True)
class Chain:
    """Pieces in a row along an axis, and the piece that is as long (or nothing: the work)."""

    axis: str
    row: tuple[str, ...]
    parts: tuple[str, ...]
    whole: str
    whole_part: str


def boxes(facts: Mapping[str, Any]) -> list[Box]:
    """Every piece whose sides stand along the axes and that is not turned about."""
    extents = {part["name"]: part["extents"] for part in facts["parts"]}
    found = []
    for place in facts["places"]:
        sizes = extents[place["part"]]
        columns = [[Fraction(value) for value in column] for column in place["axes"]]
        straight = all(abs(columns[a][a]) == 1 for a in range(3))
        if not sizes or not straight:
            continue
        corner = [Fraction(value) for value in place["corner"]]
        ends = [corner[a] + columns[a][a] * Fraction(sizes[AXES[a]]["mm"]) for a in range(3)]
        low = tuple(min(pair) for pair in zip(corner, ends, strict=True))
        high = tuple(max(pair) for pair in zip(corner, ends, strict=True))
        found.append(Box(place["piece"], place["part"], low, high))
    return found


def overlap(one: Box, two: Box, axis: int) -> bool:
    """Whether two boxes lie opposite each other along an axis."""
    rest = [a for a in range(3) if a != axis]
    return all(one.low[a] < two.high[a] and two.low[a] < one.high[a] for a in rest)


def rows(every: list[Box], axis: int) -> Iterator[tuple[Box, ...]]:
    """Rows of two and more pieces, each touching the next."""
    after = {
        one.key: [t for t in every if one.high[axis] == t.low[axis] and overlap(one, t, axis)]
        for one in every
    }

    def longer(row: tuple[Box, ...]) -> Iterator[tuple[Box, ...]]:
        if len(row) > 1:
            yield row
        for each in after[row[-1].key]:
            yield from longer((*row, each))

    for one in every:
        yield from longer((one,))


def chains(facts: Mapping[str, Any]) -> list[Chain]:
    """Every row that is as long as another piece beside it, or as the work; each row once."""
    every = boxes(facts)
    found = []
    for axis, name in enumerate(AXES):
        low, high = min(b.low[axis] for b in every), max(b.high[axis] for b in every)
        for row in rows(every, axis):
            start, end = row[0].low[axis], row[-1].high[axis]
            same = [
                b for b in every if b not in row and b.low[axis] == start and b.high[axis] == end
            ]
            if same or (start, end) == (low, high):
                whole = same[0] if same else None
                found.append(
                    Chain(
                        name,
                        tuple(b.key for b in row),
                        tuple(b.part for b in row),
                        whole.key if whole else "",
                        whole.part if whole else "",
                    )
                )
    return found


def read(text: str) -> Fraction:
    """A printed length in mm, read as a buyer would: `3 5/32 in`, `0.008 in`, `12.5 mm`."""
    text = text.replace("\u00a0", " ")
    found = re.fullmatch(r"(?:(\d+) )?(?:(\d+)/(\d+)|(\d*\.?\d+)) (in|mm)", text)
    assert found, text
    whole, above, below, plain, unit = found.groups()
    value = Fraction(whole or 0) + (Fraction(int(above), int(below)) if above else Fraction(plain))
    return value * (INCH if unit == "in" else 1)


def printed(facts: Mapping[str, Any], part: str, axis: str) -> Fraction:
    """The printed size of a part along an axis."""
    extents = next(each["extents"] for each in facts["parts"] if each["name"] == part)
    return read(extents[axis]["printed"])


def missed(chain: Chain, facts: Mapping[str, Any]) -> Fraction:
    """By how much the printed figures of a chain do not add up, in mm."""
    total = sum((printed(facts, part, chain.axis) for part in chain.parts), Fraction(0))
    if chain.whole_part:
        return total - printed(facts, chain.whole_part, chain.axis)
    sizes = dict(zip(AXES, facts["overall"].values(), strict=True))
    # The finished size is printed to the same step as everything else.
    return total - Fraction(sizes[chain.axis])

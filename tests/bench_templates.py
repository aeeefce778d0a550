"""How fast templates are drawn and put on pages, and how few pages they take.

Sizes come from a fixed row of pseudo-random numbers, so that every run measures the same.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from fractions import Fraction

from rectpack import newPacker

from patternpress.assembly.blank import Round, RoundHole
from patternpress.assembly.model import Model
from patternpress.assembly.shape import Face
from patternpress.booklet.filltemplates import template_pages
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from patternpress.drawing.arranging import BETWEEN, arranged
from patternpress.drawing.ink import Extent
from patternpress.drawing.part import TemplatePart
from patternpress.drawing.sheets import sheets
from tests.bench_rows import Row, best
from tests.drawing import samples

OUTLINES = 60
ROOM = (176.0, 210.0)  # mm
AREA = (Fraction(190), Fraction(236))


def templates_drawn(model: Model) -> Callable[[], object]:
    """Return the drawing of all template pages of a model."""
    wording = Wording(model, read_phrases(model.edition.language))
    return lambda: template_pages(model, wording)


def arrangement() -> list[Row]:
    """Sixty outlines: pages against another packer's, and how times grow with their number."""
    boxes, more = _boxes(OUTLINES), _boxes(2 * OUTLINES)
    parts, twice = _parts(OUTLINES // 2), _parts(OUTLINES)
    found = best(
        {
            "one": lambda: arranged([[box] for box in boxes], ROOM),
            "two": lambda: arranged([[box] for box in more], ROOM),
            "sheets": lambda: sheets(parts, AREA),
            "twice": lambda: sheets(twice, AREA),
        }
    )
    ours = len(arranged([[box] for box in boxes], ROOM))
    return [
        Row("pages for 60 outlines, to a general packer", ours / _packed(boxes), goal=1.25),
        Row("arranging 60 outlines", found["one"], "s", goal=0.5),
        Row("arranging 120 outlines, to twice that", found["two"] / found["one"] / 2, goal=3),
        Row("templates of 60 parts, to twice 30", found["twice"] / found["sheets"] / 2, goal=1.5),
        Row("templates of 60 parts", found["twice"], "s"),
    ]


def _boxes(count: int) -> list[Extent]:
    chance = random.Random(60)
    return [Extent(0, 0, chance.uniform(15, 120), chance.uniform(12, 90)) for _ in range(count)]


def _packed(boxes: list[Extent]) -> int:
    """How many pages a general packer needs for the same boxes, without turning any."""
    packer = newPacker(rotation=False)
    for box in boxes:
        packer.add_rect(int((box.width + BETWEEN) * 10) + 1, int((box.height + BETWEEN) * 10) + 1)
    packer.add_bin(int((ROOM[0] + BETWEEN) * 10), int((ROOM[1] + BETWEEN) * 10), count=len(boxes))
    packer.pack()
    return len(packer)


def _parts(count: int) -> list[TemplatePart]:
    chance = random.Random(61)
    found = []
    for number in range(count):
        wide, high = chance.randint(15, 120), chance.randint(12, 90)
        hole = RoundHole("peg", samples.at(wide / 2, high / 2), Fraction(2))
        corner = {(Face.LEFT, Face.TOP): Round(Fraction(min(wide, high), 4))}
        name = f"Panel {number}"
        found.append(samples.part("A", name, wide, high, holes=(hole,), corners=corner))
    return found

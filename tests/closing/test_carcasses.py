"""Five hundred carcasses in inches: every sum adds up, and no figure moves far.

Each file of this kind takes a while: the number is the point of it.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from patternpress.assembly.facts import facts
from patternpress.assembly.model import Model, work_out
from patternpress.closing.close import Closed, close
from patternpress.design.read import Reading, read_text
from tests.assembly.carcass import carcass, plan
from tests.closing.walker import INCH, Chain, chains, missed

CHUNK = 25
STEP = INCH / 64
# How far a figure may be from the design: this project's own aim.
FARTHEST = Fraction(3, 2)


def reading(number: int) -> Reading:
    return read_text(carcass(number, plain=True), "carcass.yaml", Path())


def wrong(closed: Closed, found: list[Chain], told: dict[str, Any]) -> list[Chain]:
    """Chains whose printed figures do not add up, where no piece of them is cut to fit."""
    to_fit = {
        part.name.value: {axis.value for axis in part.cut_to_fit}
        for part in closed.figures.book.parts
    }
    return [
        each
        for each in found
        if missed(each, told)
        and not any(each.axis in to_fit.get(part, ()) for part in (*each.parts, each.whole_part))
    ]


def facts_of(model: Model) -> dict[str, Any]:
    told = facts(model)
    return {key: told[key] for key in ("places", "parts", "overall")}


@pytest.mark.parametrize("first", range(0, 500, CHUNK))
def test_five_hundred_carcasses_add_up(first: int) -> None:
    for number in range(first, first + CHUNK):
        read = reading(number)
        closed = close(read, "inch")
        told = facts_of(closed.model)
        found = chains(told)
        of = plan(number)
        # Sides with floor, roof, back and each shelf between them; floor, back and roof in
        # height; each shelf and the back in depth; three in a drawer.
        assert len(found) == 4 + 2 * of.shelves + 3 * of.drawer, number
        assert wrong(closed, found, told) == [], number
        farthest = max(
            abs(closed.figures.after[key].mm - each.mm)
            for key, each in closed.figures.before.items()
        )
        assert farthest <= FARTHEST * STEP, number


def test_by_plain_rounding_most_of_them_do_not() -> None:
    off = 0
    for number in range(40):
        told = facts_of(work_out(reading(number), "inch"))
        off += any(missed(each, told) for each in chains(told))
    assert off > 30


def test_the_walker_sees_a_piece_that_is_a_step_too_long() -> None:
    read = reading(3)
    closed = close(read, "inch")
    told = facts_of(closed.model)
    (floor,) = (part for part in told["parts"] if part["name"] == "floor")
    sound = wrong(closed, chains(told), told)
    floor["extents"]["wide"]["printed"] = "1 1/64 in"
    assert sound == []
    assert {each.row[1] for each in wrong(closed, chains(told), told)} == {"floor"}


@pytest.mark.parametrize("number", range(40, 60))
def test_in_half_millimetres_they_add_up_as_well(number: int) -> None:
    text = carcass(number) + "editions:\n  coarse: {units: mm, mm step: 0.5 mm}\n"
    closed = close(read_text(text, "carcass.yaml", Path()), "coarse")
    told = facts_of(closed.model)
    assert wrong(closed, chains(told), told) == []
    given = [
        each
        for key, each in closed.figures.after.items()
        if key[0] == "sizes" and each.words in ("width", "depth", "height")
    ]
    assert [each.mm % Fraction(1, 2) for each in given] == [0, 0, 0]

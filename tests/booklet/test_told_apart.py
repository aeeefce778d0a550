"""Parts of a demo that are easily taken for each other are told apart in its cutting list.

Which ones they are is found here from the sizes in the facts alone.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from patternpress.assembly.model import edition_names
from patternpress.booklet.fillcutting import cutting
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import Wording, wording_of
from patternpress.closing.close import close
from patternpress.closing.facts import closed_facts
from patternpress.design.read import read_design

DESIGNS = Path(__file__).parents[2] / "designs"
DEMOS = ("keepers-desk", "signal-shelf", "net-tote", "smaller/oil-cupboard")
NEAR = Fraction(1, 10)


def made(demo: str) -> tuple[dict[str, Any], Wording]:
    reading = read_design(DESIGNS / f"{demo}.yaml")
    assert reading.book is not None
    closed = close(reading, edition_names(reading.book)[0])
    return closed_facts(closed), wording_of(closed.model)


def sizes(part: dict[str, Any]) -> list[Fraction]:
    return sorted(Fraction(each["mm"]) for each in part["extents"].values())


def near(one: dict[str, Any], other: dict[str, Any]) -> bool:
    """Whether two parts of one stock differ in size, but by less than a tenth in each."""
    if one["form"] == "bought" or one["stock"] != other["stock"]:
        return False
    pairs = list(zip(sizes(one), sizes(other), strict=True))
    return any(a != b for a, b in pairs) and all(abs(a - b) < NEAR * max(a, b) for a, b in pairs)


def plain(part: dict[str, Any]) -> bool:
    """Whether a part is a rectangle."""
    return len(part["shape"]["outline"]) <= 5 and not any(
        "curve" in each for each in part["shape"]["outline"]
    )


@pytest.mark.parametrize("demo", DEMOS)
def test_every_part_has_a_letter_of_its_own(demo: str) -> None:
    facts, wording = made(demo)
    letters = [each["letter"] for each in facts["parts"]]
    assert len(letters) == len(set(letters))
    listed = [row.letter for group in cutting(wording) for row in group.rows]
    assert set(listed) <= set(letters)


@pytest.mark.parametrize("demo", DEMOS)
def test_near_alike_rectangles_name_each_other(demo: str) -> None:
    facts, wording = made(demo)
    parts = [each for each in facts["parts"] if each["form"] != "bought" and plain(each)]
    rows = {row.letter: row for group in cutting(wording) for row in group.rows}
    pairs = [(a, b) for a, b in combinations(parts, 2) if near(a, b)]
    for one, other in [*pairs, *((b, a) for a, b in pairs)]:
        said = plain_words(rows[one["letter"]].note)
        assert "Looks like the " in said, (demo, one["name"], other["name"])
        assert "write the letter on it" in said


@pytest.mark.parametrize("demo", DEMOS)
def test_a_part_with_two_hands_is_told_with_both(demo: str) -> None:
    facts, wording = made(demo)
    rows = {row.letter: row for group in cutting(wording) for row in group.rows}
    for part in facts["parts"]:
        if part["twins"]:
            said = plain_words(rows[part["letter"]].note)
            assert "Mirrored: " in said, (demo, part["name"], said)


def test_the_demos_hold_what_is_asked() -> None:
    every = [made(demo)[0]["parts"] for demo in DEMOS]
    assert sum(near(a, b) for parts in every for a, b in combinations(parts, 2)) >= 1
    assert sum(bool(part["twins"]) for parts in every for part in parts) >= 1

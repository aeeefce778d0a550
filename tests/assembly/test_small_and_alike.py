"""Parts that are taken for each other, and pieces that a small child could swallow."""

from __future__ import annotations

import json
from itertools import permutations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.assembly.facts import facts
from patternpress.assembly.lookalikes import look_alikes
from patternpress.assembly.model import work_out
from patternpress.assembly.smallparts import fits_cylinder, small_pieces
from patternpress.design.read import read_text
from tests.assembly.trays import design, worked

# ------------------------------------------------------------------ 16 CFR 1501.4


@pytest.mark.parametrize(
    ("sizes", "fits"),
    [
        # The inch figures govern: 1.25 in across, 1 in deep where it is shallowest, 2.25 in at
        # most.  Depths on the shallow side are from memory.
        ((22.45, 22.45, 25.4), True),  # a square that fills the circle, no higher than 1 in
        ((22.46, 22.46, 25.4), False),
        ((1, 1, 55), True),  # a splinter along the deep side: 57.15 - 1 - 0.01
        ((1, 1, 56.2), False),
        ((2, 2, 57.15), False),
        ((31.75, 0.01, 25.4), True),
        ((31.76, 1, 31.76), False),
        ((40, 40, 2), False),
        ((10, 20, 30), True),
    ],
)
def test_the_cylinder(sizes: tuple[float, float, float], fits: bool) -> None:
    assert {fits_cylinder(each) for each in permutations(sizes)} == {fits}


sides = st.floats(0.5, 60)


@given(sides, sides, sides)
def test_what_fits_has_all_its_corners_inside(a: float, b: float, c: float) -> None:
    """Tried with corners: a cylinder of 1.25 in, its bottom at 45 degrees, so (2.25 - 1) / 1.25."""
    radius = 31.75 / 2
    found = False
    for x, y, z in permutations((a, b, c)):
        for step in range(0, 3176, 25):
            near = step / 100  # how far the box begins from the deepest point
            corners = [(near + dx - radius, dy) for dx in (0, x) for dy in (-y / 2, y / 2)]
            inside = all(u * u + v * v <= radius * radius + 1e-9 for u, v in corners)
            found |= inside and z <= 57.15 - (near + x) + 1e-9
    if found:
        assert fits_cylinder((a, b, c))
    slack = fits_cylinder((a + 0.3, b + 0.3, c + 0.3))
    assert found or not slack


def test_small_pieces_are_counted_without_spares() -> None:
    text = design(
        parts="""
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  foot: {stock: square batten, high: 8 mm, quantity: 4, spares: 2}
  nail: {stock: pin, quantity: 3}
"""
    )
    small = f"scale: 1:12\n{text}"
    assert small_pieces(worked(small)) == 1 + 4 + 3  # the base goes in on its short end
    assert small_pieces(worked(small.replace("deep: 30 mm", "deep: 32 mm"))) == 4 + 3
    assert small_pieces(worked(text)) == 1 + 4  # the nails of a thing in use are driven home


def test_the_count_is_one_of_the_facts() -> None:
    reading = read_text(design() + "editions: {metric: {units: mm}}\n", "tray.yaml", Path())
    found = facts(work_out(reading, "metric"))
    assert json.loads(json.dumps(found))["small_parts"] == 1


# ------------------------------------------------------------------ taken for each other


@pytest.mark.parametrize(
    ("sizes", "stock", "alike"),
    [
        ("wide: 42 mm, deep: 30 mm", "board", True),
        ("wide: 30 mm, deep: 42 mm", "board", True),  # turned, it looks the same
        ("deep: 31 mm, high: 39 mm", "board", True),
        ("wide: 40 mm, deep: 30 mm", "board", False),  # equal ones may be exchanged
        ("wide: 44.4 mm, deep: 30 mm", "board", True),
        ("wide: 44.5 mm, deep: 30 mm", "board", False),  # more than a tenth
        ("wide: 42 mm, deep: 40 mm", "board", False),
        ("wide: 42 mm, deep: 30 mm", "other board", False),
        # A house's gable is not taken for a rectangle.
        ("wide: 42 mm, deep: 30 mm, corners: {left back: cut off 21 x 20 mm}", "board", False),
    ],
)
def test_which_parts_look_alike(sizes: str, stock: str, alike: bool) -> None:
    text = design(
        stock="\n  board: {sheet: 2 mm}\n  other board: {sheet: 2 mm}\n",
        parts="\n  base: {stock: board, wide: 40 mm, deep: 30 mm}\n"
        f"  floor: {{stock: {stock}, {sizes}}}\n",
    )
    found = {"base": ("floor",), "floor": ("base",)} if alike else {}
    assert look_alikes(worked(text)) == found


def test_the_most_alike_comes_first_and_strips_and_rods_are_told_too() -> None:
    text = design(
        parts="""
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  far one: {stock: board, wide: 43 mm, deep: 30 mm}
  near one: {stock: board, wide: 41 mm, deep: 30 mm}
  rail: {stock: square batten, wide: 40 mm}
  bar: {stock: square batten, wide: 41 mm}
  post: {stock: batten, high: 41 mm}
  peg: {stock: dowel, high: 8 mm}
  long peg: {stock: dowel, high: 9 mm}
  short peg: {stock: dowel, high: 7.2 mm}
  pin head: {stock: dowel, high: 6.2 mm}
"""
    )
    found = look_alikes(worked(text))
    assert found["base"] == ("near one", "far one")
    assert (found["rail"], found["bar"]) == (("bar",), ("rail",))
    assert found["peg"] == ("short peg",)  # it differs by less than a millimetre
    assert not {"long peg", "pin head"} & found.keys()
    assert "post" not in found


PLAIN = "wide: 40 mm, deep: 30 mm"


@pytest.mark.parametrize(
    ("one", "two", "alike"),
    [
        (PLAIN, PLAIN, False),
        (PLAIN, "deep: 40 mm, high: 30 mm", False),
        # The grain runs along one and across the other.
        (f"{PLAIN}, grain: left to right", f"{PLAIN}, grain: front to back", True),
        (f"{PLAIN}, holes: {{a: {{round: 2 mm, at: centre}}}}", PLAIN, True),
        (
            f"{PLAIN}, holes: {{a: {{round: 2 mm, at: centre}}}}",
            f"{PLAIN}, holes: {{b: {{round: 2 mm, at: centre}}}}",
            False,
        ),
        # Mirror images that are two parts.
        (
            f"{PLAIN}, holes: {{a: {{round: 2 mm, at: 9 mm from left and 9 mm from front}}}}",
            f"{PLAIN}, holes: {{a: {{round: 2 mm, at: 9 mm from right and 9 mm from front}}}}",
            True,
        ),
        (f"{PLAIN}, ends: {{left: '45 deg, longest at top'}}",
         f"{PLAIN}, ends: {{right: '45 deg, longest at top'}}", True),
    ],
)  # fmt: skip
def test_parts_of_one_size_look_alike_unless_one_does_for_the_other(
    one: str, two: str, alike: bool
) -> None:
    parts = f"\n  base: {{stock: board, {one}}}\n  lid: {{stock: board, {two}}}\n"
    assert look_alikes(worked(design(parts=parts))) == (
        {"base": ("lid",), "lid": ("base",)} if alike else {}
    )

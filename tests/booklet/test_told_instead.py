"""What is told in the booklet, and is no problem: which pieces look alike, which are mirror images,
and that small ones are not for small children.  On designs made for it; `test_told_apart.py` asks
the demos for the first two.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest

from patternpress.assembly.facts import facts
from patternpress.assembly.hands import mirror_images
from patternpress.assembly.model import Model, check, work_out
from patternpress.assembly.smallparts import fits_cylinder
from patternpress.booklet.fillcutting import notes_of
from patternpress.booklet.fillsteps import finishing, steps
from patternpress.booklet.filltemplates import template_pages
from patternpress.booklet.usual import caution_groups, cutting_cautions
from patternpress.booklet.wording import Wording, wording_of
from patternpress.design.read import read_design, read_text
from tests.assembly.trays import design

DESIGNS = Path(__file__).parents[2] / "designs"
DEMOS = ("keepers-desk", "net-tote", "signal-shelf", "smaller/oil-cupboard")


@cache
def demo(name: str) -> Model:
    return work_out(read_design(DESIGNS / f"{name}.yaml"), "metric")


def made(parts: str, steps: str = "", **sections: str) -> Model:
    """A tray with some parts more, all of them used; no error in it."""
    said = {"parts": f"\n  base: {{stock: board, wide: 80 mm, deep: 70 mm}}{parts}"}
    said["steps"] = f"\n  - step: Do it\n    start: base\n    join:{steps}" if steps else (
        "\n  - step: Do it\n    start: base"
    )  # fmt: skip
    reading = read_text(f"scale: 1:12\n{design(**said, **sections)}", "tray.yaml", Path())
    assert [each.what for each in check(reading) if steps and each.is_error] == []
    return work_out(reading, "metric")


def notes(model: Model, name: str) -> str:
    """What the cutting list says beside a part."""
    part = model.worked.part(name)
    assert part is not None
    return " ".join(each.striptags() for each in notes_of(part, wording_of(model)))


# ------------------------------------------------------------------ pieces that look alike


def nearly_equal(model: Model) -> Iterator[tuple[str, str]]:
    """Pairs of parts of one stock whose figures differ by less than a millimetre, or not at all
    though the grain runs otherwise.
    """
    stock = {part.name: part.stock.name.value for part in model.worked.parts}
    for one, two in combinations(facts(model)["parts"], 2):
        if one["form"] == "bought" or stock[one["name"]] != stock[two["name"]]:
            continue
        sizes = [
            [
                Fraction(each["extents"][each[key]]["mm"])
                for key in ("along", "across", "thin")
                if each[key]
            ]
            for each in (one, two)
        ]
        apart = [abs(a - b) for a, b in zip(*map(sorted, sizes), strict=True)]
        turned = sizes[0] != sizes[1] and max(apart) == 0
        if 0 < max(apart) < 1 or turned:
            yield one["name"], two["name"]


@pytest.mark.parametrize(
    "parts",
    [
        "\n  lid: {stock: board, wide: 30 mm, deep: 20 mm}"
        "\n  lining: {stock: board, wide: 30.6 mm, deep: 20 mm}",
        "\n  rail: {stock: square batten, wide: 40 mm}"
        "\n  bar: {stock: square batten, wide: 40.4 mm}",
        "\n  peg: {stock: dowel, high: 6 mm}\n  stop: {stock: dowel, high: 6.5 mm}",
        "\n  lid: {stock: board, wide: 30 mm, deep: 20 mm, grain: left to right}"
        "\n  lining: {stock: board, wide: 30 mm, deep: 20 mm, grain: front to back}",
    ],
)
def test_nearly_equal_parts_of_any_stock_are_told_of_each_other(parts: str) -> None:
    model = made(parts)
    ((one, two),) = nearly_equal(model)
    assert f"Looks like the {two}" in notes(model, one)
    assert f"Looks like the {one}" in notes(model, two)


# ------------------------------------------------------------------ mirror images


def mirrored(model: Model) -> list[tuple[str, str]]:
    """Each part of which a piece is a mirror image with work of its own, and that piece."""
    worked = model.worked
    return [(part.name, piece) for part in worked.parts for piece in mirror_images(part, worked)]


def check_told_of_hands(model: Model) -> None:
    """In the list by name; and on the templates each hand by itself."""
    words = wording_of(model)
    svg = "".join(f.svg for page in template_pages(model, words) for f in page.figures)
    titles = " ".join(re.findall(r"<title[^>]*>(Template [^<]*)</title>", svg))
    for part, piece in mirrored(model):
        assert "Mirrored: " in notes(model, part)
        assert piece in notes(model, part).partition("Mirrored: ")[2]
        assert f" {part}, left hand" in titles
        assert f" {part}, right hand" in titles


PAIR = "pieces: {left one: as drawn, right one: mirrored left to right}"
HANDED = {
    "board": f"stock: board, deep: 30 mm, high: 20 mm, {PAIR}, "
    "holes: {a: {round: 2 mm, on: left, deep: 1 mm, at: 5 mm from front and 5 mm from top}}",
    "outline": f"stock: board, wide: 30 mm, high: 20 mm, {PAIR}, "
    "corners: {top left: round 6 mm}, best face: front",
    "strip": f"stock: batten, high: 30 mm, broad side: left, {PAIR}, "
    "ends: {top: '45 deg, longest at front', bottom: '20 deg, longest at left'}",
}


@pytest.mark.parametrize("kind", HANDED)
def test_the_hands_of_a_pair_are_told(kind: str) -> None:
    model = made(f"\n  thing: {{{HANDED[kind]}}}")
    assert mirrored(model) == [("thing", "right one")]
    check_told_of_hands(model)


def test_mirror_images_that_are_two_parts_are_told_of_each_other() -> None:
    hole = "holes: {{a: {{round: 2 mm, at: 5 mm from {} and 5 mm from front}}}}"
    parts = "\n  left flap: {stock: board, wide: 30 mm, deep: 20 mm, HOLE}".replace(
        "HOLE", hole.format("left")
    )
    parts += parts.replace("left", "right")
    model = made(parts)
    assert "Looks like the right flap" in notes(model, "left flap")
    assert "Looks like the left flap" in notes(model, "right flap")


# ------------------------------------------------------------------ small parts


def told_small(words: Wording) -> tuple[bool, bool]:
    """Whether small parts have their warning in front, and at the cutting or at a step."""
    front = [each.kind for group in caution_groups(words) for each in group.cautions]
    groups = (*steps(words), *finishing(words)[1])
    there = [e.kind for group in groups for step in group.steps for e in step.cautions]
    return "small" in front, "small" in [*there, *(e.kind for e in cutting_cautions(words))]


@pytest.mark.parametrize("name", DEMOS)
def test_small_parts_of_the_demo_have_their_warning(name: str) -> None:
    extents = [part["extents"].values() for part in facts(demo(name))["parts"]]
    sizes = [[float(Fraction(each["mm"])) for each in found] for found in extents if found]
    small = [each for each in sizes if fits_cylinder(each)]
    assert small
    assert told_small(wording_of(demo(name))) == (True, True)


GLUED = ": {bottom: against base, left: flush with base, front: flush with base}"


@pytest.mark.parametrize(
    ("parts", "steps"),
    [
        ("\n  foot: {stock: board, wide: 8 mm, deep: 8 mm}", f"\n      foot{GLUED}"),
        ("\n  bar: {stock: batten, wide: 20 mm, broad side: top}", f"\n      bar{GLUED}"),
        ("\n  bead: {stock: pin, wide: 3 mm, deep: 3 mm, high: 3 mm}", f"\n      bead{GLUED}"),
    ],
)
def test_a_small_part_has_its_warning(parts: str, steps: str) -> None:
    assert told_small(wording_of(made(parts, steps))) == (True, True)
    large = made("\n  lid: {stock: board, wide: 60 mm, deep: 60 mm}", f"\n      lid{GLUED}")
    assert told_small(wording_of(large)) == (False, False)

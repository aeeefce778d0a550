"""Exact figures through a design: in any order, over properties, ranges and openings."""

import random
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.measure.quantity import Kind
from tests.assembly.trays import design, extents, mm, problems, size, worked

FITTED = "\n  - step: Fit it\n    start: base\n    measure: gap\n    cut: flap\n"


def test_sizes_may_be_named_in_any_order() -> None:
    lines = ["a: b + 2 * c", "b: c / 3", "c: d - 1/2 in", "d: 40 mm"]
    wanted = Fraction(40) - Fraction(127, 10)
    for seed in range(6):
        random.Random(seed).shuffle(lines)
        of = worked(design(sizes="".join(f"\n  {line}" for line in lines)))
        assert size(of, "a").value == wanted / 3 + 2 * wanted
        assert size(of, "a").exact


def test_a_size_that_is_no_length_keeps_its_kind() -> None:
    sizes = "\n  slope: atan(1)\n  slats: 3 + 4\n  half slope of rim: 1 deg"
    of = worked(design(sizes=sizes.rsplit("\n", 1)[0]))
    assert (size(of, "slope").value, size(of, "slope").kind) == (45, Kind.ANGLE)
    assert (size(of, "slats").value, size(of, "slats").kind) == (7, Kind.NUMBER)


@pytest.mark.parametrize(
    ("asked", "value"),
    [
        ("thickness of board", "2"),
        ("thickness of base", "2"),
        ("thickness of batten", "4"),
        ("width of batten", "6"),
        ("width of square batten", "5"),
        ("diameter of dowel", "3"),
        ("diameter of peg hole", "1.5"),
        ("width of base", "40"),
        ("depth of base", "30"),
        ("height of base", "2"),
        ("length of base", "40"),
        ("width of gap", "36.5"),
        ("depth of left rail", "50"),
        ("length of rail", "50"),
        ("height of rail", "6"),
        ("width of rail", "4"),
        ("width of slat 2", "7"),
        ("half of width of base", "20"),
    ],
)
def test_a_property_of_a_thing_can_be_asked_for(asked: str, value: str) -> None:
    parts = """
  base:
    stock: board
    wide: 40 mm
    deep: 30 mm
    holes:
      peg hole: {round: 1.5 mm, at: centre}
  rail: {stock: batten, deep: 50 mm, broad side: left, pieces: [left rail, right rail]}
  slat: {stock: board, wide: 7 mm, high: 9 mm, quantity: 3}
"""
    text = design(parts=parts, openings="\n  gap: {wide: 36.5 mm}", sizes=f"\n  asked: {asked}")
    assert size(worked(text), "asked").value == Fraction(value)


@pytest.mark.parametrize(
    ("asked", "near"),
    [
        ("width of bace", "width of base"),
        ("diameter of base + 1 mm", ""),
        ("height of gap", ""),
        ("widt", ""),
    ],
)
def test_what_cannot_be_asked_is_told(asked: str, near: str) -> None:
    text = design(sizes=f"\n  asked: {asked}", openings="\n  gap: {wide: 4 mm}", keep="asked")
    found = [each for each in problems(text) if each.code == "unknown-size"]
    if asked in ("diameter of base + 1 mm", "height of gap"):
        # A board has a thickness by both words; an opening that says no height has none yet.
        assert found == []
        return
    assert [each.facts["near"] for each in found] == [near]
    assert found[0].span.line == next(
        n for n, line in enumerate(text.splitlines(), 1) if "asked:" in line
    )


def test_a_ring_is_told_once_and_hides_nothing_else() -> None:
    sizes = "\n  a: b + 1 mm\n  b: c\n  c: a\n  d: a\n  e: widht"
    text = design(sizes=sizes, keep="d, e")
    found = problems(text)
    first = text.splitlines().index("  a: b + 1 mm") + 1
    assert [(each.code, each.span.line) for each in found] == [
        ("circular-size", first),
        ("unknown-size", first + 4),
    ]
    assert found[0].what.endswith("a → b → c → a")


def test_a_ring_through_parts_and_openings_is_told() -> None:
    parts = """
  base: {stock: board, wide: width of lid, deep: 30 mm}
  lid: {stock: board, wide: width of gap + 2 mm, deep: 30 mm}
"""
    openings = "\n  gap: {wide: width of base - 4 mm, between: base}"
    found = problems(design(parts=parts, openings=openings, steps="\n  - step: x\n    start: base"))
    (ring,) = [each for each in found if each.code == "circular-size"]
    assert ring.what.count("→") == 3


@pytest.mark.parametrize("text", ["a: a", "a: 2 * a + 1 mm", "a: min(a, 3 mm)"])
def test_a_size_cannot_wait_for_itself(text: str) -> None:
    found = problems(design(sizes=f"\n  {text}", keep="a"))
    assert [each.code for each in found] == ["circular-size"]


def test_a_fitted_part_is_planned_with_the_least_clearance_and_smallest_with_the_most() -> None:
    parts = """
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  flap: {stock: board, fitted: gap, less: {wide: 0.25 to 0.5 mm, high: 1/64 to 1/32 in}}
  knob plate: {stock: board, wide: width of flap / 3, high: height of flap - 1 mm}
"""
    of = worked(design(parts=parts, openings="\n  gap: {wide: 36.5 mm, high: 12 mm}", steps=FITTED))
    flap, plate = of.part("flap"), of.part("knob plate")
    assert flap is not None
    assert plate is not None
    inch = Fraction(254, 10)
    assert extents(of, "flap") == (Fraction(145, 4), 2, 12 - inch / 64)
    assert (flap.smallest["wide"].value, flap.smallest["high"].value) == (36, 12 - inch / 32)
    assert plate.extents["wide"].value == Fraction(145, 12)
    assert plate.smallest["wide"].value == 12
    assert plate.opening == "gap", "what is sized by a fitted part waits for the same opening"


def test_a_clearance_that_has_a_name_keeps_its_range() -> None:
    """As with figures: the largest flap comes from the least of what the name stands for."""
    parts = """
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  flap: {stock: board, fitted: gap, less: {wide: play, high: 2 * play}}
"""
    openings = "\n  gap: {wide: 36.5 mm, high: 12 mm}"
    sizes = "\n  play: 0.25 to 0.5 mm"
    of = worked(design(sizes=sizes, parts=parts, openings=openings, steps=FITTED))
    flap = of.part("flap")
    assert flap is not None
    assert extents(of, "flap") == mm("36.25", 2, "11.5")
    assert (flap.smallest["wide"].value, flap.smallest["high"].value) == mm("36", "11")


def test_miniatures_have_a_usual_clearance_and_nothing_else_has() -> None:
    parts = (
        "\n  base: {stock: board, wide: 40 mm, deep: 30 mm}\n  flap: {stock: board, fitted: gap}\n"
    )
    text = design(parts=parts, openings="\n  gap: {wide: 36 mm, high: 12 mm}", steps=FITTED)
    of = worked(text + "scale: 1:12\n")
    flap = of.part("flap")
    assert flap is not None
    assert extents(of, "flap") == mm("35.75", 2, "11.75")
    assert (flap.smallest["wide"].value, flap.smallest["high"].value) == mm("35.5", "11.5")
    assert "less-missing" in [each.code for each in problems(text + "scale: 1:5\n")]
    assert "less-missing" in [each.code for each in problems(text)]


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        ("wide: 50 mm, broad side: front", mm(50, 4, 6)),
        ("wide: 50 mm, broad side: bottom", mm(50, 6, 4)),
        ("deep: 50 mm, broad side: left", mm(4, 50, 6)),
        ("deep: 50 mm, broad side: top", mm(6, 50, 4)),
        ("high: 50 mm, broad side: back", mm(6, 4, 50)),
        ("high: 50 mm, broad side: right", mm(4, 6, 50)),
    ],
)
def test_an_oblong_strip_stands_as_its_broad_side_says(
    said: str, wanted: tuple[Fraction, ...]
) -> None:
    of = worked(design(parts=f"\n  base: {{stock: batten, {said}}}"))
    assert extents(of, "base") == wanted


def test_square_strips_and_rods_need_their_length_only() -> None:
    parts = "\n  base: {stock: square batten, high: 50 mm}\n  peg: {stock: dowel, wide: 9 mm}\n"
    of = worked(design(parts=parts))
    assert extents(of, "base") == mm(5, 5, 50)
    assert extents(of, "peg") == mm(9, 3, 3)


# ------------------------------------------------------------------ against Python's own fractions

UNITS = {"mm": Fraction(1), "cm": Fraction(10), "in": Fraction(254, 10)}
figures = st.tuples(st.fractions(0, 50, max_denominator=64), st.sampled_from(sorted(UNITS)))


@st.composite
def chains(draw: st.DrawFn) -> tuple[list[tuple[str, str]], list[Fraction]]:
    """Sizes, each a figure or a sum of earlier ones, and what they must come to."""
    texts: list[tuple[str, str]] = []
    values: list[Fraction] = []
    for number in range(draw(st.integers(1, 9))):
        figure, unit = draw(figures)
        written = f"{figure.numerator}/{figure.denominator} {unit}"
        text, value = written, figure * UNITS[unit]
        if number:
            other = draw(st.integers(0, number - 1))
            factor = draw(st.fractions(Fraction(1, 9), 9, max_denominator=12))
            way = draw(st.integers(0, 4))
            name = f"size {other}"
            over, under = factor.numerator, factor.denominator
            text, value = [
                (f"{name} + {written}", values[other] + value),
                (f"{name} - {written}", values[other] - value),
                (f"({over}/{under}) * {name}", values[other] * factor),
                (f"{name} / ({over}/{under}) + {written}", values[other] / factor + value),
                (f"max({name}, half of {written})", max(values[other], value / 2)),
            ][way]
        texts.append((f"size {number}", text))
        values.append(value)
    return texts, values


@settings(max_examples=60)
@given(chains(), st.randoms(use_true_random=False))
def test_a_chain_of_sizes_is_the_arithmetic_of_fractions(
    chain: tuple[list[tuple[str, str]], list[Fraction]], order: random.Random
) -> None:
    texts, values = chain
    shuffled = list(texts)
    order.shuffle(shuffled)
    of = worked(design(sizes="".join(f"\n  {name}: {text}" for name, text in shuffled)))
    for (name, _), value in zip(texts, values, strict=True):
        found = size(of, name)
        assert (found.value, found.error) == (value, 0)

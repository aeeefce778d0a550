"""Parts as they are cut: letters, quantities, length along the grain."""

import string

import pytest

from patternpress.assembly.worked import Worked
from tests.assembly.trays import design, problems, worked

BASE = "\n  base: {stock: board, wide: 40 mm, deep: 30 mm}\n"


def quantity(of: Worked, name: str) -> int:
    part = of.part(name)
    assert part is not None
    return part.quantity


def test_letters_run_through_the_alphabet_without_i_and_o() -> None:
    """I and O are taken for one and nought on a grey print: common practice, no source."""
    names = [f"part {n}" for n in range(1, 52)]
    parts = "".join(f"\n  {n}: {{stock: board, wide: 9 mm, deep: 8 mm}}" for n in names)
    found = [part.letter for part in worked(design(parts=parts, steps="\n  - step: x")).parts]
    single = [each for each in string.ascii_uppercase if each not in "IO"]
    assert found[:24] == single
    assert found[24:27] == ["AA", "AB", "AC"]
    assert found[48:51] == ["BA", "BB", "BC"]
    assert len(set(found)) == 51


def test_an_authors_own_letters_are_kept_and_not_given_again() -> None:
    parts = BASE + "  lid: {stock: board, wide: 9 mm, deep: 8 mm, letter: A}\n"
    parts += "  rim: {stock: board, wide: 9 mm, deep: 8 mm}\n"
    of = worked(design(parts=parts))
    assert [(part.name, part.letter) for part in of.parts] == [
        ("base", "B"), ("lid", "A"), ("rim", "C"),
    ]  # fmt: skip


# ------------------------------------------------------------------ how many

DRAWERS = """
  front: {stock: board, wide: 20 mm, high: 9 mm}
  cheek: {stock: board, deep: 20 mm, high: 9 mm, pieces: [left cheek, right cheek]}
  slat: {stock: board, wide: 20 mm, deep: 4 mm, quantity: 3, spares: 1}
  peg: {stock: dowel, deep: 6 mm}
"""
DRAWER_STEPS = """
  - step: Build each drawer
    builds: drawer
    start: front
    join:
      left cheek: {front: against front, left: flush with front, bottom: flush with front}
      right cheek: {front: against front, right: flush with front, bottom: flush with front}
      peg: {back: against front, left and right: centred on front, bottom: flush with front}
  - step: Build the chest
    start: base
    join:
      left drawer: {bottom: against base, left: flush with base, front: flush with base}
      right drawer: {bottom: against base, right: flush with base, front: flush with base}
      slat:
        bottom: against base
        left: flush with base
        back: flush with base
        row: {toward: front, every: 6 mm}
"""


def chest(subs: str, steps: str = DRAWER_STEPS, drawers: str = DRAWERS) -> Worked:
    text = design(parts=BASE + drawers, steps=steps) + f"sub-assemblies:{subs}\n"
    return worked(text)


def test_quantities_follow_from_the_copies_of_sub_assemblies() -> None:
    of = chest("\n  drawer: [left drawer, right drawer]")
    found = {part.name: part.quantity for part in of.parts}
    assert found == {"base": 1, "front": 2, "cheek": 4, "slat": 4, "peg": 2}


def test_twins_and_sub_assemblies_inside_others_multiply() -> None:
    subs = "\n  tray: [upper tray, lower tray, middle tray]\n  drawer: [left drawer, right drawer]"
    steps = """
  - step: Build each drawer
    builds: drawer
    start: front
  - step: Put both into a tray
    builds: tray
    start: base
    join:
      left drawer: {bottom: against base, left: flush with base, front: flush with base}
"""
    of = chest(subs, steps)
    assert quantity(of, "base") == 3
    # One drawer goes into each tray; its own two copies are made three times over.
    assert quantity(of, "front") == 6


def test_a_mirrored_twin_is_made_by_the_same_steps() -> None:
    subs = "\n  left door:\n  right door: {mirror of: left door}"
    steps = "\n  - step: Build\n    builds: left door\n    start: front\n  - step: Hang\n"
    steps += "    start: base\n    join:\n"
    steps += "      left door: {left: against base}\n      right door: {right: against base}\n"
    assert quantity(chest(subs, steps), "front") == 2


def test_a_quantity_gives_numbered_pieces() -> None:
    of = chest("\n  drawer: [left drawer, right drawer]")
    assert of.usage.pieces["slat"] == ("slat 1", "slat 2", "slat 3")
    assert of.usage.pieces["front"] == ("front",)
    slat = of.part("slat 2")
    assert slat is not None
    assert slat.name == "slat"


def test_spares_are_cut_and_not_counted_as_used() -> None:
    text = design(
        parts=BASE.replace("deep: 30 mm", "deep: 30 mm, spares: 2, quantity: 1"),
    )
    assert problems(text) == ()
    assert quantity(worked(text), "base") == 3


# ------------------------------------------------------------------ along the grain


@pytest.mark.parametrize(
    ("said", "directions"),
    [
        ("wide: 40 mm, deep: 30 mm", ("wide", "deep", "high")),
        ("wide: 30 mm, deep: 40 mm", ("deep", "wide", "high")),
        ("wide: 40 mm, deep: 40 mm", ("wide", "deep", "high")),
        ("wide: 40 mm, deep: 30 mm, grain: front to back", ("deep", "wide", "high")),
        ("wide: 40 mm, high: 30 mm, grain: up and down", ("high", "wide", "deep")),
        ("deep: 1 mm, high: 1.5 mm, grain: front to back", ("deep", "high", "wide")),
    ],
)
def test_a_boards_length_runs_with_its_grain(said: str, directions: tuple[str, ...]) -> None:
    part = worked(design(parts=f"\n  base: {{stock: board, {said}}}")).part("base")
    assert part is not None
    assert (part.along, part.across, part.thin) == directions
    assert part.grain
    assert [each.value for each in part.size] == [part.extents[axis].value for axis in directions]


def test_a_short_strip_still_runs_along_its_length() -> None:
    part = worked(design(parts="\n  base: {stock: batten, wide: 2 mm, broad side: top}")).part(
        "base"
    )
    assert part is not None
    assert (part.along, part.across, part.thin) == ("wide", "deep", "high")
    rod = worked(design(parts="\n  base: {stock: dowel, high: 2 mm}")).part("base")
    assert rod is not None
    assert (rod.along, rod.across) == ("high", "")


def test_grain_may_be_any_or_none() -> None:
    any_way = worked(design(parts=BASE.replace("30 mm", "30 mm, grain: any"))).part("base")
    assert any_way is not None
    assert not any_way.grain
    plywood = worked(design(stock="\n  board: {sheet: 2 mm, grain: none}")).part("base")
    assert plywood is not None
    assert not plywood.grain


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("stock: board, wide: 40 mm", "size-missing"),
        ("stock: board, wide: 40 mm, deep: 30 mm, high: 2 mm", "size-twice"),
        ("stock: dowel", "size-missing"),
        ("stock: dowel, wide: 40 mm, deep: 3 mm", "size-twice"),
        ("stock: batten, wide: 40 mm", "broad-side-missing"),
        ("stock: batten, wide: 40 mm, broad side: right", "broad-side-wrong"),
    ],
)
def test_too_few_and_too_many_sizes_are_told_once(said: str, code: str) -> None:
    found = problems(design(parts=f"\n  base: {{{said}}}\n"))
    assert [each.code for each in found] == [code]


@pytest.mark.parametrize("said", ["wide: 4o mm, deep: 30 mm", "wide: 40 mm, deep: <x"])
def test_a_size_that_cannot_be_read_is_not_called_missing_as_well(said: str) -> None:
    found = problems(design(parts=f"\n  base: {{stock: board, {said}}}\n"))
    assert len(found) == 1
    assert found[0].code in ("unknown-unit", "strange-sign")


def test_a_bought_fitting_needs_no_size() -> None:
    part = worked(design(parts="\n  base: {stock: pin}")).part("base")
    assert part is not None
    assert (part.form, part.size, part.grain) == ("bought", (), False)

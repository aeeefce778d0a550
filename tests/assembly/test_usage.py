"""Which step brings which piece, and when things are cut, measured, marked and rubbed out."""

from patternpress.assembly.checks.order import check_pieces
from patternpress.assembly.placing import assemble
from tests.assembly.trays import design, worked

PARTS = """
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  rail: {stock: board, wide: 40 mm, high: 5 mm, pieces: [front rail, back rail]}
  peg: {stock: dowel, high: 9 mm, quantity: 4}
"""
STEPS = """
  - step: Mark out
    mark: rail line
    cut: base, rail
  - step: Glue the rails
    builds: tray
    start: base
    measure: gap
    join:
      front rail: {bottom: against base}
      back rail: {bottom: against base}
  - step: Set the pegs
    start: tray
    rub out: rail line
    join:
      peg: {bottom: against tray, row: {toward: right, every: 6 mm}}
"""
MARKS = "\n  rail line: {on: top of base, line: 3 mm from back}"
FINISHING = "\n  - step: Oil\n    mark: rail line\n"
USED = worked(
    design(parts=PARTS, steps=STEPS, marks=MARKS, openings="\n  gap:", finishing=FINISHING)
    + "sub-assemblies: tray\n"
).usage


def test_pieces_belong_to_the_step_and_the_work_that_bring_them() -> None:
    found = [(use.name, use.kind, use.step, use.builds) for use in USED.uses]
    assert found == [
        ("base", "piece", 2, "tray"),
        ("front rail", "piece", 2, "tray"),
        ("back rail", "piece", 2, "tray"),
        ("tray", "sub-assembly", 3, ""),
        ("peg", "part", 3, ""),
    ]


def test_finishing_steps_are_counted_after_the_others() -> None:
    assert [step.step.main.value for step in USED.steps] == [
        "Mark out", "Glue the rails", "Set the pegs", "Oil",
    ]  # fmt: skip


def test_a_row_brings_all_pieces_of_its_part() -> None:
    assert USED.pieces["peg"] == ("peg 1", "peg 2", "peg 3", "peg 4")
    assert [USED.used(part) for part in ("base", "rail", "peg")] == [1, 2, 4]
    use = USED.first_use("peg 3")
    assert use is not None
    assert (use.name, use.step) == ("peg", 3)


def test_the_first_step_counts_where_a_thing_is_named_twice() -> None:
    assert USED.step_where("mark", "rail line") == 1
    assert USED.step_where("rub_out", "rail line") == 3
    assert USED.step_where("cut", "rail") == 1
    assert USED.step_where("measure", "gap") == 2
    assert USED.step_where("cut", "peg") is None


def test_what_nobody_brings_has_no_use() -> None:
    assert USED.first_use("lid") is None
    assert USED.used("lid") == 0


SLATS = """
  base: {stock: board, wide: 60 mm, deep: 30 mm}
  slat: {stock: board, deep: 30 mm, high: 8 mm, quantity: 6}
"""
SEATED = "bottom: against base, front: flush with base"
TWICE = f"""
  - step: The first
    start: base
    join:
      slat: {{{SEATED}, left: flush with base, row: {{toward: right, every: 7 mm, of: 2}}}}
  - step: The next
    join:
      slat 3: {{{SEATED}, left: 20 mm inside base, row: {{toward: right, every: 6 mm, of: 3}}}}
  - step: The last
    join:
      slat 6: {{{SEATED}, right: flush with base}}
"""


def test_rows_that_take_only_some_pieces_of_a_part() -> None:
    """The first row begins with the first piece, another with the one that it names."""
    found = worked(design(parts=SLATS, steps=TWICE))
    assert [(use.brings, use.step) for use in found.usage.uses[1:]] == [
        (("slat 1", "slat 2"), 1),
        (("slat 3", "slat 4", "slat 5"), 2),
        (("slat 6",), 3),
    ]
    assert found.usage.used("slat") == 6
    corners = {each.piece: each.pose.offset[0] for each in assemble(found).placed}
    assert corners == {
        "base": 0, "slat 1": 0, "slat 2": 7, "slat 3": 20, "slat 4": 26, "slat 5": 32, "slat 6": 58,
    }  # fmt: skip


def test_a_piece_that_a_row_takes_is_not_free_for_another_step() -> None:
    text = TWICE.replace("slat 3:", "slat 2:").replace("of: 3", "of: 4")
    found = worked(design(parts=SLATS, steps=text))
    told = [(each.code, each.facts["piece"]) for each in check_pieces(found)]
    assert told == [("piece-used-twice", "slat 2")]

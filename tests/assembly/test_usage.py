"""Which step brings which piece, and when things are cut, measured, marked and rubbed out."""

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

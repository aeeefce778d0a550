"""Putting a design in order changes no meaning, loses no comment, and is done once."""

from __future__ import annotations

import random
from collections import Counter
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.assembly.facts import facts
from patternpress.assembly.model import work_out
from patternpress.design.read import read_text
from patternpress.desk.cli import main
from patternpress.desk.commands.new import starter
from patternpress.desk.tidying import NotTidiedError, tidied
from tests.assembly.carcass import carcass

DESIGNS = Path(__file__).parents[2] / "designs"
DEMOS = sorted(DESIGNS.glob("*.yaml"))

UNTIDY = """\
# A tray.

scale: 1:12   # one inch to the foot
design: Tray
# What is cut.
parts:
  # The base is cut first.
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  rim:
    high: 5 mm
    # as wide as the base
    wide: 40 mm

    stock: board
steps:
  - start: base
    # the heading
    step: Glue it
    wait: {for: wood glue, until: handle}
    join:
      rim: {bottom: against base, left: flush with base, front: flush with base}
materials:
  wood glue: {kind: glue, handle: 30 min}
stock:
  board: {sheet: 2 mm}
"""
TIDY = """\
# A tray.
design: Tray
scale: 1:12   # one inch to the foot

stock:
  board: {sheet: 2 mm}

# What is cut.
parts:
  # The base is cut first.
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  rim:
    stock: board
    # as wide as the base
    wide: 40 mm

    high: 5 mm

materials:
  wood glue: {kind: glue, handle: 30 min}

steps:
    # the heading
  - step: Glue it
    start: base
    join:
      rim: {bottom: against base, left: flush with base, front: flush with base}
    wait: {for: wood glue, until: handle}
"""


def test_fields_stand_in_the_order_of_the_reference() -> None:
    assert tidied(UNTIDY, Path()) == TIDY


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_every_line_of_a_demo_is_kept_and_means_the_same(path: Path) -> None:
    text = path.read_text("utf-8")
    made = tidied(text, path.parent)
    lines = [[line.rstrip() for line in each.splitlines() if line.strip()] for each in (text, made)]
    assert Counter(line.replace("- ", "  ", 1) for line in lines[0]) == Counter(
        line.replace("- ", "  ", 1) for line in lines[1]
    )
    assert tidied(made, path.parent) == made


def test_the_facts_of_a_design_are_the_same_afterwards() -> None:
    path = DESIGNS / "keepers-desk.yaml"
    text = path.read_text("utf-8")
    before, after = (
        facts(work_out(read_text(each, path.name, path.parent), "both"))
        for each in (text, tidied(text, path.parent))
    )
    assert {**before, "design": 0} == {**after, "design": 0}


@settings(max_examples=30)
@given(st.integers(0, 400), st.randoms(use_true_random=False))
def test_sections_in_any_order_come_out_in_one(number: int, pick: random.Random) -> None:
    blocks: list[list[str]] = []
    for line in carcass(number).splitlines():
        if line and line[0] not in " #":
            blocks.append([])
        blocks[-1].append(line)
    mixed = pick.sample(blocks, len(blocks))
    text = "\n".join(line for block in mixed for line in block) + "\n"
    plain = "\n".join(line for block in blocks for line in block) + "\n"
    assert tidied(text, Path()) == tidied(plain, Path())


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("design: a: b\n", "problems of form"),
        ("- a list\n", "problems of form"),
        (starter("box") + "design: again\n", "problems of form"),
        (TIDY.replace("2 mm}", "&t 2 mm}").replace("scale: 1:12", "scale: *t"), "form"),
    ],
)
def test_what_cannot_be_ordered_safely_is_left(text: str, words: str) -> None:
    with pytest.raises(NotTidiedError, match=words):
        tidied(text, Path())


def test_an_anchor_that_would_come_after_its_use_is_left_alone() -> None:
    text = TIDY.replace("design: Tray\n", "").replace("scale: 1:12   #", "design: &d Tray  #")
    moved = text.replace("steps:", "about: *d\nsteps:")
    assert tidied(moved, Path()).index("&d") < tidied(moved, Path()).index("*d")
    back = UNTIDY.replace("scale: 1:12", "about: &d Tray").replace("design: Tray", "design: *d")
    with pytest.raises(NotTidiedError, match="would not mean the same"):
        tidied(back, Path())


def test_the_command_writes_only_what_is_untidy(tmp_path: Path) -> None:
    path = tmp_path / "tray.yaml"
    path.write_text(UNTIDY, "utf-8")
    run = CliRunner().invoke
    assert run(main, ["tidy", str(path), "--check"]).exit_code == 1
    assert path.read_text("utf-8") == UNTIDY
    assert run(main, ["tidy", str(path)]).stdout == f"Put {path} in order.\n"
    assert path.read_text("utf-8") == TIDY
    done = run(main, ["tidy", str(path), "--check"])
    assert (done.exit_code, done.stdout) == (0, f"{path} is tidy.\n")
    path.write_text("design: [", "utf-8")
    done = run(main, ["tidy", str(path)])
    assert done.exit_code == 1
    assert "was left as it is" in done.stderr
    assert path.read_text("utf-8") == "design: ["


# --- new asks, and completion


@pytest.mark.parametrize("units", ["mm", "in"])
def test_new_takes_the_makers_figures(tmp_path: Path, units: str) -> None:
    run = CliRunner().invoke
    size = {"mm": "44 x 20 x 15", "in": "1 3/4 x 7/8 x 3/4"}[units]
    board = {"mm": "3", "in": "3/32"}[units]
    words = ["--units", units, "--size", size, "--board", board, "--scale", "1:16"]
    done = run(main, ["new", "box", "--dir", str(tmp_path), *words])
    assert done.exit_code == 0, done.stderr
    text = (tmp_path / "box.yaml").read_text("utf-8")
    assert f"sheet: {board} {units}" in text
    assert "scale: 1:16" in text
    assert run(main, ["check", str(tmp_path / "box.yaml")]).stdout.endswith(": no problems.\n")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--size", "30 x 12"], "width x depth x height"),
        (["--size", "30 x y x 12 mm"], "is no length"),
        (["--board", "-2"], "is no length"),
        (["--board", "9"], "more room inside"),
        (["--scale", "one to twelve"], "a scale is written 1:12"),
        (["--size", "1/0 x 2 x 3"], "is no length"),
    ],
)
def test_new_refuses_a_box_that_cannot_be_made(tmp_path: Path, words: list[str], said: str) -> None:
    done = CliRunner().invoke(main, ["new", "box", "--dir", str(tmp_path), *words])
    assert done.exit_code == 2
    assert said in done.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_each_shell_gets_its_completion(shell: str) -> None:
    done = CliRunner().invoke(main, ["completion", shell])
    assert done.exit_code == 0
    assert "_PATTERNPRESS_COMPLETE" in done.stdout

"""Faults of the trade, seeded one by one into a real design: each is found, at its line, alone."""

from pathlib import Path

import pytest

from patternpress.assembly.model import check
from patternpress.design.problem import Problem
from patternpress.design.read import read_design, read_text

DESIGNS = Path(__file__).parents[2] / "designs"
DESK = (DESIGNS / "keepers-desk.yaml").read_text("utf-8")
SOUND = sorted(path for path in DESIGNS.glob("*.yaml") if path.name != "quay.yaml")

FAMILIES = ("figures", "files", "form", "naming", "parts", "work")

# Faults that can be in one file at the same time, because none of them hides another.
TOGETHER = (
    "longer than sold", "tool that is not listed", "listed and unused", "tool listed and unused",
    "size that is used nowhere", "letter twice", "figure in prose", "inch fraction in prose",
    "wait shorter than the glue needs", "mark that is never drawn", "hole that breaks the edge",
    "unknown reference", "unknown size", "missing unit in a part", "quantity that disagrees",
    "used before it is cut", "joined to itself", "short grain",
    "sub-assembly that nobody builds", "treated before it is built", "answer without a difference",
    "board that runs out of its own range",
)  # fmt: skip

FAULTS = (Path(__file__).parent / "desk-faults.txt").read_text("utf-8")


def rows() -> list[tuple[str, list[tuple[str, str]], list[tuple[str, str]]]]:
    """Name, the changes, and pairs of code and the text in whose line it is found."""
    found = []
    for block in FAULTS.strip().split("\n\n")[1:]:
        name, *lines = (line.strip() for line in block.splitlines())
        changes = [tuple(map(_plain, line.split(" -> ", 1))) for line in lines if " -> " in line]
        told = [tuple(map(_plain, line.split(" @ ", 1))) for line in lines if " @ " in line]
        found.append((name, changes, told))
    return found  # type: ignore[return-value]


def _plain(text: str) -> str:
    return text.replace("\\n", "\n").replace("\\b", "")


def seeded(changes: list[tuple[str, str]]) -> str:
    text = DESK
    for old, new in changes:
        assert text.count(old) == 1, f"“{old}” should stand in the desk once"
        text = text.replace(old, new)
    return text


def problems_of(text: str) -> list[Problem]:
    """What is wrong, but for where pieces then clash or gape, which has tests of its own."""
    found = check(read_text(text, "keepers-desk.yaml", DESIGNS), places=False)
    return [each for each in found if each.kind.__module__.rpartition(".")[2] in FAMILIES]


@pytest.mark.parametrize(("name", "changes", "wanted"), rows(), ids=lambda each: each)
def test_a_seeded_fault_is_found_at_its_line_and_alone(
    name: str, changes: list[tuple[str, str]], wanted: list[tuple[str, str]]
) -> None:
    text = seeded(changes)
    lines = text.splitlines()
    found = [(each.code, lines[each.span.line - 1].strip()) for each in problems_of(text)]
    assert [code for code, _ in found] == [code for code, _ in wanted]
    for (_, line), (_, words) in zip(found, wanted, strict=True):
        assert words in line


def test_many_faults_are_found_in_one_pass() -> None:
    """One of each, as long as their changes do not touch the same words."""
    text, wanted = DESK, []
    for name, changes, told in rows():
        if name in TOGETHER:
            for old, new in changes:
                assert text.count(old) == 1
                text = text.replace(old, new)
            wanted += [code for code, _ in told]
    assert len(wanted) >= 20
    assert sorted(each.code for each in problems_of(text)) == sorted(wanted)


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_a_sound_design_has_no_problem_at_all(path: Path) -> None:
    reading = read_design(path)
    assert reading.sound
    assert check(reading) == ()

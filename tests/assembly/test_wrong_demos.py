"""Wrong whole designs: what a maker reads about a size, a hand or a place that is wrong.

Each fault of `wrong-demos.txt` is seeded into one of the designs of the demo; all that is told
about it stands there, word for word.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

import pytest

from patternpress.assembly.model import check
from patternpress.design.read import read_text

DESIGNS = Path(__file__).parents[2] / "designs"
FILE = (Path(__file__).parent / "wrong-demos.txt").read_text("utf-8")
FIGURE = re.compile(r"\d mm\b")
BOTH = re.compile(r"\d mm \(\d+\.\d{3} in\)")


class Fault(NamedTuple):
    """A wrong design: its demo, what is changed in it, and what is told."""

    name: str
    demo: str
    changes: tuple[tuple[str, str], ...]
    told: tuple[tuple[str, str], ...]


def faults() -> list[Fault]:
    found = []
    for block in FILE.strip().split("\n\n")[1:]:
        head, *lines = (line.strip() for line in block.splitlines())
        name, _, demo = head.rpartition(", in ")
        changes = [line.replace("\\n", "\n").split(" -> ") for line in lines if " -> " in line]
        told = [line.split(" @ ") for line in lines if " @ " in line]
        found.append(
            Fault(name, demo, tuple((a, b) for a, b in changes), tuple((a, b) for a, b in told))
        )
    return found


def seeded(fault: Fault) -> str:
    text = (DESIGNS / f"{fault.demo}.yaml").read_text("utf-8")
    for old, new in fault.changes:
        assert text.count(old) == 1, f"“{old}” should stand in {fault.demo} once"
        text = text.replace(old, new)
    return text


@pytest.mark.parametrize("fault", faults(), ids=lambda fault: fault.name)
def test_a_wrong_design_is_told_word_for_word(fault: Fault) -> None:
    found = check(read_text(seeded(fault), f"{fault.demo}.yaml", DESIGNS))
    assert [(each.code, each.what) for each in found] == list(fault.told) != []
    # What is about how a part is cut names no step; of a thin wall, no piece either.
    for each in (each for each in found if each.code != "wall-thin"):
        if each.code != "wrong-hand":
            assert "step" in each.facts
        line = seeded(fault).splitlines()[each.span.line - 1]
        first = each.facts["piece"].split("/")[0]
        assert first in line or each.code == "too-thick-for-hole"


def test_all_demos_have_faults_and_there_are_ten() -> None:
    every = faults()
    assert len(every) >= 10
    assert {each.demo for each in every} == {
        "keepers-desk", "net-tote", "signal-shelf", "smaller/oil-cupboard",
    }  # fmt: skip
    assert len({code for each in every for code, _ in each.told}) >= 8


def test_each_length_is_told_in_both_units() -> None:
    for fault in faults():
        for _, what in fault.told:
            assert len(FIGURE.findall(what)) == len(BOTH.findall(what)), what

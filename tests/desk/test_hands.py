"""Editions made by several hands at a time."""

from __future__ import annotations

from collections import deque
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from patternpress.design.read import read_design
from patternpress.desk import hands, pressing
from patternpress.desk.cli import SHOW_TRACEBACK, main
from patternpress.desk.commands.new import starter
from patternpress.desk.making import Order


@pytest.fixture
def box(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The first design, in a folder of its own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv(SHOW_TRACEBACK, "1")
    path = tmp_path / "box.yaml"
    path.write_text(starter("box"), "utf-8")
    return path


def typed(*words: str) -> Result:
    return CliRunner().invoke(main, ["build", "box.yaml", *words])


@pytest.mark.usefixtures("box")
def test_two_hands_make_what_one_makes() -> None:
    two = typed("--at-once", "2", "--out", "two")
    one = typed("--at-once", "1", "--out", "one")
    assert two.exit_code == one.exit_code == 0, two.output + one.output
    files = [Path(line).name for line in one.stdout.splitlines()]
    assert len(files) == 14, "seven files of each edition"
    assert two.stdout == one.stdout.replace("one/", "two/"), "told in the order of the editions"
    for file in files:
        assert Path("two", file).read_bytes() == Path("one", file).read_bytes(), file


def test_what_a_hand_was_making_when_it_was_stopped_is_made_all_the_same(box: Path) -> None:
    started: list[str] = []
    with hands.Hand(Order(read_design(box), Path("out")), deque(["metric"])) as hand:
        hand.begin([hand.run], started.append)
        hand.process.kill()
        made = hand.outcome()
    assert started == [made.edition] == ["metric"]
    assert made.complaint == ""
    assert all(file.is_file() for file in made.files)


@pytest.mark.usefixtures("box")
def test_an_edition_that_cannot_be_made_does_not_keep_others_from_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    build = pressing.build_edition

    def jammed(reading: Any, edition: str, *rest: Any, **words: Any) -> Any:
        if edition == "metric":
            raise pressing.PressError("the press is jammed")
        return build(reading, edition, *rest, **words)

    monkeypatch.setattr(pressing, "build_edition", jammed)
    done = typed("--at-once", "1")
    assert done.exit_code == 1
    assert done.stderr.endswith("the metric edition was not made: the press is jammed\n")
    assert Path("build/box-inch.pdf").read_bytes().startswith(b"%PDF-")
    assert not Path("build/box-metric.pdf").exists()


@given(st.integers(1, 12), st.integers(1, 5), st.data())
def test_each_edition_is_made_once_whoever_is_the_quicker(
    count: int, team: int, data: st.DataObject
) -> None:
    editions = [f"edition {number:02}" for number in range(count)]
    runs = hands.divided(editions, team)
    assert [edition for run in runs for edition in run] == editions
    assert max(map(len, runs)) - min(map(len, runs)) <= 1
    made = []
    while edition := hands.taken(runs[data.draw(st.integers(0, team - 1))], runs):
        made.append(edition)
    assert sorted(made) == editions


def test_as_many_hands_as_are_worth_while() -> None:
    assert [hands.hands_for(count, None) for count in (1, 2, 3)] == [1, 1, 1]
    assert 1 <= hands.hands_for(9, None) <= hands.MOST
    assert hands.hands_for(9, 3) == 3
    assert hands.hands_for(2, 16) == 2

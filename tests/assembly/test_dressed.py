"""The five hundred sound cupboards try each check: one that is nearly the same is told."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from patternpress.assembly.checks import movement
from patternpress.assembly.model import check
from patternpress.assembly.placing import assemble
from patternpress.assembly.worked import work
from patternpress.design.read import read_text
from tests.assembly.dressed import TWINS, dressed

TRIED = 5


@cache
def texts() -> tuple[str, ...]:
    """Those of test_many."""
    return tuple(dressed(number) for number in range(1000, 1500))


@pytest.mark.parametrize("name", TWINS)
def test_many_have_a_twin_that_is_wrong_in_one_thing(name: str) -> None:
    """Else five hundred silent ones would prove nothing about this check."""
    code, wrong = TWINS[name]
    twins = [twin for text in texts() if (twin := wrong(text)) != text]
    assert len(twins) >= 50
    for twin in twins[:: len(twins) // TRIED]:
        assert code in {each.code for each in check(read_text(twin, "twin.yaml", Path()))}


def test_many_have_boards_glued_crosswise_that_swell_no_more_than_is_borne(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(movement, "BEARS_MINIATURE", 0)
    moved = 0
    for text in texts()[:60]:
        reading = read_text(text, "dressed.yaml", Path())
        assert reading.book is not None
        worked = work(reading.book, reading.names)
        moved += any(movement.check_movement(worked, assemble(worked)))
    assert moved >= 20


def test_they_differ_in_what_they_have() -> None:
    woods = ("wood: red oak", "back ply")
    finish = ("leave bare", "resist", "oil: work", "paint: left door")
    others = ("lid:", "right door", "half board deep", "back: flush with roof}")
    for what in (*woods, *finish, *others):
        assert 15 <= sum(what in text for text in texts()) <= 400, what

"""A second process helps with a round; whether it does or not, the same pages come of it."""

from __future__ import annotations

import operator
import os
import signal
import time
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest

from patternpress.booklet.fetch import Fence
from patternpress.booklet.press import Pressed, Section
from patternpress.booklet.pressroom import press_kept
from patternpress.desk.preview.mate import Mate
from patternpress.desk.preview.twohands import press_all
from tests.desk.helper import Helper


@pytest.fixture(scope="module")
def mate() -> Iterator[Mate]:
    """A mate who has been called and has loaded what he needs."""
    found = Mate(2)
    assert not found.begin(operator.add, 1, 2)  # this only calls him
    found.answer()
    yield found
    found.close()


def test_a_job_is_done_by_another_process(mate: Mate) -> None:
    assert mate.begin(os.getpid)
    assert mate.answer() not in (None, os.getpid())


def test_one_job_at_a_time(mate: Mate) -> None:
    assert mate.begin(time.sleep, 0.2)
    assert not mate.begin(operator.add, 1, 2)
    assert mate.answer() is None
    assert mate.begin(operator.add, 1, 2)
    assert mate.answer() == 3


def test_what_nobody_waited_for_is_not_taken_for_the_next_answer(mate: Mate) -> None:
    assert mate.begin(operator.add, 1, 2)
    while not mate.ready:
        time.sleep(0.01)
    assert mate.begin(operator.add, 3, 4)
    assert mate.answer() == 7


@pytest.mark.parametrize("job", [(operator.truediv, 1, 0), (iter, "cannot be sent back")])
def test_a_job_that_fails_leaves_nothing_and_the_next_is_done(
    mate: Mate, job: tuple[Any, ...], capfd: pytest.CaptureFixture[str]
) -> None:
    assert mate.begin(*job)
    found = mate.answer()
    assert found is None or not isinstance(found, (int, float))
    assert mate.begin(operator.add, 1, 2)
    assert mate.answer() == 3
    assert capfd.readouterr().err == ""


def test_a_mate_that_is_gone_is_not_asked_again() -> None:
    lost = Mate(2)
    lost.begin(operator.add, 1, 2)
    lost.answer()
    assert lost.begin(os.getpid)
    os.kill(lost.answer(), signal.SIGKILL)
    lost.begin(operator.add, 1, 2)
    assert lost.answer() is None
    assert not lost.begin(operator.add, 1, 2)
    lost.close()


def test_with_one_processor_none_comes() -> None:
    assert not Mate(1).begin(operator.add, 1, 2)
    assert Mate(1).answer() is None


SHORT, LONG, BARE = (
    Section(key, key, f'<html lang="en"><p id="{key}">{key * times}</p></html>', (), Path())
    for key, times in (("short", 1), ("long", 90), ("bare", 40))
)


@pytest.mark.parametrize("idle", [False, True])
def test_sections_are_pressed_alike_by_one_and_by_two(idle: bool) -> None:
    fence, memory, helper = Fence(()), dict[str, Any](), Helper(idle=idle)
    found = _pressed(press_all([LONG, SHORT], [BARE], fence, memory, helper))
    alone = _pressed(press_all([LONG, SHORT], [BARE], fence, {}, None))
    assert found == alone == _pressed((s, press_kept(s, fence, {})) for s in (LONG, SHORT))
    assert helper.jobs == ["done"] * len(helper.jobs) != []
    laid = [each for each in memory.values() if each.key == "bare"]
    assert all(each.pages == 1 and each.pdf == b"" for each in laid)


def _pressed(found: Iterable[tuple[Section, Pressed]]) -> list[tuple[str, Pressed]]:
    return sorted(((s.key, pressed) for s, pressed in found), key=lambda each: each[0])

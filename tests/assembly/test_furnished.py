"""Sound cupboards with drawers, doors and lids that open give no problem at all."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from patternpress.assembly.model import check
from patternpress.design.read import read_text
from tests.assembly.furnished import furnished

COUNT = 500 if os.environ.get("EXAMPLES") == "fresh" else 20  # `make explore` has the time


def told(text: str) -> list[str]:
    return [each.code for each in check(read_text(text, "sound.yaml", Path()))]


@pytest.mark.parametrize("first", range(0, COUNT, 10))
def test_sound_furnished_cupboards_go_together_and_open(first: int) -> None:
    for number in range(first, first + 10):
        assert (number, told(furnished(number))) == (number, [])


def test_all_that_opens_is_tried() -> None:
    texts = [furnished(number) for number in range(30)]
    for what in ("right door", "lid:", "mm to the front", "left front edge", "left back edge"):
        assert sum(what in text for text in texts) >= 4


def test_a_lid_that_is_turned_too_far_is_told() -> None:
    """Turned by more than three right angles it comes round into the back."""
    tried = 0
    for number in range(6):
        text = furnished(number)
        wrong = re.sub(r"\d+ deg to the top", "300 deg to the top", text)
        if wrong != text:
            tried += 1
            assert told(wrong) == ["opens-into"]
    assert tried >= 2

"""Every check is silent on sound designs, however they are made up."""

from pathlib import Path

import pytest

from patternpress.assembly.model import check
from patternpress.design.problem import Problem
from patternpress.design.read import read_text
from tests.assembly.carcass import carcass, plan


def told(text: str, *, places: bool = False) -> tuple[Problem, ...]:
    return check(read_text(text, "cupboard.yaml", Path()), places=places)


def test_a_hundred_and_fifty_sound_cupboards_are_let_pass() -> None:
    for number in range(150):
        assert [(number, each.what) for each in told(carcass(number))] == []


@pytest.mark.parametrize("number", range(200, 216))
def test_sound_cupboards_go_together_as_well(number: int) -> None:
    assert [each.what for each in told(carcass(number), places=True)] == []


def test_the_cupboards_differ_in_what_they_try() -> None:
    """Else their number would prove nothing."""
    plans = [plan(number) for number in range(150)]
    assert len(set(plans)) == 150
    for name in ("drawer", "hole", "prose"):
        assert 30 < sum(getattr(each, name) for each in plans) < 120
    assert {each.shelves for each in plans} == {0, 1, 2, 3}
    assert any("in" in each.board for each in plans)
    assert len({carcass(number).index("steps:") for number in range(20)}) > 5


# Changes that leave a cupboard as sound as it was.
HARMLESS = (
    ("steps:\n", "finishing:\n  - step: Oil it\n    treat:\n      - sand: work\nsteps:\n"),
    ("scale: 1:", "level: easy\nlanguages: en\nscale: 1:"),
    ("  craft knife: with a fresh blade\n", "  craft knife: {note: with a fresh blade}\n"),
    ("width: ", "rail gap: {is: 3 mm, note: for later}\n  width: "),
    ("grain: left to right}", "grain: left to right, note: The best face up.}"),
    ("keep off: 2 mm from front", "keep off: [2 mm from front, 0.5 mm from back]"),
)


@pytest.mark.parametrize("number", range(40, 52))
def test_a_sound_cupboard_stays_sound_when_something_harmless_is_added(number: int) -> None:
    text = carcass(number)
    for old, new in HARMLESS:
        text = text.replace(old, new, 1)
    text += "keep: rail gap\n"
    assert [each.what for each in told(text)] == []


@pytest.mark.parametrize("number", range(60, 72))
def test_a_sound_cupboard_with_one_thing_wrong_is_not_let_pass(number: int) -> None:
    text = carcass(number)
    wrong = text.replace("right: against floor", "right: against flor", 1)
    assert [each.code for each in told(wrong)] == ["unknown-name"]
    wrong = text.replace("hold: {with: masking tape", "hold: {with: spring clamp", 1)
    assert {each.code for each in told(wrong)} == {"tool-not-listed", "material-unused"}

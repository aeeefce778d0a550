"""What the booklet says where a figure cannot be all that it should."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.booklet.fitwords import fit_notes
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from patternpress.closing.close import close
from patternpress.closing.facts import closed_facts
from patternpress.closing.table import table
from patternpress.design.read import read_text
from tests.booklet.test_stepwords import PAIR
from tests.closing.test_close import box


def notes(text: str, edition: str) -> dict[str, list[str]]:
    """The notes of each part that has any, as plain text."""
    model = close(read_text(text, "box.yaml", Path()), edition).model
    wording = Wording(model, read_phrases("en"))
    found = {
        part.name: [
            str(note.striptags().replace("\u00a0", " ")) for note in fit_notes(part, wording)
        ]
        for part in model.worked.parts
    }
    return {name: told for name, told in found.items() if told}


def thick() -> str:
    """The box of 3 mm board, that no sixty-fourth stands for."""
    text = box(stock="really: 2.95 to 3.05 mm").sources[0][1]
    return text.replace("sheet: 2 mm", "sheet: 3 mm")


def test_a_size_that_is_cut_to_fit_says_how_far_it_is_from_its_figure() -> None:
    """The width comes to 71 sixty-fourths; less 5.8 mm that is 56.39 of them, a little over 7/8."""
    text = thick().replace("sheet: 3 mm", "sheet: 2.9 mm").replace("2.95 to 3.05", "2.85 to 2.95")
    assert notes(text, "inch") == {"floor": ["Cut the width to fit: 0.006 in more than 7⁄8 in."]}


def test_what_nobody_can_cut_by_hand_is_not_told() -> None:
    """55.88 sixty-fourths are 0.002 in under 7/8: 0.05 mm."""
    assert notes(thick(), "inch") == {"floor": ["Cut the width to fit."]}


def test_on_a_page_of_both_it_is_told_in_the_system_that_needs_it() -> None:
    text = thick().replace("sheet: 3 mm", "sheet: 2.9 mm").replace("2.95 to 3.05", "2.85 to 2.95")
    (told,) = notes(text, "both")["floor"]
    assert told.startswith("Cut the width to fit: ")
    assert told.endswith(" in.")


def test_a_size_that_the_author_wants_cut_to_fit_says_so() -> None:
    text = (
        box().sources[0][1].replace("deep: depth}\n  lid", "deep: depth, cut to fit: wide}\n  lid")
    )
    assert notes(text, "metric") == {"floor": ["Cut the width to fit."]}


def test_systems_that_lie_apart_are_told() -> None:
    """In sixteenths 12 mm comes to 1/2 in: more than a step of the finest from the millimetres."""
    assert notes(box().sources[0][1], "both") == {}
    text = box().sources[0][1].replace("units: both", "units: both, fraction: 1/16 in")
    (told,) = notes(text, "both")["side"]
    assert told == "Keep to one system: its width in the other is 0.7 mm more."


@pytest.mark.parametrize(
    ("less", "count", "edition", "told"),
    [
        ("0.4 to 0.8 mm", 2, "inch", True),
        ("0.9 to 1.6 mm", 1, "inch", False),
        ("0.4 to 0.8 mm", 2, "metric", False),
        ("0.4 to 0.5 mm", 2, "metric", True),
    ],
)
def test_a_range_that_the_step_leaves_no_room_for_is_told(
    less: str, count: int, edition: str, told: bool
) -> None:
    """Two leaves share what the gap has over, so each has half of the range."""
    text = PAIR.replace("OPENING", "36").replace("COUNT", str(count))
    text = text.replace("0.9 to 1.6 mm", less)
    closed = close(read_text(text, "tray.yaml", Path()), edition)
    system = {"inch": "in", "metric": "mm"}[edition]
    found = closed_facts(closed)["closing"][system]["narrowed"]
    assert [each["figure"] for each in found] == (["width of leaf"] if told else [])
    assert ("One figure: width of leaf; the step leaves no range of" in table(closed)) == told

"""The smaller designs: sound in every edition, and one edition of each built and proved.

All editions of the large demos are measured by the other files here; a door on pins is shown by
the cupboard alone.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.assembly.model import examine
from patternpress.closing.close import close
from patternpress.closing.facts import closed_facts
from patternpress.design.read import Reading, read_design
from patternpress.desk import rooms
from patternpress.proof.prove import prove
from tests.whole.demos import SMALLER, built, smaller

CUPBOARD = SMALLER / "oil-cupboard.yaml"


@pytest.fixture(scope="module")
def reading() -> Reading:
    return read_design(CUPBOARD)


@pytest.fixture(scope="module")
def pages(shared: Path) -> list[str]:
    """The text of each page in German, once the proof has found the booklet true."""
    (demo,) = [each for each in smaller() if each.design == CUPBOARD]
    booklet = built(demo, shared)
    report = prove(booklet.pdf.read_bytes(), booklet.facts)
    assert [each.what for each in report.findings] == []
    return [re.sub(r"\s+", " ", each) for each in booklet.texts]


@pytest.mark.parametrize("path", sorted(SMALLER.glob("*.yaml")), ids=lambda path: path.stem)
def test_nothing_is_told_of_a_smaller_design(path: Path) -> None:
    """In any edition: figures that close, cutting layouts and board ends included."""
    assert [each.what for each in rooms.check(read_design(path))] == []


def test_the_door_has_its_card_and_is_shown_open(pages: list[str]) -> None:
    """The doorway is 36 x 50 mm; 0.8 to 1 mm and 0.4 to 0.6 mm are taken off."""
    card = next(each for each in pages if "Türöffnung" in each and "0,8 bis 1 mm" in each)
    for figure in ("36 mm", "50 mm", "35 bis 35,2 mm", "49,4 bis 49,6 mm"):
        assert figure in card
    assert any("Offen gezeigt: Tür um 100°." in each for each in pages)


def test_the_line_that_follows_from_the_shelf_is_told_and_drawn(pages: list[str]) -> None:
    """The shelf's underside is half of 50 mm above the foot of the back."""
    told = next(each for each in pages if "Zeichne die Rückwandlinie" in each)
    assert "auf die Vorderseite der Rückwand (C), 25 mm von unten." in told
    assert "Hier liegt später die Unterseite des Einlegebodens (D)." in told
    assert any("Rückwandlinie" in each and "20 mm" in each for each in pages if each is not told)


@pytest.mark.parametrize("edition", ["metric", "inch", "deutsch"])
def test_the_door_turns_about_the_middle_of_its_pins(reading: Reading, edition: str) -> None:
    facts = closed_facts(close(reading, edition))
    (motion,) = facts["motions"]
    assert (motion["thing"], motion["degrees"], motion["toward"]) == ("door", "100", "front")
    (part,) = [each for each in facts["parts"] if each["name"] == "pin"]
    wire = Fraction(part["extents"]["wide"]["mm"])
    through = [Fraction(each) for each in motion["through"][:2]]
    for pin in ("lower pin", "upper pin"):
        (placed,) = [each for each in facts["places"] if each["piece"] == pin]
        corner = [Fraction(each) for each in placed["corner"][:2]]
        assert [a - b for a, b in zip(through, corner, strict=True)] == [wire / 2] * 2
    assert not {"lower pin", "upper pin"} & set(motion["pieces"])


@pytest.mark.parametrize("edition", ["metric", "inch"])
def test_the_pieces_fit_as_they_are_printed(reading: Reading, edition: str) -> None:
    """Each printed figure is rounded to the edition's step: pins and holes must still meet."""
    closed = close(reading, edition).model.worked.book
    problems = examine(replace(reading, book=closed, problems=(), kept={})).problems
    assert [each.what for each in problems if each.is_error] == []

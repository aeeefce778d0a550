"""Each kind of problem of reading, in a small file of its own: place, code, words, mend."""

from pathlib import Path

import pytest

from patternpress.design.read import read_text
from tests.design.faulty import expected, found, really

FAULTS = sorted((Path(__file__).parent / "faults").glob("*.yaml"))


@pytest.mark.parametrize("path", FAULTS, ids=lambda path: path.stem)
def test_a_fault_of_reading_is_told_in_full_and_alone(path: Path) -> None:
    text = path.read_text("utf-8")
    said = expected(text)
    assert f" {path.stem}: " in said[0][1] or any(f" {path.stem}: " in each for _, each in said)
    assert really(found(text, path)) == said


@pytest.mark.parametrize("path", FAULTS, ids=lambda path: path.stem)
def test_a_fault_of_reading_is_found_by_the_reader_itself(path: Path) -> None:
    reading = read_text(path.read_text("utf-8"), path.name, path.parent)
    assert path.stem in {each.code for each in reading.problems}

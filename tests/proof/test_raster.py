"""The same templates as dots: pdfium draws a sheet at 600 dots to the inch, and the ink is where
the facts and our reader say, within a dot.

This shares nothing with the reading of operators: what is on paper is what counts.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import numpy
import pypdfium2
import pytest
from numpy.typing import NDArray

from patternpress.proof.drawings import drawings_of
from patternpress.proof.geometry import dense
from patternpress.proof.reading import read
from tests.proof.faults import outline_covered, outline_white
from tests.proof.saboteur import spoilt
from tests.whole.demos import Built

DPI = 600
DOT = 25.4 / DPI  # mm
INKED = 128  # of 255
HALF = 0.25  # mm: half the width of an outline


@cache
def dots(data: bytes, number: int) -> NDArray[Any]:
    """A page in grey; row 0 is the top."""
    page = pypdfium2.PdfDocument(data)[number - 1]
    found: NDArray[Any] = page.render(scale=DPI / 72, grayscale=True).to_numpy()
    return found[:, :, 0] if found.ndim == 3 else found


def at(page: NDArray[Any], places: NDArray[Any]) -> NDArray[Any]:
    """The grey of the dots at places given in mm from the lower left corner."""
    columns = numpy.floor(places[:, 0] / DOT).astype(int)
    rows = page.shape[0] - 1 - numpy.floor(places[:, 1] / DOT).astype(int)
    found: NDArray[Any] = page[rows, columns]
    return found


def sides(places: NDArray[Any], far: float) -> NDArray[Any]:
    """Places beside the middles of a line's pieces, `far` mm off on either side."""
    middles = (places[:-1] + places[1:]) / 2
    steps = numpy.diff(places, axis=0)
    long = numpy.hypot(*steps.T)
    good = long > 0.2
    across = numpy.column_stack([-steps[good, 1], steps[good, 0]]) / long[good, None]
    return numpy.vstack([middles[good] + far * across, middles[good] - far * across])


@pytest.mark.parametrize("which", ["shelf", "desk"])
def test_outlines_are_inked_as_wide_as_they_are_and_no_wider(
    which: str, request: pytest.FixtureRequest
) -> None:
    booklet: Built = request.getfixturevalue(which)
    data = booklet.pdf.read_bytes()
    number = booklet.places["templates"]
    page = dots(data, number)
    found = [each for each in drawings_of(read(data)) if each.page == number]
    assert found
    for drawing in found:
        (line,) = drawing.lines("outline")
        places = dense(line)
        assert (at(page, places) < INKED).all(), drawing.part
        # A dot inside the edge of the line is inked on both sides …
        assert (at(page, sides(places, HALF - DOT)) < INKED).mean() > 0.99, drawing.part
        # … and a dot beyond it is paper, but where other lines come near.
        assert (at(page, sides(places, HALF + 1.5 * DOT)) >= INKED).mean() > 0.9, drawing.part


@pytest.mark.parametrize("fault", [outline_white, outline_covered], ids=lambda f: f.__name__)
def test_what_the_proof_calls_unseen_is_not_on_the_paper(fault: Any, desk: Built) -> None:
    sound, number = desk.pdf.read_bytes(), desk.places["templates"]
    before, after = dots(sound, number), dots(spoilt(sound, fault), number)
    lost = []
    for drawing in drawings_of(read(sound)):
        if drawing.page != number:
            continue
        places = dense(drawing.lines("outline")[0])
        assert (at(before, places) < INKED).all()
        lost.append((at(after, places) >= INKED).mean())
    assert max(lost) > (0.9 if fault is outline_white else 0.05)


def test_the_sheet_is_as_many_dots_as_its_paper(desk: Built, tmp_path: Path) -> None:
    high, wide = dots(desk.pdf.read_bytes(), desk.places["templates"]).shape
    assert (wide * DOT, high * DOT) == pytest.approx((210, 297), abs=DOT)

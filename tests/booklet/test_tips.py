"""Pieces whose ends are cut level: the size that they are cut to reaches from tip to tip."""

from __future__ import annotations

import math

import pytest

from patternpress.booklet.filllabels import labels
from patternpress.booklet.filllayouts import laid_stocks
from patternpress.booklet.lists import as_csv, as_text
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import Wording
from patternpress.cutting.layouts import layouts
from tests.whole.small import model

DESIGN = """\
design: Stand
stock:
  board: {{sheet: 2 mm, sold: 100 x 600 mm}}
  strip: {{{strip}, sold: 600 mm}}
parts:
  top: {{stock: board, wide: 60 mm, deep: 40 mm}}
  leg:
    stock: strip
    high: 50 mm
    leans: foot 8 deg to the front
    ends: {{{ends}}}
steps:
  - step: Make it
    start: top
    work lies: on its top
    join: {{leg: {{top: against top, left: 10 mm inside top, front: 2 mm inside top}}}}
editions:
  metric: {{units: mm, paper: A4, labels: yes}}
"""
LEVEL = "top: level, bottom: level"
EIGHT = math.tan(math.radians(8))


def worded(strip: str, ends: str) -> Wording:
    return Wording(model(DESIGN.format(strip=strip, ends=ends)), read_phrases("en"))


@pytest.mark.parametrize(
    ("strip", "ends", "more"),
    [
        ("strip: 4 mm", LEVEL, 4 * EIGHT),
        ("strip: 4 mm", "top: level", 2 * EIGHT),
        ("rod: 6 mm", LEVEL, 6 * EIGHT),
        # Where the angle is said, the size is that of the longest side.
        ("strip: 4 mm", "top: '8 deg, longest at back', bottom: '8 deg, longest at front'", 0),
    ],
)
def test_the_blank_reaches_from_tip_to_tip(strip: str, ends: str, more: float) -> None:
    part = worded(strip, ends).model.worked.part("leg")
    assert part is not None
    assert float(part.blank("high").value) == pytest.approx(50 + more, abs=1e-9)
    assert float(part.extents["high"].value) == 50


def test_all_papers_say_the_same_size() -> None:
    wording = worded("strip: 4 mm", LEVEL)
    list_, csv = as_text(wording), as_csv(wording)
    assert "leg: 1 off, 50.6 × 4 × 4 mm. 50.6 mm is measured from tip to tip. Not square:" in list_
    assert "50.6\u00a0mm,4\u00a0mm" in csv
    laid = laid_stocks(layouts(wording.model), wording)[1].boards[0]
    assert plain_words(laid.cuts[0]) == "Cut at 50.6 mm: B"
    assert plain_words(laid.pieces[0]) == "1 × B leg, 50.6 mm"
    assert [plain_words(each.size) for each in labels(wording) if each.letter == "B"] == [
        "50.6 × 4 × 4 mm"
    ]
    for text in (list_, csv, str(laid)):
        assert "50 mm" not in text.replace("\u00a0", " ")

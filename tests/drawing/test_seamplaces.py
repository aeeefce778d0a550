"""Where the sheets of a tiled template meet, and what is told of features that lie far apart."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest

from patternpress.assembly.blank import CutOff, GrooveRun, Round, RoundHole
from patternpress.assembly.shape import Axis, MarkLine, MarkPoint, Point
from patternpress.drawing.part import Manner
from patternpress.drawing.seamplaces import OVERLAP, busy_along, stretches
from patternpress.drawing.sheets import sheets
from patternpress.measure.pieces import joined
from tests.drawing import samples
from tests.drawing.samples import LEFT, TOP
from tests.drawing.test_tiles import tiles

F = Fraction
ROOM = (F(190), F(236))


def seams(found: list[tuple[float, float]]) -> list[float]:
    return [(one[1] + two[0]) / 2 for one, two in pairwise(found)]


def test_without_anything_in_the_way_the_sheets_are_alike() -> None:
    found = stretches(0.0, 400.0, 3, 200.0, [(20.0, 30.0)])
    assert {round(high - low, 9) for low, high in found} == {140.0}
    assert found[0][0] == 0.0 and found[-1][1] == 400.0


@pytest.mark.parametrize("busy", [(195.0, 205.0), (199.0, 199.0), (160.0, 204.0)])
def test_a_seam_keeps_off_what_lies_along_it_if_the_sheets_have_room(
    busy: tuple[float, float],
) -> None:
    found = stretches(0.0, 400.0, 2, 250.0, [busy])
    (seam,) = seams(found)
    assert seam + OVERLAP / 2 < busy[0] or seam - OVERLAP / 2 > busy[1]
    assert all(high - low <= 250.0 for low, high in found)
    # It is moved no farther than it must.
    assert min(abs(seam - busy[0]), abs(seam - busy[1])) <= OVERLAP / 2 + 2


def test_no_sheet_outgrows_its_room_for_that() -> None:
    found = stretches(0.0, 400.0, 2, 207.0, [(190.0, 210.0)])
    assert all(high - low <= 207.0 + 1e-6 for low, high in found)
    assert all(a[1] - b[0] == pytest.approx(OVERLAP) for a, b in pairwise(found))


def test_several_seams_move_together() -> None:
    busy = [(130.0, 140.0), (262.0, 276.0)]
    found = stretches(0.0, 400.0, 3, 160.0, busy)
    for seam in seams(found):
        assert all(seam + 5 < low or seam - 5 > high for low, high in busy)


def test_what_a_seam_crosses_is_not_in_its_way() -> None:
    shape = samples.part(
        "A",
        "Base",
        300,
        200,
        holes=(RoundHole("hole", samples.at(50, 60), F(10)),),
        grooves=(GrooveRun("run", Axis.Y, F(100), F(6), F(3)),),
        marks=(
            MarkLine("line", Point(F(0), F(80)), Point(F(300), F(80))),
            MarkPoint("cross", samples.at(30, 31)),
        ),
    ).shape
    across = [each for each in busy_along(shape, Axis.X) if each not in ((0, 0), (300, 300))]
    up = [each for each in busy_along(shape, Axis.Y) if each not in ((0, 0), (200, 200))]
    assert sorted(across) == [(30, 30), (45, 55), (100, 106)]
    assert sorted(up) == [(31, 31), (55, 65), (80, 80)]


def test_joined_sheets_tell_radii_and_how_far_grooves_lie_from_an_edge() -> None:
    part = samples.part(
        "A",
        "Base",
        300,
        250,
        corners={(LEFT, TOP): Round(F(40))},
        grooves=(GrooveRun("groove", Axis.Y, F(147), F(6), F(3)),),
    )
    arc = next(
        f"radius of stretch {n + 1}"
        for n, each in enumerate(part.shape.outline.segments)
        if type(each).__name__ == "Arc"
    )
    said = {"groove": joined("groove 6 × 3 mm"), arc: joined("R40 mm")}
    part = replace(part, callouts=said, manner=Manner.TILED)
    found = tiles(sheets([part], ROOM))
    said = [text for sheet in found for text, _, _ in sheet.text]
    assert "R40 mm" in said
    measured = [text.replace("\xa0", " ") for text in said if text.startswith("groove 6 × 3 mm, ")]
    assert len(measured) == 1
    assert "147 mm" in measured[0] and measured[0].endswith("from left")
    # The seam would run in the groove.
    assert not any(sheet.window.bounds[0] + 5 == pytest.approx(150) for sheet in found)


def test_a_seam_that_cannot_keep_off_a_hole_keeps_off_its_centre() -> None:
    """On two sheets just wide enough there are four millimetres to move it by."""
    (_, right), (left, _) = stretches(0, 330, 2, 174, [(160, 170)])
    assert (left + right) / 2 in (pytest.approx(161), pytest.approx(169))


def test_a_name_without_room_stands_beside_the_sheet_that_shows_its_line() -> None:
    """Not beside the first sheet, whose paper is bare there."""
    name = "low line of a side that is not as wide as its name"
    low = MarkLine(name, Point(F(0), F(10)), Point(F(50), F(10)))
    corners = {(LEFT, TOP): CutOff(F(40), F(200))}
    part = samples.part("A", "Side", 50, 300, corners=corners, marks=(low,))
    found = tiles(sheets([part], ROOM))
    saying = [any(text.startswith(name) for text, _, _ in sheet.text) for sheet in found]
    assert saying == [False, True]

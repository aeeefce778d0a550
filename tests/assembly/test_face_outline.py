"""Broad faces of parts whose ends slant through the thickness, against the parts' solids."""

from __future__ import annotations

import pytest
import shapely

from patternpress.assembly.faceoutline import face_outline
from patternpress.assembly.outlines import area, bounding_box
from patternpress.assembly.solids import solid_of
from patternpress.assembly.specs import NEAR_FACE
from patternpress.design.phrases import OPPOSITE
from tests.whole.small import TOP, model

DESIGN = """\
sizes:
  thick: thickness of board
stock:
  board: {sheet: 6 mm, sold: 100 x 600 mm, cut with: fine saw, kerf: 0.3 mm}
tools: {fine saw: }
steps: [{step: Look at it, start: panel}]
parts:
  panel:
    stock: board
"""
ROUND = "corners: {bottom left: round 1 mm, bottom right: round 9 mm}"
ARC = """outline:
      - start: 5 mm, 0 mm
      - line: 30 mm, 0 mm
      - {arc: '40 mm, 2 mm', through: '36 mm, 0.4 mm'}
      - {curve: '20 mm, 50 mm', leaving: 80 deg, arriving: 150 deg}"""
WIDE, DEEP = ("wide: 40 mm", "high: 50 mm"), ("deep: 40 mm", "high: 50 mm")
BEVEL = 'ends: {bottom: "20 deg, longest at back"}'
LEVEL = "ends: {bottom: level, top: level}"
CASES = {
    "bevelled": (*WIDE, BEVEL),
    "longest in front": (*WIDE, BEVEL.replace("back", "front")),
    "level": (*WIDE, "leans: top 20 deg to the back", "ends: {bottom: level}"),
    "both ends level": (*WIDE, "leans: top 9 deg to the front", LEVEL),
    "seen from the side": (*DEEP, "leans: top 9 deg to the left", LEVEL),
    "two angles": (*WIDE, 'ends: {bottom: "20 deg, longest at back, 10 deg, longest at left"}'),
    "round corners": (*WIDE, BEVEL, ROUND),
    "an outline with an arc and a curve": (*WIDE, BEVEL, ARC),
}


@pytest.mark.parametrize("lines", CASES.values(), ids=CASES)
@pytest.mark.parametrize("near", [True, False])
def test_a_face_has_the_outline_of_the_solid_there(lines: tuple[str, ...], near: bool) -> None:
    text = TOP + DESIGN + "".join(f"    {line}\n" for line in lines)
    worked = model(text).worked
    part, shape = worked.parts[0], worked.shapes["panel"]
    side = NEAR_FACE[shape.view] if near else OPPOSITE[NEAR_FACE[shape.view]]
    solid = solid_of(part, shape, worked.solver, 0.001)
    rings = [
        [solid.points[number] for number in loop]
        for facet in solid.facets
        if facet.side == side
        for loop in facet.loops
    ]
    first = 1 if lines[:2] == DEEP else 0
    face = shapely.union_all([shapely.Polygon([(p[first], p[2]) for p in ring]) for ring in rings])
    outline = face_outline(part, shape, worked.solver, near=near)
    box = bounding_box(outline)
    assert float(area(outline)) == pytest.approx(face.area, abs=0.1)
    found = [float(each) for each in (box.left, box.bottom, box.right, box.top)]
    assert found == pytest.approx(face.bounds, abs=0.002)


def test_an_outline_without_slanting_ends_is_left_alone() -> None:
    worked = model(TOP + DESIGN + "    wide: 40 mm\n    high: 50 mm\n").worked
    shape = worked.shapes["panel"]
    assert face_outline(worked.parts[0], shape, worked.solver) is shape.outline

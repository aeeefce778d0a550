"""Files for cutters, opened by readers that did not write them and held against exact outlines.

DXF is read and audited by ezdxf's reader; SVG by fontTools' reader of path data.  Areas and
distances are Shapely's, circles also mpmath's.
"""

from __future__ import annotations

import io
import math
import re
import xml.etree.ElementTree as ET
from fractions import Fraction

import ezdxf
import mpmath
import numpy as np
import pytest
import shapely
import shapely.affinity
from ezdxf import path as dxf_path
from ezdxf.document import Drawing
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path

from patternpress.assembly.blank import Arched, Hollow, Round, RoundHole, Slot, Window
from patternpress.assembly.flattening import flattened
from patternpress.assembly.shape import Axis, Face, Shape
from patternpress.drawing.cutdxf import cut_dxf
from patternpress.drawing.cutlines import cut_lines, far_lines, whole_circle
from patternpress.drawing.cutsvg import cut_svg
from tests.drawing import samples
from tests.drawing.samples import F, at

SVG = "{http://www.w3.org/2000/svg}"
PARTS = {
    part.name: part.shape
    for part in (
        samples.SIDE,
        samples.SHELF,
        samples.HEADBOARD,
        samples.BRACKET,
        samples.DISC,
        samples.RAMP,
        samples.part(
            "P",
            "Panel",
            160,
            110,
            corners={(Face.LEFT, Face.TOP): Hollow(F(20)), (Face.RIGHT, Face.TOP): Round(F(30))},
            edges={Face.BOTTOM: Arched(F(9))},
            holes=(
                RoundHole("port", at(60, 50), F(40)),
                RoundHole("peg", at(20, 30), F(3), F(2)),
                Slot("slot", at(120, 40), F(40), F(6), Axis.X),
                Window("light", at(110, 75), F(24), F(16), F(4)),
            ),
        ),
    )
}
KERFS = [F(0), F("0.1"), F("0.25")]


@pytest.fixture(params=PARTS.items(), ids=PARTS)
def shape(request: pytest.FixtureRequest) -> Shape:
    found: Shape = request.param[1]
    return found


def opened(text: str) -> Drawing:
    return ezdxf.read(io.StringIO(text))  # type: ignore[attr-defined]


def dxf_rings(text: str, layer: str) -> list[shapely.Polygon]:
    found = []
    for entity in opened(text).modelspace().query(f'*[layer=="{layer}"]'):
        if entity.dxftype() == "CIRCLE":  # the reader's own cubics stray from a circle
            (x, y, _), r = entity.dxf.center, entity.dxf.radius
            turns = (2 * math.pi * n / 4000 for n in range(4000))
            found.append(
                shapely.Polygon([(x + r * math.cos(a), y + r * math.sin(a)) for a in turns])
            )
        if entity.dxftype() == "LWPOLYLINE":
            run = dxf_path.make_path(entity).flattening(0.0005)  # type: ignore[arg-type]
            found.append(shapely.Polygon([(p.x, p.y) for p in run]))
    return found


def svg_rings(text: str, layer: str) -> list[shapely.Polygon]:
    """Closed paths of a layer, in mm with y up, the drawing's lower left corner at the origin."""
    root = ET.fromstring(text)
    height = float(root.get("height", "").removesuffix("mm"))
    (group,) = (each for each in root.iter(f"{SVG}g") if each.get("id") == layer)
    found = []
    for path in group.iter(f"{SVG}path"):
        pen = RecordingPen()
        parse_path(path.get("d", ""), pen)
        if pen.value[-1][0] != "closePath":
            continue
        run: list[tuple[float, float]] = []
        for verb, places in pen.value:
            if verb == "curveTo":
                p0, p1, p2, p3 = (complex(*each) for each in (run[-1], *places))
                for index in range(1, 301):
                    t, r = index / 300, 1 - index / 300
                    z = r**3 * p0 + 3 * r * r * t * p1 + 3 * r * t * t * p2 + t**3 * p3
                    run.append((z.real, z.imag))
            elif places:
                run.append(places[0])
        found.append(shapely.Polygon([(x, height - y) for x, y in run]))
    return found


def wanted(shape: Shape, kerf: Fraction) -> list[shapely.Polygon]:
    """Outline grown and holes shrunk by half the kerf, as Shapely grows the exact lines."""
    half = float(kerf) / 2
    through = [hole.outline for hole in shape.holes if hole.depth is None]
    rings = [
        *((shapely.Polygon(flattened(each, 0.0005)), -half) for each in through),
        (shapely.Polygon(flattened(shape.outline, 0.0005)), half),
    ]
    return [ring.buffer(by, join_style="mitre", mitre_limit=10) for ring, by in rings]


def apart(one: shapely.Polygon, two: shapely.Polygon) -> float:
    return float(one.exterior.hausdorff_distance(two.exterior))


@pytest.mark.parametrize("kerf", KERFS, ids=str)
def test_dxf_holds_the_true_lines(shape: Shape, kerf: Fraction) -> None:
    text = cut_dxf(cut_lines(shape, "A part", kerf))
    rings = dxf_rings(text, "cut")
    true = wanted(shape, kerf)
    assert len(rings) == len(true)
    for ours, theirs in zip(rings, true, strict=True):  # in the order of cutting
        assert apart(ours, theirs) <= 0.01
        assert ours.area == pytest.approx(theirs.area, abs=0.01 * theirs.length)


@pytest.mark.parametrize("kerf", KERFS, ids=str)
def test_svg_holds_the_true_lines(shape: Shape, kerf: Fraction) -> None:
    text = cut_svg(cut_lines(shape, "A part", kerf))
    rings = svg_rings(text, "cut")
    true = wanted(shape, kerf)
    assert len(rings) == len(true)
    # The drawing has its own corner: all its lines are moved alike.
    left, low = true[-1].bounds[0] - rings[-1].bounds[0], true[-1].bounds[1] - rings[-1].bounds[1]
    for ours, theirs in zip(rings, true, strict=True):
        moved = shapely.transform(ours, lambda each: np.add(each, (left, low)))
        assert apart(moved, theirs) <= 0.01


def test_the_last_thing_cut_is_the_outline(shape: Shape) -> None:
    for rings in (
        dxf_rings(cut_dxf(cut_lines(shape, "A part")), "cut"),
        svg_rings(cut_svg(cut_lines(shape, "A part")), "cut"),
    ):
        *inner, outline = rings
        assert all(outline.buffer(0.01).covers(ring) for ring in inner)


def test_the_audit_finds_nothing_and_units_are_millimetres(shape: Shape) -> None:
    document = opened(cut_dxf(cut_lines(shape, "A part", F("0.1"))))
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    assert document.dxfversion == "AC1024"  # R2010
    assert document.units == 4  # millimetres, by the format's own table
    assert {"cut", "mark", "text"} <= {layer.dxf.name for layer in document.layers}
    assert {each.dxf.layer for each in document.modelspace()} <= {"cut", "mark", "text"}


def test_only_single_lines_and_whole_contours() -> None:
    """No lead-ins: every cut is one closed line, and no line is drawn twice."""
    for shape in PARTS.values():
        entities = list(opened(cut_dxf(cut_lines(shape, "A part"))).modelspace())
        cuts = [each for each in entities if each.dxf.layer == "cut"]
        assert all(each.dxftype() == "CIRCLE" or each.closed for each in cuts)  # type: ignore[attr-defined]
        strokes = [
            frozenset(((e.dxf.start.x, e.dxf.start.y), (e.dxf.end.x, e.dxf.end.y)))
            for e in entities
            if e.dxftype() == "LINE"
        ]
        assert len(strokes) == len(set(strokes))


@pytest.mark.parametrize("radius", ["0.5", "3", "12.7", "80", "400"])
def test_circles_are_circles(radius: str) -> None:
    r = F(radius)
    part = samples.part("J", "Disc", 2 * r, 2 * r, corners=all_round(r))
    text = cut_dxf(cut_lines(part.shape, "J Disc"))
    (circle,) = opened(text).modelspace().query("CIRCLE")
    assert circle.dxf.radius == pytest.approx(float(r), abs=1e-9)
    (ring,) = svg_rings(cut_svg(cut_lines(part.shape, "J Disc")), "cut")
    centre = ring.centroid
    with mpmath.workdps(30):
        for x, y in ring.exterior.coords:
            away = mpmath.hypot(mpmath.mpf(x) - centre.x, mpmath.mpf(y) - centre.y)
            assert abs(away - mpmath.mpf(radius)) <= 0.0051
    assert ring.area == pytest.approx(math.pi * float(r) ** 2, abs=0.02 * float(r) + 0.001)


def all_round(r: Fraction) -> dict[tuple[Face, Face], Round]:
    return {(x, y): Round(r) for x in (Face.LEFT, Face.RIGHT) for y in (Face.BOTTOM, Face.TOP)}


def test_a_kerf_wider_than_a_hole_leaves_it_out() -> None:
    part = samples.part("M", "Panel", 30, 20, holes=(RoundHole("pin", at(9, 9), F("0.2")),))
    assert len(cut_lines(part.shape, "M Panel", F("0.3")).cuts) == 1
    assert len(cut_lines(part.shape, "M Panel", F("0.1")).cuts) == 2


def test_blind_holes_grooves_and_marks_are_marked_not_cut() -> None:
    text = cut_dxf(cut_lines(PARTS["Side"], "A Side"))
    marks = [each for each in opened(text).modelspace() if each.dxf.layer == "mark"]
    # Three sides of the stopped shelf groove; the back groove has a file of its own.
    assert [each.dxftype() for each in marks] == ["LINE"] * 3
    panel = opened(cut_dxf(cut_lines(PARTS["Panel"], "P Panel"))).modelspace()
    assert [e.dxf.radius for e in panel.query('CIRCLE[layer=="mark"]')] == [1.5]


def test_a_groove_on_the_far_face_is_marked_on_the_part_turned_over() -> None:
    """The side is 44 mm wide; its groove lies 40 to 42 mm from the left as one looks through it."""
    far = far_lines(PARTS["Side"], "A Side far face")
    assert far is not None
    space = opened(cut_dxf(far)).modelspace()
    assert {each.dxf.layer for each in space} == {"lay", "mark", "text"}
    sides = [e for e in space.query('LINE[layer=="mark"]') if e.dxf.start.x == e.dxf.end.x]
    assert sorted({each.dxf.start.x for each in sides}) == [2, 4]
    *_, outline = true = [
        shapely.transform(ring, lambda at: at * (-1, 1) + (44, 0))
        for ring in wanted(PARTS["Side"], F(0))
    ]
    drawn = cut_svg(far)
    for rings in (dxf_rings(cut_dxf(far), "lay"), svg_rings(drawn, "lay")):
        away = np.subtract(outline.bounds[:2], rings[-1].bounds[:2])
        for ours, theirs in zip(rings, true, strict=True):
            moved = shapely.affinity.translate(ours, *away)
            assert apart(moved, theirs) <= 0.01
    # A drawing has 5 mm kept clear on its left.
    ups = re.findall(r'd="M([\d.]+) [\d.]+L\1 [\d.]+"', drawn)
    assert sorted(map(float, ups)) == [5 + 2, 5 + 4]
    assert 'id="cut"' not in drawn


def test_a_far_face_without_work_has_no_file() -> None:
    assert far_lines(PARTS["Panel"], "P Panel far face") is None


def test_the_same_part_gives_the_same_bytes(shape: Shape) -> None:
    lines = cut_lines(shape, "A part", F("0.1"))
    assert cut_dxf(lines) == cut_dxf(lines)
    assert cut_svg(lines) == cut_svg(lines)


def test_only_whole_circles_are_taken_for_circles() -> None:
    assert whole_circle(samples.DISC.shape.outline) is not None
    assert whole_circle(samples.SIDE.shape.outline) is None
    assert whole_circle(PARTS["Panel"].holes[2].outline) is None  # a slot

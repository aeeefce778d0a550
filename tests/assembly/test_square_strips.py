"""Square strips: which face a template shows, and ends that are cut level on a leg that leans."""

from __future__ import annotations

import math
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from patternpress.assembly.model import Model, work_out
from patternpress.assembly.outlines import bounding_box
from patternpress.assembly.shape import View
from patternpress.assembly.solid import Vec, volume
from patternpress.assembly.solids import solid_of
from patternpress.booklet.fillcutting import end_notes
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from patternpress.cutting.jobs import jobs
from patternpress.design.read import read_text

LEAN = math.radians(8)
TRESTLE = """
design: Trestle
scale: 1:12
stock:
  strip: {strip: 4 mm, sold: 600 mm, cut with: fine saw}
parts:
  beam: {stock: strip, deep: 30 mm}
  front leg: {stock: strip, high: 50 mm, leans: foot 8 deg to the front, LEG}
  back leg: {stock: strip, high: 50 mm, leans: foot 8 deg to the back, LEG}
tools: fine saw, pin vice
materials:
  glue: {kind: glue, workable: 5 min, handle: 30 min, hard: 24 h}
steps:
  - step: Make it
    start: beam
    work lies: on its top
    join:
      front leg: {top: against beam, left: flush with beam, front: 2 mm beyond beam}
      back leg: {top: against beam, left: flush with beam, back: 2 mm beyond beam}
    wait: {for: glue, until: hard}
editions:
  metric: {units: mm, paper: A4}
"""
LEVEL = "ends: {top: level, bottom: level}"
HOLE = "holes: {peg hole: {round: 1 mm, on: SIDE, at: 12 mm from top}}"


@cache
def trestle(leg: str = LEVEL) -> Model:
    reading = read_text(TRESTLE.replace("LEG", leg), "trestle.yaml", Path())
    assert reading.book is not None
    return work_out(reading, "metric")


@pytest.mark.parametrize(
    ("leg", "view"),
    [
        (LEVEL, View.RIGHT),
        (f"{LEVEL}, {HOLE.replace('SIDE', 'left')}", View.RIGHT),
        # What is to be set out decides, and the angle is told in words.
        (f"{LEVEL}, {HOLE.replace('SIDE', 'front')}", View.FRONT),
        # Without a side a hole is where it always was.
        ("holes: {peg hole: {round: 1 mm, at: 12 mm from top}}", View.FRONT),
        ('ends: {bottom: "10 deg, longest at front"}', View.RIGHT),
        ('ends: {bottom: "10 deg, longest at left"}', View.FRONT),
        ("template: yes", View.FRONT),
    ],
)
def test_the_template_shows_the_face_with_the_most_to_show(leg: str, view: View) -> None:
    made = trestle(leg)
    assert made.worked.shapes["front leg"].view is view
    assert "front leg" in made.worked.templates


def test_level_ends_are_drawn_at_their_angle_through_the_middle_of_the_end() -> None:
    over = 2 * math.tan(LEAN)
    for leg, longest_top in (("front leg", "back"), ("back leg", "front")):
        outline = trestle().worked.shapes[leg].outline
        found = {(float(s.to.x), round(float(s.to.y), 6)) for s in outline.segments}
        up = over if longest_top == "back" else -over
        assert found == {
            (0.0, round(50 - up, 6)),
            (4.0, round(50 + up, 6)),
            (0.0, round(-up, 6)),
            (4.0, round(up, 6)),
        }


def test_a_leg_with_level_ends_is_as_thick_all_along_and_stands_level() -> None:
    made = trestle()
    part = made.worked.part("front leg")
    assert part is not None
    solid = solid_of(part, made.worked.shapes["front leg"], made.worked.solver)
    assert len(solid.points) == 8 and len(solid.facets) == 6
    corners = {round(p[2], 6) for p in solid.points}
    assert len(corners) == 4
    (leg,) = (each for each in made.assembly.placed if each.piece == "front leg")
    heights = sorted(float(leg.pose.point(_exact(point))[2]) for point in solid.points)
    assert max(heights[:4]) - min(heights[:4]) < 1e-6 and heights[4] - heights[3] > 40


def _exact(point: Vec) -> tuple[Fraction, Fraction, Fraction]:
    x, y, z = map(Fraction, point)
    return x, y, z


def test_the_template_is_as_long_as_the_wood_that_the_layout_has_for_it() -> None:
    (job,) = jobs(trestle())
    long = {item.part.name: float(item.along) for item in job.items}
    assert long["beam"] == 30
    assert long["front leg"] == pytest.approx(50 + 4 * math.tan(LEAN))
    box = bounding_box(trestle().worked.shapes["front leg"].outline)
    assert float(box.top - box.bottom) == pytest.approx(long["front leg"])


TAPER = """design: Post
stock:
  strip: {strip: 4 mm, sold: 600 mm}
parts:
  leg: {stock: strip, high: 30 mm, CORNERS}
steps:
  - step: Cut it
    start: leg
editions:
  metric: {units: mm}
"""


@pytest.mark.parametrize(
    ("back", "wood", "told"),
    [
        # A frustum that goes from 4 mm square to 2.5 mm square: 20 (16 + 10 + 6.25) / 3.
        ("cut off 20 x 1.5 mm", 375, "cut off, 20 mm along the back and 1.5 mm along the bottom"),
        ("notch 20 x 1 mm", 16 * 10 + 3 * 3.25 * 20, "notched, 20 mm along the back"),
    ],
)
def test_a_strip_is_cut_off_on_two_faces(back: str, wood: float, told: str) -> None:
    text = TAPER.replace(
        "CORNERS", f"corners: {{right bottom: cut off 20 x 1.5 mm, back bottom: {back}}}"
    )
    reading = read_text(text, "post.yaml", Path())
    assert [each.what for each in reading.problems] == []
    model = work_out(reading, "metric")
    (part,) = model.worked.parts
    made = solid_of(part, model.worked.shapes["leg"], model.worked.solver)
    assert volume(made) == pytest.approx(wood)
    (note,) = end_notes(part, Wording(model, read_phrases("en")))
    assert told in note.striptags().replace("\xa0", " ")
    assert len(model.worked.problems) == 0

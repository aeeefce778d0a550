"""Pieces face on: what a step marks, cuts or shapes before anything is joined."""

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
import shapely

from patternpress.assembly.model import Model, work_out
from patternpress.assembly.outlines import bounding_box
from patternpress.assembly.shape import Arc
from patternpress.assembly.turning import scaled_shape
from patternpress.booklet.atelier import atelier
from patternpress.booklet.fillpictures import step_figures
from patternpress.booklet.wording import wording_of
from patternpress.design.read import read_text
from patternpress.drawing.contract import check_template
from patternpress.drawing.facedims import Measure, dimension_ink, each_once, measures_of
from patternpress.drawing.faceviews import WIDE, face_pictures
from patternpress.drawing.framing import Picture
from patternpress.drawing.ink import Stroke
from patternpress.drawing.part import in_millimetres
from patternpress.drawing.workpieces import Workpiece, workpieces_of
from patternpress.measure.figures import Figure, show_length
from patternpress.measure.quantity import Kind, Quantity
from tests.drawing.demo_pictures import DEMOS, DESIGNS, STYLE, model_of
from tests.drawing.svg_reader import dots_of, lines_of, words_of

SVG_TITLE = re.compile(r"<title>(.*?)</title>")

# By demo and step: the faces that are drawn.
FACES = {
    ("keepers-desk", 1): ["B right", "A top", "D top"],
    ("signal-shelf", 1): ["B front", "A top", "E right", "B back"],
    ("signal-shelf", 2): ["B front", "E right", "R front"],
    ("signal-shelf", 3): ["A top", "P right"],
    ("net-tote", 2): ["A right", "A top"],
    ("net-tote", 3): ["B front", "C top"],
    ("net-tote", 7): ["K back", "L right"],
    ("smaller/oil-cupboard", 1): ["B right", "A top"],
}


def pieces(demo: str, number: int) -> tuple[Workpiece, ...]:
    model = model_of(demo)
    return workpieces_of(model, number, model.worked.usage.steps[number - 1])


def figures(demo: str) -> Callable[[Fraction], Figure]:
    display = model_of(demo).edition.display
    return lambda value: show_length(Quantity(value, Kind.LENGTH), display)


def titled(faces: Sequence[Workpiece]) -> str:
    return "Faces of " + " and ".join(each.letter for each in faces)


def drawn(demo: str, number: int) -> tuple[Picture, ...]:
    return face_pictures(pieces(demo, number), figures(demo), titled, STYLE)


def shown(demo: str, number: int) -> list[str]:
    return [each.svg for each in drawn(demo, number)]


def test_every_step_that_works_on_single_pieces_has_its_faces() -> None:
    found = {}
    for demo in DEMOS:
        for number, step in enumerate(model_of(demo).worked.usage.steps, 1):
            faces = [f"{each.letter} {each.face}" for each in pieces(demo, number)]
            if faces and not step.join:
                found[demo, number] = faces
    assert found == FACES


@pytest.mark.parametrize(("demo", "number"), list(FACES))
def test_every_picture_of_faces_keeps_the_contract(demo: str, number: int) -> None:
    for svg in shown(demo, number):
        assert check_template(svg) == []
        # Figures of a fraction are smaller than the whole numbers beside them.
        assert all(high >= 2.4 for text, _, high in words_of(svg) if text.strip().isalpha())


@pytest.mark.parametrize(("demo", "number"), list(FACES))
def test_words_lie_apart(demo: str, number: int) -> None:
    for svg in shown(demo, number):
        boxes = [(text, box) for text, box, _ in words_of(svg) if text.strip()]
        for place, (text, box) in enumerate(boxes):
            for other, around in boxes[place + 1 :]:
                assert box.intersection(around).area < 0.05, (text, other)


def test_what_later_steps_make_is_not_there_yet() -> None:
    marking, cutting = pieces("signal-shelf", 1)[0], pieces("signal-shelf", 2)[0]
    assert marking.shape.holes == ()
    assert marking.shape.grooves == ()
    assert {each.name for each in marking.shape.marks} == {"lower shelf line", "upper shelf line"}
    assert len(cutting.shape.holes) == 4
    assert len(cutting.shape.grooves) == 2


def test_the_back_is_seen_from_the_back() -> None:
    front, back = pieces("signal-shelf", 1)[0], pieces("signal-shelf", 1)[3]
    assert (front.face, back.face) == ("front", "back")
    assert [each.name for each in back.shape.marks] == ["hanger cross"]


def test_the_figures_are_the_designs() -> None:
    svgs = shown("signal-shelf", 2)
    inch = "".join(text for svg in svgs for text, _, _ in words_of(svg))
    # Port 5/8 in, its middle 2 15/32 in up; pegs 1/16 in wide and deep, 5/16 in up.
    for figure in ("3\u2009×", "Ø", "wide", "deep"):
        assert figure.replace("\u2009", " ") in inch.replace("\u2009", " ")
    assert "32" in inch


def test_every_leader_ends_on_its_piece() -> None:
    for demo, number in FACES:
        for each in pieces(demo, number):
            (picture,) = face_pictures((each,), figures(demo), titled, STYLE)
            lines = lines_of(picture.svg)
            outline = max(lines, key=lambda line: shapely.envelope(line).area)
            whole = shapely.envelope(outline).buffer(0.2)
            for dot in dots_of(picture.svg):
                assert whole.contains(dot), (demo, number, each.name)


@pytest.mark.parametrize(("demo", "number"), list(FACES))
def test_each_row_is_a_picture_that_names_its_pieces(demo: str, number: int) -> None:
    """So that a step of four faces flows on down its pages."""
    rows = drawn(demo, number)
    letters = [each.letter for each in pieces(demo, number)]
    named = [re.findall(r"\b[A-Z]\b", SVG_TITLE.search(each.svg)[1]) for each in rows]  # type: ignore[index]
    assert [letter for row in named for letter in row] == letters
    assert all(each.width <= WIDE + 2 for each in rows)


def test_faces_side_by_side_have_one_scale_where_they_are_of_like_size() -> None:
    """Of a piece twice, once a fifth larger, both are drawn at the scale of the larger one."""
    piece = pieces("signal-shelf", 3)[0]
    larger = replace(piece, shape=scaled_shape(piece.shape, Fraction(6, 5)), letter="B")
    far = replace(piece, shape=scaled_shape(piece.shape, Fraction(3)), letter="C")

    def outlines(*faces: Workpiece) -> list[float]:
        pictures = face_pictures(faces, figures("signal-shelf"), titled, STYLE)
        lines = [shapely.envelope(each) for p in pictures for each in lines_of(p.svg)]
        wide = [each.bounds[2] - each.bounds[0] for each in lines if each.area > 20]
        return sorted(round(each, 1) for each in dict.fromkeys(wide))

    small, large = outlines(piece, larger)
    assert large == pytest.approx(small * 1.2, abs=0.2)
    (alone,) = outlines(piece)
    assert alone >= small
    assert outlines(piece, far)[0] == alone


CUPBOARD = """
design: A cupboard
scale: 1:12
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
  dowel: {rod: 4 mm, sold: 300 mm}
parts:
  floor: {stock: board, wide: 40 mm, deep: 20 mm}
  side: {stock: board, deep: 20 mm, high: 50 mm, pieces: [left side, right side]}
  door:
    stock: board
    fitted: doorway
    share: {wide: 2}
    less: {wide: 1 to 1.2 mm, high: 0.5 to 0.6 mm}
    pieces: {left door: as drawn, right door: mirrored left to right}
    holes:
      pin hole: {round: 0.8 mm, on: bottom, at: 2 mm from left and centred, deep: 3 mm}
      knob hole: {round: 1 mm, at: 3 mm from right and 20 mm from bottom}
  knob:
    stock: dowel
    wide: 4 mm
    holes:
      socket: {round: 2 mm, on: right, at: centre, deep: 2 mm}
openings:
  doorway: {between: left side and right side, wide: 36 mm, high: 50 mm}
tools: saw, pencil, steel rule, pin vice, file
materials:
  glue: {kind: glue, workable: 5 min, handle: 30 min, hard: 24 h}
steps:
  - step: Drill the knob
    treat: {drill: socket of knob, with: pin vice}
  - step: Glue the case
    start: floor
    join:
      left side: {bottom: against floor, left: flush with floor, front: flush with floor}
      right side: {bottom: against floor, right: flush with floor, front: flush with floor}
    wait: {for: glue, until: hard}
  - step: Cut the doors
    measure: doorway
    cut: door
    afterwards:
      - {drill: pin hole of left door and pin hole of right door, with: pin vice}
      - {drill: knob hole of left door and knob hole of right door, with: pin vice}
      - {round over: left edge of left door and right edge of right door, by: 0.5 mm, with: file}
editions:
  metric: {units: mm, paper: A4}
"""


@cache
def cupboard() -> Model:
    reading = read_text(CUPBOARD, "cupboard.yaml", DESIGNS)
    assert reading.book is not None
    return work_out(reading, "metric")


def faces_of(number: int) -> dict[str, Workpiece]:
    model = cupboard()
    found = workpieces_of(model, number, model.worked.usage.steps[number - 1])
    return {each.face: each for each in found}


def test_what_is_drilled_after_measuring_has_its_faces_with_every_distance() -> None:
    """Such parts have no template, so nothing else shows where their holes are."""
    found = faces_of(3)
    assert list(found) == ["bottom", "front"]
    distances = {
        (face, float(each.high - each.low))
        for face, piece in found.items()
        for each in measures_of(piece)
    }
    assert distances == {("bottom", 2.0), ("front", 3.0), ("front", 20.0)}


def test_the_faces_of_what_is_measured_say_that_they_are_as_planned() -> None:
    figures = step_figures(atelier(wording_of(cupboard())), {3})[3]
    captions = [str(each.caption) for each in figures]
    assert "as you measured" in captions[-1]
    assert "right door (C)" in captions[-1]
    assert not any("as you measured" in each for each in captions[:-1])


def test_edges_of_a_mirrored_piece_are_drawn_on_its_part_as_drawn() -> None:
    assert [edge.where for edge in faces_of(3)["front"].edges] == ["left"]


def test_the_end_of_a_rod_is_round() -> None:
    end = faces_of(1)["right"].shape
    assert all(isinstance(each, Arc) for each in end.outline.segments)
    assert bounding_box(end.outline).right == end.width


def columns(*spans: tuple[int, int], axis: int = 1) -> list[float]:
    """How far off a face of 100 by 100 mm each dimension line stands, the shortest first."""
    measures = [Measure(axis, Fraction(low), Fraction(high)) for low, high in spans]
    bounds = (0.0, 0.0, 100.0, 100.0)
    inks = dimension_ink(measures, bounds, Fraction(1), in_millimetres, STYLE)
    lines = [each.tracks[-1].start for each in inks if isinstance(each, Stroke)]
    return [-place[1 - axis] for place in lines]


def test_dimensions_that_leave_each_other_room_stand_at_one_distance() -> None:
    """A long way from the outline is hard to follow; those that share a stretch stand outside."""
    low, high = columns((0, 20), (80, 100))
    assert low == high
    first, second, outside = columns((0, 20), (80, 100), (0, 60))
    assert first == second < outside
    inner, outer = columns((0, 30), (0, 90), axis=0)
    assert inner < outer


def test_dimensions_whose_arrows_or_words_would_meet_stand_apart() -> None:
    """The tails of arrows from outside, and words that lie level beside a short line."""
    one, two = columns((0, 3), (8, 11))
    assert one != two


BOX_FRONT = """
design: A box front
stock:
  board: {sheet: 15 mm, sold: 200 x 2000 mm, cut with: saw}
parts:
  front:
    stock: board
    wide: 120 mm
    high: 202 mm
    ends: {top: "15 deg, longest at back"}
    holes:
      entrance: {round: 28 mm, at: 45 mm from top}
      hook hole: {round: 1.5 mm, at: 20 mm from right and 20 mm from top, deep: 10 mm}
      nail hole:
        round: 2 mm
        at: 8 mm from left and 20 mm from bottom
        row: {toward: top, every: 60 mm, quantity: 3}
      low hole: {round: 6 mm, at: 30 mm from left and 20 mm from top}
      high hole: {round: 6 mm, at: 30 mm from left and 20 mm from bottom}
tools: saw, drill
steps:
  - step: Drill the front
    start: front
    treat: {drill: front, with: drill}
editions:
  metric: {units: mm, paper: A4}
"""


def test_every_hole_is_counted_named_and_placed_from_an_edge_that_is_there() -> None:
    """The face shown ends before the other where its end slants; a row counts with all its holes;
    what is as far from the top as another is from the bottom is told as well.
    """
    reading = read_text(BOX_FRONT, "front.yaml", DESIGNS)
    assert reading.book is not None
    model = work_out(reading, "metric")
    (piece,) = workpieces_of(model, 1, model.worked.usage.steps[0])
    spans = {
        (each.axis, float(each.low), float(each.high))
        for each in each_once(measures_of(piece))
        if each.axis
    }
    assert spans == {(1, 0, 20), (1, 0, 157), (1, 0, 182)}
    assert (0, 0, 60) in {(m.axis, m.low, m.high) for m in measures_of(piece)}
    (picture,) = face_pictures((piece,), in_millimetres, titled, STYLE)
    words = {text.replace("\xa0", " ") for text, *_ in words_of(picture.svg)}
    assert {"3 × Ø2 mm", "2 × Ø6 mm", "Ø28 mm", "Ø1.5 mm, 10 mm deep"} <= words

"""From an author's words to places on the template, against coordinates worked out by hand.

The board is 2 mm thick.  A part that is wide and deep is seen from above: x from the left, y from
the front.  Wide and high: from the front, y from the bottom.  Deep and high: from the right, x
from the front.
"""

from fractions import Fraction

import pytest

from patternpress.assembly import blank
from patternpress.assembly.blank import ShapeSpec
from patternpress.assembly.shape import Axis, Face, MarkLine, MarkPoint, Point, View
from patternpress.assembly.specs import needs_template, spec_of
from tests.assembly.trays import design, problems, worked

SIZES = {
    View.ABOVE: "wide: 40 mm, deep: 30 mm",
    View.FRONT: "wide: 40 mm, high: 30 mm",
    View.RIGHT: "deep: 40 mm, high: 30 mm",
}
F = Fraction


def at(x: object, y: object) -> Point:
    return Point(F(str(x)), F(str(y)))


def text_of(said: str, view: View = View.ABOVE, marks: str = "") -> str:
    fields = "".join(f"    {line}\n" for line in said.strip("\n").splitlines())
    size = "".join(f"    {each}\n" for each in SIZES[view].split(", "))
    text = design(parts=f"\n  base:\n    stock: board\n{size}{fields}")
    return text + (f"marks:\n{marks}" if marks else "")


def spec(said: str, view: View = View.ABOVE, marks: str = "") -> ShapeSpec:
    of = worked(text_of(said, view, marks))
    part = of.part("base")
    assert part is not None
    found, wrong = spec_of(part, of.solver, of.book.marks)
    assert [each.what for each in wrong] == []
    assert found is not None
    assert (found.view, found.width, found.height) == (view, 40, 30)
    return found


# ------------------------------------------------------------------ holes


@pytest.mark.parametrize(
    ("view", "words", "point"),
    [
        (View.ABOVE, "centre", at(20, 15)),
        (View.ABOVE, "5 mm from left and 8 mm from back", at(5, 22)),
        (View.ABOVE, "5 mm from right", at(35, 15)),
        (View.ABOVE, "8 mm from front, 3 mm from right", at(37, 8)),
        (View.ABOVE, "centred and 4 mm from back", at(20, 26)),
        (View.FRONT, "5 mm from right and 8 mm from top", at(35, 22)),
        (View.FRONT, "8 mm from bottom", at(20, 8)),
        (View.RIGHT, "5 mm from back", at(35, 15)),
        (View.RIGHT, "1/2 in from front and a third of 30 mm from top", at("12.7", 20)),
    ],
)
def test_a_hole_is_measured_from_the_sides_that_are_named(
    view: View, words: str, point: Point
) -> None:
    holes = f"holes:\n  peg hole: {{round: 3 mm, at: '{words}', deep: 1 mm}}"
    assert spec(holes, view).holes == (blank.RoundHole("peg hole", point, F(3), F(1)),)


def test_windows_are_in_the_order_of_the_parts_sizes_and_slots_run_with_its_length() -> None:
    holes = "holes:\n  light: {window: 12 x 9 mm, at: centre, corners: 1 mm}\n"
    holes += "  slit: {slot: 8 x 2 mm, at: 4 mm from left}"
    found = spec(holes).holes
    assert found == (
        blank.Window("light", at(20, 15), F(12), F(9), F(1), None),
        blank.Slot("slit", at(4, 15), F(8), F(2), Axis.X, None),
    )
    (_, across) = spec(holes + "\ngrain: front to back").holes
    assert isinstance(across, blank.Slot)
    assert across.along is Axis.Y


@pytest.mark.parametrize(
    ("view", "way", "along"),
    [
        (View.ABOVE, "front to back", Axis.Y),
        (View.ABOVE, "left to right", Axis.X),
        (View.FRONT, "up and down", Axis.Y),
    ],
)
def test_a_slot_runs_the_way_that_is_said(view: View, way: str, along: Axis) -> None:
    (slot,) = spec(f"holes: {{slit: {{slot: 8 x 2 mm, runs: {way}, at: centre}}}}", view).holes
    assert isinstance(slot, blank.Slot)
    assert slot.along is along


def test_a_slot_cannot_run_through_the_thickness() -> None:
    said = "holes: {slit: {slot: 8 x 2 mm, runs: up and down, at: centre}}"
    assert "has no bottom edge" in problems(text_of(said))[0].what


def test_a_hole_drilled_into_an_edge_is_not_on_the_face() -> None:
    holes = "holes:\n  edge hole: {round: 1 mm, at: centre, on: left, deep: 6 mm}"
    assert spec(holes).holes == ()


# ------------------------------------------------------------------ corners, edges and ends


@pytest.mark.parametrize(
    ("view", "words", "key", "corner"),
    [
        (View.ABOVE, "left front: round 6 mm", ("left", "front"), blank.Round(F(6))),
        (View.ABOVE, "front left: round 6 mm", ("left", "front"), blank.Round(F(6))),
        (View.ABOVE, "back right: hollow 4 mm", ("right", "back"), blank.Hollow(F(4))),
        # The first size runs along the side that is named first: 3 mm along the back, 5 mm
        # along the right side.
        (View.ABOVE, "back right: notch 3 x 5 mm", ("right", "back"), blank.Notch(F(3), F(5))),
        (View.ABOVE, "right back: notch 3 x 5 mm", ("right", "back"), blank.Notch(F(5), F(3))),
        (View.FRONT, "top left: cut off 3 x 5 mm", ("left", "top"), blank.CutOff(F(3), F(5))),
        (View.FRONT, "left top: cut off 3 x 5 mm", ("left", "top"), blank.CutOff(F(5), F(3))),
        (View.FRONT, "left top: cut off 4 mm", ("left", "top"), blank.CutOff(F(4), F(4))),
        (View.RIGHT, "top front: notch 3 x 5 mm", ("front", "top"), blank.Notch(F(3), F(5))),
        (View.RIGHT, "front top: notch 3 x 5 mm", ("front", "top"), blank.Notch(F(5), F(3))),
    ],
)
def test_a_corner_takes_its_sizes_in_the_order_of_its_sides(
    view: View, words: str, key: tuple[str, str], corner: blank.Corner
) -> None:
    found = spec(f"corners: {{{words}}}", view).corners
    assert dict(found) == {(Face(key[0]), Face(key[1])): corner}


@pytest.mark.parametrize(
    ("view", "words", "face", "edge"),
    [
        (View.ABOVE, "front: hollowed 4 mm", "front", blank.Hollowed(F(4))),
        (View.ABOVE, "left: arched 4 mm", "left", blank.Arched(F(4))),
        (
            View.ABOVE,
            "back: hollowed 4 mm between 5 mm from left and 6 mm from right",
            "back",
            blank.Hollowed(F(4), F(5), F(34)),
        ),
        (
            View.RIGHT,
            "top: arched 2 mm between 6 mm from back and 5 mm from front",
            "top",
            blank.Arched(F(2), F(5), F(34)),
        ),
    ],
)
def test_an_edge_is_shaped_between_two_places(
    view: View, words: str, face: str, edge: object
) -> None:
    assert dict(spec(f"edges: {{'{words.replace(': ', chr(39) + ': ', 1)}}}", view).edges) == {
        Face(face): edge
    }


def test_an_end_is_cut_at_an_angle_that_shows_in_the_face() -> None:
    found = spec("ends: {right: '30 deg, longest at front'}")
    assert dict(found.angled) == {Face.RIGHT: blank.Angled(F(30), Face.FRONT)}
    assert dict(spec("ends: {right: '30 deg, longest at top'}").angled) == {}
    assert dict(spec("ends: {right: level}").angled) == {}


# ------------------------------------------------------------------ grooves


@pytest.mark.parametrize(
    ("view", "words", "groove"),
    [
        (
            View.ABOVE,
            "on: top, at: 4 mm from back",
            blank.GrooveRun("housing", Axis.X, F(24), F(2), F(1)),
        ),
        (
            View.ABOVE,
            "on: bottom, at: 4 mm from left",
            blank.GrooveRun("housing", Axis.Y, F(4), F(2), F(1), far=True),
        ),
        (
            View.FRONT,
            "on: front, at: 4 mm from top",
            blank.GrooveRun("housing", Axis.X, F(24), F(2), F(1)),
        ),
        (
            View.RIGHT,
            "on: left, along: top",
            blank.GrooveRun("housing", Axis.X, F(28), F(2), F(1), far=True),
        ),
        (
            View.RIGHT,
            "on: right, along: front",
            blank.GrooveRun("housing", Axis.Y, F(0), F(2), F(1)),
        ),
        (
            View.RIGHT,
            "on: right, at: 4 mm from bottom, stopped: 3 mm from front",
            blank.GrooveRun("housing", Axis.X, F(4), F(2), F(1), F(3), None),
        ),
        (
            View.RIGHT,
            "on: right, at: 4 mm from top, stopped: [3 mm from back, 5 mm from front]",
            blank.GrooveRun("housing", Axis.X, F(24), F(2), F(1), F(5), F(37)),
        ),
    ],
)
def test_a_groove_lies_at_its_distance_from_the_side_that_is_named(
    view: View, words: str, groove: blank.GrooveRun
) -> None:
    assert spec(f"grooves:\n  housing: {{wide: 2 mm, deep: 1 mm, {words}}}", view).grooves == (
        groove,
    )


def test_a_groove_stops_short_along_its_own_run_only() -> None:
    text = text_of(
        "grooves:\n  housing: {wide: 2 mm, deep: 1 mm, on: top, at: 4 mm from back, "
        "stopped: 3 mm from front}"
    )
    (problem,) = problems(text)
    assert problem.code == "groove-stop"
    assert problem.what.endswith("runs along its back edge, so it cannot stop short of its front")


# ------------------------------------------------------------------ outlines


def test_an_outline_is_a_start_and_the_stretches_after_it() -> None:
    said = """
outline:
  - start: 0 mm, 0 mm
  - line: 40 mm, 0 mm
  - {arc: '40 mm, 20 mm', through: '44 mm, 10 mm'}
  - {arc: '30 mm, 30 mm', radius: 10 mm, bulging: inward}
  - {curve: '0 mm, 0 mm', through: ['20 mm, 25 mm', '10 mm, 20 mm'], leaving: 180 deg}
"""
    path = spec(said).path
    assert path == blank.Path(
        at(0, 0),
        (
            blank.LineTo(at(40, 0)),
            blank.ArcThrough(at(44, 10), at(40, 20)),
            blank.ArcOfRadius(at(30, 30), F(10), False),
            blank.CurveThrough((at(20, 25), at(10, 20), at(0, 0)), F(180), None),
        ),
        None,
    )


@pytest.mark.parametrize(
    ("view", "words", "axis"),
    [
        (View.ABOVE, "left to right", Axis.X),
        (View.ABOVE, "front to back", Axis.Y),
        (View.FRONT, "bottom to top", Axis.Y),
        (View.RIGHT, "front to back", Axis.X),
    ],
)
def test_half_an_outline_is_mirrored(view: View, words: str, axis: Axis) -> None:
    said = f"symmetrical: {words}\noutline:\n  - start: 0 mm, 0 mm\n  - line: 20 mm, 0 mm"
    path = spec(said, view).path
    assert path is not None
    assert path.mirrored is axis


def test_a_disc_needs_two_equal_sizes() -> None:
    (problem,) = problems(text_of("disc: yes"))
    assert problem.what == "“base”: a disc needs two equal sizes"
    parts = "\n  base: {stock: board, wide: 30 mm, deep: 30 mm, disc: yes}"
    shape = worked(design(parts=parts)).shapes["base"]
    assert (shape.outline.start, len(shape.outline.segments)) == (at(30, 15), 2)


# ------------------------------------------------------------------ marks

TOP = "on: top of base, line: {}"


@pytest.mark.parametrize(
    ("words", "start", "to"),
    [
        ("6 mm from left", at(6, 0), at(6, 30)),
        ("6 mm from back", at(0, 24), at(40, 24)),
        ("'centre, left to right'", at(0, 15), at(40, 15)),
        ("'centre, front to back'", at(20, 0), at(20, 30)),
        ("6 mm from left, keep off: 2 mm from front", at(6, 2), at(6, 30)),
        ("6 mm from left, keep off: [2 mm from front, 3 mm from back]", at(6, 2), at(6, 27)),
        ("6 mm from back, keep off: 5 mm from right", at(0, 24), at(35, 24)),
        ("6 mm from back, keep off: 5 mm from front", at(0, 24), at(40, 24)),
    ],
)
def test_a_line_is_drawn_where_it_is_said_and_keeps_off_what_shows(
    words: str, start: Point, to: Point
) -> None:
    marks = f"  edge line: {{{TOP.format(words)}}}\n"
    assert spec("", marks=marks).marks == (MarkLine("edge line", start, to),)


def test_points_and_dots_are_places_on_the_face() -> None:
    marks = "  cross: {on: top of base, point: 6 mm from right}\n"
    marks += "  spot: {on: base, dot: centre}\n"
    found = spec("", marks=marks).marks
    assert found == (MarkPoint("cross", at(34, 15)), MarkPoint("spot", at(20, 15)))


def test_a_mark_on_an_edge_is_not_on_the_template() -> None:
    assert spec("", marks="  edge line: {on: front of base, line: 6 mm from left}\n").marks == ()


def test_marks_of_a_mirrored_piece_are_drawn_on_the_one_template() -> None:
    """Inside faces of two mirrored sides: right of the left one, left of the right one."""
    parts = """
  base:
    stock: board
    deep: 40 mm
    high: 30 mm
    pieces: {left side: as drawn, right side: mirrored left to right}
"""
    marks = "\n  shelf line:\n    on: right of left side, left of right side\n"
    marks += "    line: 12 mm from bottom\n    keep off: 2 mm from front"
    of = worked(design(parts=parts, steps="\n  - step: x\n    start: left side", marks=marks))
    shape = of.shapes["base"]
    assert shape.view is View.RIGHT
    assert shape.marks == (MarkLine("shelf line", at(2, 12), at(40, 12)),)


@pytest.mark.parametrize(
    ("view", "said", "words"),
    [
        (View.ABOVE, "corners: {top left: round 3 mm}", "the face of “base” has no top edge"),
        (View.FRONT, "corners: {left front: round 3 mm}", "the face of “base” has no front edge"),
        (View.RIGHT, "edges: {left: arched 3 mm}", "the face of “base” has no left edge"),
        (View.ABOVE, "holes: {peg hole: {round: 1 mm, at: 3 mm from top}}", "no top edge"),
        (View.RIGHT, "symmetrical: left to right\noutline:\n  - start: 0 mm, 0 mm", "no left edge"),
    ],
)
def test_a_side_that_the_face_does_not_have_is_told(view: View, said: str, words: str) -> None:
    assert words in " ".join(each.what for each in problems(text_of(said, view)))


# ------------------------------------------------------------------ templates


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        ("", False),
        ("template: yes", True),
        ("template: half", True),
        ("corners: {left front: round 3 mm}", True),
        ("corners: {left front: round 3 mm}\ntemplate: no", False),
        ("holes: {peg hole: {round: 3 mm, at: centre}}", True),
        ("holes: {edge hole: {round: 1 mm, at: centre, on: left}}", False),
        ("grooves: {rebate: {on: top, wide: 2 mm, deep: 1 mm, along: back}}", True),
    ],
)
def test_plain_rectangles_get_no_template_unless_asked_for(said: str, wanted: bool) -> None:
    of = worked(text_of(said))
    part = of.part("base")
    assert part is not None
    found, _ = spec_of(part, of.solver, of.book.marks)
    assert found is not None
    assert needs_template(part, found) is wanted
    assert ("base" in of.templates) is wanted

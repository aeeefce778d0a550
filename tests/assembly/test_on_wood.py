"""Pencil lines across notches and holes: where they are drawn, and measured from which edge."""

from __future__ import annotations

import math
from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.assembly.marking import Told, derived_lines, marked_shapes, told_from
from patternpress.assembly.model import Model, check, work_out
from patternpress.assembly.onwood import on_wood
from patternpress.assembly.shape import MarkLine, Shape
from patternpress.design.read import Reading, read_text

# A board of 80 x 60 mm with a notch in the middle of its top, 30 mm wide and 30 mm deep.
DESIGN = """
design: Notched
stock:
  board: {sheet: 3 mm}
parts:
  back:
    stock: board
    wide: 80 mm
    high: 60 mm
    outline:
      - start: 0 mm, 0 mm
      - line: 80 mm, 0 mm
      - line: 80 mm, 60 mm
      - line: 55 mm, 60 mm
      - line: 55 mm, 30 mm
      - line: 25 mm, 30 mm
      - line: 25 mm, 60 mm
      - line: 0 mm, 60 mm
      - line: 0 mm, 0 mm
    holes:
      port: {round: 12 mm, at: 12 mm from left and 20 mm from bottom}
      dimple: {round: 6 mm, at: 60 mm from left and 20 mm from bottom, deep: 1 mm}
  side: {stock: board, deep: 30 mm, high: 60 mm, EDGES, leans: top LEAN to the left}
  shelf: {stock: board, wide: 74 mm, deep: 20 mm}
marks:
  line: {on: front of back, line: LINE}
  side line: {on: right of side, line: along bottom of shelf}
steps:
  - step: Shelf
    start: back
    mark: line
    join:
      side: {back: against back, left: flush with back, bottom: flush with back}
      shelf: {back: against back, right: flush with back, bottom: HIGH inside back}
"""


def reading(line: str, edges: str = "edges: {}", high: str = "19 mm", lean: str = "") -> Reading:
    """The design with its line, the edges of its side, the height of its shelf and its lean."""
    text = DESIGN.replace("LINE", line).replace("EDGES", edges).replace("HIGH", high)
    text = text.replace("LEAN", lean) if lean else text.replace(", leans: top LEAN to the left", "")
    return read_text(text.replace(", edges: {}", ""), "notched.yaml", Path())


def made(*said: str) -> Model:
    """The design worked out and put together."""
    return work_out(reading(*said), "metric")


def drawn(shape: Shape, name: str) -> list[tuple[float, float, float, float]]:
    """The stretches of a mark, to 0.1 mm."""
    line = next(each for each in shape.marks if each.name == name)
    assert isinstance(line, MarkLine)
    return [tuple(round(x, 1) for end in edge for x in end) for edge in on_wood(shape, line)]  # type: ignore[misc]


@pytest.mark.parametrize(
    ("line", "stretches"),
    [
        ("12 mm from top", [(0, 48, 25, 48), (55, 48, 80, 48)]),
        ("'centre, up and down'", [(40, 0, 40, 30)]),
        # Through the port, 6 mm to either side of it; a blind hole finds its centre by the line.
        ("20 mm from bottom", [(0, 20, 6, 20), (18, 20, 80, 20)]),
        ("22 mm from bottom", [(0, 22, 6.3, 22), (17.7, 22, 80, 22)]),
    ],
)
def test_a_line_is_drawn_where_there_is_wood(line: str, stretches: list[tuple[float, ...]]) -> None:
    assert drawn(made(line).worked.shapes["back"], "line") == stretches


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("12 mm from top", Told("top")),
        ("40 mm from top", Told("top")),
        # Kept off both arms it lies under the notch alone, where no top edge is.
        (
            "40 mm from top, keep off: [25 mm from left, 25 mm from right]",
            Told("bottom", Fraction(20)),
        ),
        ("40 mm from left", Told("left")),
    ],
)
def test_it_is_measured_from_an_edge_that_is_there(line: str, told: Told) -> None:
    assert told_from((model := made(line)).worked.book.marks[0], "back", model.worked) == told


@pytest.mark.parametrize(
    ("edges", "high", "side", "far", "there"),
    [
        ("edges: {}", "19 mm", "bottom", 19, True),
        ("edges: {}", "40 mm", "top", 20, True),
        # The nearer edge is no straight one: measured from the other.
        ("edges: {top: arched 8 mm}", "40 mm", "bottom", 40, True),
        ("edges: {top: arched 8 mm, bottom: arched 8 mm}", "40 mm", "top", 20, False),
    ],
)
def test_a_derived_line_chooses_its_edge(
    edges: str, high: str, side: str, far: int, there: bool
) -> None:
    model = made("1 mm from top", edges, high)
    (line,) = derived_lines(model.worked, model.assembly)
    assert (line.side, line.far, line.there) == (side, far, there)


def test_a_derived_line_stops_at_a_notch() -> None:
    model = made("1 mm from top", "corners: {top front: notch 10 x 30 mm}", "35 mm")
    shape = marked_shapes(model.worked, model.assembly)["side"]
    assert drawn(shape, "side line") == [(10, 35, 30, 35)]


def test_on_a_leaning_piece_it_is_where_the_plane_meets_the_marked_face() -> None:
    """Leaning 10° to the left, the right face lies 3 mm · sin 10° higher than the left one: a
    plane `z` over the lowest edge meets it (z − 3·sin 10°) / cos 10° up the board, or all of
    that more where the lowest edge is its own.
    """
    model = made("1 mm from top", "edges: {}", "19 mm", "10 deg")
    (line,) = derived_lines(model.worked, model.assembly)
    leg = next(each for each in model.assembly.placed if each.piece == "side")
    thick, tall = Fraction(3), Fraction(60)
    up = line.far if line.side == "bottom" else tall - line.far
    place = leg.pose.point((thick, Fraction(0), up))
    assert float(place[2]) == pytest.approx(19, abs=1e-9)
    assert abs(float(leg.pose.point((Fraction(0), Fraction(0), up))[2]) - 19) > 3 * math.sin(0.17)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("12 mm from top, keep off: [26 mm from left, 26 mm from right]", ["line"]),
        ("12 mm from top, keep off: [24 mm from left, 26 mm from right]", []),
        ("0 mm from bottom", []),
        ("20 mm from bottom, keep off: [8 mm from left, 64 mm from right]", ["line"]),
    ],
)
def test_a_line_in_the_air_is_a_fault(line: str, told: list[str]) -> None:
    found = [
        each
        for each in check(reading(line), places=False)
        if "cut away" in str(each.facts.get("fault"))
    ]
    assert [each.facts["fault"] for each in found] == [
        f"the mark “{name}” lies where it is cut away" for name in told
    ]
    # The mark is pointed at, not the part.
    at = 1 + DESIGN[: DESIGN.index("  line: {on")].count("\n")
    assert all(each.span.line == at for each in found)

"""The small pictures of pieces that do not fit."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.model import examine
from patternpress.design.problem import Kind, Problem
from patternpress.design.read import read_text
from patternpress.desk import rooms
from patternpress.desk.cli import main
from patternpress.drawing import faultpictures
from patternpress.drawing.contract import check_template
from patternpress.drawing.faultpictures import SHOWN, SHOWN_TOO, FaultPictures
from patternpress.drawing.projection import View, project
from patternpress.drawing.things import bulks_of

FAULTS = Path(__file__).parents[1] / "assembly" / "faults"
TRAY = """design: Tray
stock:
  board: {sheet: 2 mm}
parts:
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  post: {stock: board, wide: 6 mm, deep: 6 mm, broad side: top, quantity: 2}
steps:
  - step: Glue it
    start: base
    join:
      post 1: {bottom: against base, left: flush with base, front: flush with base}
      post 2: {bottom: against base, left: 5 mm inside base, front: flush with base}
"""


def drawn(text: str) -> list[tuple[Problem, str | None]]:
    """Every problem of a design with its picture."""
    checked = examine(read_text(text, "design.yaml", FAULTS))
    draw = rooms.drawer(checked)
    return [(each, draw(each)) for each in checked.problems]


def shown_files() -> list[Path]:
    """The wrong examples whose problems a picture can show."""
    codes = {kind.code() for kind in SHOWN_KINDS}
    return [path for path in sorted(FAULTS.glob("*.yaml")) if path.stem in codes]


KINDS = [k for k in Kind.__subclasses__() if k.__module__.startswith("patternpress.design")]
SHOWN_KINDS = [kind for kind in KINDS if kind.__module__ in SHOWN or kind in SHOWN_TOO]
# Kinds about pieces for which there is nothing to show, each with the reason.
WITHOUT = {
    "screw-too-long": "a screw is known by its words alone, and has no solid",
    "mark-unused": "a line on one piece, which its template shows",
    "overall-differs": "about the size of the whole, which the piece itself does not show",
}
# Kinds that are shown without a ring, each with the reason.
RINGLESS = {
    "glue-up-too-long": "the pieces up to where to divide it are drawn strong",
    "too-many-pieces": "all that are joined at once are drawn strong",
    "piece-never-used": "it has no place; it is drawn by itself",
}
# Rooms of kinds that are told without a picture, each with the reason.
WORDS_ONLY = {
    "editions": "what an edition shows",
    "figures": "a size in the file",
    "files": "the file itself",
    "form": "how the file is written",
    "naming": "a word in the file",
    "parts": "one part as cut, which its template shows",
    "photographs": "a file beside the design",
    "work": "the order of the steps; what is never used is shown all the same",
}


@pytest.mark.parametrize("path", shown_files(), ids=lambda path: path.stem)
def test_every_kind_of_misfit_is_shown_with_a_ring_at_its_place(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rings: list[object] = []
    ring = faultpictures._ring

    def seen(at: tuple[float, float, float] | None, view: View, scale: float) -> object:
        rings.append(ring(at, view, scale))
        return rings[-1]

    monkeypatch.setattr(faultpictures, "_ring", seen)
    for problem, svg in drawn(path.read_text("utf-8")):
        if problem.code != path.stem:
            continue
        assert (svg is None) == (path.stem in WITHOUT)
        if svg is not None:
            assert check_template(svg) == []
            title = re.search("<title>(.*)</title>", svg)
            assert title is not None
            assert title[1] == problem.what
            assert rings
            assert (None in rings) == (path.stem in RINGLESS)


def test_kinds_without_a_picture_are_about_no_placed_piece() -> None:
    """A new kind is either shown, or in a room of which the reason is given here."""
    rooms_of = {kind.__module__.rpartition(".")[2] for kind in KINDS}
    shown = {module.rpartition(".")[2] for module in SHOWN}
    assert rooms_of - shown == set(WORDS_ONLY)
    assert {*WITHOUT, *RINGLESS} <= {path.stem for path in shown_files()}


@pytest.mark.parametrize(
    ("name", "side"),
    [
        ("unequal-overhang", "right"),
        ("comes-out", "front"),
        ("hangs-far-over", "left"),
        ("dyed-where-glued", "bottom"),
    ],
)
def test_the_ring_of_one_piece_lies_on_the_side_that_is_told(name: str, side: str) -> None:
    checked = examine(read_text((FAULTS / f"{name}.yaml").read_text("utf-8"), name, FAULTS))
    problem = next(each for each in checked.problems if each.code == name)
    assert side in (problem.facts.get("side"), problem.facts.get("toward"))
    assert checked.worked is not None
    assert checked.assembly is not None
    bulks = bulks_of(checked.worked)
    subject = faultpictures._subject(problem, checked.worked, checked.assembly, bulks)
    assert subject is not None
    assert subject.at is not None
    mine = [item.bulk for item in subject.items if item.key in subject.strong[0]]
    axis = SIDE_AXIS[side]
    ends = [each.high.max(axis=0)[axis] for each in mine]
    ends += [each.low.min(axis=0)[axis] for each in mine]
    outermost = max(ends) if side == "right" else min(ends)
    assert subject.at[axis] == pytest.approx(outermost)


def subject_of(code: str, number: int = 0) -> tuple[Problem, faultpictures.Subject]:
    """The problem of a wrong example, one of several, and what is shown of it."""
    checked = examine(read_text((FAULTS / f"{code}.yaml").read_text("utf-8"), code, FAULTS))
    problem = [each for each in checked.problems if each.code == code][number]
    assert checked.worked is not None
    bulks = bulks_of(checked.worked)
    if checked.assembly is None:
        subject = faultpictures._by_itself(problem, checked.worked, bulks)
    else:
        subject = faultpictures._subject(problem, checked.worked, checked.assembly, bulks)
    assert subject is not None
    return problem, subject


# Figures of the examples: a bar of 40 x 3 x 30 mm, and a base of 40 x 30 x 2 mm.
@pytest.mark.parametrize(
    ("code", "number", "name", "at", "side"),
    [
        ("hole-breaks-out", 0, "bar", (8.0, 1.5, 30.0), "top"),
        ("hole-breaks-out", 1, "bar", (40.0, 1.5, 15.0), "right"),  # from the left, out at its end
        ("hole-breaks-out", 2, "bar", (41.0, 1.5, 0.0), "bottom"),  # the last hole of the row
        ("stem-too-long", 0, "base", (20.0, 15.0, 2.0), "top"),
        ("stem-too-long", 1, "base", (8.0, 8.0, 2.0), "top"),
    ],
)
def test_a_hole_is_ringed_on_its_part_alone_and_on_the_side_that_is_seen(
    code: str, number: int, name: str, at: tuple[float, float, float], side: str
) -> None:
    _, subject = subject_of(code, number)
    assert subject.names == (name,)
    assert [item.key for item in subject.items] == [name]
    assert subject.at == pytest.approx(at)
    toward = faultpictures._best(subject).view.toward[SIDE_AXIS[side]]
    assert toward < 0 if side in ("left", "front", "bottom") else toward > 0


def test_an_opening_is_ringed_between_the_pieces_that_leave_it() -> None:
    """The base is 2 mm thick; the slats on its front and back edge are 40 x 2 x 5 mm."""
    _, subject = subject_of("opening-differs")
    assert subject.names == ("front slat", "back slat")
    assert subject.at == pytest.approx((20.0, 15.0, 4.5))


def test_of_a_long_glue_up_the_pieces_before_its_division_are_strong() -> None:
    problem, subject = subject_of("glue-up-too-long")
    assert "after the 1st piece, “front slat”" in problem.mend
    assert subject.names == ("front slat",)
    assert {item.key for item in subject.items} == {"base", "front slat", "back slat"}


def test_of_too_many_pieces_all_are_strong_and_named() -> None:
    _, subject = subject_of("too-many-pieces")
    assert subject.names == tuple(f"slat {number}" for number in range(1, 8))
    assert {key for keys in subject.strong for key in keys} == set(subject.names)


def test_a_piece_that_is_never_used_is_shown_by_itself_under_its_own_name() -> None:
    _, subject = subject_of("piece-never-used")
    assert subject.names == ("back slat",)
    assert (len(subject.items), subject.at) == (1, None)


def test_the_ring_of_a_slack_drawer_lies_at_its_front_where_the_room_is_seen() -> None:
    """Two rings: in the middle of the right edge of its front, and of the top edge."""
    checked = examine(
        read_text((FAULTS / "moving-piece-slack.yaml").read_text("utf-8"), "", FAULTS)
    )
    beside, above = (each.at for each in checked.problems if each.code == "moving-piece-slack")
    assert beside is not None
    assert above is not None
    assert beside[1] == above[1]
    assert beside[0] > above[0]
    assert above[2] > beside[2]


def test_the_ring_of_a_covered_mark_lies_on_the_mark() -> None:
    """In the middle of the line 5 mm from the front, on the top of the board of 40 mm by 2."""
    checked = examine(read_text((FAULTS / "mark-covered.yaml").read_text("utf-8"), "", FAULTS))
    (covered,) = [each for each in checked.problems if each.code == "mark-covered"]
    assert covered.at == pytest.approx((20.0, 5.0, 2.0))
    assert (covered.facts["piece"], covered.facts["other"]) == ("base", "sole")


def test_many_kinds_are_tried() -> None:
    assert len(shown_files()) >= 25


def test_a_picture_names_both_pieces_and_is_the_same_each_time() -> None:
    first, again = drawn(TRAY), drawn(TRAY)
    ((clash, svg),) = first
    assert clash.code == "pieces-clash"
    assert svg is not None
    assert re.findall(">(post [12])<", svg) == ["post 2", "post 1"]
    assert again == first


def test_the_ring_lies_round_the_place() -> None:
    """The posts share a millimetre, from 5 to 6: its middle is told, and rings are round it."""
    checked = examine(read_text(TRAY, "design.yaml", FAULTS))
    (clash,) = checked.problems
    assert clash.at == pytest.approx((5.5, 3.0, 3.0))
    assert checked.worked is not None
    assert checked.assembly is not None
    bulks = bulks_of(checked.worked)
    subject = faultpictures._subject(clash, checked.worked, checked.assembly, bulks)
    assert subject is not None
    assert [item.key for item in subject.items] == ["base", "post 1", "post 2"]
    view = faultpictures._best(subject).view
    ring = faultpictures._ring(subject.at, view, 2.0)
    x, y = project(view, (5.5, 3.0, 3.0))
    assert ring.centroid.coords[0] == pytest.approx((2 * x, 2 * y))


def test_what_is_hidden_is_dashed() -> None:
    ((_, jammed),) = drawn((FAULTS / "moving-piece-jams.yaml").read_text("utf-8"))
    ((_, clash),) = drawn(TRAY)
    assert jammed is not None
    assert clash is not None
    assert "stroke-dasharray" in jammed
    assert "stroke-dasharray" not in clash


def test_pictures_are_drawn_for_json_only(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    drawing = FaultPictures.draw

    def draw(self: FaultPictures, problem: Problem) -> str | None:
        asked.append(problem.code)
        return drawing(self, problem)

    monkeypatch.setattr(FaultPictures, "draw", draw)
    (tmp_path / "tray.yaml").write_text(TRAY, encoding="utf-8")
    run = CliRunner()
    plain = run.invoke(main, ["check", str(tmp_path / "tray.yaml")])
    assert "runs 1 mm" in plain.output
    assert asked == []
    done = run.invoke(main, ["check", str(tmp_path / "tray.yaml"), "--format", "json"])
    (record,) = json.loads(done.output)["problems"]
    assert asked == ["pieces-clash"]
    assert record["picture"].startswith("<svg")

"""The small pictures of pieces that do not fit."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from patternpress.assembly.model import examine
from patternpress.design.kinds import fit
from patternpress.design.problem import Problem
from patternpress.design.read import read_text
from patternpress.desk import rooms
from patternpress.desk.cli import main
from patternpress.drawing import faultpictures
from patternpress.drawing.contract import check_template
from patternpress.drawing.faultpictures import SHOWN, FaultPictures
from patternpress.drawing.projection import project
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


SHOWN_KINDS = [kind for kind in fit.Kind.__subclasses__() if kind.__module__ in SHOWN]
# What is found before pieces are placed, or is about no piece but a step or a size.
WITHOUT = {
    "stem-too-long",
    "hole-breaks-out",
    "too-many-pieces",
    "opening-differs",
    "overall-differs",
}


@pytest.mark.parametrize("path", shown_files(), ids=lambda path: path.stem)
def test_every_kind_of_misfit_is_shown(path: Path) -> None:
    for problem, svg in drawn(path.read_text("utf-8")):
        if problem.code != path.stem:
            continue
        assert (svg is None) == (path.stem in WITHOUT)
        if svg is not None:
            assert check_template(svg) == []
            title = re.search("<title>(.*)</title>", svg)
            assert title is not None
            assert title[1] == problem.what


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

"""Sound booklets are found sound, and everything in them was really measured."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from patternpress.booklet.build import make_edition
from patternpress.design.read import read_design
from patternpress.desk.commands.new import starter
from patternpress.proof.findings import Report
from patternpress.proof.prove import prove
from patternpress.proof.telling import as_record, as_text
from tests.whole.demos import Built

OUT = 0.01  # mm


@pytest.fixture(scope="session")
def reports() -> dict[Path, Report]:
    return {}


@pytest.fixture
def report(booklet: Built, reports: dict[Path, Report]) -> Report:
    if booklet.pdf not in reports:
        reports[booklet.pdf] = prove(booklet.pdf.read_bytes(), booklet.facts)
    return reports[booklet.pdf]


def test_no_false_alarm(report: Report) -> None:
    assert [(each.page, each.code, each.what) for each in report.findings] == []
    assert report.sound


def test_everything_drawn_is_within_a_hundredth_of_a_millimetre(report: Report) -> None:
    true = [each for each in report.measured if each.unit == "mm" and each.allowed == OUT]
    assert true
    assert max(each.worst for each in true) <= OUT
    areas = [each for each in report.measured if each.unit == "mm²"]
    assert all(each.worst <= each.allowed for each in areas)


def test_every_outline_hole_and_mark_of_the_facts_was_measured(
    booklet: Built, report: Report
) -> None:
    measured = {each.what for each in report.measured}
    for part in booklet.facts["parts"]:
        if not part["template"]:
            continue
        for hand in (", left hand", ", right hand") if part["twins"] else ("",):
            who = f"of part {part['letter']}{hand}"
            # Of a template on several sheets, each sheet's stretch is measured by itself.
            tiled = f"outline {who}, on its sheet" in measured
            if tiled:
                who += ", on its sheet"
            assert {f"outline {who}", *(() if tiled else (f"area {who}",))} <= measured
            holes = part["shape"]["holes"]
            names = {hole["name"] for hole in holes}
            if tiled:
                edges = {name for name in names if f"edge of the {name} {who}" in measured}
                assert names == edges | _turned_over(part["shape"], edges)
            for hole in () if tiled else holes:
                for of in ("centre", "edge"):
                    assert f"{of} of the {hole['name']} {who}" in measured
            for each in (*part["shape"]["marks"], *part["shape"]["grooves"]):
                assert f"the {each['name']} {who}" in measured


def _turned_over(shape: dict[str, Any], measured: set[str]) -> set[str]:
    """The holes that a half template draws when it is turned over its centre line."""
    width = Fraction(shape["width"])
    places = {hole["name"]: tuple(map(Fraction, hole["centre"])) for hole in shape["holes"]}
    there = {(width - x, y) for name, (x, y) in places.items() if name in measured}
    return {name for name, place in places.items() if place in there}


def test_every_bar_was_measured(booklet: Built, report: Report) -> None:
    bars = [each.page for each in report.measured if each.what.startswith("bar ")]
    assert sum(page in booklet.pages_of("print") for page in bars) == 2
    if "templates" in booklet.places:
        assert set(booklet.pages_of("templates")) <= set(bars)


def test_what_was_counted_agrees_with_the_facts(booklet: Built, report: Report) -> None:
    counted = {each.what: each.number for each in report.counted}
    cut = [part for part in booklet.facts["parts"] if part["form"] != "bought"]
    assert counted["rows of the cutting list"] == len(cut)
    assert counted["pages that are as they were built"] == report.pages == len(booklet.texts)
    assert counted["figures in sentences"] > 50


def test_the_first_design_of_a_maker_is_sound_and_the_missing_licence_is_a_warning(
    tmp_path: Path,
) -> None:
    path = tmp_path / "box.yaml"
    path.write_text(starter("box"), "utf-8")
    made = make_edition(read_design(path), "metric")
    report = prove(made.pdf, made.facts)
    assert [each.what for each in report.findings] == []
    assert [each.code for each in report.warnings] == ["licence-unsaid"]
    assert as_record(report)["sound"] is True
    assert as_text(report).startswith("Sound: ")

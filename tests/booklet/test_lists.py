"""The cutting list as CSV and as text, and in the booklet: the same parts, figures and numbers.

CSV is held against RFC 4180 (2.1: CRLF ends each record; 2.6 and 2.7: quotes) and read back by
Python's own reader; which signs start a formula is common practice of spreadsheets.
"""

from __future__ import annotations

import csv
import io
import itertools
import re

import pytest

from patternpress.assembly.facts import facts
from patternpress.assembly.model import Model
from patternpress.booklet import lists
from patternpress.booklet.fillcutting import cutting
from patternpress.booklet.lists import as_columns, as_csv, as_text
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from tests.whole.small import BODY, STEP, TOP, model

EDITIONS = ("metric", "inch", "both")


@pytest.fixture(scope="module", params=EDITIONS)
def made(request: pytest.FixtureRequest) -> Model:
    return model(edition=request.param)


def worded(made: Model, language: str = "en") -> Wording:
    return Wording(made, read_phrases(language))


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_csv_is_read_back_with_every_part(made: Model) -> None:
    read = {
        (row["letter"], row["name"]): int(row["quantity"]) for row in rows(as_csv(worded(made)))
    }
    parts = {(p["letter"], p["name"]): p["quantity"] for p in facts(made)["parts"]}
    assert read == parts


def test_csv_ends_each_record_with_crlf_and_has_one_width(made: Model) -> None:
    text = as_csv(worded(made))
    assert text.endswith("\r\n")
    assert text.count("\n") == text.count("\r\n") == len(facts(made)["parts"]) + 1
    assert {len(row) for row in csv.reader(io.StringIO(text, newline=""))} == {9}


def test_csv_sizes_are_the_printed_figures_of_the_facts(made: Model) -> None:
    parts = {p["letter"]: p for p in facts(made)["parts"]}
    for row in rows(as_csv(worded(made))):
        part = parts[row["letter"]]
        axes = [part[key] for key in ("along", "across", "thin")]
        sizes = [part["extents"][axis]["printed"] if axis else "" for axis in axes]
        assert [row[head] for head in ("length", "width", "thickness")] == sizes


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@SUM(A1)", "\tx", "\rx", "＝1+1"])
def test_no_cell_is_taken_for_a_formula(cell: str) -> None:
    # Names of a design start with a letter, so the guard itself is asked.
    assert lists._safe(cell) == f"'{cell}"
    assert lists._safe(f"a{cell}") == f"a{cell}"


@pytest.mark.parametrize("name", ["Été", "half-round moulding", "B", "leg 2", "e or f"])
def test_any_name_goes_through_csv_and_text(name: str) -> None:
    body = BODY.replace("  slat: {stock", f'  "{name}": {{stock')
    made = model(TOP + body + STEP)
    assert name in [row["name"] for row in rows(as_csv(worded(made)))]
    assert sum(f"  {name}: 4 off" in line for line in as_text(worded(made)).splitlines()) == 1


def test_the_text_has_one_labelled_line_for_each_part(made: Model) -> None:
    lines = as_text(worded(made)).splitlines()
    for part in facts(made)["parts"]:
        (line,) = [each for each in lines if each.startswith(f"{part['letter']}  ")]
        assert line.startswith(f"{part['letter']}  {part['name']}: {part['quantity']} off")
        assert part["printed"].replace("\N{NO-BREAK SPACE}", " ") in line
    labelled = [line for line in lines if " off" in line]
    assert len(labelled) == len(facts(made)["parts"])


def test_the_text_groups_parts_by_stock_under_a_title() -> None:
    lines = as_text(worded(model())).splitlines()
    assert lines[0] == "Wall shelf: Cutting list (version 2.1)"
    heads = [lines[n + 1] for n, line in enumerate(lines) if not line]
    assert heads == ["board", "strip", "pin"]


def test_the_grain_of_a_strip_runs_along_it_in_every_list() -> None:
    made = model(TOP + BODY.replace("wide: 20 mm, quantity: 4", "high: 20 mm, quantity: 4") + STEP)
    assert {r["grain"] for r in rows(as_csv(worded(made))) if r["stock"] == "strip"} == {
        "along the length"
    }
    groups = cutting(worded(made))
    assert {str(row.grain) for row in groups[1].rows} == {"along the length"}


def test_the_booklets_list_holds_what_is_cut_and_nothing_bought(made: Model) -> None:
    groups = cutting(worded(made))
    listed = {(row.letter, row.name): row.quantity for group in groups for row in group.rows}
    parts = facts(made)["parts"]
    cut = {(p["letter"], p["name"]): p["quantity"] for p in parts if p["form"] != "bought"}
    assert listed == cut


def test_a_bought_fitting_with_sizes_is_still_not_cut() -> None:
    made = model(TOP + BODY.replace("knob: {stock: pin}", "knob: {stock: pin, wide: 4 mm}") + STEP)
    groups = cutting(worded(made))
    assert "knob" not in [row.name for group in groups for row in group.rows]


def test_pieces_come_by_letter(made: Model) -> None:
    for group in cutting(worded(made)):
        letters = [row.letter for row in group.rows]
        assert letters == sorted(letters)


def test_a_tool_keeps_its_capitals_under_the_stock() -> None:
    made = model((TOP + BODY + STEP).replace("fine saw", "Japanese saw"))
    groups = cutting(worded(made))
    assert groups[0].note == "Cut with the Japanese saw"


def test_columns_stand_under_each_other(made: Model) -> None:
    lines = as_columns(worded(made)).splitlines()
    heads, rule = lines[2], lines[3]
    starts = [0, *(m.end() for m in re.finditer(r"-  (?=-)", rule))]
    assert [heads[n:].split()[0] for n in starts] == [
        *("letter", "name", "quantity", "length", "width", "thickness", "grain", "note")
    ]
    parts = {p["letter"]: p for p in facts(made)["parts"]}
    told = [line for line in lines[4:] if line[:1].isupper()]
    assert len(told) == len(parts)
    for line in told:
        cells = [line[a:b].strip() for a, b in itertools.pairwise([*starts, len(line) + 1])]
        part = parts[cells[0]]
        assert cells[1:3] == [part["name"], str(part["quantity"])]
        assert cells[3:6] == [
            part["extents"][part[axis]]["printed"] if part[axis] else ""
            for axis in ("along", "across", "thin")
        ]


@pytest.mark.parametrize(
    ("language", "title", "line"),
    [
        ("de", "Stückliste (Fassung 2.1)", "A  base: 1 Stück, 80 × 40 × 2 mm"),
        ("fr", "Liste de débit (édition 2.1)", "A  base: 1 pièce, 80 × 40 × 2 mm"),
    ],
)
def test_the_lists_speak_the_language(language: str, title: str, line: str) -> None:
    wording = worded(model(), language)
    text = as_text(wording)
    assert text.splitlines()[0].endswith(title)
    english = set(as_csv(worded(model())).splitlines()[0].split(","))
    heads = set(as_csv(wording).splitlines()[0].split(","))
    assert len(heads) == 9
    assert not english & heads - {"note"}
    assert any(each.startswith(line) for each in text.splitlines())
    assert not re.search(r"\b(grain|off|See|list)\b", text)

"""What joins the sheets of a template, the map and the square: measured, and each fault told.

The faults are made in the finished sheets of one template, which are then judged by all checks
that look at sheets; each must be told by its own code and by no other.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, String

from patternpress.booklet.build import make_edition
from patternpress.design.read import read_text
from patternpress.proof import bars, joined, labels, squares, truth
from patternpress.proof.design import Facts, read_facts
from patternpress.proof.findings import Finding, Judged, Measured
from patternpress.proof.reading import read
from tests.proof import saboteur as s
from tests.whole.demos import Built

PART = "B"
Fault = Callable[[Pdf], None]


@dataclass(frozen=True)
class Sheets:
    """The sheets of one template in a file of their own, and the facts of its part."""

    data: bytes
    facts: Facts

    def judged(self, fault: Fault | None = None) -> Iterator[Judged]:
        data = s.spoilt(self.data, fault) if fault else self.data
        booklet = read(data)
        yield from joined.joined(booklet)
        yield from squares.squares(booklet)
        yield from squares.maps(booklet)
        yield from labels.labels(booklet)
        yield from bars.bars_of_pages(booklet)
        yield from truth.templates(booklet, self.facts)

    def found(self, fault: Fault | None = None) -> set[str]:
        return {each.code for each in self.judged(fault) if isinstance(each, Finding)}


def sheets_of(path: Path | bytes, facts: Facts, letter: str) -> Sheets:
    source = io.BytesIO(path) if isinstance(path, bytes) else path
    with pikepdf.open(source) as book:
        alone = pikepdf.new()
        for page in book.pages:
            drawn = s.stretches(s.operations(page), "Template")
            if any(each.facts["Part"] == letter for each in drawn):
                alone.pages.append(page)
        for key, value in book.docinfo.items():
            alone.docinfo[key] = String(str(value))
        out = io.BytesIO()
        alone.save(out)
    parts = tuple(part for part in facts.parts if part.letter == letter)
    return Sheets(out.getvalue(), replace(facts, parts=parts))


@pytest.fixture(scope="module")
def sheets(tote: Built) -> Sheets:
    return sheets_of(tote.pdf, read_facts(tote.facts), PART)


# ------------------------------------------------------------------ faults


def on_page(number: int, name: str, change: s.Edit, **facts: str) -> Fault:
    """Change the operations inside a stretch of one sheet."""

    def fault(pdf: Pdf) -> None:
        def work(ops: s.Ops) -> s.Ops:
            found = s.tagged(ops, name, **facts)
            inner = change(ops[found.first + 1 : found.last])
            return [*ops[: found.first + 1], *inner, *ops[found.last :]]

        s.edit(pdf, number, work)

    return fault


def pushed(across: float, up: float) -> s.Edit:
    return lambda ops: s.shifted(ops, across, up)


def one_line_pushed(ops: s.Ops) -> s.Ops:
    """One line of a cross moved by 0.05 mm along the sheet."""
    at = s.path_points(ops)[:2]
    for index in at:
        ops[index] = s.moved(ops[index], 0.05, 0)
    return ops


def whole_cross_pushed(ops: s.Ops) -> s.Ops:
    """The first of two crosses, both its lines, moved by 0.05 mm."""
    for index in s.path_points(ops)[:4]:
        ops[index] = s.moved(ops[index], 0.04, 0.03)
    return ops


def left_out(ops: s.Ops) -> s.Ops:
    del ops
    return []


def retagged(number: int, name: str, change: dict[str, str], **facts: str) -> Fault:
    """Let a stretch say something else of itself."""

    def fault(pdf: Pdf) -> None:
        def work(ops: s.Ops) -> s.Ops:
            found = s.tagged(ops, name, **facts)
            told = {f"/{key}": String(value) for key, value in {**found.facts, **change}.items()}
            begin = s.op("BDC", Name(f"/{name}"), Dictionary(told))
            return [*ops[: found.first], begin, *ops[found.first + 1 :]]

        s.edit(pdf, number, work)

    return fault


def both_to_be_cut(pdf: Pdf) -> None:
    for of in ("line", "crosses", "half", "letter"):
        retagged(1, "Seam", {"Over": "yes"}, of=of)(pdf)


def dotted(ops: s.Ops) -> s.Ops:
    short = s.op("d", Array([Decimal("0.4"), 1]), 0)
    return [short if str(each.operator) == "d" else each for each in ops]


def all_joins_pushed(pdf: Pdf) -> None:
    """Everything that joins one sheet moved alike: only its outline tells."""

    def work(ops: s.Ops) -> s.Ops:
        for name in ("Seam", "Corner"):
            for found in reversed(s.stretches(ops, name)):
                inner = s.shifted(ops[found.first + 1 : found.last], 0.05, 0)
                ops = [*ops[: found.first + 1], *inner, *ops[found.last :]]
        return ops

    s.edit(pdf, 2, work)


def retyped(number: int, name: str, before: str, after: str, **facts: str) -> Fault:
    def fault(pdf: Pdf) -> None:
        found = s.tagged(s.operations(pdf.pages[number - 1]), name, **facts)
        s.retyped(pdf, number, before, after, found)

    return fault


def corner_of_square_moved(ops: s.Ops) -> s.Ops:
    """Out of square, with every side still 20 mm to a hundredth: a lozenge."""
    points = s.path_points(ops)
    for index in points[2:4]:
        ops[index] = s.moved(ops[index], 0.5, 0)
    return ops


def sheets_swapped(pdf: Pdf) -> None:
    first = pdf.pages[0]
    pdf.pages.append(first)
    del pdf.pages[0]


FAULTS: dict[str, tuple[Fault, set[str]]] = {
    "a line of a cross moved": (on_page(1, "Seam", one_line_pushed, of="crosses"), {"seam-off"}),
    "a cross moved": (on_page(2, "Seam", whole_cross_pushed, of="crosses"), {"seam-off"}),
    "the crosses moved": (on_page(1, "Seam", pushed(0.03, 0.04), of="crosses"), {"seam-off"}),
    "the crosses left out": (on_page(1, "Seam", left_out, of="crosses"), {"seam-off"}),
    "the line to trim moved": (on_page(2, "Seam", pushed(0.05, 0), of="line"), {"seam-off"}),
    "the line to trim moved up": (on_page(2, "Seam", pushed(0, 0.05), of="line"), {"seam-off"}),
    "the line to lay to moved": (on_page(1, "Seam", pushed(0.05, 0), of="line"), {"seam-off"}),
    "the line to trim left out": (on_page(2, "Seam", left_out, of="line"), {"seam-off"}),
    "half of the diamond moved": (on_page(1, "Seam", pushed(0, 0.05), of="half"), {"seam-off"}),
    "the letter of an edge changed": (
        retyped(1, "Seam", "a", "e", of="letter"), {"seam-wrong"},
    ),
    "the letter pushed out of its diamond": (
        on_page(1, "Seam", pushed(0, 12), of="letter"), {"seam-wrong"},
    ),
    "both sheets to be cut": (both_to_be_cut, {"seam-wrong"}),
    "a dotted line to cut": (on_page(2, "Seam", dotted, of="line"), {"seam-wrong"}),
    "everything at a seam moved alike": (all_joins_pushed, {"sheet-off"}),
    "a point to measure from moved": (on_page(1, "Corner", pushed(0.05, 0)), {"seam-off"}),
    "a point to measure from left out": (
        on_page(1, "Corner", left_out), {"corner-missing"},
    ),
    "the figure of the diagonals changed": (
        retyped(2, "Said", r"(\d)( mm|$)", "7\\2", of="diagonal"), {"diagonal-differs"},
    ),
    "the head of a sheet changed": (
        retyped(1, "Said", "1", "2", of="sheet"), {"sheet-differs"},
    ),
    "the sheets swapped": (sheets_swapped, {"sheet-differs"}),
    "a sheet lost": (
        lambda pdf: pdf.pages.__delitem__(0),
        {"sheet-differs", "seam-wrong", "corner-missing", "map-wrong", "sheets-gap"},
    ),
    "the map renumbered": (retyped(1, "Map", "1", "2"), {"map-wrong"}),
    "the map left out": (on_page(1, "Map", left_out), {"map-wrong"}),
    "the map turned round": (
        on_page(1, "Map", lambda ops: [s.op("q"), s.op("cm", -1, 0, 0, -1, 1000, 800), *ops,
                                       s.op("Q")]), {"map-wrong"},
    ),
    "the square a millimetre short": (
        on_page(1, "Square", lambda ops: s.stretched(ops, 0.95, 1)), {"square-wrong"},
    ),
    "the square out of square": (on_page(1, "Square", corner_of_square_moved), {"square-wrong"}),
    "the square's size changed": (retyped(1, "Square", "2", "1"), {"square-wrong"}),
    "the square left out": (on_page(1, "Square", left_out), {"square-missing"}),
}  # fmt: skip


def test_sound_sheets_are_sound_and_everything_was_measured(sheets: Sheets) -> None:
    assert sheets.found() == set()
    measured = {each.what: each for each in sheets.judged() if isinstance(each, Measured)}
    for what in (
        "crosses and points of part B, sheet 1",
        "crosses and points of part B, sheet 2",
        "seam a of part B, sheet to sheet",
        "diagonals of part B, one to the other",
        "joining marks of part B, sheet 1, to its lines",
        "joining marks of part B, sheet 2, to its lines",
        "square to check the print with",
    ):
        assert measured[what].worst < 0.002, what


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_at_a_seam_is_told_for_what_it_is(name: str, sheets: Sheets) -> None:
    fault, codes = FAULTS[name]
    assert sheets.found(fault) == codes
    for each in sheets.judged(fault):
        if isinstance(each, Finding):
            assert "{" not in each.what + each.mend


# ------------------------------------------------------------------ several rows, other papers

# A corner over more than a quarter of a side makes it no rectangle, which would take one sheet.
HATCH = """\
design: Hatch
version: "1.0"
date: 2026-11-25
units: mm
licence: Make as many as you like.
stock:
  board: {sheet: 9 mm, sold: 600 x 1200 mm, cut with: fine saw, kerf: 1 mm}
parts:
  panel:
    stock: board
    wide: 330 mm
    high: 340 mm
    corners: {top left: round 100 mm, top right: hollow 45 mm}
    holes:
      port: {round: 90 mm, at: centre}
    template: yes
  foot:
    stock: board
    wide: 330 mm
    deep: 60 mm
marks:
  hook spot: {on: front of panel, point: 80 mm from left and 90 mm from bottom}
tools: {fine saw: }
materials: {wood glue: {kind: glue, handle: 30 min, hard: 24 h}}
steps:
  - step: Glue the panel to its foot
    start: foot
    join: {panel: {bottom: against top of foot, left: flush with left of foot, front: 10 mm inside front of foot}}
    glue: wood glue
"""  # noqa: E501


@pytest.fixture(scope="module")
def hatch() -> Sheets:
    reading = read_text(HATCH, "hatch.yaml", Path(__file__).parent)
    assert [each.what for each in reading.problems] == []
    made = make_edition(reading, "metric")
    return sheets_of(made.pdf, read_facts(made.facts), "A")


def test_rows_and_columns_of_sheets_are_measured_too(hatch: Sheets) -> None:
    assert hatch.found() == set()
    seams = {
        each.what
        for each in hatch.judged()
        if isinstance(each, Measured) and each.what.startswith("seam ")
    }
    assert seams == {f"seam {letter} of part A, sheet to sheet" for letter in "abcdefg"}


def test_a_point_on_a_sheet_is_measured_and_nothing_may_be_added_to_it(hatch: Sheets) -> None:
    measured = {each.what for each in hatch.judged() if isinstance(each, Measured)}
    assert "the hook spot of part A, on its sheet" in measured
    with Pdf.open(io.BytesIO(hatch.data)) as pdf:
        number = s.page_with(pdf, "Drawn", **{"as": "point"})
    point = {"as": "point"}
    for change, codes in (
        (pushed(0.05, 0), {"mark-off"}),
        (one_line_pushed, {"mark-off"}),
        (left_out, {"mark-missing"}),
    ):
        assert hatch.found(on_page(number, "Drawn", change, **point)) == codes
    stranger = retagged(number, "Drawn", {"Name": "nail spot"}, **point)
    assert hatch.found(stranger) == {"drawn-extra", "mark-missing"}


def test_letters_of_two_seams_swapped_on_one_sheet_are_told(hatch: Sheets) -> None:
    """Both what is printed and what the file says of it: only its place tells."""

    def fault(pdf: Pdf) -> None:
        for of in ("line", "crosses", "half", "letter"):
            for before, after in (("a", "x"), ("b", "a"), ("x", "b")):
                retagged(1, "Seam", {"Letter": after}, of=of, letter=before)(pdf)
        retyped(1, "Seam", "b", "e", of="letter", letter="a")(pdf)
        retyped(1, "Seam", "a", "b", of="letter", letter="b")(pdf)
        retyped(1, "Seam", "e", "a", of="letter", letter="a")(pdf)

    assert {"seam-off", "seam-wrong"} & hatch.found(fault)


def test_a_sheet_without_a_letter_for_its_neighbour_is_told(hatch: Sheets) -> None:
    def fault(pdf: Pdf) -> None:
        def work(ops: s.Ops) -> s.Ops:
            for found in reversed(s.stretches(ops, "Seam")):
                if found.facts["Letter"] == "c":
                    ops = [*ops[: found.first], *ops[found.last + 1 :]]
            return ops

        for number in range(1, len(pdf.pages) + 1):
            if any(
                e.facts["Letter"] == "c"
                for e in s.stretches(s.operations(pdf.pages[number - 1]), "Seam")
            ):
                s.edit(pdf, number, work)

    assert hatch.found(fault) == {"seam-missing"}


# ------------------------------------------------------------------ words by themselves

FRAMES = (
    HATCH.replace("wide: 330 mm\n    high: 340", "wide: 326 mm\n    high: 356")
    .replace("    corners: {top left: round 100 mm, top right: hollow 45 mm}\n", "")
    .replace("port: {round: 90 mm, at: centre}", "port: {window: 312 x 342 mm, at: centre}")
    .replace("template: yes", "template: tiled")
    .replace("point: 80 mm from left and 90 mm", "point: 3 mm from left and 90 mm")
)


@pytest.fixture(scope="module")
def frame() -> Sheets:
    reading = read_text(FRAMES, "frame.yaml", Path(__file__).parent)
    assert [each.what for each in reading.problems] == []
    made = make_edition(reading, "metric")
    return sheets_of(made.pdf, read_facts(made.facts), "A")


def with_a_line(ops: s.Ops) -> s.Ops:
    return [*ops, s.op("w", 2), s.op("m", 0, 0), s.op("l", 50, 0), s.op("S")]


def test_words_alone_belong_to_a_template_on_several_sheets(frame: Sheets) -> None:
    assert frame.found() == set()
    alone = {"words": "alone"}
    assert frame.found(retagged(1, "Template", {"Hand": "left"}, **alone)) == {"template-extra"}
    drawn = {"line-unnamed", "template-empty", "template-extra"}
    assert frame.found(on_page(1, "Template", with_a_line, **alone)) == drawn


def test_sheets_that_say_they_are_words_are_measured_all_the_same(frame: Sheets) -> None:
    fault = retagged(2, "Template", {"Words": "alone"}, part="A")
    before = [each for each in frame.judged() if isinstance(each, Measured)]
    after = [each for each in frame.judged(fault) if isinstance(each, Measured)]
    assert [each.what for each in after] == [each.what for each in before]

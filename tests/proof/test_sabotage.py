"""A booklet with a single fault is refused, and for that fault: the proof must be able to fail.

The faults are made with pikepdf in the finished file, and the seal is set anew, so that only the
measuring is left to find them.
"""

from __future__ import annotations

from collections import Counter

import pikepdf
import pytest

from patternpress.proof.prove import prove
from patternpress.proof.sentences import SENTENCES
from tests.proof.faults import FAULTS, Case, english_told_as_french
from tests.proof.saboteur import spoilt
from tests.whole.demos import Built


@pytest.mark.parametrize("case", FAULTS, ids=str)
def test_a_fault_is_found_for_what_it_is(
    case: Case, shelf: Built, desk: Built, french: Built
) -> None:
    booklet = {"shelf": shelf, "desk": desk, "french": french}[case.booklet]
    data = spoilt(booklet.pdf.read_bytes(), case.fault, sealed=case.sealed)
    report = prove(data, booklet.facts if case.facts else None)
    assert {each.code for each in report.findings} == case.codes
    assert not report.sound
    for each in report.findings:
        assert "{" not in each.what + each.mend


def test_units_are_looked_at_in_lists_dimensions_and_holes(shelf: Built) -> None:
    """All that are printed in an English booklet are wrong in one that says it is French."""
    report = prove(spoilt(shelf.pdf.read_bytes(), english_told_as_french))
    found = [each for each in report.findings if each.code == "unit-foreign"]
    places = {each.page for each in found}
    assert places & set(shelf.pages_of("cutting")) and places >= set(shelf.pages_of("templates"))
    rows = [dict(each.facts) for each in found]
    assert {("B", "3 1/4 in"), ("B", "1/16 in")} <= {(row["part"], row["said"]) for row in rows}
    assert {(row["found"], row["wanted"]) for row in rows} == {("in", "po")}


def test_a_fault_seen_against_the_design_alone_is_not_seen_without_it(desk: Built) -> None:
    """What needs the facts needs them: otherwise the cases above would prove too little."""
    unseen = [each for each in FAULTS if each.facts and each.booklet == "desk"]
    for case in unseen:
        if case.codes <= {"outline-off", "mark-off", "mark-missing"}:
            data = spoilt(desk.pdf.read_bytes(), case.fault)
            assert prove(data).sound, case.name


def test_another_editions_list_is_not_this_ones(shelf: Built, shelf_in_inches: Built) -> None:
    """A whole sheet of the cutting list from the edition in inches."""
    with pikepdf.open(shelf_in_inches.pdf) as other:

        def fault(pdf: pikepdf.Pdf) -> None:
            here, there = shelf.places["cutting"], shelf_in_inches.places["cutting"]
            page, foreign = pdf.pages[here], other.pages[there]
            copied = pdf.copy_foreign(foreign.obj)
            page.obj.Contents = copied.Contents
            page.obj.Resources = copied.Resources

        data = spoilt(shelf.pdf.read_bytes(), fault)
    codes = Counter(each.code for each in prove(data, shelf.facts).findings)
    # Its rows are others, or where the sheets are built otherwise, no rows at all.
    assert codes["list-differs"] + codes["list-missing"] >= 2
    assert codes["figure-lost"] >= 2


def test_another_edition_or_design_is_told_at_once(
    desk: Built, shelf: Built, shelf_in_inches: Built
) -> None:
    for facts, code in (
        (shelf_in_inches.facts, "edition-differs"),
        (desk.facts, "edition-differs"),
    ):
        (found,) = prove(shelf.pdf.read_bytes(), facts).findings
        assert found.code == code
    changed = {**shelf.facts, "version": "1.1.1"}
    (found,) = prove(shelf.pdf.read_bytes(), changed).findings
    assert found.code == "facts-differ"


@pytest.mark.parametrize("data", [b"", b"%PDF-1.7\n", b"hello", bytes(range(256)) * 40])
def test_what_is_no_pdf_is_refused(data: bytes) -> None:
    (found,) = prove(data).findings
    assert found.code == "unreadable"


def test_half_a_booklet_is_refused(desk: Built) -> None:
    data = desk.pdf.read_bytes()
    assert not prove(data[: len(data) // 2], desk.facts).sound


def test_every_kind_of_finding_is_met_or_known_to_be_rare() -> None:
    met = {code for case in FAULTS for code in case.codes}
    elsewhere = {
        # found by tests of their own, in this folder or in tests/booklet
        "area-off", "card-differs", "corner-missing", "diagonal-differs", "edition-differs",
        "joint-off", "map-wrong", "printer-unknown", "printer-unsaid", "seam-missing", "seam-off",
        "seam-wrong",
        "sheet-differs", "sheet-off",
        "sheets-gap", "square-missing", "square-wrong", "unreadable",
    }  # fmt: skip
    rare = set(SENTENCES) - met - elsewhere
    assert rare <= {
        "letter-unused", "licence-unsaid", "line-cut", "list-extra", "list-missing",
        "overall-differs", "page-unknown", "scale-unsaid", "size-unsaid",
        "figure-unknown", "page-sparse",
    }  # fmt: skip

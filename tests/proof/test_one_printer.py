"""Templates for one printer are judged as that printer prints them, never as the usual ones."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from pikepdf import Pdf, String

from patternpress.booklet.build import Made, make_corrected
from patternpress.design.read import read_design
from patternpress.measure.printers import Correction
from patternpress.proof.prove import prove
from tests.proof import saboteur as s
from tests.whole.demos import DESIGNS, Built


@pytest.fixture(scope="module")
def made() -> Made:
    """Made anew: two seconds."""
    reading = read_design(DESIGNS / "keepers-desk.yaml")
    return make_corrected(reading, "metric", Correction(Fraction("99.2"), Fraction("99.5")))


def test_such_a_set_is_sound_alone_and_against_its_design(made: Made) -> None:
    for facts in (None, made.facts):
        report = prove(made.pdf, facts)
        assert [(each.code, each.what) for each in report.findings] == []
    true = [each for each in report.measured if each.what.startswith("outline of part")]
    assert true
    assert max(each.worst for each in true) <= 0.01
    counted = {each.what: each.number for each in report.counted}
    assert counted["pages that say for which printer they are"] == report.pages > 0


def test_a_set_for_a_printer_that_prints_too_large_is_whole() -> None:
    """Letters keep their size, and so reach further than the lines drawn smaller round them."""
    reading = read_design(DESIGNS / "keepers-desk.yaml")
    made = make_corrected(reading, "both", Correction(Fraction(105), Fraction(105)))
    report = prove(made.pdf, made.facts)
    assert [(each.code, each.what) for each in report.findings] == []


def said_to_be(printer: str) -> Callable[[Pdf], None]:
    def fault(pdf: Pdf) -> None:
        pdf.docinfo["/PatternPrinter"] = String(printer)

    return fault


def unsaid_in_the_file(pdf: Pdf) -> None:
    """Passed off as the usual set: its bars and squares give it away."""
    del pdf.docinfo["/PatternPrinter"]


def another_printer_at_the_head(pdf: Pdf) -> None:
    """On the last page the band says 19.2 x 99.5, and the foot what is so."""
    number = len(pdf.pages)
    page = pdf.pages[number - 1]
    ops, letters, texts = s.operations(page), {}, []
    for index, each in enumerate(ops):
        if str(each.operator) == "Tf":
            letters = s.meanings(page.obj.Resources.Font[each.operands[0]])
        if str(each.operator) in ("TJ", "Tj"):
            texts.append((index, s.shown(each, letters)))
    spelled = "".join(text[:1] or "?" for _, text in texts)
    band = texts[spelled.index("ONLY")][0]
    s.retyped(pdf, number, "^9$", "1", s.Stretch(band, len(ops), {}, ()))


@pytest.mark.parametrize(
    ("fault", "codes"),
    [
        (another_printer_at_the_head, {"printer-unsaid"}),
        (said_to_be("wide"), {"printer-unknown"}),
        (said_to_be("99.2x99.6"), {"printer-unsaid", "bar-wrong", "square-wrong"}),
        (said_to_be("100x100"), {"printer-unsaid", "bar-wrong", "square-wrong"}),
        (unsaid_in_the_file, {"bar-wrong", "bar-missing", "square-wrong", "outline-off"}),
    ],
    ids=["head", "not a size", "another", "true", "unsaid"],
)
def test_a_set_that_is_not_what_it_says_is_refused(
    made: Made, fault: Callable[[Pdf], None], codes: set[str]
) -> None:
    report = prove(s.spoilt(made.pdf, fault), made.facts)
    assert codes <= {each.code for each in report.findings}
    for each in report.findings:
        assert "{" not in each.what + each.mend


def test_the_usual_booklet_is_not_passed_off_as_one_for_a_printer(desk: Built) -> None:
    report = prove(s.spoilt(desk.pdf.read_bytes(), said_to_be("99.2x99.5")), desk.facts)
    assert {"printer-unsaid", "bar-wrong"} <= {each.code for each in report.findings}

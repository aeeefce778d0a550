"""The figures in brackets: they stand beside what is drawn, so they may not be another piece's."""

from __future__ import annotations

from fractions import Fraction

import pytest

from patternpress.booklet.build import make_edition
from patternpress.closing.close import close
from patternpress.design.read import Reading
from patternpress.measure.figures import plain, show_length
from patternpress.measure.quantity import millimetres
from patternpress.proof.amounts import Rounding, with_brackets
from patternpress.proof.prove import prove
from tests.whole.small import read

DESIGN = """\
design: Grating
sizes:
  slat: 6 mm
  gap: {gap}
  long: {long}
stock:
  board: {{sheet: 2 mm, sold: 100 x 600 mm}}
parts:
  rail: {{stock: board, wide: long, deep: 8 mm}}
  slat board: {{stock: board, wide: slat, deep: 40 mm, quantity: 5}}
steps:
  - step: Make it
    start: rail
    join:
      slat board:
        bottom: against rail
        left: flush with rail
        front: flush with rail
        row: {{toward: right, every: slat + gap}}
editions:
  both: {{units: both, paper: A4}}
"""


def grating(gap: str, long: str = "5 * slat + 4 * gap") -> Reading:
    return read(DESIGN.format(gap=gap, long=long))


@pytest.mark.parametrize(
    ("gap", "rounded", "long"),
    [
        ("1 mm", True, "34 mm (1 11/32 in)"),  # four times 3/64 in would make 1 23/64 in of it
        ("1.2 mm", False, "34.8 mm (1 23/64 in)"),
    ],
)
def test_brackets_that_add_up_to_another_piece_are_plain_conversions(
    gap: str, rounded: bool, long: str
) -> None:
    closed = close(grating(gap), "both")
    assert bool(closed.rounded) is rounded
    assert closed.model.edition.second_rounded is rounded
    part = closed.model.worked.part("rail")
    assert part is not None
    shown = plain(show_length(part.extents["wide"], closed.model.edition.display))
    assert shown.replace("\u00a0", " ") == long


def test_the_author_is_told_which_figure_it_is() -> None:
    (told,) = close(grating("1 mm"), "both").rounded
    assert told.kind.code() == "second-rounded"
    words = "long is 34 mm, but adds up to 1 23/64 in, more than a step away"
    assert words in told.what.replace("\u00a0", " ")


@pytest.mark.parametrize("gap", [f"0.{tenth} mm" for tenth in range(6, 10)] + ["1 mm", "1.1 mm"])
def test_no_bracket_is_more_than_a_step_from_its_figure(gap: str) -> None:
    closed = close(grating(gap), "both")
    display = closed.model.edition.display
    for key, figure in closed.figures.after.items():
        if key[0] in ("sizes", "part"):
            text = plain(show_length(millimetres(figure.mm), display))
            *_, inches = text.replace(" in)", "").replace("\u00a0", " ").rpartition("(")
            whole, _, part = inches.removesuffix(" in)").rpartition(" ")
            top, _, below = part.partition("/")
            found = int(whole or 0) + int(top) / int(below or 1)
            assert abs(found * 25.4 - float(figure.mm)) <= 25.4 / 64 + 0.01, (figure.words, text)


@pytest.mark.parametrize("gap", ["1 mm", "1.2 mm"])
@pytest.mark.parametrize("fraction", ["1/64 in", "1/16 in", "1/4 in"])
def test_the_proof_takes_what_stands_beside_a_template(gap: str, fraction: str) -> None:
    text = DESIGN.format(gap=gap, long="5 * slat + 4 * gap")
    text = text.replace("deep: 8 mm}", "deep: 8 mm, template: yes}")
    text = text.replace("paper: A4", f"paper: A4, fraction: {fraction}")
    made = make_edition(read(text), "both")
    report = prove(made.pdf, made.facts)
    assert [each.what for each in report.findings] == []
    assert any("size written at part A" in each.what for each in report.measured)


def test_steps_of_brackets_only_widen_what_a_label_may_be_off() -> None:
    fine = Rounding()
    assert with_brackets(fine, "1/16 in") == Rounding(fine.mm, 4 * fine.inch)
    assert with_brackets(fine, "1/2 mm").mm == Fraction(1, 2)
    for said in ("", "1/128 in", "1/0 in", "a lot"):
        assert with_brackets(fine, said) == fine

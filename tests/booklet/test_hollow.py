"""How wide holes and grooves are told: what goes in must still go in by the printed figure."""

from __future__ import annotations

from fractions import Fraction

import pytest

from patternpress.booklet.fillbits import bits
from patternpress.booklet.groovewords import grooves_words
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import Wording
from patternpress.closing.bored import least_bores
from patternpress.closing.close import close
from patternpress.closing.table import rows
from patternpress.drawing.fromparts import template_parts
from patternpress.measure.digits import Display, in_system
from patternpress.measure.drills import serving
from patternpress.measure.figures import plain, show_length, show_size
from patternpress.measure.quantity import millimetres
from tests.whole.small import read

DESIGN = """\
design: Hatch
sizes:
  slot: {is: thickness of board + 0.2 mm, note: so that the slide runs}
stock:
  board: {sheet: 6 mm, sold: 100 x 600 mm, nearest: 1/4 in}
  wire: {rod: 0.8 mm, sold: 300 mm}
parts:
  base:
    stock: board
    wide: 80 mm
    deep: 40 mm
    template: yes
    holes:
      turning hole: {round: thickness of wire + 0.1 mm, at: 10 mm from left and centred, deep: 3 mm}
      tight hole: {round: thickness of wire, at: 20 mm from left and centred, deep: 3 mm}
      nail hole: {round: 0.9 mm, at: 40 mm from left and centred}
    grooves:
      slide groove: {on: top, wide: slot, deep: 3 mm, at: 50 mm from left}
  pin: {stock: wire, high: 6 mm, pieces: [turning pin, tight pin]}
  slide: {stock: board, deep: 40 mm, high: 20 mm}
steps:
  - step: Drill and cut
    start: base
    treat:
      - {drill: turning hole of base and tight hole of base and nail hole of base}
      - {groove: base}
    say: The groove is <slot> wide.
  - step: Join
    join:
      turning pin: {bottom: loose in turning hole of base}
      tight pin: {bottom: in tight hole of base}
      slide: {bottom: loose in slide groove of base, front: flush with base}
editions:
  metric: {units: mm, paper: A4}
  inch: {units: in, paper: Letter}
  both: {units: both, paper: A4}
"""


def worded(edition: str) -> Wording:
    return Wording(close(read(DESIGN), edition).model, read_phrases("en"))


@pytest.mark.parametrize(
    ("edition", "wide", "turning"),
    [
        ("metric", "6.2 mm", "0.9 mm"),
        ("inch", "0.258 in", "0.035 in"),
        ("both", "6.2 mm (1/4 in)", "0.9 mm (0.035 in)"),
    ],
)
def test_all_papers_say_the_width_that_is_drawn(edition: str, wide: str, turning: str) -> None:
    wording = worded(edition)
    base = wording.model.worked.part("base")
    assert base is not None
    (groove,) = base.part.grooves
    told = plain_words(wording.groove(groove.wide))
    if edition != "both":
        assert told == wide
    assert plain_words(wording.bore(base.part.holes[0].round)) == turning
    step = wording.model.worked.usage.steps[0]
    assert plain_words(wording.prose(step.say[0])) == f"The groove is {told} wide."
    sentences = [
        plain_words(s) for s, _ in grooves_words(step.treat[1], step.treat[1].targets, wording)
    ]
    assert any(f"{told} wide" in each for each in sentences)
    template = next(
        t
        for t in template_parts(wording.model.worked, wording.model.edition, lambda p, t: ())
        if t.letter == base.letter
    )
    assert (
        plain(template.callouts["turning hole"])
        .replace("\u00a0", " ")
        .startswith(f"turning hole Ø{turning}")
    )


def test_the_table_says_the_same() -> None:
    closed = close(read(DESIGN), "inch")
    shown = {
        r.words: r.printed.replace("\u00a0", " ")
        for r in rows(closed.figures, closed.model.edition.display)
    }
    assert shown["slot"] == "0.258 in"
    assert shown["width of slide groove"] == "0.258 in"


@pytest.mark.parametrize("edition", ["metric", "inch", "both"])
def test_no_bit_is_thinner_than_what_goes_in(edition: str) -> None:
    wording = worded(edition)
    least = least_bores(wording.model.worked)
    assert set(least) == {("base", "turning hole"), ("base", "tight hole")}
    told = {
        plain_words(each.purpose): (plain_words(each.size), plain_words(each.alternative))
        for each in bits(wording)
    }
    sizes = [size for size, _ in told.values()]
    assert len(set(sizes)) == len(sizes)
    (turning,) = (v for where, v in told.items() if "turning" in where)
    assert "1/32 in" not in " ".join(turning)
    assert turning == (("No. 65", "0.9 mm") if edition == "inch" else ("0.9 mm", "No. 65"))


@pytest.mark.parametrize(
    ("mm", "system", "least", "names"),
    [
        ("0.9", "in", None, ["No. 65"]),
        ("0.9", "in", "0.9", ["No. 64"]),
        ("2", "in", None, ["5/64 in", "No. 47"]),
        ("1.5", "in", "1.48", ["No. 53"]),
        ("0.8", "mm", "0.85", ["0.9 mm"]),
        ("10", "in", None, ["25/64 in"]),
        ("14", "mm", None, []),
    ],
)
def test_bits_that_serve(mm: str, system: str, least: str | None, names: list[str]) -> None:
    limit = Fraction(least) if least else None
    found = serving(Fraction(mm), "in" if system == "in" else "mm", limit)
    assert [each.name for each in found] == names
    assert all(limit is None or each.diameter_mm >= limit for each in found)


@pytest.mark.parametrize("tenths", range(3, 120))
def test_no_width_is_told_narrower_than_it_is(tenths: int) -> None:
    mm = Fraction(tenths, 10) + Fraction(1, 30)
    for first, second in (("in", None), ("mm", "in"), ("mm", None)):
        display = Display(first, second, Fraction(1, 2)).grooved  # type: ignore[arg-type]
        for system in display.systems:
            text = plain(in_system(millimetres(mm), system, display))
            whole, _, part = text.rpartition(" ")
            top, _, below = part.partition("/")
            found = (float(whole or 0) + float(top) / float(below or 1)) * (
                25.4 if system == "in" else 1
            )
            assert found >= float(mm) - 0.05


def test_how_deep_a_groove_is_has_one_figure_everywhere() -> None:
    """Its template told 0.02 in and its step 1/64 in: only how wide it is asks for thousandths."""
    display = Display("mm", "in")
    sizes = (millimetres(Fraction(1)), millimetres(Fraction(1, 2)))
    both = plain(show_size(sizes, display, display.grooved)).replace("\u00a0", " ")
    deep = plain(show_length(sizes[1], display)).replace("\u00a0", " ")
    assert (both, deep) == ("1 × 0.5 mm (3/64 × 1/64 in)", "0.5 mm (1/64 in)")

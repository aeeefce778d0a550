"""The bench plan as a picture and as text."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.assembly.plan import Plan, Sitting, bench_plan
from patternpress.assembly.worked import work
from patternpress.design.read import read_design
from patternpress.drawing.contract import check_template
from patternpress.drawing.ink import Solid, Stroke, Words, extent
from patternpress.drawing.lettering import words
from patternpress.drawing.planbars import bars
from patternpress.drawing.planchart import PLAN_WORDS, clock, plan_charts, plan_text
from patternpress.drawing.planrows import TALLEST, rows
from patternpress.drawing.plantime import GAP, time_scale
from patternpress.drawing.style import DrawingStyle
from tests.assembly.plandesign import CARCASS, DRAWER, LID, worked

DESIGNS = Path(__file__).parents[2] / "designs"
STYLE = DrawingStyle()
NAMESPACE = "{http://www.w3.org/2000/svg}"
BOX = CARCASS + DRAWER + LID


def of_design(name: str) -> Plan:
    reading = read_design(DESIGNS / f"{name}.yaml")
    assert reading.book is not None
    return bench_plan(work(reading.book, reading.names))


def box() -> Plan:
    return bench_plan(worked(BOX))


def numbers(svg: str) -> list[str]:
    """All words of a picture."""
    root = ET.fromstring(svg)
    return ["".join(each.itertext()) for each in root.iter(f"{NAMESPACE}text")]


# ------------------------------------------------------------------ the picture


@pytest.mark.parametrize("name", ["keepers-desk", "net-tote", "signal-shelf"])
def test_every_picture_of_the_designs_keeps_the_contract_of_drawings(name: str) -> None:
    pictures = plan_charts(of_design(name), STYLE)
    assert pictures
    for svg in pictures:
        assert check_template(svg) == []
        root = ET.fromstring(svg)
        assert root.get("width") == "176mm"
        assert float(root.get("height", "").removesuffix("mm")) <= 240
        sizes = {float(each.get("font-size", "")) for each in root.iter(f"{NAMESPACE}tspan")}
        assert min(sizes) * STYLE.typeface.capital >= 2.499
        colours = {v for e in root.iter() for k in ("fill", "stroke") if (v := e.get(k))}
        assert colours <= {"#000", "none"}  # nothing for a grey printer to lose


def test_a_picture_says_in_words_what_it_shows() -> None:
    (svg,) = plan_charts(box(), STYLE)
    title = ET.fromstring(svg).findtext(f"{NAMESPACE}title")
    assert title == (
        "Bench plan, sittings 1 to 2. Sitting 1: 0:00 cutting out, 0:34 step 1, 0:54 step 2. "
        "Sitting 2: 0:00 step 3."
    )
    shown = numbers(svg)
    for text in ("Glue the walls", "3", "Sitting 2", "day 2", "24 h", "drying", "at the bench"):
        assert text in shown


def test_all_steps_are_shown_and_words_do_not_leave_the_picture() -> None:
    plan = of_design("signal-shelf")
    shown = " ".join(text for svg in plan_charts(plan, STYLE) for text in numbers(svg))
    for step in plan.steps:
        assert step.title.split(" ")[0] in shown
        assert not step.number or re.search(rf"\b{step.number}\b", shown)


def test_bars_lie_where_their_times_are_and_hatching_stays_inside() -> None:
    plan = box()
    scale = time_scale(plan.sittings, 50.0, 169.0, 15.0)
    (drawn,) = rows(plan, scale, {}, 50.0, STYLE)
    walls = next(row for row in drawn if row.step.number == 1)
    *drying, hands = bars(walls, scale, str, STYLE)
    assert isinstance(hands, Solid)
    start = scale.panels[0].left + 34 * scale.minute
    black = extent([hands])
    assert black.left == pytest.approx(start)
    assert black.width == pytest.approx(20 * scale.minute)
    told, outline, hatching = drying
    assert isinstance(told, Words)
    assert told.figure == words("1440")  # minutes; what outlasts the sitting has its time beside it
    assert isinstance(outline, Stroke)
    assert isinstance(hatching, Stroke)
    whole = extent([outline])
    assert whole.left == pytest.approx(black.right, abs=0.1)
    # However long it dries, it is drawn a little past the edge of its sitting, always alike.
    assert scale.panels[0].right < whole.right < scale.panels[1].left
    inside = extent([hatching])
    assert inside.left >= whole.left - 1e-9
    assert inside.right <= whole.right + 1e-9
    assert inside.bottom >= whole.bottom - 1e-9
    assert inside.top <= whole.top + 1e-9
    assert len(hatching.tracks) > 5


def test_short_work_is_never_too_thin_to_see() -> None:
    steps = "  - {step: Tap it, say: Tap <lid>., takes: 1 min}\n" + CARCASS * 1
    plan = bench_plan(worked(steps))
    scale = time_scale(plan.sittings, 50.0, 169.0, 15.0)
    (drawn,) = rows(plan, scale, {}, 50.0, STYLE)
    tap = next(row for row in drawn if row.step.number == 1)
    (hands,) = bars(tap, scale, str, STYLE)
    assert extent([hands]).width >= 0.7


def test_titles_in_another_language_and_long_ones() -> None:
    words = {**PLAN_WORDS, "sitting": "Abend {number}"}
    long = "Leim die Wände an den Boden und halte sie, bis der Leim so weit trocken ist"
    (svg,) = plan_charts(box(), STYLE, {1: long}, words)
    shown = numbers(svg)
    assert "Abend 1" in shown
    assert any(text.startswith("Leim die") for text in shown)
    assert any(text.endswith("…") for text in shown)


def test_many_steps_are_divided_between_pictures() -> None:
    steps = "".join(f"  - {{step: Rub it {n}, say: Rub <lid>., takes: 1 min}}\n" for n in range(60))
    pictures = plan_charts(bench_plan(worked(steps)), STYLE)
    assert len(pictures) > 1
    for svg in pictures:
        height = float(ET.fromstring(svg).get("height", "").removesuffix("mm"))
        assert height <= TALLEST + 25
    shown = [text for svg in pictures for text in numbers(svg)]
    assert all(f"Rub it {n}" in shown for n in range(60))


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert plan_charts(box(), STYLE) == plan_charts(box(), STYLE)


def test_a_plan_without_steps_has_no_pictures() -> None:
    empty = Plan((), *(Fraction(0),) * 2, (), *(Fraction(0),) * 2, (), Fraction(120), (), ())
    assert plan_charts(empty, STYLE) == ()
    assert plan_text(empty) == ""


# ------------------------------------------------------------------ time across the paper


@st.composite
def sittings(draw: st.DrawFn) -> tuple[Sitting, ...]:
    made = []
    for index in range(draw(st.integers(1, 4))):
        starts = Fraction(1440 * index + draw(st.integers(0, 100)))
        length, pause = draw(st.integers(1, 240)), draw(st.integers(0, 2000))
        made.append(
            Sitting(index + 1, index + 1, starts, starts + length, (), Fraction(1), Fraction(pause))
        )
    return tuple(made)


@settings(max_examples=60)
@given(found=sittings(), moments=st.lists(st.integers(0, 8000), min_size=2, max_size=8))
def test_later_is_further_right_and_nothing_leaves_the_page(
    found: tuple[Sitting, ...], moments: list[int]
) -> None:
    scale = time_scale(found, 50.0, 169.0, 15.0)
    places = [scale.across(Fraction(each)) for each in sorted(moments)]
    assert all(one <= other + 1e-9 for one, other in pairwise(places))
    assert all(50.0 - 1e-9 <= place <= 169.0 + 1e-6 for place in places)
    for panel in scale.panels:
        assert panel.right - panel.left >= 15.0 - 1e-9
        assert scale.across(panel.sitting.starts) == pytest.approx(panel.left)
        assert scale.across(panel.sitting.ends) == pytest.approx(panel.worked)
    for one, other in pairwise(scale.panels):
        assert other.left - one.right == pytest.approx(GAP)


# ------------------------------------------------------------------ the text


def test_the_text_says_the_same() -> None:
    assert plan_text(box()) == (
        "Sitting 1, day 1, 1 h 9 min at the bench\n"
        "  0:00–0:34     Cut out the parts (estimated)\n"
        "  0:34–0:54   1 Glue the walls, then 24 h to dry\n"
        "  0:54–1:09   2 Glue the drawer, then 1 h to dry\n"
        "  nothing to do for 23 h 45 min\n"
        "\n"
        "Sitting 2, day 2, 5 min at the bench\n"
        "  0:00–0:05   3 Lay the lid on\n"
    )


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        (Fraction(0), "0 min"),
        (Fraction(45), "45 min"),
        (Fraction(60), "1 h"),
        (Fraction(239, 3), "1 h 20 min"),
        (Fraction(1440), "24 h"),
    ],
)
def test_times_in_words(minutes: Fraction, said: str) -> None:
    assert clock(minutes) == said

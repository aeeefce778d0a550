"""Steps are told where they came to stand: alone on a page with room to grow, or after a heading
that nothing else would follow."""

from __future__ import annotations

import datetime
import io
from pathlib import Path

import pdfplumber
import pytest

from patternpress.booklet.feet import Foot, HeadMark, HeadWords, running_head
from patternpress.booklet.fetch import Fence
from patternpress.booklet.join import BookInfo
from patternpress.booklet.press import Section, lay_out_section
from patternpress.booklet.pressroom import numbered, press_book
from patternpress.booklet.standing import ROOMY, told

CSS = """@page { size: 100mm 100mm; margin: 0 } body, div, header { margin: 0 }
.step { break-inside: avoid } .head { height: 10mm; break-after: avoid }
.roomy .grows { height: 30mm } .torn { break-inside: auto }"""


def step(name: str, high: int, marks: str = "roomy", more: str = "") -> str:
    words = f'<div style="height: {high}mm">words</div>'
    return f'<article class="step" id="{name}" data-stands="{marks}">{more}{words}</article>'


def page_of(*blocks: str) -> str:
    return f"<html lang='en'><body>{''.join(blocks)}</body></html>"


def section_of(*blocks: str) -> Section:
    return Section("steps", "Steps", page_of(*blocks), (CSS,), Path.cwd())


def told_of(*blocks: str) -> list[str]:
    return list(lay_out_section(section_of(*blocks), Fence(())).pressed.stands)


def test_a_step_with_a_page_to_itself_and_room_on_it_may_grow() -> None:
    low, high = round(100 * ROOMY) - 2, round(100 * ROOMY) + 2
    assert told_of(step("a", low), step("b", 60), step("c", high)) == ["a roomy", "b roomy"]


@pytest.mark.parametrize(("rises", "names"), [(24, ["a roomy"]), (34, []), (None, [])])
def test_a_fuller_page_is_enough_for_what_rises_by_less_than_is_left(
    rises: int | None, names: list[str]
) -> None:
    """The theme says how much more a step takes; 70 mm of 100 are taken as it is."""
    said = f' data-rises="{rises}"' if rises else ""
    assert told_of(step("a", 70).replace(" data-stands", f"{said} data-stands")) == names
    shared = step("a", 40).replace(" data-stands", f"{said} data-stands")
    assert told_of(shared, step("b", 40)) == []


def test_steps_that_share_a_page_stay_as_they_are() -> None:
    assert told_of(step("a", 30), step("b", 30)) == []
    assert told_of(step("a", 30), step("b", 30, marks="")) == []


def test_a_step_that_goes_on_over_the_page_stays_as_it_is() -> None:
    rows = "".join('<div style="height: 10mm">row</div>' for _ in range(14))
    assert told_of(step("a", 10, more=rows)) == []


def test_a_theme_that_has_no_such_class_is_told_nothing() -> None:
    assert told_of(step("a", 30, marks="")) == []
    assert told_of("<article class='step' id='a'>words</article>") == []


def test_a_step_follows_a_heading_that_would_be_alone_on_its_page() -> None:
    head = '<header class="head">Steps</header>'
    filler = '<div style="height: 95mm">plan</div>'
    assert told_of(filler, head, step("a", 95, marks="torn")) == ["a torn"]
    assert told_of(head, step("a", 80, marks="torn")) == []


def test_a_class_is_added_to_the_step_that_is_named_alone() -> None:
    html = page_of(step("a.b", 10), step("axb", 10))
    made = told(html, {"a.b roomy": 1, "axb": 7})
    assert made == html.replace('class="step" id="a.b"', 'class="step roomy" id="a.b"')


def book(*blocks: str) -> tuple[bytes, int, dict[str, int]]:
    day = datetime.date(2000, 1, 1)
    info = BookInfo(title="T", author="A", language="en", version="1", date=day)
    made = press_book((section_of(*blocks),), info, Fence(()))
    assert made.complaints == ()
    return made.pdf, made.pages, dict(made.numbers)


def test_what_grows_is_pressed_so_and_keeps_its_page() -> None:
    grows = '<div class="grows" style="background: black; height: 10mm"></div>'
    for more in (grows, grows.replace("height: 10mm", "")):
        pdf, pages, numbers = book(step("a", 40, more=more), step("b", 90))
        assert (pages, numbers["b"], numbers.get("a roomy")) == (2, 2, 1)
    black = pdfplumber.open(io.BytesIO(pdf)).pages[0].rects
    assert max(each["height"] for each in black) * 25.4 / 72 > 29


def test_the_author_s_page_shows_the_same() -> None:
    _, _, numbers = book(step("a", 40), step("b", 90))
    assert 'class="step roomy"' in numbered(section_of(step("a", 40)), numbers).html


def tall(name: str, rows: int) -> str:
    """An element that may be torn between its rows of 10 mm."""
    return f'<div id="{name}">' + '<div style="height: 10mm">row</div>' * rows + "</div>"


def test_what_begins_at_the_head_of_a_page_is_known_and_what_only_goes_on_there_is_not() -> None:
    parts = (tall("a", 14), tall("b", 6), tall("c", 3), tall("d", 9))  # 140, 60, 30 and 90 mm
    laid = lay_out_section(section_of(*parts), Fence(())).pressed
    assert laid.anchors == {"a": 1, "b": 2, "c": 3, "d": 3}
    assert laid.tops == {"a", "c"}


@pytest.mark.parametrize(
    ("page", "words"),
    [
        (1, "Plan"),
        (2, "Plan · Step 1"),  # the plan goes on above it
        (3, "Steps 2 to 4"),  # step 2 stands at the head of the page
        (4, "Steps 4 and 5"),
        (5, "Step 5, continued"),
        (6, "About"),
    ],
)
def test_the_running_head_names_all_that_is_on_its_page(page: int, words: str) -> None:
    steps = [HeadMark(f"step-{n}", "", str(n)) for n in range(1, 6)]
    marks = (HeadMark("plan", "Plan"), HeadMark("steps", "Steps"), *steps, HeadMark("end", "About"))
    said = HeadWords(
        "Step {number}", "Steps {first} and {last}", "Steps {first} to {last}",
        "Step {number}, continued",
    )  # fmt: skip
    numbers = {"plan": 1, "steps": 2, "step-1": 2, "step-2": 3, "step-3": 3, "step-4": 3}
    numbers |= {"step-5": 4, "end": 6}
    foot = Foot("", "", marks=marks, head=said)
    assert running_head(foot, page, numbers, {"plan", "step-2", "end"}) == words


@pytest.mark.parametrize(
    ("most", "words"),
    [
        (31, "Plan · Cutting list · Templates"),
        (30, "Cutting list · Templates"),
        (23, "Cutting list"),
        (5, "Cutting list"),
    ],
)
def test_a_running_head_without_room_names_what_begins(most: int, words: str) -> None:
    marks = (HeadMark("a", "Plan"), HeadMark("b", "Cutting list"), HeadMark("c", "Templates"))
    foot = Foot("", "", marks=marks, most=most)
    assert running_head(foot, 2, {"a": 1, "b": 2, "c": 2}) == words


@pytest.mark.parametrize(
    ("most", "words"),
    [
        (31, "Plan · Contents · Please read"),
        (20, "Plan · Please read"),
        (12, "Please read"),
    ],
)
def test_the_contents_give_way_in_a_running_head(most: int, words: str) -> None:
    marks = (
        HeadMark("a", "Plan"),
        HeadMark("b", "Contents", minor=True),
        HeadMark("c", "Please read"),
    )
    foot = Foot("", "", marks=marks, most=most)
    assert running_head(foot, 2, {"a": 1, "b": 2, "c": 2}) == words

"""A run or a part that would end on a nearly empty page is set a hair tighter, where that helps."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from patternpress.booklet.fetch import Fence
from patternpress.booklet.join import BookInfo
from patternpress.booklet.press import Section, lay_out_section
from patternpress.booklet.pressroom import press_book

CSS = """@page { size: 100mm 100mm; margin: 0 } body, div, section { margin: 0 }
div { height: 10mm; break-inside: avoid } .tight div { height: 9mm }
.whole { height: 95mm } .tight .whole { height: 95mm }"""
ROW = "<div>row</div>"


def section_of(*parts: str) -> Section:
    body = f'<body class="plain" id="run-a" data-tightens>{"".join(parts)}</body>'
    return Section("a", "A", f"<html lang='en'>{body}</html>", (CSS,), Path.cwd())


def part(name: str, rows: int) -> str:
    return f'<section class="{name}" id="{name}" data-tightens>{ROW * rows}</section>'


def told_of(*parts: str) -> list[str]:
    return list(lay_out_section(section_of(*parts), Fence(())).pressed.stands)


@pytest.mark.parametrize(
    ("rows", "names"),
    [
        (61, ["run-a tight"]),  # six pages may give a row
        (10, []),  # all on one page
        (15, []),  # half a page is no few lines
        (12, []),  # one page cannot give two rows
    ],
)
def test_a_run_is_told_where_its_pages_can_give_the_room(rows: int, names: list[str]) -> None:
    assert told_of(part("first", rows)) == names


def test_a_part_in_the_midst_of_a_run_is_told_where_what_follows_begins_a_page() -> None:
    """The rows of the part end at the head of a page that what follows has no room on."""
    whole = '<section class="steps" id="steps"><div class="whole">steps</div></section>'
    assert told_of(part("first", 61), whole) == ["first tight"]
    beside = '<section class="steps" id="steps"><div>steps</div></section>'
    assert told_of(part("first", 81), beside) == ["run-a tight"]


def test_the_page_is_saved_and_the_letters_keep_their_size() -> None:
    info = BookInfo("t", "t", "en", "a", datetime.date(2026, 1, 1), "s")
    assert press_book([section_of(part("first", 61))], info, Fence(())).pages == 6
    loose = section_of(part("first", 61)).html.replace(" data-tightens", "")
    plain = Section("a", "A", loose, (CSS,), Path.cwd())
    assert press_book([plain], info, Fence(())).pages == 7

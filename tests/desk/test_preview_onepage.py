"""A section put together of a few new pages and those that stood is the section pressed anew."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.booklet.atelier import atelier
from patternpress.booklet.build import page_style
from patternpress.booklet.compose import compose
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fill import content_of
from patternpress.booklet.press import Section, press_section
from patternpress.booklet.pressroom import numbered
from patternpress.booklet.themes import load_theme
from patternpress.booklet.wording import wording_of
from patternpress.closing.close import close
from patternpress.design.read import read_text
from patternpress.desk.preview.keeping import Recent
from patternpress.desk.preview.onepage import Ahead, one_page
from patternpress.desk.preview.pagepictures import page_picture
from patternpress.desk.preview.rounds import work
from patternpress.desk.preview.seen import Seen, pages_of

DPI = 40
EDITION = "metric"
POSTS = 11  # one in each step; two or three steps share a page
WORDS = "Look along them."


def posts(words: dict[int, str]) -> str:
    """A board on which posts are glued, one in each step; `words` are the tips of some steps."""
    numbers = range(1, POSTS + 1)
    lines = [
        "design: Posts",
        "stock:",
        "  board: {sheet: 2 mm, cut with: razor saw}",
        "  strip: {strip: 4 x 4 mm, cut with: razor saw}",
        "parts:",
        "  base: {stock: board, wide: 80 mm, deep: 20 mm}",
        *(f"  post {n}: {{stock: strip, high: {20 + n} mm}}" for n in numbers),
        "tools: {razor saw: }",
        "materials: {glue: {kind: glue, handle: 30 min}}",
        "steps:",
    ]
    for n in numbers:
        lines.append(f"  - step: Post {n}")
        lines += ["    start: base"] * (n == 1)
        join = f"{{bottom: against base, front: 8 mm inside base, left: {6 * n} mm inside base}}"
        lines += [f"    join: {{post {n}: {join}}}", "    wait: 30 min"]
        lines.append(f"    tip: {words.get(n, WORDS)}")
    return "\n".join([*lines, ""])


Stood = tuple[Seen, Recent]


@pytest.fixture(scope="module")
def stood() -> Stood:
    """The posts, shown once."""
    cache, seen = Recent(500), dict[str, Seen]()
    for news in work(posts({}), Path("posts.yaml"), (EDITION,), seen, cache):
        if news.seen is not None:
            seen[news.edition] = news.seen
    return seen[EDITION], cache


def ahead_of(text: str, stood: Stood) -> tuple[list[Ahead], Section, Fence]:
    """What is shown before all else of a text, and the section to press anew."""
    last, cache = stood
    model = close(read_text(text, "posts.yaml", Path(), cache), EDITION).model
    theme = load_theme(model.edition.theme)
    fence, place = Fence((theme.folder,)), atelier(wording_of(model), cache)
    found = list(one_page(place, last, fence))
    made = compose(content_of(model, cache), theme, page_style(model), "steps")
    (full,) = (numbered(each, last.numbers) for each in made)
    return found, full, fence


LINE = "Look along it twice before you go on."
CASES = {  # the step that changes, its words, and how many pages become others
    "a word": (1, f"{WORDS[:-1]} well.", 1),
    "lines more": (4, f"{WORDS} {LINE} {LINE}", 1),
    "steps over the page": (6, " ".join([WORDS, *[LINE] * 18]), 3),
    "all steps after it": (1, " ".join([WORDS, *[LINE] * 40]), 0),  # too far to be told soon
}


@pytest.mark.parametrize(("step", "words", "pages"), CASES.values(), ids=CASES)
def test_new_pages_among_those_that_stood_are_the_section_pressed_anew(
    step: int, words: str, pages: int, stood: Stood
) -> None:
    found, section, fence = ahead_of(posts({step: words}), stood)
    assert [each.whole for each in found] == [False, True][: 2 if pages else 1]
    assert {each.html for each in found} == {section.html}
    if not pages:
        return
    last = stood[0].stood[found[0].key]
    ahead, full = found[-1], pages_of(press_section(section, fence), section.key)
    assert len(ahead.pages) == pages
    old, at = pages_of(last, ahead.key), ahead.at - 1
    together = (*old[:at], *ahead.pages, *old[at + pages :])
    assert len(together) == len(full)
    for one, other in zip(together, full, strict=True):
        assert page_picture(one.pdf, one.number, DPI) == page_picture(other.pdf, other.number, DPI)
    assert any(a.pdf != b.pdf for a, b in zip(old, together, strict=True))


def test_a_changed_title_stands_in_the_plan_too_and_leaves_the_section_to_be_pressed(
    stood: Stood,
) -> None:
    text = posts({}).replace("step: Post 4\n", "step: The fourth\n")
    found, section, _ = ahead_of(text, stood)
    assert "The fourth" in section.html
    assert [each.whole for each in found] == [False]

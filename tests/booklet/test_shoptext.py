"""The text that an author pastes under a film: plain in any box, and at one with the booklet."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pytest
from markupsafe import Markup

from patternpress.assembly.model import work_out
from patternpress.booklet.fill import content_of
from patternpress.booklet.fillstart import start_facts
from patternpress.booklet.lists import as_csv
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.shoptext import plain_words, shop_text
from patternpress.booklet.wording import Wording
from patternpress.design.read import read_design
from tests.whole.small import BODY, STEP, TOP, model, worded

DESIGNS = Path(__file__).parents[2] / "designs"
EDITIONS = (("keepers-desk", "both"), ("signal-shelf", "inch"), ("net-tote", "metric"))


@pytest.fixture(scope="module", params=EDITIONS, ids=lambda each: each[0])
def made(request: pytest.FixtureRequest) -> tuple[str, list[list[str]], list[str]]:
    """The text of a demo, its cutting list as a spreadsheet reads it, the titles of its steps."""
    name, edition = request.param
    found = work_out(read_design(DESIGNS / f"{name}.yaml"), edition)
    content = content_of(found)
    rows = list(csv.reader(io.StringIO(as_csv(Wording(found, read_phrases("en"))))))[1:]
    titles = [plain_words(step.title) for group in content.steps for step in group.steps]
    return shop_text(content, read_phrases("en")), rows, titles


Made = tuple[str, list[list[str]], list[str]]


def test_only_signs_that_every_box_shows(made: Made) -> None:
    text, _, _ = made
    assert {each for each in text if ord(each) > 0x7F} <= set("×Ø°–’“”½¼¾é·€")
    assert not any(each in text for each in ("<", ">", "&", "{", "}", "\t", "  \n", "\n\n\n"))
    assert text.endswith("\n")


def test_every_part_stands_with_its_number_and_sizes(made: Made) -> None:
    text, rows, _ = made
    lines = text.splitlines()
    for letter, name, count, length, *_ in rows:
        if not length:  # bought ready-made: among the materials
            continue
        (line,) = [each for each in lines if each.startswith(f"{letter}  {name}, ")]
        assert f"{count} off" in line
        assert re.sub(r"\s?(mm|in)$", "", length.split(" (")[0]) in line


def test_the_steps_are_chapters_in_order(made: Made) -> None:
    text, _, titles = made
    chapters = text.partition("STEPS\n")[2].split("\n\n")[0].splitlines()
    assert chapters == [f"{number} {title}" for number, title in enumerate(titles, 1)]


def test_a_stacked_fraction_is_plain_again() -> None:
    figure = Markup('<span class="fig">1 <span class="stack">3⁄8</span>&nbsp;in</span>')
    assert plain_words(figure) == "1 3/8 in"
    assert plain_words("a < b\n c") == "a < b c"


def facts(top: str) -> dict[str, str]:
    _, wording = worded(top=top)
    return {plain_words(each.label): plain_words(each.value) for each in start_facts(wording)}


def test_the_authors_words_follow_what_is_known_without_them() -> None:
    bare = facts(TOP)
    said = facts(TOP + "workspace: Best by a window.\nnot for: It will not bear a cup.\n")
    place, people = "Where to make it", "Who it is not for"
    assert said[place] == f"{bare[place]} Best by a window.".strip()
    assert said[people] == f"{bare[people]} It will not bear a cup.".strip()


def test_a_thing_at_full_size_is_no_model() -> None:
    text = TOP + BODY + STEP
    for scale, there in (("1:12", True), ("1:1", False)):
        lines = [each for each in text.splitlines(True) if not each.startswith("scale:")]
        found = model(f"scale: {scale}\n" + "".join(lines), "metric")
        words = shop_text(content_of(found), read_phrases("en"))
        assert ("not a toy" in words) is there

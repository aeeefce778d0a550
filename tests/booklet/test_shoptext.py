"""The text that an author pastes under a film: plain in any box, and at one with the booklet."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
from markupsafe import Markup

from patternpress.assembly.model import work_out
from patternpress.booklet.content import Content
from patternpress.booklet.contentneeds import Needs
from patternpress.booklet.fill import content_of
from patternpress.booklet.fillstart import start_facts
from patternpress.booklet.lists import as_csv
from patternpress.booklet.phrases import Phrases, read_phrases
from patternpress.booklet.shoptext import count_words, plain_words, shop_text
from patternpress.booklet.wording import wording_of
from patternpress.design.read import read_design
from tests.whole.small import BODY, STEP, TOP, model, worded

DESIGNS = Path(__file__).parents[2] / "designs"
EDITIONS = (("keepers-desk", "both"), ("signal-shelf", "deutsch"), ("net-tote", "français"))


@dataclass(frozen=True)
class Made:
    """The text of a demo, what it is made of, and its cutting list as a spreadsheet reads it."""

    text: str
    content: Content
    rows: list[list[str]]
    phrases: Phrases


@pytest.fixture(scope="module", params=EDITIONS, ids=lambda each: each[0])
def made(request: pytest.FixtureRequest) -> Made:
    name, edition = request.param
    found = work_out(read_design(DESIGNS / f"{name}.yaml"), edition)
    content, phrases = content_of(found), read_phrases(found.edition.language)
    rows = list(csv.reader(io.StringIO(as_csv(wording_of(found)))))[1:]
    return Made(shop_text(content, phrases), content, rows, phrases)


def test_only_signs_that_every_box_shows(made: Made) -> None:
    signs = {each for each in made.text if ord(each) > 0x7F and not each.isalpha()}
    assert signs <= set("×Ø°–’“”„«»½¼¾·€")
    assert not any(each in made.text for each in ("<", ">", "&", "{", "}", "\t", "  \n", "\n\n\n"))
    assert made.text.endswith("\n")


def test_every_part_stands_with_its_number_and_sizes(made: Made) -> None:
    lines = made.text.splitlines()
    for letter, name, count, length, *_ in made.rows:
        if not length:  # bought ready-made: among the materials
            continue
        (line,) = [each for each in lines if each.startswith(f"{letter}  {name}, ")]
        assert count_words(int(count), made.phrases) in line
        assert re.sub(r"\s?(mm|in)$", "", length.split(" (")[0]) in line


def test_the_steps_are_chapters_in_order(made: Made) -> None:
    heading = plain_words(made.phrases.texts["steps"]).upper()
    chapters = made.text.partition(f"\n{heading}\n")[2].split("\n\n")[0].splitlines()
    titles = [plain_words(step.title) for step in made.content.every_step]
    assert chapters == [f"{number} {title}" for number, title in enumerate(titles, 1)]
    assert len(titles) > 8


def unlisted(text: str, needs: Needs, phrases: Phrases) -> list[str]:
    """The tools, bits and materials that no line begins with."""
    names = [each.name for each in needs.tools]
    names += [each.name for group in needs.materials for each in group.materials]
    names += [phrases.say("shop_bit", size=each.size) for each in needs.bits]
    lines = text.splitlines()
    return [
        name
        for name in map(plain_words, names)
        if not any(re.match(rf"{re.escape(name)}( \(|\s?: |$)", line) for line in lines)
    ]


def test_every_tool_bit_and_material_has_its_line(made: Made) -> None:
    needs = made.content.needs
    assert len(needs.tools) > 8 and len(needs.materials) > 2 and needs.bits
    assert unlisted(made.text, needs, made.phrases) == []


def test_a_tool_a_bit_or_a_material_without_a_line_is_found(made: Made) -> None:
    needs = made.content.needs
    first = needs.materials[0]
    fewer = (
        replace(needs, tools=needs.tools[1:]),
        replace(needs, bits=needs.bits[1:]),
        replace(needs, materials=(replace(first, materials=first.materials[1:]),)),
    )
    for each in fewer:
        text = shop_text(replace(made.content, needs=each), made.phrases)
        assert unlisted(text, needs, made.phrases) != []


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

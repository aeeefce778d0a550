"""Every step that joins has a picture of its own; the cover has one, and so have all pieces apart.

Each edition of the demo designs, and one of each smaller design.  Figures are those of the PDF's
structure; what they show is told by their words, in the language of the edition.
"""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from pathlib import Path

import pdfplumber
import pikepdf
import pytest

from patternpress.assembly.worked import work
from patternpress.booklet.phrases import read_phrases
from tests.whole.demos import Built, Demo, built, demos, read_once, smaller
from tests.whole.pagetags import Told, elements

EVERY = [*demos(), *smaller()]


@pytest.fixture(scope="session", params=EVERY, ids=str)
def pictured(request: pytest.FixtureRequest, shared: Path) -> Built:
    return built(request.param, shared)


@cache
def figures(path: Path) -> tuple[Told, ...]:
    """The pictures of a booklet that hold something, in reading order."""
    with pikepdf.open(path) as pdf:
        return tuple(e for e in elements(pdf) if e.kind == "Figure" and e.marks)


def shaped(key: str, language: str) -> re.Pattern[str]:
    """What our words for a picture look like once their places are filled."""
    text = str(read_phrases(language).texts[key])
    parts = [re.escape(part) for part in re.split(r"\{\w+\}", text)]
    names = re.findall(r"\{(\w+)\}", text)
    holes = [r"(?P<number>\d+)" if name == "number" else ".+" for name in names]
    return re.compile("".join(p + h for p, h in zip(parts, [*holes, ""], strict=True)) + "$")


def those_of(booklet: Built, key: str) -> list[tuple[re.Match[str], Told]]:
    """The pictures whose words are shaped like those of a key."""
    shape = shaped(key, booklet.facts["edition"]["language"])
    told = ((re.sub(r"[\u00a0\u202f]", " ", e.alt), e) for e in figures(booklet.pdf))
    return [(found, e) for alt, e in told if (found := shape.match(alt))]


def joining(demo: Demo) -> set[int]:
    """The numbers of the steps that say `join`, those of what is fetched ready included."""
    reading, _ = read_once(demo.design)
    assert reading.book is not None
    steps = work(reading.book, reading.names).usage.steps
    return {number for number, step in enumerate(steps, 1) if step.join}


def test_every_step_that_joins_has_one_picture_of_what_comes(pictured: Built) -> None:
    shown = Counter(int(found["number"]) for found, _ in those_of(pictured, "picture_coming"))
    assert shown == Counter(joining(pictured.demo))
    assert len(shown) >= 3


def test_a_picture_of_a_step_stands_between_its_heading_and_the_next(pictured: Built) -> None:
    """By page and height: a step's own picture, not one that is only told of it."""
    tops = {
        int(name.removeprefix("step-")): place
        for name, place in pictured.tops.items()
        if re.fullmatch(r"step-\d+", name)
    }
    for found, element in those_of(pictured, "picture_coming"):
        number = int(found["number"])
        page = min(page for page, _ in element.marks)
        assert tops[number][0] <= page <= tops.get(number + 1, (page, 0))[0]


def test_the_cover_has_a_picture(pictured: Built) -> None:
    (page, *others) = [min(p for p, _ in e.marks) for e in figures(pictured.pdf)]
    assert page == 1
    assert others


def test_all_pieces_apart_have_the_letters_of_all_parts(pictured: Built) -> None:
    ((_, element),) = those_of(pictured, "picture_exploded")
    letters = {each["letter"] for each in pictured.facts["parts"]}
    # Several alike are drawn once, with their number: “2×A”.
    assert letters <= {word.rpartition("×")[2] for word in words_in(pictured.pdf, element)}


def words_in(path: Path, element: Told) -> set[str]:
    """The words that stand in a picture, each as it is printed."""
    (number,) = {page for page, _ in element.marks}
    marks = {mark for _, mark in element.marks}
    with pdfplumber.open(path, pages=[number]) as pdf:
        page = pdf.pages[0].filter(lambda o: o.get("mcid") in marks)
        return {each["text"] for each in page.extract_words()}

"""What a buyer must know before starting stands in front, read from every finished demo booklet.

The figures are those of the facts JSON, the words those of the design file and of our lists.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest

from patternpress.booklet.phrases import read_phrases
from patternpress.design.records.book import Book
from tests.whole.demos import Built, read_once
from tests.whole.test_openings import LETTERS, squeezed

DAY = 24 * 60
START = 40  # letters of an author's text that are looked for


def bare(text: str) -> str:
    """Letters alone, with the sign that is printed for an apostrophe."""
    return squeezed(text.replace("'", "’"))


def book_of(booklet: Built) -> Book:
    book = read_once(booklet.demo.design)[0].book
    assert book is not None
    return book


def time_pattern(minutes: int) -> str:
    """A printed time: hours and minutes, or days and hours from two days on."""
    if minutes >= 2 * DAY:
        days, hours = divmod(round(minutes / 60), 24)
        return rf"{days}(?!\d)" + (rf"\D+{hours}(?!\d)" if hours else "")
    return rf"(?:{minutes // 60}|{-(-minutes // 60)})(?!\d)" if minutes >= 60 else rf"{minutes}"


def facts_wanted(booklet: Built) -> Mapping[str, str]:
    """A pattern for each fact: its label, and right behind it its value, as bare letters."""
    facts, book = booklet.facts, book_of(booklet)
    language = facts["edition"]["language"]
    texts = read_phrases(language).texts
    plan = facts["plan"]
    assert book.level and book.author and book.author.contact and book.licence
    level = texts[f"level_{book.level.value.replace(' ', '_')}"]
    licence = (book.licence.within(language) or book.licence.main).value
    small = str(facts["small_parts"]) if facts["scale"] != "1:1" else ""
    values = {
        "fact_level": re.escape(bare(level)),
        "fact_hands_on": r"\D*" + time_pattern(int(plan["hands_on"]["most"])),
        "fact_waiting": r"\D*" + time_pattern(int(plan["chain"]["waiting"])),
        "fact_finish": rf"\D*{plan['days']}(?!\d)",
        "fact_workspace": re.escape(bare(texts["workspace_table_small"])[:LETTERS]),
        "fact_not_for": rf"\D*{small}(?!\d)" if small else r"\w+",
        "fact_questions": re.escape(bare(book.author.contact.value)),
        "fact_licence": re.escape(bare(licence)[:START]),
    }
    return {key: re.escape(bare(texts[key])) + value for key, value in values.items()}


def lacking(text: str, wanted: Mapping[str, str]) -> list[str]:
    """The facts that a text does not tell."""
    found = bare(text)
    return [key for key, pattern in wanted.items() if not re.search(pattern, found)]


def test_all_that_a_buyer_must_know_stands_in_front(booklet: Built) -> None:
    assert lacking(booklet.text_of("make"), facts_wanted(booklet)) == []
    assert booklet.places["make"] <= 3


def test_the_cover_tells_the_level(booklet: Built) -> None:
    wanted = facts_wanted(booklet)["fact_level"]
    assert lacking(booklet.texts[0], {"level": wanted}) == []


def test_the_imprint_tells_whom_to_write_to_what_is_allowed_and_from_what_age(
    booklet: Built,
) -> None:
    book, language = book_of(booklet), booklet.facts["edition"]["language"]
    assert book.author and book.author.contact and book.author.address and book.licence
    licence = (book.licence.within(language) or book.licence.main).value
    said = {
        "contact": book.author.contact.value,
        "address": book.author.address.value,
        "licence": bare(licence)[:START],
    }
    if booklet.facts["scale"] != "1:1":
        said["age"] = read_phrases(language).texts["not_a_toy"]
    wanted = {key: re.escape(bare(words)) for key, words in said.items()}
    assert lacking(booklet.text_of("imprint"), wanted) == []


@pytest.mark.parametrize("gone", ["19", "Level", "Waiting\n", "post@gull", "sell this pattern"])
def test_a_fact_that_is_left_out_is_found(gone: str) -> None:
    said = (
        "Level\nFor some practice\nWaiting\nUp to 3 days and 5 h\nWho it is not for\n"
        "Not for children. 19 of its pieces are small.\nQuestions\npost@gull-steps.example\n"
        "What you may do\nYou may not copy or sell this pattern."
    )
    wanted = {
        "level": "LevelForsomepractice",
        "waiting": "Waiting" + r"\D*" + time_pattern(77 * 60),
        "not for": r"Whoitisnotfor\D*19(?!\d)",
        "contact": "Questionspost@gullsteps",
        "licence": "What" + bare("you may do You may not copy or sell this pattern"),
    }
    assert lacking(said, wanted) == []
    assert len(lacking(said.replace(gone, ""), wanted)) == 1

"""The parts in every demo booklet: letters, numbers and figures agree on all pages and lists."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from patternpress.assembly.calls import calls_of
from patternpress.assembly.checks.prose import MOST_WORDS
from patternpress.assembly.model import check, work_out
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.plain import words_in
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from patternpress.design.read import Reading, read_design
from tests.whole.demos import Built, Demo, demos, read_once

ROW = re.compile(r"^([A-HJ-NP-Z]{1,2}) (\d+) ", re.MULTILINE)
LETTER = re.compile(r"\(([A-HJ-NP-Z]{1,2})\)")


def cut(booklet: Built) -> list[dict[str, Any]]:
    """The parts that are cut rather than bought."""
    return [part for part in booklet.facts["parts"] if part["form"] != "bought"]


def listed(booklet: Built) -> dict[str, int]:
    """Letter and number of each row of the printed cutting list."""
    # The list stands before the picture of all pieces, whose labels read much like rows.
    found = ROW.findall(booklet.text_of("cutting"))
    return {letter: int(number) for letter, number in reversed(found)}


def on_templates(booklet: Built) -> set[str]:
    """The letters that the template pages name in their heads."""
    if "templates" not in booklet.places:
        return set()
    heads = [booklet.texts[n - 1] for n in booklet.pages_of("templates")]
    found = (re.search(r"^.*\b\d+ \w+ \d+ \w+ ([A-Z, ]+)$", text, re.MULTILINE) for text in heads)
    return {letter for head in found if head for letter in head[1].replace(" ", "").split(",")}


def in_steps(booklet: Built) -> set[str]:
    """The letters that the steps name, in sentences and where pieces are brought."""
    text = " ".join(booklet.text_of("steps").split())
    named = set(LETTER.findall(text))
    for part in booklet.facts["parts"]:
        names = "|".join(re.escape(name) for name in (part["name"], *part["pieces"]))
        if re.search(rf"\b{part['letter']} (?:{names})\b", text):
            named.add(part["letter"])
    return named


def test_the_cutting_list_says_the_numbers_of_the_facts(booklet: Built) -> None:
    assert listed(booklet) == {part["letter"]: part["quantity"] for part in cut(booklet)}


def unnamed(pages: Iterable[str], woods: Mapping[str, str]) -> Iterator[str]:
    """Rows of the cutting list above which their page does not name the wood; by their letters.

    Of like lines the first is the row: labels in pictures after the list may read like one.
    """
    seen: set[str] = set()
    for text in pages:
        above = ""
        for line in text.splitlines():
            above = next((each for each in woods.values() if line.startswith(f"{each},")), above)
            row = ROW.match(f"{line} ")
            if row and row[1] not in seen and woods.get(row[1], above) != above:
                yield row[1]
            seen |= {row[1]} if row else set()


def test_the_wood_stands_above_its_rows_on_every_page(booklet: Built) -> None:
    book = read_once(booklet.demo.design)[0].book
    assert book is not None
    calls = calls_of(book, booklet.facts["edition"]["language"])
    woods = {part["letter"]: calls.one(part["stock"]) for part in cut(booklet)}
    pages = [booklet.texts[number - 1] for number in booklet.pages_of("cutting")]
    assert [*unnamed(pages, woods)] == []


def test_a_row_without_its_wood_is_found() -> None:
    woods = {"A": "lime board", "B": "lime board", "C": "oak rod"}
    sound = [
        "lime board, 2 mm\nA 2 shelf 40 mm",
        "lime board, 2 mm\nB 1 back\noak rod, 3 mm\nC 1 peg",
    ]
    assert [*unnamed(sound, woods)] == []
    assert [*unnamed([sound[0], sound[1].partition("\n")[2]], woods)] == ["B"]


def test_every_letter_of_the_list_is_used_and_every_letter_used_is_a_part(booklet: Built) -> None:
    letters = {part["letter"] for part in booklet.facts["parts"]}
    used = on_templates(booklet) | in_steps(booklet)
    assert used <= letters
    assert set(listed(booklet)) <= used
    assert letters - set(listed(booklet)) <= used, "a fitting that no step uses"


def test_every_template_of_the_facts_is_on_a_page(booklet: Built) -> None:
    asked = {part["letter"] for part in booklet.facts["parts"] if part["template"]}
    assert on_templates(booklet) == asked


def test_the_csv_beside_the_booklet_says_the_same(booklet: Built) -> None:
    (path,) = booklet.folder.glob("*-cutting-list.csv")
    data = path.read_bytes()
    assert data.startswith(codecs.BOM_UTF8)  # by which a spreadsheet knows the letters; from memory
    rows = csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline=""))
    parts = {part["letter"]: part["quantity"] for part in booklet.facts["parts"]}
    letter, _, quantity = (rows.fieldnames or ())[:3]  # in the edition's language
    assert {row[letter]: int(row[quantity]) for row in rows} == parts


def test_the_text_beside_the_booklet_says_the_same(booklet: Built) -> None:
    (path,) = booklet.folder.glob("*-cutting-list.txt")
    text = path.read_text(encoding="utf-8").replace("\N{NO-BREAK SPACE}", " ")
    for part in booklet.facts["parts"]:
        assert re.search(rf"^{part['letter']}  .*\b{part['quantity']}\b", text, re.MULTILINE)
        assert part["printed"].replace("\N{NO-BREAK SPACE}", " ") in text


def test_fractions_are_copied_with_their_slash(booklet: Built) -> None:
    """As 35⁄64 (U+2044): whoever copies an inch figure must not get 3564, nor 1 35⁄64 as 135⁄64."""
    text = booklet.text_of("cutting")
    for part in cut(booklet):
        for whole, top, bottom in re.findall(r"(\d+ )?(\d+)/(\d+)", part["printed"]):
            assert re.search(rf"(?<!\d){whole}{top}⁄{bottom}(?!\d)", text)
    if booklet.facts["edition"]["units"] != "mm":
        assert "⁄" in text


def test_the_designs_own_system_leads_where_both_are_shown(booklet: Built) -> None:
    if booklet.facts["edition"]["language"] != "en":
        return  # the words looked for are English
    edition = booklet.facts["edition"]
    if edition["units"] != "both":
        other = {"mm": r"\d in\b", "in": r"\d mm\b"}[edition["units"]]
        assert not re.search(other, booklet.text_of("steps"))
        return
    text = (booklet.demo.design).read_text(encoding="utf-8")
    own = "in" if re.search(r"^units: in", text, re.MULTILINE) else "mm"
    second = "mm" if own == "in" else "in"
    for part in cut(booklet):
        printed = part["printed"].replace("\u00a0", " ")
        assert re.fullmatch(rf"[^()]+ {own} \([^()]+ {second}\)", printed)
    assert re.search(rf"\d {own} \(", booklet.text_of("steps"))
    assert not re.search(rf"\d {second} \(", booklet.text_of("steps"))


@pytest.mark.parametrize("design", sorted({demo.design for demo in demos()}), ids=lambda p: p.stem)
def test_the_design_is_sound_and_its_sentences_are_short(design: Path) -> None:
    found = check(read_design(design))
    assert [f"{each.span}: {each.code}" for each in found if each.is_error] == []
    # Of no edition: every text is looked at, in each of its languages.
    assert [each.span for each in found if each.code == "sentence-too-long"] == []


def without_notes(reading: Reading) -> Reading:
    """A design without what its author adds to treatments in words."""
    book = reading.book
    assert book is not None
    steps, finishing = (
        tuple(
            replace(
                step,
                treat=tuple(replace(each, note=None) for each in step.treat),
                afterwards=tuple(replace(each, note=None) for each in step.afterwards),
            )
            for step in several
        )
        for several in (book.steps, book.finishing)
    )
    return replace(reading, book=replace(book, steps=steps, finishing=finishing))


@pytest.mark.parametrize("demo", demos(), ids=str)
def test_made_sentences_are_short(demo: Demo) -> None:
    """At most 20 words: common practice for instructions, no source.  The author's are theirs."""
    model = work_out(without_notes(read_design(demo.design)), demo.edition)
    wording = Wording(model, read_phrases(model.edition.language))
    long = [
        f"step {number}: {sentence.striptags()}"
        for number, step in enumerate(model.worked.usage.steps, 1)
        if not step.say
        for sentence in actions(step, wording)
        if words_in(sentence) > MOST_WORDS
    ]
    assert long == []

"""Cross-references of every demo booklet: each names the page where the thing is, and leads there.

Read back with pikepdf and pypdfium2 alone: the words under a link, its target, and what is printed
on the page that the words name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

import pikepdf
import pypdfium2
import pytest

from tests.whole.demos import Built

# “page 7” in the languages of the demos.
PAGE = re.compile(r"\b(?:page|Seite)\s(\d+)")
LETTER = re.compile(r"\b[A-Z]{1,2}\b")


@dataclass(frozen=True)
class Reference:
    """A link that names a page: where it stands, its words, the page named, and its target."""

    on: int
    words: str
    page: int
    target: str


def references(booklet: Built) -> list[Reference]:
    """Every link whose words name a page; one of two lines is told by its last."""
    return [*_found(booklet)]


def _found(booklet: Built) -> Iterator[Reference]:
    drawn = pypdfium2.PdfDocument(booklet.pdf)
    with pikepdf.open(booklet.pdf) as pdf:
        for number, page in enumerate(pdf.pages, 1):
            text = drawn[number - 1].get_textpage()
            begun, over = "", ""  # the words of a link of two lines, and where it leads
            for link in page.obj.get("/Annots", []):
                left, low, right, high = (float(each) for each in link.Rect)
                said = text.get_text_bounded(left - 0.5, low, right + 0.5, high)
                said = re.sub(r"\s+", " ", said.replace("\u00a0", " ")).strip()
                words = f"{begun} {said}".strip() if str(link.Dest) == over else said
                named = PAGE.search(words)
                begun, over = ("", "") if named else (words, str(link.Dest))
                if named:
                    yield Reference(number, words, int(named[1]), str(link.Dest))


@pytest.fixture
def found(booklet: Built) -> list[Reference]:
    return references(booklet)


def test_each_leads_to_the_page_that_it_names(booklet: Built, found: list[Reference]) -> None:
    assert len(found) > 8
    assert [each for each in found if booklet.places[each.target] != each.page] == []


def test_the_template_is_there(booklet: Built, found: list[Reference]) -> None:
    """The head of each sheet lists the letters of its pieces."""
    asked = [each for each in found if each.target.startswith("template-")]
    assert asked
    for each in asked:
        head = booklet.texts[each.page - 1].replace("\n", " ")
        letters = set(LETTER.findall(each.words.partition(":")[0]))
        assert letters <= set(LETTER.findall(head)), each


def test_every_part_with_a_template_or_a_card_is_sent_to_it(
    booklet: Built, found: list[Reference]
) -> None:
    from_list = [each for each in found if each.on in booklet.pages_of("cutting")]
    sheets = [each for each in from_list if each.target.startswith("template-")]
    cards = [each for each in from_list if each.target.startswith("card-")]
    parts = booklet.facts["parts"]
    assert len(sheets) == len([part for part in parts if part["template"]])
    assert len(cards) == len([part for part in parts if part.get("measured_at")])


def test_the_card_is_there(booklet: Built, found: list[Reference]) -> None:
    """The card names its opening, and the letters of the parts that are cut to it."""
    openings = list(booklet.facts["openings"])
    for each in found:
        if each.target.startswith("card-"):
            page = booklet.texts[each.page - 1]
            (card,) = (
                m[1] for m in re.finditer(r"(?:for|für) ((?:[A-Z]{1,2}, )*[A-Z]{1,2})\n", page)
            )
            assert any(name in page for name in openings), each
            of = each.words.partition(":")[0]
            assert set(LETTER.findall(of)) <= set(card.split(", ")), each


def test_the_caution_stands_at_the_step_again(booklet: Built, found: list[Reference]) -> None:
    """The words before “see also” are printed once more on the page that it names."""
    asked = [each for each in found if each.target.startswith("step-")]
    for each in asked:
        text = squeezed(booklet.texts[each.on - 1])
        before = text.partition(squeezed(each.words))[0]
        assert before[-25:] in squeezed(booklet.texts[each.page - 1]), each


def squeezed(text: str) -> str:
    """Without spaces and hyphens, which fall where lines end."""
    return "".join(re.sub("[-\u2010\u00ad\x02\ufffe]", "", text).split())

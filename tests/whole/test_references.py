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
import yaml

from tests.whole.demos import Built

# “page 7” in the languages of the demos.
PAGE = re.compile(r"\b(?:page|Seite)\s(\d+)")
SIGNAL = re.compile(r"WARNING|CAUTION|NOTICE|WARNUNG|VORSICHT|HINWEIS|AVERTISSEMENT|ATTENTION|AVIS")
LETTER = re.compile(r"\b[A-Z]{1,2}\b")


@dataclass(frozen=True)
class Reference:
    """A link that names a page: where it stands, its words, the page named, and its target."""

    on: int
    words: str
    page: int
    target: str


def references(looked: Built) -> list[Reference]:
    """Every link whose words name a page; one of two lines is told by its last."""
    return [*_found(looked)]


def _found(looked: Built) -> Iterator[Reference]:
    drawn = pypdfium2.PdfDocument(looked.pdf)
    with pikepdf.open(looked.pdf) as pdf:
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
def found(looked: Built) -> list[Reference]:
    return references(looked)


def test_each_leads_to_the_page_that_it_names(looked: Built, found: list[Reference]) -> None:
    assert len(found) > 8
    assert [each for each in found if looked.places[each.target] != each.page] == []


def test_the_template_is_there(looked: Built, found: list[Reference]) -> None:
    """The head of each sheet lists the letters of its pieces."""
    asked = [each for each in found if each.target.startswith("template-")]
    assert asked
    for each in asked:
        head = looked.texts[each.page - 1].replace("\n", " ")
        letters = set(LETTER.findall(each.words.partition(":")[0]))
        assert letters <= set(LETTER.findall(head)), each


def test_every_part_with_a_template_or_a_card_is_sent_to_it(
    looked: Built, found: list[Reference]
) -> None:
    from_list = [each for each in found if each.on in looked.pages_of("cutting")]
    sheets = [each for each in from_list if each.target.startswith("template-")]
    cards = [each for each in from_list if each.target.startswith("card-")]
    parts = looked.facts["parts"]
    assert len(sheets) == len([part for part in parts if part["template"]])
    assert len(cards) == len([part for part in parts if part.get("measured_at")])


def test_the_card_is_there(looked: Built, found: list[Reference]) -> None:
    """The card names its opening, and the letters of the parts that are cut to it."""
    design = yaml.safe_load(looked.demo.design.read_text(encoding="utf-8"))
    called = design.get("names", {}).get(looked.facts["edition"]["language"], {})
    openings = [
        re.sub(r"^(?:d(?:er|ie|as) |l(?:es?|a) |l’)", "", called.get(name, name))
        for name in looked.facts["openings"]
    ]
    for each in found:
        if each.target.startswith("card-"):
            page = looked.texts[each.page - 1]
            (card,) = (
                m[1] for m in re.finditer(r"(?:for|für|pour) ((?:[A-Z]{1,2}, )*[A-Z]{1,2})\n", page)
            )
            assert any(name in page for name in openings), each
            of = each.words.partition(":")[0]
            assert set(LETTER.findall(of)) <= set(card.split(", ")), each


def test_the_caution_stands_at_each_step_that_it_names(
    looked: Built, found: list[Reference]
) -> None:
    """Every step named under a caution in front has a signal word of its own."""
    asked = [each for each in found if each.target.startswith("step-")]
    assert asked
    for each in asked:
        for number in steps_named(each.words):
            assert SIGNAL.search(text_of_step(number, looked)), (number, each)


def steps_named(words: str) -> list[int]:
    """The steps that a reference names: “steps 2, 4 to 6 and 9, from page 7”."""
    before = words[: PAGE.search(words).start()]  # type: ignore[union-attr]
    spans = re.findall(r"(\d+)(?: (?:to|bis|à) (\d+))?", before)
    return [n for first, last in spans for n in range(int(first), int(last or first) + 1)]


def test_the_steps_of_a_reference_are_read() -> None:
    assert steps_named("and steps 2, 4 to 6 and 9, from page 7.") == [2, 4, 5, 6, 9]
    assert steps_named("Siehe auch Schritt 12, Seite 3.") == [12]


def text_of_step(number: int, looked: Built) -> str:
    """What is printed from the page where a step begins to that where the next one does."""
    first = looked.places[f"step-{number}"]
    last = looked.places.get(f"step-{number + 1}", looked.places["imprint"])
    return " ".join(looked.texts[first - 1 : max(last, first)])


def squeezed(text: str) -> str:
    """Without spaces and hyphens, which fall where lines end."""
    return "".join(re.sub("[-\u2010\u00ad\x02\ufffe]", "", text).split())

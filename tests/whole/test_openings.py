"""Each part of a demo booklet opens as the table of themes/README.md says, and goes on in order.

Text is taken by its height on the page: in the file it has the order of the template, wherever it
stands.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence

import pypdfium2
import pytest

from patternpress.booklet.phrases import Phrases, read_phrases
from tests.whole.demos import MM, Built, read_tops
from tests.whole.test_spoiled import page

# What stands right below the heading, or "" where the author's own words do, and what comes after
# it in this order: keys of our words.
OPENS = {
    "contents": ("make", "steps"),
    "make": ("", "fact_finished", "fact_pieces"),
    "cautions": ("cautions_lead", "warning_means", "caution_means", "notice_means"),
    "finishing": ("choose_lead",),
    "needs": ("tick_when_you_have", "material_quantity", "tools"),
    "print": ("print_lead", "print_settings", "print_1", "print_bars"),
    "cutting": ("cutting_lead", "cut_letter", "caption_exploded"),
    "layouts": ("layouts_lead",),
    "templates": ("",),
    "plan": ("", "plan_finish_label", "plan_by_sitting"),
    "steps": ("",),
    "imprint": ("pattern_by", "contact", "this_version", "statements", "licence"),
}
HEADING = (
    7.0 / MM
)  # points: what goes on from the page before may begin right under the running head
BESIDE_BAR = 33 / MM  # points: the bar up the page has letters of its own in the margin column
LETTERS = 10  # of what is looked for: words further on may be on the next line


def lines(page: pypdfium2.PdfPage, top: float, bottom: float, left: float = 0.0) -> Iterator[str]:
    """The text between two heights of a page, in points up it, line by line from the top; `left`:
    points from the left edge, of what stands farther left nothing.
    """
    text = page.get_textpage()
    boxes = [text.get_rect(number) for number in range(text.count_rects())]
    within = [box for box in boxes if bottom < (box[1] + box[3]) / 2 < top and box[0] > left]
    rows: list[list[tuple[float, ...]]] = []
    for box in sorted(within, key=lambda box: -(box[1] + box[3])):
        middle = (box[1] + box[3]) / 2
        if rows and rows[-1][0][1] < middle:
            rows[-1].append(box)
        else:
            rows.append([box])
    for row in rows:
        yield " ".join(text.get_text_bounded(*box) for box in sorted(row))


def squeezed(text: str) -> str:
    """Letters alone: blanks and hyphens depend on where a line is broken."""
    return re.sub(r"[\s\xad\u2010-]", "", text)


def out_of_order(said: Sequence[str], keys: Sequence[str], phrases: Phrases) -> list[str]:
    """The keys whose words do not stand where they should; the first is that of the heading."""
    text, at, wrong = squeezed("".join(said)), 0, []
    for number, key in enumerate(keys):
        words = squeezed(phrases.texts[key])[: LETTERS if number else None] if key else ""
        found = text.find(words, at)
        if found < 0 or (words and number < 2 and found != at):
            wrong.append(key)
        at = max(at, found) + len(words)
    return wrong


def test_each_part_opens_as_the_standard_says(booklet: Built) -> None:
    phrases = read_phrases(booklet.facts["edition"]["language"])
    pdf, tops = pypdfium2.PdfDocument(booklet.pdf), read_tops(booklet.pdf)
    wrong = {}
    for part, opens in OPENS.items():
        if part in tops:
            (first, top), (last, bottom) = booklet.span(part)
            pages = booklet.pages_of(part)[: 1 if len(opens) < 2 else None]
            said = [
                line
                for number in pages
                for line in lines(
                    pdf[number - 1],
                    top + 1 if number == first else booklet.head + HEADING,
                    bottom if number == last and bottom < booklet.head else 50,
                    BESIDE_BAR if part == "print" and booklet.letters == "normal" else 0.0,
                )
            ]
            wrong[part] = out_of_order(said, (part, *opens), phrases)
    assert {part: keys for part, keys in wrong.items() if keys} == {}
    cover = squeezed("".join(lines(pdf[0], 1000, 0)))
    title, size = pdf.get_metadata_dict()["Title"], str(phrases.texts["finished_size"])
    assert 0 <= cover.find(squeezed(title)) < cover.find(squeezed(size))
    numbers = {n: tops[n] for n in tops if re.fullmatch(r"step-\d+", n)}
    assert min(numbers, key=lambda n: (numbers[n][0], -numbers[n][1])) == "step-1"


@pytest.mark.parametrize(("style", "wrong"), [("", False), ("position: relative; top: 40mm", True)])
def test_an_opening_that_stands_elsewhere_is_found(style: str, wrong: bool) -> None:
    phrases = read_phrases("en")
    said = {key: str(phrases.texts[key]) for key in ("needs", "tick_when_you_have", "tools")}
    body = (
        f"<h1>{said['needs']}</h1>"
        f'<p style="{style}">{said["tick_when_you_have"]}</p><h2>{said["tools"]}</h2>'
    )
    stream = page(body).pdf.stream
    stream.seek(0)
    found = [*lines(pypdfium2.PdfDocument(stream)[0], 1000, 0)]
    assert bool(out_of_order(found, tuple(said), phrases)) is wrong


def test_what_is_said_above_the_cutting_list_stands_right_above_it(booklet: Built) -> None:
    """Room that is asked for, so that the list does not begin on the next page, is given back."""
    pdf, tops = pypdfium2.PdfDocument(booklet.pdf), read_tops(booklet.pdf)
    first, top = tops["cutting"]
    text = pdf[first - 1].get_textpage()
    boxes = [text.get_rect(number) for number in range(text.count_rects())]
    below = sorted({(box[3], box[1]) for box in boxes if box[3] < top}, reverse=True)[:8]
    assert len(below) == 8
    gaps = [(above[1] - under[0]) * MM for above, under in itertools.pairwise(below)]
    assert max(gaps) < 12

"""The bench plan as plain text says what its chart shows: the same works at the same times.

The chart is read from what the PDF says of the picture to those who cannot see it.
"""

from __future__ import annotations

import re
from collections import Counter

from tests.whole.demos import Built
from tests.whole.test_templates import alts

# "0:34 step 2" or "0:34 cutting out", in any language.
CHARTED = re.compile(r"(\d+:\d\d) [^\d,.]+(\d*)")
# "  0:34–0:54   2 Glue the walls"; cutting out has no number.
WRITTEN = re.compile(r"^  (\d+:\d\d)–(\d+:\d\d) +(\d*) ?\S", re.MULTILINE)


def text_of(booklet: Built) -> str:
    return (booklet.folder / f"{booklet.demo}-bench-plan.txt").read_text("utf-8")


def test_the_text_has_every_work_of_the_chart_at_its_time(booklet: Built) -> None:
    told = [alt for page in booklet.pages_of("plan") for alt in alts(booklet.pdf).get(page, ())]
    charted = Counter(found.groups() for alt in told for found in CHARTED.finditer(alt))
    written = Counter((start, number) for start, _, number in WRITTEN.findall(text_of(booklet)))
    assert written == charted
    planned = {each["number"] for each in booklet.facts["plan"]["steps"]}
    assert {int(number or 0) for _, number in written} == planned


def test_the_text_has_every_sitting_and_reads_anywhere(booklet: Built) -> None:
    text = text_of(booklet)
    sittings = booklet.facts["plan"]["sittings"]
    page = " ".join(booklet.text_of("plan").split())
    heads = re.findall(r"^(\S+ \d+), \S+ \d+, ", text, re.MULTILINE)
    assert len(heads) == len(sittings)
    assert all(head in page for head in heads)
    assert not re.search(r"[<>\t\N{NARROW NO-BREAK SPACE}\N{FRACTION SLASH}]", text)

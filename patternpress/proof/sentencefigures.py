"""The figures in sentences, held against those that the writer says it wrote.

In: a `Booklet`.  Out: findings for figures that were lost or changed on their way to paper.
Drawings are left out; their figures are held against what is drawn.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator, Mapping

from patternpress.proof.amounts import groups_of, plain
from patternpress.proof.findings import Counted, Judged, finding
from patternpress.proof.marks import Page, tag_of
from patternpress.proof.reading import SECTIONS, Booklet
from patternpress.proof.rows import joined_words

_NUMBER = re.compile(r"\d+/\d+|\d+(?:[.,]\d+)*")


def figures(booklet: Booklet) -> Iterator[Judged]:
    """Every figure that was written is printed, and every length printed was written."""
    written = _written(booklet)
    count = 0
    # Parts that are bound in one run share pages; their figures are counted together.
    for section, pages in booklet.stretches(booklet.openers or SECTIONS).items():
        texts = {number: _sentences(booklet.pages[number - 1]) for number in pages}
        printed = Counter(each for text in texts.values() for each in _NUMBER.findall(text))
        wanted = written.get(section, {})
        count += sum(wanted.values())
        for said, times in wanted.items():
            if printed[said] < times:
                facts = {"said": said, "wanted": times, "found": printed[said]}
                yield finding("figure-lost", pages.start, **facts)
        for number, text in texts.items():
            yield from _unknown(text, wanted, number, booklet.language)
    yield Counted("figures in sentences", count)


def _written(booklet: Booklet) -> Mapping[str, Mapping[str, int]]:
    try:
        found = json.loads(booklet.info.get("PatternFigures", "{}"))
        return {
            str(section): {str(said): int(times) for said, times in said_.items()}
            for section, said_ in found.items()
        }
    except (ValueError, AttributeError, TypeError):
        return {}


def _sentences(page: Page) -> str:
    words = [
        each
        for each in page.words
        if tag_of(each.tags, "Figure") is None and tag_of(each.tags, "Artifact") is None
    ]
    return plain(joined_words(words))


def _unknown(text: str, wanted: Mapping[str, int], page: int, language: str) -> Iterator[Judged]:
    """Yield the lengths of a page with a number that was not written anywhere in the section."""
    for group in groups_of(text, language):
        if not all(number in wanted for number in _NUMBER.findall(group[0].text)):
            yield finding("figure-unknown", page, said=group[0].text)

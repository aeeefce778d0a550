"""All checks of pages at once, for a booklet that is no demo.

In: a PDF and what its theme keeps free.  Out: complaints in words, by the page they are about.
"""

from __future__ import annotations

import io
from collections import defaultdict
from collections.abc import Mapping

import pikepdf
import pypdfium2

from tests.whole import pagechecks as checks
from tests.whole import pageink as ink
from tests.whole import pagetags as tags
from tests.whole import pagetones as tones
from tests.whole.plumbed import read


def complaints(pdf: bytes) -> Mapping[int, list[str]]:
    """What is wrong with the pages of a booklet; 0 stands for it as a whole."""
    drawn, pages, found = pypdfium2.PdfDocument(pdf), read(pdf), defaultdict(list)
    for page in pages:
        inked = ink.look(drawn[page.page_number - 1])
        found[page.page_number] += [
            *checks.too_small(page.chars),
            *checks.outside(page),
            *checks.on_another(page.chars),
            *ink.crossed(inked),
            *ink.broken(inked),
            *tones.too_faint(page.chars, inked.bare),
            *tones.faint_rules(page),
            *tones.dark_tints(page, inked.bare),
        ]
        if tones.too_black(inked.full, tones.MOST_BLACK) and not page.images:
            found[page.page_number].append("a large black area")
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        told = tags.elements(opened)
        found[0] += [*tags.headings_alone(told), *tags.lines_alone(told, tags.marks_of(pages))]
    return {number: each for number, each in found.items() if each}

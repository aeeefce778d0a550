"""Units are called as the language of the booklet calls them, wherever the model prints a figure.

In: a `Booklet`.  Out: findings.  Looked through are the sizes of the cutting list, of templates and
of their holes; what an author typed, or has not translated, may name units as it likes.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.proof.amounts import amounts_of
from patternpress.proof.drawings import drawings_of
from patternpress.proof.findings import Counted, Judged, finding
from patternpress.proof.lists import rows_in
from patternpress.proof.reading import Booklet
from patternpress.proof.unitnames import names_in

DIMENSIONS = ("across", "up", "diagonal")
DIAMETER = "Ø"  # a hole and the drills for it


def units(booklet: Booklet) -> Iterator[Judged]:
    """Every size of a list or a template has the unit's name in the booklet's language."""
    names, count = names_in(booklet.language), 0
    for page, part, said in _sizes(booklet):
        for each in amounts_of(said, booklet.language):
            count += 1
            if not names.own(each.called):
                facts = {"part": part, "said": each.text, "found": each.called}
                own = " or ".join(sorted(names.mm if each.unit == "mm" else names.inch))
                yield finding("unit-foreign", page, wanted=own, **facts)
    yield Counted("units called as the language calls them", count)


def _sizes(booklet: Booklet) -> Iterator[tuple[int, str, str]]:
    """Yield page, part and words of every size that is read apart from names and sentences."""
    for row in rows_in(booklet):
        yield row.page, row.letter, row.size
    for drawing in drawings_of(booklet):
        for of in DIMENSIONS:
            for said in drawing.said(of):
                yield drawing.page, drawing.part, said
        for words in drawing.rows:
            if DIAMETER in words:
                yield drawing.page, drawing.part, words

"""Booklets of every pair of an edition's choices are sound: what goes together two by two is
tried, not all that goes together (that would be 216 booklets).

The design is the one that `new` writes.  Words cut off in labels of large letters, and names that
are broken in a narrow column, were found so.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

import pypdfium2
import pytest

from patternpress.booklet.build import make_edition
from patternpress.design.read import read_text
from patternpress.desk.commands.new import starter
from patternpress.proof.prove import prove
from patternpress.proof.telling import as_text
from tests.whole import pageink as ink

CHOICES = {
    "units": ("mm", "in", "both"),
    "paper": ("A4", "Letter", "A4 and Letter"),
    "language": ("en", "de", "fr"),
    "letters": ("normal", "large"),
    "theme": ("quay", "rod"),
    "labels": ("no", "yes"),
}
Row = Mapping[str, str]
Pair = frozenset[tuple[str, str]]


def pairs_of(row: Row) -> set[Pair]:
    return {frozenset(each) for each in itertools.combinations(row.items(), 2)}


def every_pair() -> set[Pair]:
    return {
        frozenset(((one, here), (two, there)))
        for one, two in itertools.combinations(CHOICES, 2)
        for here in CHOICES[one]
        for there in CHOICES[two]
    }


def covering() -> list[Row]:
    """Editions that have every pair, each the one of all that adds most to those before it."""
    rows = [dict(zip(CHOICES, each, strict=True)) for each in itertools.product(*CHOICES.values())]
    missing, found = every_pair(), []
    while missing:
        best = max(rows, key=lambda row: len(pairs_of(row) & missing))
        missing -= pairs_of(best)
        found.append(best)
    return found


EDITIONS = covering()


def written(row: Row) -> str:
    """An edition in the words of a design; what is usual need not be said."""
    said = {key: word for key, word in row.items() if word not in ("normal", "no")}
    return "{" + ", ".join(f"{key}: {word}" for key, word in said.items()) + "}"


def test_few_editions_have_every_pair() -> None:
    assert set().union(*map(pairs_of, EDITIONS)) == every_pair()
    assert len(EDITIONS) < 13


@pytest.mark.parametrize("row", EDITIONS, ids=written)
def test_an_edition_of_the_first_design_is_sound(row: Row) -> None:
    text = f"languages: en, de, fr\n{starter('box')}"
    said, count = re.subn(
        r"(?m)^editions:\n(?:  .*\n)+", f"editions:\n  tried: {written(row)}\n", text
    )
    assert count == 1
    made = make_edition(read_text(said, "box.yaml", Path()), "tried")
    report = prove(made.pdf, made.facts)
    assert report.sound, as_text(report)
    if (row["language"], row["theme"]) == ("fr", "rod"):
        assert [*run_over(made.pdf, "AVERTISSEMENT")] == []


def run_over(pdf: bytes, word: str) -> Iterator[str]:
    """Words that lines run through, on the pages of a long signal word: its frame stood over what
    it is beside."""
    pages = pypdfium2.PdfDocument(pdf)
    held = [n for n in range(len(pages)) if word in pages[n].get_textpage().get_text_bounded()]
    assert held
    for number in held:
        yield from ink.crossed(ink.look(pages[number]))

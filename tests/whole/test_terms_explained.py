"""A word of the trade is explained where a finished demo booklet first prints it in the work.

The work begins with the cutting list; what is said in front of it explains itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

import pytest

from patternpress.booklet.phrases import read_phrases
from tests.whole.demos import Built

Terms = Mapping[str, tuple[Sequence[str], str]]  # the forms of each, and what it means


def our_terms(language: str) -> Terms:
    """The words that come with the booklet, and what each means."""
    texts = read_phrases(language).texts
    keys = (key for key in texts if re.fullmatch(r"word_\w+_means", key))
    return {
        key: (texts[key.removesuffix("_means")].split(", "), texts[key]) for key in sorted(keys)
    }


def work_of(booklet: Built) -> Iterator[str]:
    """The text of the cutting list, the layouts and each step, in this order."""
    yield from (booklet.text_of(name) for name in ("cutting", "layouts") if name in booklet.places)
    tops = booklet.tops
    steps = [tops[f"step-{n}"] for n in range(1, len(booklet.facts["steps"]) + 1)]
    for start, end in zip(steps, [*steps[1:], tops["imprint"]], strict=True):
        yield booklet.text_between(start, end)


def joined(text: str) -> str:
    """A text in one line, words whole again that were broken at the end of one."""
    return " ".join(re.sub("[\u2010\u00ad\x02\ufffe]\\s*", "", text).split()).casefold()


def misplaced(work: Sequence[str], terms: Terms) -> list[str]:
    """The terms that are not explained at their first place, once."""
    said = [joined(each) for each in work]
    wrong = []
    for key, (forms, meaning) in terms.items():
        word = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, forms))})(?!\w)", re.IGNORECASE)
        told = [n for n, text in enumerate(said) if joined(meaning) in text]
        used = [n for n, text in enumerate(said) if word.search(text)]
        if used[:1] != told:
            wrong.append(f"{key}: used in {used}, explained in {told}")
    return wrong


def test_each_word_is_explained_at_its_first_place(booklet: Built) -> None:
    work = [*work_of(booklet)]
    terms = our_terms(booklet.facts["edition"]["language"])
    assert misplaced(work, terms) == []
    assert any(joined(meaning) in joined(text) for _, meaning in terms.values() for text in work)


FLUSH = "Flush: level with what is beside it."


@pytest.mark.parametrize(
    ("work", "wrong"),
    [
        (["Cut them.", f"Sand it flush. {FLUSH}", "Flush again."], False),
        (["Cut them flush.", f"Sand it flush. {FLUSH}", ""], True),
        (["Cut them.", "Sand it flush.", ""], True),
        ([f"Cut them. {FLUSH}", f"Sand it fl\u2010\nush. {FLUSH}", ""], True),
    ],
)
def test_a_word_that_is_explained_elsewhere_is_found(work: list[str], wrong: bool) -> None:
    terms = {"flush": (["flush"], "level with what is beside it.")}
    assert bool(misplaced(work, terms)) is wrong

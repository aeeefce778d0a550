"""The contents list every step with its page, and each head names the steps that are on its page.

Where a step begins is told by its named place, and where it ends by the next one; what is said, by
the text of the finished pages.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

import pytest

from patternpress.booklet.phrases import read_phrases
from tests.whole.demos import SECTIONS, Built, Place


def steps_of(tops: Mapping[str, Place]) -> dict[int, Place]:
    """Where each step begins, by its number."""
    found = ((re.fullmatch(r"step-(\d+)", name), place) for name, place in tops.items())
    return dict(sorted((int(name[1]), place) for name, place in found if name))


def unlisted(text: str, steps: Mapping[int, Place], titles: Sequence[str]) -> list[int]:
    """The steps that have no line in the contents: number, title and page.

    `titles`: as the file has them; none where the booklet speaks another language.
    """
    lines = re.sub(r"\n(?!\d+ \D)", " ", text.replace("’", "'"))  # a title may take two lines
    wrong = []
    for number, (page, _) in steps.items():
        title = re.escape(titles[number - 1].strip()) if titles else r"[^\d\W].*?"
        if not re.search(rf"^{number} {title} ?{page}(?!\d)", lines, re.MULTILINE):
            wrong.append(number)
    return wrong


def test_the_contents_list_each_step_with_its_page(booklet: Built) -> None:
    steps = steps_of(booklet.tops)
    told = [each["title"] for each in booklet.facts["steps"]]
    assert [*steps] == [*range(1, len(told) + 1)]
    titles = told if booklet.facts["edition"]["language"] == "en" else []
    assert unlisted(booklet.text_of("contents"), steps, titles) == []


@pytest.mark.parametrize("gone", ["2 Join the sides 14\n", "Mark out ", "17"])
def test_a_step_that_the_contents_do_not_list_is_found(gone: str) -> None:
    steps = {1: (13, 700.0), 2: (14, 700.0), 3: (17, 300.0)}
    titles = ["Mark out", "Join the sides", "Put in the back"]
    text = "Steps 13\n1 Mark out 13\n2 Join the sides 14\n3 Put in the back 17\nContents"
    assert unlisted(text, steps, titles) == unlisted(text, steps, []) == []
    assert len(unlisted(text.replace(gone, ""), steps, titles)) == 1


def on_pages(tops: Mapping[str, Place], pages: int, head: float) -> dict[int, list[int]]:
    """The steps that are on each page: over what begins at its head, none goes on."""
    steps = steps_of(tops)
    after = [p for name, p in tops.items() if name in SECTIONS and _down(p) > _down(steps[1])]
    # The heading of all steps stands above the first of them.
    ends = [*[*steps.values()][1:], min(after, key=_down, default=(pages + 1, 1e4))]
    found: dict[int, list[int]] = {}
    for (number, (start, _)), (end, top) in zip(steps.items(), ends, strict=True):
        for page in range(start, end + 1 if top < head or end == start else end):
            found.setdefault(page, []).append(number)
    return found


def _down(place: Place) -> Place:
    return place[0], -place[1]


def named(head: str, texts: Mapping[str, str]) -> Iterator[int]:
    """The steps that a running head names: “Steps 4 to 6”, “Step 7, continued”."""
    for key in ("head_steps", "head_two", "head_on", "head_step"):
        words = re.escape(texts[key])
        for place in ("number", "first", "last"):
            words = words.replace(rf"\{{{place}\}}", r"(\d+)")
        found = re.search(words, head)
        if found:
            first, last = int(found[1]), int(found[found.lastindex or 1])
            yield from range(first, last + 1)
            return


def heads_that_differ(
    heads: Mapping[int, str], there: Mapping[int, list[int]], texts: Mapping[str, str]
) -> dict[int, str]:
    """The pages whose head names other steps than those that are on it."""
    told = {page: [*named(head, texts)] for page, head in heads.items()}
    return {page: heads[page] for page in heads if told[page] != there.get(page, [])}


def test_each_head_names_the_steps_that_are_on_its_page(booklet: Built) -> None:
    texts = read_phrases(booklet.facts["edition"]["language"]).texts
    there = on_pages(booklet.tops, len(booklet.texts), booklet.head)
    # Head and foot are the last that is printed on a page.
    heads = {n: " ".join(t.split("\n")[-3:]) for n, t in enumerate(booklet.texts, 1) if n in there}
    assert heads_that_differ(heads, there, texts) == {}


def test_a_head_that_names_other_steps_is_found() -> None:
    texts = read_phrases("en").texts
    tops = {"plan": (2, 700.0), "steps": (2, 400.0), "step-1": (2, 360.0), "step-2": (3, 766.0)}
    tops |= {"step-3": (5, 400.0), "step-4": (5, 300.0), "imprint": (6, 500.0)}
    there = on_pages(tops, 6, 743.0)
    assert there == {2: [1], 3: [2], 4: [2], 5: [2, 3, 4], 6: [4]}
    heads = {2: "Bench plan · Step 1", 3: "Step 2", 4: "Step 2, continued", 5: "Steps 2 to 4"}
    heads[6] = "Step 4 · About this booklet"
    assert heads_that_differ(heads, there, texts) == {}
    spoiled = {**heads, 4: "Step 3", 5: "Steps 3 and 4", 6: "About this booklet"}
    assert [*heads_that_differ(spoiled, there, texts)] == [4, 5, 6]

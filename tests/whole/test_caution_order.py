"""A caution is printed in the order of ISO 3864-2: signal word, hazard, consequence, how to avoid.

Read from the finished pages: the three sentences by their order in the text, the signal word by
where it stands, above or to the left.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping
from pathlib import Path

import pypdfium2
import pytest

from patternpress.booklet.hazards import HAZARDS
from patternpress.booklet.phrases import read_phrases
from tests.whole.demos import Built
from tests.whole.test_in_front import bare
from tests.whole.test_spoiled import page

SIGNALS = ("warning", "caution", "notice")
LEVEL = 4.0  # points by which a signal word may stand lower than the first line beside it
# The same where the triangle stands over the word, for it is too long to stand beside it.
LONG, UNDER_TRIANGLE = 9, 18.0
Message = tuple[str, str, str, str]  # the signal's key; hazard, consequence, avoidance as letters


def messages(texts: Mapping[str, str]) -> Iterator[Message]:
    """All usual cautions, as they stand in front and, in few words, at the work."""
    signals = {each.key: each.signal.value for each in HAZARDS}
    signals["saw_inside"] = signals["saw"]
    for key, signal in signals.items():
        for start in (key, f"{key}_here"):
            if f"{start}_hazard" in texts:
                hazards = [f"{start}_hazard", f"{start}_hazard_some"]
                told = [bare(texts[f"{start}_{part}"]) for part in ("result", "avoid")]
                for each in hazards:
                    if each in texts:
                        yield signal, bare(texts[each]), told[0], told[1]


class Letters:
    """The letters of a page without blanks and hyphens, and where each stands."""

    def __init__(self, page: pypdfium2.PdfPage) -> None:
        self.text = page.get_textpage()
        raw = self.text.get_text_range(0, self.text.count_chars())
        found = [(n, letter) for n, each in enumerate(raw) for letter in bare(each)]
        self.said = "".join(letter for _, letter in found)
        self.numbers = [number for number, _ in found]

    def places(self, words: str) -> Iterator[int]:
        """Where words begin, counted in letters."""
        at = self.said.find(words)
        while at >= 0:
            yield at
            at = self.said.find(words, at + 1)

    def box(self, at: int) -> tuple[float, float, float, float]:
        """Left, low, right and high edge of a letter, in points up the page."""
        left, low, right, high = self.text.get_charbox(self.numbers[at])
        return left, low, right, high

    def signals(self, texts: Mapping[str, str], at: int) -> Iterator[tuple[float, str]]:
        """The signal words above a letter or left of it, with how high up the page each is."""
        left, line, *_ = self.box(at)
        for key in SIGNALS:
            word = bare(texts[key])
            for found in self.places(word):
                low, right = self.box(found)[1], self.box(found + len(word) - 1)[2]
                under = UNDER_TRIANGLE if len(word) > LONG and right < left else LEVEL
                if low > line - under:
                    yield low, key


def cautions_found(
    pdf: pypdfium2.PdfDocument, texts: Mapping[str, str]
) -> tuple[list[str], list[str]]:
    """The hazards that a booklet tells, one for each place; and what is wrong with them."""
    found, wrong = [], []
    for number in range(len(pdf)):
        letters = Letters(pdf[number])
        for signal, hazard, *after in messages(texts):
            for at in letters.places(hazard):
                found.append(hazard)
                if min(letters.signals(texts, at), default=(0, ""))[1] != signal:
                    wrong.append(f"page {number + 1}: {signal} is not over {hazard}")
                if not letters.said.startswith("".join((hazard, *after)), at):
                    wrong.append(f"page {number + 1}: {hazard} goes on otherwise")
    return found, wrong


def in_order(path: Path | io.BytesIO, language: str) -> list[str]:
    """What is wrong with the cautions of a booklet; it must tell a dozen."""
    found, wrong = cautions_found(pypdfium2.PdfDocument(path), read_phrases(language).texts)
    return wrong if len(found) >= 12 else [f"{len(found)} cautions", *wrong]


def test_cautions_are_printed_in_their_order(booklet: Built) -> None:
    assert in_order(booklet.pdf, booklet.facts["edition"]["language"]) == []


SOUND = ("WARNING", "Saw teeth catch short pieces.", "The saw can cut your hand.",
         "Hold the piece against a stop.")  # fmt: skip


@pytest.mark.parametrize(
    ("order", "wrong"),
    [((0, 1, 2, 3), 0), ((1, 0, 2, 3), 2), ((1, 2, 3, 0), 1), ((0, 2, 1, 3), 1), ((0, 1, 3, 2), 1)],
)
def test_a_caution_in_another_order_is_found(order: tuple[int, ...], wrong: int) -> None:
    body = "".join(f"<p>{SOUND[number]}</p>" for number in order)
    stream = page(f"<p>CAUTION</p>{body}").pdf.stream
    stream.seek(0)
    found, told = cautions_found(pypdfium2.PdfDocument(stream), read_phrases("en").texts)
    assert len(found) == 1
    assert len(told) == wrong

"""Labels: one for every piece that is cut, none for what is bought, none unless asked for."""

from __future__ import annotations

from collections import Counter

from patternpress.booklet.contentlabels import Label
from patternpress.booklet.filllabels import labels
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import Wording
from tests.whole.small import BODY, STEP, TOP, model

ASKED = "editions:\n  tagged: {units: mm, labels: yes}\n  plain: {like: tagged, labels: no}\n"


def made(edition: str = "tagged", body: str = BODY) -> tuple[Label, ...]:
    return labels(Wording(model(TOP + body + STEP + ASKED, edition), read_phrases("en")))


def test_a_label_for_each_piece_by_its_own_name() -> None:
    found = made()
    assert Counter(each.letter for each in found) == Counter(A=1, B=2, C=1, D=2, F=4)
    assert [each.name for each in found if each.letter == "B"] == ["left side", "right side"]
    assert [each.count for each in found if each.letter == "F"] == [
        f"{n} of 4" for n in range(1, 5)
    ]
    assert [each.count for each in found if each.letter == "A"] == [""]


def test_the_sizes_are_those_of_the_cutting_list() -> None:
    (base,) = (each for each in made() if each.letter == "A")
    assert (plain_words(base.size), base.stock) == ("80 × 40 × 2 mm", "board")


def test_more_than_a_dozen_are_kept_together() -> None:
    found = made(body=BODY.replace("wide: 20 mm, quantity: 4", "wide: 20 mm, quantity: 40"))
    assert [each.count for each in found if each.letter == "F"] == ["40 alike"]


def test_only_editions_that_ask_have_them() -> None:
    assert made("plain") == ()

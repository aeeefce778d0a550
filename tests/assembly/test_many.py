"""Hundreds of sound designs give no problem at all; what one wrong size does to them.

Each file of this kind takes a few seconds: the number is the point of it.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.facts import facts
from patternpress.assembly.model import check, work_out
from patternpress.assembly.placing import WAYS
from patternpress.assembly.sizes import AXES
from patternpress.assembly.worked import Worked, work
from patternpress.design.read import read_text
from tests.assembly.carcass import carcass, plan
from tests.assembly.dressed import dressed
from tests.assembly.stools import stool

CHUNK = 10
SIZE = re.compile(
    r"^  (?P<part>[a-z][a-z ]*):|\b(?P<axis>wide|deep|high): (?P<said>[^,}\n]+)", re.M
)


def told(text: str) -> list[str]:
    return [each.what for each in check(read_text(text, "sound.yaml", Path()))]


@pytest.mark.parametrize("first", range(1000, 1500, CHUNK))
def test_five_hundred_sound_cupboards_go_together(first: int) -> None:
    for number in range(first, first + CHUNK):
        assert [(number, each) for each in told(dressed(number))] == []


@pytest.mark.parametrize("number", range(20))
def test_sound_stools_go_together(number: int) -> None:
    assert told(stool(number)) == []


def test_the_stools_differ_and_one_whose_legs_all_lean_to_the_front_tips_over() -> None:
    texts = {stool(number) for number in range(20)}
    assert len(texts) == 20
    wrong = stool(5).replace("mirrored front to back", "as drawn")
    wrong = wrong.replace("mirrored both ways", "mirrored left to right")
    (what,) = told(re.sub(r"deep: \d+ mm}", "deep: 26 mm}", wrong))
    assert what.startswith("the finished piece tips over to the back")


# ------------------------------------------------------------------ one wrong size


def sizes_in(text: str) -> Iterator[tuple[str, str, int]]:
    """Each size in the parts of a design that is no range: part, axis, where its figure ends."""
    start = text.index("parts:\n") + len("parts:\n")
    after = re.search(r"^[a-z]", text[start:], re.M)
    end = start + after.start() if after else len(text)
    part = ""
    for found in SIZE.finditer(text, start, end):
        part = found["part"] or part
        if found["axis"] and " to " not in found["said"]:
            yield part, found["axis"], found.end("said")


def ends_named(worked: Worked, part: str, axis: str) -> int:
    """On how many ends along an axis the joins of a part's pieces say where they go, at most."""
    most = 0
    for piece in worked.usage.pieces[part]:
        use = worked.usage.first_use(piece)
        places = use.joined.places if use and use.joined else ()
        ends = {
            side
            for sides, place in places
            for side in sides.value
            if AXES[SIDE_AXIS[side]] == axis and place.how != "centred"
        }
        most = max(most, len(ends))
    return most


def wrong_sizes(number: int) -> Iterator[tuple[str, str, str, int]]:
    """A cupboard with one size a millimetre off: its text, part and axis, and the sign."""
    text = carcass(number)
    spots = list(sizes_in(text))
    for part, axis, end in random.Random(number).sample(spots, 5):
        for by in (1, -1):
            yield f"{text[:end]} {'+' if by > 0 else '-'} 1 mm{text[end:]}", part, axis, by


@pytest.mark.parametrize("number", range(300, 316))
def test_a_wrong_size_is_told_where_both_ends_are_named(number: int) -> None:
    """A join that says of both ends where they go leaves a size no room to be wrong.

    Where only one end is named, the other ends where the size puts it: that is what the author
    said, and it shows in the facts.
    """
    sound = work_out(read_text(carcass(number), "sound.yaml", Path()), "metric")
    for text, part, axis, by in wrong_sizes(number):
        reading = read_text(text, "wrong.yaml", Path())
        if told(text):
            continue
        assert reading.book is not None
        assert ends_named(work(reading.book, reading.names), part, axis) < 2
        wrong = work_out(reading, "metric")
        one, two = (next(p for p in m.worked.parts if p.name == part) for m in (sound, wrong))
        assert two.extents[axis].value - one.extents[axis].value == by
        told_of = facts(wrong)
        assert told_of["parts"] != facts(sound)["parts"]
        # What is silent is listed as left free by the joins.
        pieces = next(each["pieces"] for each in told_of["parts"] if each["name"] == part)
        way = WAYS[AXES.index(axis)]
        assert any(way in told_of["by_size"].get(piece, ()) for piece in pieces)


def test_both_sorts_of_wrong_sizes_are_tried() -> None:
    """Else the rule above would prove nothing: some are told, some follow, some are named twice."""
    tried = {"told": 0, "silent": 0}
    for number in range(300, 309):
        for text, _, _, _ in wrong_sizes(number):
            tried["told" if told(text) else "silent"] += 1
    assert min(tried.values()) >= 5
    assert {plan(number).twice for number in range(300, 306)} == {True, False}


def test_a_piece_that_grows_into_its_neighbour_is_always_told() -> None:
    for number in range(330, 340):
        text = carcass(number)
        ends = {(part, axis): end for part, axis, end in sizes_in(text)}
        end = ends["back", "wide"]
        assert told(f"{text[:end]} + 1 mm{text[end:]}") != []

"""Every point of the templates, moved by 0.05 mm in any direction, is found; and 200 more edits.

Each sheet of templates is proved by itself, which says the same of it and is quicker.
"""

from __future__ import annotations

import io
import math
import random
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import pikepdf
import pytest

from patternpress.proof import bars, labels, truth
from patternpress.proof.design import Facts, read_facts
from patternpress.proof.findings import Finding
from patternpress.proof.reading import read
from tests.proof import saboteur as s
from tests.whole.demos import Built

MOVED = 0.05  # mm
EDITS = 200


@dataclass(frozen=True)
class Sheet:
    """One sheet of templates: its operations, and the parts on it."""

    book: pikepdf.Pdf  # which must be kept for as long as its page is used
    page: Any
    ops: s.Ops
    facts: Facts

    def changed(self, ops: s.Ops) -> bytes:
        pdf = pikepdf.new()
        pdf.pages.append(self.page)
        pdf.pages[0].obj.Contents = pdf.make_stream(pikepdf.unparse_content_stream(ops))
        out = io.BytesIO()
        pdf.save(out)
        return out.getvalue()

    def findings(self, ops: s.Ops) -> list[Finding]:
        booklet = read(self.changed(ops))
        judged = [
            *truth.templates(booklet, self.facts),
            *labels.labels(booklet),
            *bars.bars(booklet),
        ]
        # The page before printing, with its own bars, is not with it.
        return [e for e in judged if isinstance(e, Finding) and e.code != "bar-missing"]

    def found(self, ops: s.Ops) -> set[str]:
        return {each.code for each in self.findings(ops)}


def sheets(booklet: Built) -> Iterator[Sheet]:
    facts = read_facts(booklet.facts)
    pdf = pikepdf.open(booklet.pdf)
    for number in booklet.pages_of("templates"):
        page = pdf.pages[number - 1]
        ops = s.operations(page)
        drawn = {each.facts["Part"] for each in s.stretches(ops, "Template")}
        parts = tuple(part for part in facts.parts if part.letter in drawn)
        yield Sheet(pdf, page, ops, replace(facts, parts=parts))


def is_about(found: Finding, stretch: s.Stretch, hand: str) -> bool:
    """Whether a finding tells of one drawn thing of one template."""
    facts = dict(found.facts)
    where = (facts.get("part"), hand in facts.get("hand", ""))
    name = stretch.facts.get("Name", "outline")
    outline = found.code in ("outline-off", "area-off", "template-empty")
    named = "outline" if outline else facts.get("name")
    return where == (stretch.inside[0], True) and named == name


@pytest.mark.parametrize("which", ["shelf", "desk"])
def test_a_point_moved_by_a_twentieth_of_a_millimetre_is_found(
    which: str, request: pytest.FixtureRequest
) -> None:
    """In each round one point of every line on the sheet is moved, and each must be told."""
    chance = random.Random(1)
    booklet: Built = request.getfixturevalue(which)
    missed, tried = [], 0
    for sheet in sheets(booklet):
        assert sheet.findings(sheet.ops) == []
        things = s.stretches(sheet.ops, "Drawn")
        hands = [hand_of(sheet.ops, each) for each in things]
        places = [s.path_points(sheet.ops[each.first : each.last]) for each in things]
        for turn in range(max(map(len, places))):
            ops = list(sheet.ops)
            moved = []
            for thing, hand, own in zip(things, hands, places, strict=True):
                if turn < len(own):
                    at, angle = thing.first + own[turn], chance.uniform(0, math.tau)
                    away = (MOVED * math.cos(angle), MOVED * math.sin(angle))
                    ops[at] = s.moved(ops[at], *away)
                    moved.append((thing, hand, turn, round(math.degrees(angle))))
            found = sheet.findings(ops)
            tried += len(moved)
            missed += [m for m in moved if not any(is_about(each, m[0], m[1]) for each in found)]
    assert tried > 30
    assert missed == []


def hand_of(ops: s.Ops, thing: s.Stretch) -> str:
    """The hand of the template that a thing is drawn in."""
    around = [e for e in s.stretches(ops, "Template") if e.first < thing.first < e.last]
    return around[0].facts.get("Hand", "")


# ------------------------------------------------------------------ seeded edits


def scaled(ops: s.Ops, first: int, last: int, chance: random.Random) -> s.Ops:
    """One tagged thing larger or smaller by 0.3 to 3 %."""
    share = 1 + chance.choice((-1, 1)) * chance.uniform(0.003, 0.03)
    return [*ops[: first + 1], *s.stretched(ops[first + 1 : last], share, share), *ops[last:]]


def pushed(ops: s.Ops, first: int, last: int, chance: random.Random) -> s.Ops:
    """One tagged thing elsewhere, by 0.03 to 2 mm."""
    angle, far = chance.uniform(0, math.tau), chance.uniform(0.03, 2)
    away = (far * math.cos(angle), far * math.sin(angle))
    return [*ops[: first + 1], *s.shifted(ops[first + 1 : last], *away), *ops[last:]]


def dropped(ops: s.Ops, first: int, last: int, chance: random.Random) -> s.Ops:
    """One tagged thing not drawn."""
    del chance
    return [*ops[: first + 1], *ops[last:]]


def nudged(ops: s.Ops, first: int, last: int, chance: random.Random) -> s.Ops:
    """One point of it moved by 0.03 to 1 mm across a line through it."""
    place = first + chance.choice(s.path_points(ops[first:last]))
    angle, far = chance.uniform(0, math.tau), chance.uniform(0.03, 1)
    ops = list(ops)
    ops[place] = s.moved(ops[place], far * math.cos(angle), far * math.sin(angle))
    return ops


def renamed(ops: s.Ops, first: int, last: int, chance: random.Random) -> s.Ops:
    """It calls itself something else."""
    del last
    tag = pikepdf.Dictionary({"/As": "hole", "/Name": f"stranger {chance.randrange(99)}"})
    return [*ops[:first], s.op("BDC", pikepdf.Name("/Drawn"), tag), *ops[first + 1 :]]


WORKS = (scaled, pushed, dropped, nudged, renamed)


def test_two_hundred_seeded_edits_are_found(shelf: Built, desk: Built) -> None:
    """Each edit is put into a file and read back: a few seconds in all."""
    chance = random.Random(2)
    every = [*sheets(shelf), *sheets(desk)]
    missed = []
    for number in range(EDITS):
        sheet = chance.choice(every)
        work = chance.choice(WORKS)
        stretch = chance.choice(s.stretches(sheet.ops, "Drawn"))
        alone = sum(each.inside == stretch.inside for each in s.stretches(sheet.ops, "Drawn")) == 1
        if alone and work is pushed:
            work = scaled  # a template with nothing in it may lie anywhere on its sheet
        ops = work(sheet.ops, stretch.first, stretch.last, chance)
        if not sheet.found(ops):
            missed.append((number, work.__name__, stretch.facts, stretch.inside))
    assert missed == []

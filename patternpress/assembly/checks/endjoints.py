"""Do joints still hold, and does every piece touch another, with thinner or thicker boards?

In: a `Worked` design and its `Assembly`.  Out: warnings of joined faces that meet in too little,
and of pieces that touch nothing, at one end of a board's range only.  Boxes tell which joints to
ask: none loses more of its area than the boxes of its pieces lose of what they share.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.checks.fit import LEAST_AREA, floating, joint_area
from patternpress.assembly.checks.fitmoves import CLOSE, Solids, span_of
from patternpress.assembly.checks.thickness import BOARDS, apart_in
from patternpress.assembly.convex import Array
from patternpress.assembly.placing import Assembly, Contact
from patternpress.assembly.tolerance import at_ends
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.thickness import FloatsAtThickness, JointSmallAtThickness
from patternpress.design.problem import Problem

Made = tuple[Worked, Assembly]


def check_end_joints(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Joints and pieces that hold while boards are as thick as their label; each told once."""
    told: set[tuple[type, str]] = set()
    for boards, end in zip(BOARDS, at_ends(worked, assembly), strict=False):
        if end[1].problems:
            continue  # told as places that hold at the label only
        for work, pieces in end[1].works.items():
            if len(pieces) < 2 or len(assembly.works.get(work, ())) != len(pieces):
                continue
            adrift = list(_floating((worked, assembly), end, work))
            loose = {each.facts["piece"] for each in adrift}
            joints = _joints((worked, assembly), end, work)
            for problem in (*adrift, *(e for e in joints if e.facts["piece"] not in loose)):
                key = (problem.kind, problem.facts["piece"])
                if key not in told:
                    told.add(key)
                    yield replace(problem, facts={**problem.facts, "boards": boards})


def _joints(label: Made, end: Made, work: str) -> Iterator[Problem]:
    """Joints of a work that meet in enough at the label and in too little here."""
    worked, assembly = label
    before, after = (apart_in(each, work) for each in (assembly, end[1]))
    # What is cut to a measured opening follows the real boards by itself.
    fitted = {part.name for part in worked.parts if part.opening}
    numbers = _by_name(assembly, work)
    for contact in assembly.contacts:
        both = [numbers.get(name, []) for name in (contact.thing, contact.other)]
        lost = _lost(before, after, contact, both) if contact.work == work else 0.0
        spared = any(assembly.works[work][n].part in fitted for each in both for n in each)
        if lost <= 0.0 or spared or not contact.glued or contact.how != "against":
            continue
        area = _area(label, contact, both)
        if area - lost < LEAST_AREA <= area and (left := _area(end, contact, both)) < LEAST_AREA:
            facts = {"piece": contact.thing, "other": contact.other, "area": f"{left:.2f} mm²"}
            yield Problem(JointSmallAtThickness, span_of(worked, contact.thing), facts)


def _by_name(assembly: Assembly, work: str) -> dict[str, list[int]]:
    """The pieces of a work, by their number in it, under each name that joins may call them by."""
    found: dict[str, list[int]] = {}
    for number, piece in enumerate(assembly.works[work]):
        for name in piece.called:
            found.setdefault(name, []).append(number)
    return found


def _lost(before: Array, after: Array, contact: Contact, both: Sequence[list[int]]) -> float:
    """How much less, mm², the boxes of two joined things share across the way they are joined."""
    across = [axis for axis in range(3) if axis != SIDE_AXIS[contact.side]]
    shared = [
        np.prod(np.maximum(-each[np.ix_(*both, across)], 0.0), axis=2) for each in (before, after)
    ]
    return float(np.maximum(shared[0] - shared[1], 0.0).sum())


def _area(made: Made, contact: Contact, both: Sequence[list[int]]) -> float:
    worked, assembly = made
    bulks, pieces = bulks_of(worked, assembly), assembly.works[contact.work]
    mine, theirs = (
        [bulk for number in each if (bulk := bulks.of(pieces[number])) is not None] for each in both
    )
    return joint_area(assembly, contact, mine, theirs)


def _floating(label: Made, end: Made, work: str) -> Iterator[Problem]:
    """Pieces of a work that touch the rest at the label and nothing here."""
    before, after = (apart_in(each, work) for _, each in (label, end))
    parted = (before <= CLOSE).all(axis=2) & (after > CLOSE).any(axis=2)
    if not parted.any():
        return
    there = {each.facts["piece"] for each in floating(label[0], _solids(label, work))}
    for problem in floating(end[0], _solids(end, work)):
        if problem.facts["piece"] not in there:
            yield replace(problem, kind=FloatsAtThickness)


def _solids(made: Made, work: str) -> Solids:
    bulks = bulks_of(*made)
    return [(p, bulk) for p in made[1].works[work] if (bulk := bulks.of(p)) is not None]

"""The usual cautions of the work, and which of them a design needs.

In: a `Wording`.  Out: groups of cautions, signal word, hazard, consequence and how to avoid it,
for the front of the booklet.  What hurts is common knowledge of the trade; the wood dust
statement follows the IARC classification (group 1), the rag statement NFPA practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from patternpress.assembly.checks.lists import used_materials, used_things
from patternpress.assembly.prosework import all_prose
from patternpress.assembly.smallparts import small_pieces
from patternpress.assembly.worked import Worked
from patternpress.booklet.content import Caution, CautionGroup, Signal
from patternpress.booklet.filluses import uses
from patternpress.booklet.wording import Wording
from patternpress.design.records.book import Caution as SaidCaution
from patternpress.design.records.work import Step
from patternpress.design.references import Ref, split


def caution_groups(wording: Wording) -> tuple[CautionGroup, ...]:
    """The groups of cautions, the usual ones first; empty groups are left out."""
    groups = (
        CautionGroup(wording.say("group_usual"), tuple(_bench(wording))),
        CautionGroup(wording.say("group_chemical"), tuple(_chemical(wording))),
        CautionGroup(wording.say("group_author"), tuple(_authors(wording))),
        CautionGroup(wording.say("group_about"), tuple(_about(wording))),
    )
    return tuple(group for group in groups if group.cautions)


def _usual(wording: Wording, key: str, signal: Signal) -> Caution:
    say = wording.say
    return Caution(signal, say(f"{key}_hazard"), say(f"{key}_result"), say(f"{key}_avoid"))


def _bench(wording: Wording) -> Iterator[Caution]:
    worked = wording.model.worked
    used = used_things(worked)
    if any(word in name.lower() for word in wording.meant("tool_blade") for name in used):
        yield _usual(wording, "blade", Signal.WARNING)
    if any(word in name.lower() for word in wording.meant("tool_saw") for name in used):
        yield _usual(wording, "saw", Signal.WARNING)
    if any(part.holes for part in worked.book.parts):
        yield _usual(wording, "drill", Signal.WARNING)
    yield _usual(wording, "dust", Signal.WARNING)


def _chemical(wording: Wording) -> Iterator[Caution]:
    worked = wording.model.worked
    materials = used_materials(worked)
    if any(each.kind and each.kind.value == "glue" for each in materials):
        yield _usual(wording, "glue", Signal.CAUTION)
    oils = _oils(worked)
    if oils and not _warned_of(oils, worked):
        yield _usual(wording, "finish", Signal.WARNING)


def _oils(worked: Worked) -> set[str]:
    """What the work is oiled with: drying oils, for all that a list of names can tell."""
    steps = worked.usage.steps
    treatments = (each for step in steps for each in (*step.treat, *step.afterwards))
    return {each.with_.value if each.with_ else "" for each in treatments if each.verb == "oil"}


def _warned_of(oils: set[str], worked: Worked) -> bool:
    """Whether a warning of the author's speaks of such an oil already."""
    for said in worked.book.cautions:
        refs = (r.name for p in all_prose(said) for r in split(p.main.value) if isinstance(r, Ref))
        if said.word is not None and said.word.value == "warning" and oils & set(refs):
            return True
    return False


def _about(wording: Wording) -> Iterator[Caution]:
    worked = wording.model.worked
    small = small_pieces(worked)
    if not small:
        return
    made = sum(p.quantity - (p.part.spares.value if p.part.spares else 0) for p in worked.parts)
    warning = _usual(wording, "small", Signal.WARNING)
    if 2 * small <= made:
        warning = replace(warning, hazard=wording.say("small_hazard_some"))
    yield warning


def _authors(wording: Wording) -> Iterator[Caution]:
    for said in wording.model.worked.book.cautions:
        yield authors_caution(said, wording)


def step_cautions(step: Step, number: int, wording: Wording) -> Iterator[Caution]:
    """Those of the author's cautions that speak of what a step uses, or only of what it brings."""
    worked = wording.model.worked
    here = set(uses(step, wording))
    brought = {use.name for use in worked.usage.uses if use.step == number}
    brought |= {worked.usage.part_of[name] for name in brought if name in worked.usage.part_of}
    listed = {each.name.value for each in worked.book.tools}
    listed |= {each.name.value for each in worked.book.materials}
    for said in worked.book.cautions:
        proses = list(all_prose(said))
        refs = {r.name for p in proses for r in split(p.main.value) if isinstance(r, Ref)}
        told = " ".join(each.main.value.lower() for each in proses)
        spoken = {name for name in listed if name in refs or name in told}
        if spoken & here or (not spoken and refs & brought):
            yield authors_caution(said, wording)


def authors_caution(said: SaidCaution, wording: Wording) -> Caution:
    """One of the author's own cautions."""
    word = said.word.value if said.word else "caution"
    return Caution(
        Signal(word),
        wording.prose(said.hazard),
        wording.prose(said.result),
        wording.prose(said.avoid),
    )

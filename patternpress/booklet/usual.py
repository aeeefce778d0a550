"""The cautions of a booklet: those in front, and the same again where the work is done.

In: a `Wording`.  Out: groups of cautions for the front, signal word, hazard, consequence and how to
avoid it; and for the cutting list and each step those that are met there, in few words.  What hurts
is common knowledge of the trade; the wood dust statement follows the IARC classification (group
1), the rag statement NFPA practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from patternpress.assembly.prosework import all_prose
from patternpress.assembly.smallparts import small_pieces
from patternpress.booklet.content import Caution, CautionGroup, Signal
from patternpress.booklet.filluses import uses
from patternpress.booklet.hazards import HAZARDS, Hazard, cutting_tools, met, saws_inside
from patternpress.booklet.plain import capital
from patternpress.booklet.wording import Wording
from patternpress.design.records.work import Caution as SaidCaution
from patternpress.design.records.work import Step
from patternpress.design.references import Ref, split

_GRAVEST_FIRST = (Signal.WARNING, Signal.CAUTION, Signal.NOTICE)


def caution_groups(wording: Wording) -> tuple[CautionGroup, ...]:
    """The groups of cautions, the usual ones first; empty groups are left out."""
    groups = (
        _group("group_usual", wording),
        _group("group_chemical", wording),
        CautionGroup(wording.say("group_author"), tuple(_authors(wording))),
        _group("group_about", wording),
    )
    return tuple(group for group in groups if group.cautions)


def _group(heading: str, wording: Wording) -> CautionGroup:
    """The usual cautions under a heading: of what is met somewhere."""
    found = (h for h in HAZARDS if h.group == heading and met(h, wording))
    said = (_some(_usual(hazard, hazard.key, wording), wording) for hazard in found)
    return CautionGroup(wording.say(heading), tuple(said))


def _usual(hazard: Hazard, key: str, wording: Wording) -> Caution:
    say = wording.say
    said = (say(f"{key}_hazard"), say(f"{key}_result"), say(f"{key}_avoid"))
    return Caution(hazard.signal, *said, kind=hazard.key)


def _some(caution: Caution, wording: Wording) -> Caution:
    """The caution of small pieces says whether many are small, or only some."""
    worked = wording.model.worked
    made = sum(p.quantity - (p.part.spares.value if p.part.spares else 0) for p in worked.parts)
    if caution.kind == "small" and 2 * small_pieces(worked) <= made:
        return replace(caution, hazard=wording.say("small_hazard_some"))
    return caution


def _authors(wording: Wording) -> Iterator[Caution]:
    for number, said in enumerate(wording.model.worked.book.cautions, 1):
        yield authors_caution(said, number, wording)


def cutting_cautions(wording: Wording) -> tuple[Caution, ...]:
    """What is met while parts are cut out, before the first step, the gravest first."""
    usual = [_usual(h, f"{h.key}_here", wording) for h in HAZARDS if h.cutting(wording)]
    own = [
        authors_caution(said, number, wording)
        for number, said in enumerate(wording.model.worked.book.cautions, 1)
        if _spoken_of(said, wording) & cutting_tools(wording.model.worked)
    ]
    return _by_gravity([*usual, *own])


def step_cautions(step: Step, number: int, wording: Wording) -> tuple[Caution, ...]:
    """What is met at a step, the gravest first: the usual hazards, and the author's cautions that
    speak of what the step uses, or only of what it brings, and those that the step says itself.
    """
    worked = wording.model.worked
    usual = [
        _usual(h, f"{_here(h, step, wording)}_here", wording)
        for h in HAZARDS
        if h.at(step, number, wording)
    ]
    here = set(uses(step, wording))
    brought = {use.name for use in worked.usage.uses if use.step == number}
    brought |= {worked.usage.part_of[name] for name in brought if name in worked.usage.part_of}
    own = []
    for place, said in enumerate(worked.book.cautions, 1):
        spoken = _spoken_of(said, wording)
        if spoken & here or (not spoken and _references(said) & brought):
            own.append(authors_caution(said, place, wording))
    said_here = [authors_caution(said, 0, wording, Signal.NOTICE) for said in step.caution]
    return _by_gravity([*usual, *own, *said_here])


def _here(hazard: Hazard, step: Step, wording: Wording) -> str:
    """The key of a hazard's words at a step: sawing inside a piece has no stop to lie against."""
    return "saw_inside" if hazard.key == "saw" and saws_inside(step, wording) else hazard.key


def _by_gravity(cautions: list[Caution]) -> tuple[Caution, ...]:
    return tuple(sorted(cautions, key=lambda each: _GRAVEST_FIRST.index(each.signal)))


def _references(said: SaidCaution) -> set[str]:
    texts = (prose.main.value for prose in all_prose(said))
    return {ref.name for text in texts for ref in split(text) if isinstance(ref, Ref)}


def _spoken_of(said: SaidCaution, wording: Wording) -> set[str]:
    """The tools and materials that a caution of the author's names, in brackets or plainly."""
    book = wording.model.worked.book
    listed = {each.name.value for each in (*book.tools, *book.materials)}
    told = " ".join(each.main.value.lower() for each in all_prose(said))
    refs = _references(said)
    return {name for name in listed if name in refs or name in told}


def authors_caution(
    said: SaidCaution, number: int, wording: Wording, bare: Signal = Signal.CAUTION
) -> Caution:
    """One of the author's own cautions, the `number`th in front, 0 for one of a step's own.

    `bare`: how grave it is where it does not say so; what a step warns of mostly spoils the work.
    """
    return Caution(
        Signal(said.word.value) if said.word else bare,
        capital(wording.prose(said.hazard)),
        capital(wording.prose(said.result)),
        capital(wording.prose(said.avoid)),
        kind=f"author {number}" if number else "",
    )

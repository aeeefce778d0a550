"""The usual cautions of the work, and which of them a design needs.

In: a `Wording`.  Out: groups of cautions, signal word, hazard, consequence and how to avoid it,
for the front of the booklet.  What hurts is common knowledge of the trade; the wood dust
statement follows the IARC classification (group 1), the rag statement NFPA practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.checks.lists import used_things
from patternpress.assembly.smallparts import small_pieces
from patternpress.booklet.content import Caution, CautionGroup, Signal
from patternpress.booklet.wording import Wording
from patternpress.design.records.book import Caution as SaidCaution


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
    if any("knife" in name or "chisel" in name for name in used):
        yield _usual(wording, "blade", Signal.WARNING)
    if any("saw" in name for name in used):
        yield _usual(wording, "saw", Signal.WARNING)
    if any(part.holes for part in worked.book.parts):
        yield _usual(wording, "drill", Signal.WARNING)
    yield _usual(wording, "dust", Signal.WARNING)


def _chemical(wording: Wording) -> Iterator[Caution]:
    kinds = {each.kind.value for each in wording.model.worked.book.materials if each.kind}
    if "glue" in kinds:
        yield _usual(wording, "glue", Signal.CAUTION)
    if "finish" in kinds:
        yield _usual(wording, "finish", Signal.WARNING)


def _about(wording: Wording) -> Iterator[Caution]:
    if small_pieces(wording.model.worked):
        yield _usual(wording, "small", Signal.WARNING)


def _authors(wording: Wording) -> Iterator[Caution]:
    for said in wording.model.worked.book.cautions:
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

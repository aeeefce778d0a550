"""The drills and bits that the holes ask for, as content.

In: a `Wording`.  Out: a `Bit` for each diameter; holes that are sawn out need none.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from markupsafe import Markup, escape

from patternpress.booklet.contentneeds import Bit
from patternpress.booklet.holewords import is_cut_out
from patternpress.booklet.sidewords import holes_named, named
from patternpress.booklet.wording import Wording
from patternpress.closing.bored import least_bores
from patternpress.design.records.parts import Hole
from patternpress.measure.drills import serving


def bits(wording: Wording) -> Iterator[Bit]:
    """One bit a diameter, in the edition's leading system, with the other beside it."""
    solver = wording.model.worked.solver
    thinnest = least_bores(wording.model.worked)
    found: dict[Fraction, dict[str, list[Hole]]] = {}
    sawn = set(sawn_holes(wording))
    for part in wording.model.worked.parts:
        for hole in part.part.holes:
            size = solver.value(hole.round) if hole.round else None
            if size is not None and (part.name, hole.name.value) not in sawn:
                found.setdefault(size.value, {}).setdefault(part.name, []).append(hole)
    display = wording.model.edition.display
    first = display.first
    # Where one reads English both are sold; elsewhere no shop has bits by number or in inches.
    both = first == "in" or display.second is not None or wording.phrases.language == "en"
    for diameter, parts in sorted(found.items()):
        holds = [thinnest.get((name, h.name.value)) for name, hs in parts.items() for h in hs]
        least = max((each for each in holds if each is not None), default=None)
        own = serving(diameter, first, least)
        other = serving(diameter, "mm" if first == "in" else "in", least) if both else ()
        size_words = wording.local(own[0].name) if own else wording.mm(diameter)
        names = [Markup(escape(wording.local(bit.name))) for bit in (*own[1:], *other)]
        where = [each for name, holes in parts.items() for each in _bored(name, holes, wording)]
        yield Bit(size_words, Markup("; ").join(where), wording.listed(names, "list_or"))


def _bored(name: str, holes: list[Hole], wording: Wording) -> Iterator[Markup]:
    """The holes of one part, those in rows each for itself."""
    thing = named(name, wording)
    alone = [each.name.value for each in holes if each.row is None]
    if alone:
        yield wording.say("bit_hole", hole=holes_named(alone, wording), thing=thing)
    for each in holes:
        if each.row is not None:
            count = each.row.quantity.value
            yield wording.say(
                "bit_row", hole=wording.name(each.name.value), thing=thing, count=count
            )


def sawn_holes(wording: Wording) -> Iterator[tuple[str, str]]:
    """The holes that are not drilled but cut out: part and hole."""
    worked = wording.model.worked
    for step in worked.usage.steps:
        for treatment in (*step.treat, *step.afterwards):
            for target in treatment.drill or ():
                part = worked.part(target.thing)
                for hole in part.part.holes if part else ():
                    asked = target.kind != "hole" or hole.name.value == target.feature
                    if part is not None and asked and is_cut_out(treatment, hole, wording):
                        yield part.name, hole.name.value

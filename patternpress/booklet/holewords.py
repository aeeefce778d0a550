"""What must be said of holes that no template shows.

In: a treatment that drills.  Out: for each hole in an edge, or in a part without a template, one
sentence of its diameter, one of its depth and one of its place.
"""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.sizes import AXES
from patternpress.booklet.wording import Wording
from patternpress.design.records.parts import Hole
from patternpress.design.records.work import Treatment


def hole_words(treatment: Treatment, wording: Wording) -> Iterator[Markup]:
    """Sentences for the holes that a treatment drills and no template shows, each once."""
    for target in treatment.drill or ():
        part = wording.model.worked.part(target.thing)
        if part is None:
            continue
        for hole in part.part.holes:
            named = target.kind != "hole" or hole.name.value == target.feature
            broad = hole.on is None or AXES[SIDE_AXIS[hole.on.value[0]]] == part.thin
            shown = part.name in wording.model.worked.templates and broad
            if named and not shown and hole.round is not None:
                yield from _hole(hole, wording)


def groove_words(treatment: Treatment, wording: Wording) -> Iterator[Markup]:
    """The figures of the grooves that a treatment cuts, each once."""
    told: set[tuple[str, str]] = set()
    for target in treatment.groove or ():
        part = wording.model.worked.part(target.thing)
        for groove in part.part.grooves if part else ():
            if part is None or (part.name, groove.name.value) in told:
                continue
            told.add((part.name, groove.name.value))
            sizes = {"wide": wording.said(groove.wide), "deep": wording.said(groove.deep)}
            if groove.at is not None:
                yield wording.say(
                    "groove_at",
                    groove=groove.name.value,
                    far=wording.said(groove.at.distance),
                    side=wording.say(f"side_{groove.at.side}"),
                    **sizes,
                )
            elif groove.along is not None:
                side = wording.say(f"side_{groove.along.value[0]}")
                yield wording.say("groove_along", groove=groove.name.value, side=side, **sizes)


def _hole(hole: Hole, wording: Wording) -> Iterator[Markup]:
    size = wording.said(hole.round)
    if hole.deep is None:
        yield wording.say("hole_through", hole=hole.name.value, size=size)
    else:
        yield wording.say(
            "hole_blind", hole=hole.name.value, size=size, deep=wording.said(hole.deep)
        )
    places = [
        wording.say("far_from", far=wording.said(o.distance), side=wording.say(f"side_{o.side}"))
        for o in hole.at.offsets
    ]
    where = wording.listed(places) if places else wording.say("in_the_middle")
    face = wording.say(f"side_{hole.on.value[0]}") if hole.on else None
    key = "hole_place_on" if face else "hole_place"
    yield wording.say(key, where=where, face=face or "")
    if hole.row is not None:
        yield wording.say(
            "hole_row",
            count=hole.row.quantity.value,
            far=wording.said(hole.row.every),
            way=wording.say(f"side_{hole.row.toward.value[0]}"),
        )

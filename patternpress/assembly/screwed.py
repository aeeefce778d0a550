"""What is screwed on: screws, and the fittings that they hold.

In: a `Worked` design and a join of one of its steps.  Out: whether it brings screws, or a fitting
that screws of the same step hold without glue.
"""

from __future__ import annotations

import re

from patternpress.assembly.worked import Worked
from patternpress.design.records.work import Joined, Step

# Of a plate that is “to be screwed on” nothing is driven.
SCREW = re.compile(r"screw(?!ed)", re.IGNORECASE)


def is_screw(worked: Worked, joined: Joined) -> bool:
    """Whether a join brings bought screws."""
    part = worked.part(joined.piece.value)
    if part is None or part.form != "bought":
        return False
    bought = part.stock.bought
    named = f"{part.name} {bought.main.value if bought else ''}"
    return SCREW.search(named) is not None


def screwed_on(worked: Worked, step: Step, joined: Joined) -> bool:
    """Whether a join brings a fitting that screws of its step hold, which says nothing of glue."""
    part = worked.part(joined.piece.value)
    if part is None or part.form != "bought" or is_screw(worked, joined):
        return False
    said = joined.glue or step.glue or (step.wait.for_ if step.wait else None)
    if said is not None:
        return False
    bearers = {place.target.thing for _, place in joined.places}
    return any(
        is_screw(worked, each) and any(place.target.thing in bearers for _, place in each.places)
        for each in step.join
    )

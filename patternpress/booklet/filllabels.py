"""Labels to cut out, one for every piece that is cut.

In: a `Wording`.  Out: `Label`s in the order of their letters, for an edition that asks for them.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.cutparts import CutPart, by_letter
from patternpress.assembly.shown import shown_size
from patternpress.booklet.contentlabels import Label
from patternpress.booklet.wording import NOTHING, Wording

MOST_ALIKE = 12  # labels of one part; more pieces than that are kept together under one


def labels(wording: Wording) -> tuple[Label, ...]:
    """A label for each piece; nothing where the edition wants none."""
    model = wording.model
    if not model.edition.labels:
        return ()
    cut = [part for part in model.worked.parts if part.stock.bought is None and part.quantity]
    ordered = sorted(cut, key=lambda part: by_letter(part.letter))
    return tuple(label for part in ordered for label in _of(part, wording))


def _of(part: CutPart, wording: Wording) -> Iterator[Label]:
    size = wording.size(*shown_size(part, wording.model.edition))
    note = NOTHING
    if part.opening:
        size, note = NOTHING, wording.say("label_waits", opening=wording.name(part.opening))
    stock = wording.name(part.stock.name.value)
    if part.quantity > MOST_ALIKE:
        count = wording.say("label_many", count=part.quantity)
        yield Label(part.letter, wording.name(part.name), count, size, stock, note)
        return
    for number in range(part.quantity):
        name = part.pieces[number] if number < len(part.pieces) else part.name
        count = NOTHING
        if part.quantity > 1:
            count = wording.say("label_of", number=number + 1, count=part.quantity)
        yield Label(part.letter, wording.name(name), count, size, stock, note)

"""Which signs a template uses.

In: a TemplatePart.  Out: the `Sign`s that its page's key must explain.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.drawing.halves import half_window
from patternpress.drawing.key import Sign
from patternpress.drawing.part import TemplatePart
from patternpress.drawing.treated import VERBS


def signs_of(part: TemplatePart) -> Iterator[Sign]:
    """Yield the signs on one template."""
    shape = part.shape
    yield Sign.CUT
    if shape.holes:
        yield Sign.CENTRE
        yield Sign.OPENING
    if shape.marks:
        yield Sign.MARK
    if any(not groove.far for groove in shape.grooves):
        yield Sign.GROOVE
    if any(groove.far for groove in shape.grooves):
        yield Sign.FAR
    for each in part.treated:
        if each.faces:
            yield VERBS[each.verb]
    if part.grain is not None:
        yield Sign.GRAIN
    if half_window(part, shape) is not None:
        yield Sign.FOLD

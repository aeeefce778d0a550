"""Can the templates be drawn as they are asked for?

In: a `Worked` design.  Out: problems of half templates whose other half is not alike.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.symmetry import unlike
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.parts import HalfNotAlike
from patternpress.design.problem import Problem


def check_halves(worked: Worked) -> Iterator[Problem]:
    """Parts that ask for half a template but differ from left to right."""
    for part in worked.parts:
        said, shape = part.part.template, worked.shapes.get(part.name)
        if said is None or said.value != "half" or shape is None:
            continue
        other = unlike(shape)
        if other:
            what = "the outline" if other == "outline" else f"“{other}”"
            facts = {"part": f"“{part.name}”", "what": what}
            yield Problem(HalfNotAlike, said.span, facts)

"""Ends that are cut level or upright on a part that leans: what shows of them on its template.

In: a part and a solver.  Out: for each such end the angle off square and the side that stays
longest, where all of it shows in the face; an end that slants through the thickness as well is
told in words.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.body import SIDE_AXIS, body_of, end_angles
from patternpress.assembly.broadface import PAGE_AXES, VIEW_OF_THIN
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.shape import View
from patternpress.assembly.sizes import AXES, Solver
from patternpress.measure.quantity import Kind

_SAME = 1e-4  # degrees


def level_ends(part: CutPart, solver: Solver) -> Iterator[tuple[str, Fraction, str]]:
    """Yield side, degrees and longest side of the ends that are level or upright, by an angle that
    the face shows.
    """
    lean = part.part.leans
    if lean is None or len(lean.angles) != 1:
        return
    said = solver.value(lean.angles[0][0], Kind.ANGLE)
    page = PAGE_AXES.get(VIEW_OF_THIN.get(part.thin, View.ABOVE), ())
    faces = body_of(part, None, solver).faces if part.part.ends else {}
    for sides, cut in part.part.ends:
        side = sides.value[0]
        found = end_angles(side, faces[side].normal) if cut.how != "angles" else ()
        # The angle as it was said: what is measured off the face is rounded.
        if said is None or len(found) != 1 or abs(found[0][0] - said.value) > _SAME:
            continue
        if all(AXES[SIDE_AXIS[each]] in page for each in (side, found[0][1])):
            yield side, said.value, found[0][1]

"""The broad face of a part, which its template shows: its view, its page, and what lies behind it.

In: a part, and the place of a mark.  Out: axes of the page; whether the mark is on the far face.
"""

from __future__ import annotations

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.shape import View
from patternpress.assembly.sizes import SIDE_AXIS
from patternpress.design.phrases import OPPOSITE, Target

# The thin axis decides the view; a view's axes are the two that lie on the page.
VIEW_OF_THIN = {"deep": View.FRONT, "wide": View.RIGHT, "high": View.ABOVE}
PAGE_AXES = {
    View.FRONT: ("wide", "high"),
    View.RIGHT: ("deep", "high"),
    View.LEFT: ("deep", "high"),
    View.ABOVE: ("wide", "deep"),
    View.BACK: ("wide", "high"),
    View.BELOW: ("wide", "deep"),
}
LOW_SIDES = {"wide": "left", "deep": "front", "high": "bottom"}
_MIRRORED = {"wide": "mirrored left to right", "deep": "mirrored front to back"}
NEAR_FACE = {
    View.FRONT: "front",
    View.RIGHT: "right",
    View.LEFT: "left",
    View.ABOVE: "top",
    View.BACK: "back",
    View.BELOW: "bottom",
}

ON_STRIPS = " The ends of a strip can be `cut off` or notched (`notch`) on its other faces, too."


def on_far_face(part: CutPart, target: Target) -> bool:
    """Whether a mark's place is on the broad face that the part's view does not show.

    The sides of a mirrored piece are those of its place, so its near face is the other one; of a
    turned piece the view says nothing.
    """
    named = {each.name.value: each.stands for each in part.part.pieces}
    said = named.get(target.thing)
    stands = said.value if said else "as drawn"
    near = NEAR_FACE[VIEW_OF_THIN[part.thin]]
    if stands == _MIRRORED.get(part.thin):
        near = OPPOSITE[near]
    elif stands != "as drawn" and stands not in _MIRRORED.values():
        return False
    return bool(target.sides) and near not in target.sides


def on_other_face(part: CutPart, sides: tuple[str, ...], how: str) -> bool:
    """Whether a corner is cut off an end of a strip on a face that its template does not show."""
    axes = {SIDE_AXIS[each] for each in sides}
    cut = part.form == "strip" and how in ("cut off", "notch")
    return cut and axes == {part.thin, part.along}

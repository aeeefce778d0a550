"""Blind holes that begin on the face that a template does not show."""

from __future__ import annotations

import pytest

from patternpress.drawing.features import features
from patternpress.drawing.style import DrawingStyle
from tests.whole.small import BODY, STEP, TOP, model

FIELDS = {
    "through from below": ("on: bottom", False),
    "blind from below": ("on: bottom, deep: 1 mm", True),
    "blind from above": ("on: top, deep: 1 mm", False),
    "blind slot from below": ("on: bottom, deep: 1 mm", True),
}


@pytest.mark.parametrize("name", FIELDS)
def test_a_blind_hole_in_the_far_face_is_dashed_and_says_so(name: str) -> None:
    """One drilled through the paper from above spoils the top of a seat."""
    where, far = FIELDS[name]
    form = "slot: 6 mm x 2 mm" if "slot" in name else "round: 2 mm"
    hole = f"holes: {{leg hole: {{{form}, at: centre, {where}}}}}"
    body = BODY.replace("deep: 40 mm, template: yes}", f"deep: 40 mm, {hole}}}")
    shape = model(TOP + body + STEP).worked.shapes["base"]
    style = DrawingStyle()
    (found,) = features(shape, style)
    assert found.underneath is far
    dashes = found.ink[0].pen.dashes
    assert bool(dashes) is far
    # A ring of 2 mm whose dashes are as long as usual has one gap: it reads as a near hole.
    assert not far or 4 * float(sum(dashes)) <= 6.3 * (3 if "slot" in name else 1)

"""Glue-ups that last longer than the glue stays workable."""

from __future__ import annotations

import pytest

from patternpress.assembly.checks.plan import check_plan
from patternpress.design.kinds.plan import GlueUpTooLong
from patternpress.design.problem import Problem
from tests.assembly.plandesign import BODY, CARCASS, DRAWER, LID, worked

FRAME = """\
  - step: Glue the frame
    start: base
    join:
      left wall: {right: against base, back: against base}
      lid: {bottom: loose against base}
      right wall: {left: against base, back: against base}
      tray: {left: against left wall, right: against right wall, bottom: against base}
      knob: {back: against tray}
    wait: {for: glue, until: hard}
"""
ROW = """\
  - step: Glue the slats
    start: base
    join: {slat: {bottom: against base, back: against base, row: {toward: right, every: 12 mm}}}
    wait: {for: glue, until: handle}
"""


def found(steps: str, workable: str) -> list[Problem]:
    """What is wrong where the glue stays workable for a time."""
    body = BODY.replace("workable: 5 to 10 min", workable)
    return list(check_plan(worked(steps, body=body)))


def test_a_glue_up_is_divided_after_the_last_piece_that_fits() -> None:
    # 8 faces at 45 s are 6 min.  In 5 min 6 faces are done: the two walls (4), not the tray (7).
    (problem,) = found(FRAME, "workable: 5 to 10 min")
    assert problem.kind is GlueUpTooLong
    assert problem.what == (
        "step 1 glues 8 faces at once, which takes about 6 min; "
        "“glue” stays workable for 5 to 10 min"
    )
    assert problem.mend == (
        "Divide it after the 3rd piece, “right wall”, "
        "or take a glue that stays workable for longer."
    )
    assert problem.why.startswith("the first joint has set")
    assert not problem.is_error  # the time is an estimate


def test_a_row_is_divided_between_its_pieces() -> None:
    (problem,) = found(ROW, "workable: 4 min")  # 8 faces; 5 are done in 4 min, so two slats
    assert problem.mend.startswith(
        "Divide it after the 2nd piece, “slat 2” (`of: 2` in its row; in its own step `slat 3` "
        "with a row, placed 2 * 12 mm further on), or"
    )


@pytest.mark.parametrize(
    ("row", "how"),
    [
        ("every: 12 mm", "with a row, `bottom: in pin hole 3 of base`)"),
        ("every: 6 mm, of: 4", "with a row (`of: 2`), placed 2 * 6 mm further on)"),
        ("up to: 2 mm inside base", "(first say `every` in its row in place of `up to`;"),
    ],
)
def test_a_row_in_a_row_of_holes_goes_on_in_the_next_hole(row: str, how: str) -> None:
    where = "against base" if "of" in row or "up" in row else "in pin hole of base"
    steps = ROW.replace("against base, back", f"{where}, back").replace("every: 12 mm", row)
    holes = "pin hole: {round: 2 mm, at: centre, row: {toward: right, every: 12 mm, quantity: 4}}"
    body = BODY.replace("deep: 40 mm}", f"deep: 40 mm, holes: {{{holes}}}}}", 1)
    body = body.replace("workable: 5 to 10 min", "workable: 4 min")
    (problem,) = check_plan(worked(steps, body=body))
    assert how in problem.mend


def test_a_row_divided_as_told_is_glued_in_time() -> None:
    first = ROW.replace("every: 12 mm", "every: 12 mm, of: 2")
    second = ROW.replace("    start: base\n", "").replace("{slat:", "{slat 3:")
    assert not found(first + second, "workable: 4 min")


def test_a_piece_that_is_too_much_by_itself_cannot_be_divided_off() -> None:
    (problem,) = found(ROW, "workable: 1 min")
    assert "Not even the first piece" in problem.mend


@pytest.mark.parametrize(
    ("steps", "workable"),
    [
        (FRAME, "workable: 6 min"),  # just in time
        (FRAME, "note: Any white glue."),  # nothing is said
        (FRAME + "    takes: 4 min\n", "workable: 5 min"),  # a quick hand says so
        (CARCASS + DRAWER, "workable: 2 min"),
        (LID, "workable: 1 min"),  # nothing is glued
    ],
)
def test_sound_glue_ups(steps: str, workable: str) -> None:
    assert found(steps, workable) == []


def test_screws_and_nails_in_holes_need_no_glue_in_a_hurry() -> None:
    body = BODY.replace(
        "  lid: {stock: board, wide: 60 mm, deep: 40 mm}",
        "  lid: {stock: board, wide: 60 mm, deep: 40 mm,"
        " holes: {pin hole: {round: 1 mm, at: centre}}}",
    ).replace("workable: 5 to 10 min", "workable: 1 min")
    steps = (
        "  - step: Nail\n    start: lid\n    join:\n      tray: {bottom: against lid}\n"
        "      knob: {bottom: in pin hole of lid}\n    wait: {for: glue, until: handle}\n"
    )
    assert list(check_plan(worked(steps, body=body))) == []


@pytest.mark.parametrize(
    ("number", "said"), [(1, "1st"), (2, "2nd"), (3, "3rd"), (4, "4th"), (11, "11th"), (22, "22nd")]
)
def test_places_in_words(number: int, said: str) -> None:
    quantity = BODY.replace("quantity: 4", f"quantity: {number + 1}")
    body = quantity.replace("workable: 5 to 10 min", f"workable: {number * 90} s")
    body = body.replace(f"{number * 90} s", f"{number * 3 / 2} min")
    (problem,) = check_plan(worked(ROW, body=body))
    assert f"the {said} piece, “slat {number}”" in problem.mend

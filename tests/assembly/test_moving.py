"""What opens: which pieces go where, about which line, and what stops them."""

from __future__ import annotations

import math
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from trimesh.transformations import rotation_matrix

from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.facts import facts
from patternpress.assembly.model import Model, check, work_out
from patternpress.assembly.moving import Motion, motions_in, motions_of
from patternpress.assembly.opened import opened
from patternpress.design.problem import Problem
from patternpress.design.read import Reading, read_text
from tests.assembly.test_solids import manifold

CUPBOARD = """design: Cupboard
stock:
  board: {sheet: 2 mm}
  brass rod: {rod: 1 mm}
parts:
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  end: {stock: board, deep: 30 mm, high: 40 mm, pieces: [left end, right end]}
  top board: {stock: board, wide: 40 mm, deep: 30 mm}
  door: {stock: board, wide: 35.5 mm, high: 39.5 mm}
  knob: {stock: board, deep: 4 mm, high: 6 mm}
steps:
  - step: Glue the cupboard
    start: base
    join:
      left end: {bottom: against base, left: flush with base, front: flush with base}
      right end: {bottom: against base, right: flush with base, front: flush with base}
      top board: {bottom: against left end, left: flush with base, front: flush with base}
  - step: Set the door in
    join:
      door:
        bottom: loose against base
        left: 2.25 mm inside base
        front: flush with base
        opens: OPENS
      knob: {back: against door, right: 4 mm inside door, top: 10 mm inside door}
"""


def reading_of(opens: str, text: str = CUPBOARD) -> Reading:
    return read_text(text.replace("OPENS", opens), "cupboard.yaml", Path())


def told(opens: str, text: str = CUPBOARD) -> list[Problem]:
    return [each for each in check(reading_of(opens, text)) if each.is_error]


def made(opens: str, text: str = CUPBOARD) -> Model:
    reading = reading_of(opens, text)
    assert [each.what for each in check(reading) if each.is_error] == []
    return work_out(reading, "metric")


def boxes(model: Model, motion: Motion, share: float = 1.0) -> dict[str, list[float]]:
    """The least x, y, z and the greatest of each piece that moves, once it has."""
    bulks = bulks_of(model.worked, model.assembly)
    found = {}
    for each in model.assembly.placed:
        bulk = bulks.of(each)
        if each.key in motion.keys and bulk is not None:
            there = opened(bulk, motion, share)
            both = np.concatenate([there.low.min(axis=0), there.high.max(axis=0)])
            found[each.key] = [round(float(value), 6) + 0.0 for value in both]
    return found


def test_a_door_turns_about_its_edge_and_takes_its_knob_along() -> None:
    model = made("90 deg to the front about left front edge of door")
    (motion,) = motions_of(model.worked, model.assembly)
    assert motion.keys == ("door", "knob")
    # At right angles the door reaches forward from its hinge by its width, 2 mm thick to the right;
    # it stands on the base.
    assert boxes(model, motion)["door"] == [2.25, -35.5, 2, 4.25, 0, 41.5]
    # The knob is 2 mm thick and 4 mm deep, its right side 4 mm from the door's right edge.
    assert boxes(model, motion)["knob"] == [-1.75, -31.5, 25.5, 2.25, -29.5, 31.5]


HINGED = """design: Box
stock:
  board: {sheet: 2 mm}
  leaf: STOCK
parts:
  case: {stock: board, wide: 20 mm, high: 20 mm}
  door: {stock: board, wide: 20 mm, high: 20 mm}
  hinge: {stock: leaf, deep: 3 mm, high: 4 mm}
steps:
  - step: Hang the door
    start: case
    join:
      door: {back: loose against case, left: flush with case, bottom: flush with case, opens: OPENS}
      hinge: {right: FIXED, back: flush with case, top: 5 mm inside case}
"""


@pytest.mark.parametrize(
    ("stock", "fixed", "stops"),
    [
        ("{bought: a brass hinge}", "against case and door", []),
        ("{bought: a brass hinge}", "against case", ["hinge"]),
        ("{sheet: 1 mm}", "against case and door", ["hinge"]),
    ],
)
def test_a_bought_hinge_with_a_leaf_on_both_stops_nothing(
    stock: str, fixed: str, stops: list[str]
) -> None:
    text = HINGED.replace("STOCK", stock).replace("FIXED", fixed)
    text = text.replace("deep: 3", "wide: 1 mm, deep: 3") if "bought" in stock else text
    found = told("100 deg to the front about left back edge of door", text)
    assert [(p.code, p.facts["other"]) for p in found] == [("opens-into", n) for n in stops]


def test_a_drawer_moves_straight_on_by_an_exact_length() -> None:
    model = made("12.5 mm to the front")
    (motion,) = motions_of(model.worked, model.assembly)
    assert (motion.by.value, motion.way) == (Fraction(25, 2), (0, -1, 0))
    assert boxes(model, motion)["door"][1] == -12.5


@pytest.mark.parametrize(
    ("about", "free"),
    [
        # The front corner is 2 mm before the line and 0.25 mm from the end: 2 sin a = 0.25.
        ("left back edge of door", math.degrees(math.asin(0.25 / 2))),
        ("right back edge of door", math.degrees(math.asin(0.25 / 2))),
    ],
)
def test_a_door_that_jams_says_after_how_many_degrees(about: str, free: float) -> None:
    (problem,) = told(f"95 deg to the front about {about}")
    assert problem.code == "opens-into"
    assert problem.facts["other"] == f"{about.split(maxsplit=1)[0]} end"
    assert problem.facts["far"] == f"{math.floor(free)} degrees"
    assert told(f"{math.floor(free)} deg to the front about {about}") == []


@pytest.mark.parametrize("side", ["left", "right"])
def test_another_library_stops_the_door_at_the_same_angle(side: str) -> None:
    """trimesh turns the corners about the edge, manifold3d says what they share with the end."""
    about = f"to the front about {side} back edge of door"
    (problem,) = told(f"95 deg {about}")
    model = made(f"5 deg {about}")
    (motion,) = motions_of(model.worked, model.assembly)
    bulks = bulks_of(model.worked, model.assembly)
    solid = {each.key: bulk.solid for each in model.assembly.placed if (bulk := bulks.of(each))}
    end = manifold(solid[f"{side} end"])
    assert motion.through is not None
    way, through = ([float(each) for each in group] for group in (motion.way, motion.through))

    def shared(degrees: float) -> float:
        turn = rotation_matrix(math.radians(degrees), way, through)
        volume: float = (manifold(solid["door"]).transform(turn[:3]) ^ end).volume()
        return volume

    far = float(problem.facts["far"].split()[0])
    assert shared(far) < 1e-9
    assert shared(far + 1) > 1e-4


def test_it_is_told_where_a_door_touches() -> None:
    """Its front corner, on the front right edge of the left end and no further than it turned."""
    (problem,) = told("95 deg to the front about left back edge of door")
    assert problem.at is not None
    x, y, z = problem.at
    assert x == pytest.approx(2, abs=0.05)  # the right face of the left end
    assert 0 <= y < 0.1  # the corner comes from y = 0 on an arc of 2 mm
    assert 2 <= z <= 41.5  # somewhere along the height of the door


def test_what_slides_says_how_far_it_gets() -> None:
    post = "      post: {bottom: against base, left: 5 mm inside base, front: 12 mm inside base}\n"
    text = CUPBOARD.replace(
        "\n  door:", "\n  post: {stock: board, wide: 4 mm, high: 6 mm}\n  door:"
    ).replace("  - step: Set the door in", f"{post}  - step: Set the door in")
    # The door is 2 mm thick, and the post stands 12 mm behind the front.
    (problem,) = told("10.5 mm to the back", text)
    assert (problem.code, problem.facts["other"]) == ("opens-into", "post")
    assert problem.facts["far"].startswith("10 mm")
    # On the front of the post, which reaches from 5 to 9 mm and is 6 mm high on a base of 2 mm.
    assert problem.at == pytest.approx((7, 12, 5), abs=0.02)
    assert told("10 mm to the back", text) == []


def test_a_drawer_may_be_drawn_out_until_its_end_is_clear() -> None:
    """The tray is as deep as its case, 30 mm: a hair less than that still rests on the floor."""
    text = (Path(__file__).parent / "faults" / "comes-out.yaml").read_text("utf-8")
    for by, codes in (("29.9", []), ("30", ["comes-out"]), ("45", ["comes-out"])):
        found = check(
            read_text(text.replace("opens: 30 mm", f"opens: {by} mm"), "box.yaml", Path())
        )
        assert [each.code for each in found] == codes


ON_A_PIN = """design: Cupboard
stock:
  board: {sheet: 2 mm}
  brass rod: {rod: 1 mm}
parts:
  base:
    stock: board
    wide: 40 mm
    deep: 30 mm
    holes: {pin hole: {round: 1 mm, at: PIN mm from left and 1 mm from front, deep: 1.5 mm}}
  end: {stock: board, deep: 30 mm, high: 40 mm, pieces: [left end, right end]}
  door:
    stock: board
    wide: 35.5 mm
    high: 38 mm
    holes: {heel hole: {round: 1 mm, on: bottom, deep: 3 mm, at: PIN mm - 2.25 mm from left}}
  pin: {stock: brass rod, high: 4 mm}
steps:
  - step: Glue the cupboard
    start: base
    join:
      left end: {bottom: against base, left: flush with base, front: flush with base}
      right end: {bottom: against base, right: flush with base, front: flush with base}
      pin: {bottom: 'in pin hole of base'}
  - step: Set the door on its pin
    join:
      door:
        bottom: loose against base
        left: 2.25 mm inside base
        front: flush with base
        opens: OPENS
"""


@pytest.mark.parametrize("about", ["pin hole of base", "heel hole of door", "pin"])
def test_a_hole_or_a_rod_is_a_line_to_turn_about(about: str) -> None:
    model = made(f"90 deg to the front about {about}", ON_A_PIN.replace("PIN", "6"))
    (motion,) = motions_of(model.worked, model.assembly)
    assert motion.through is not None
    # 6 mm from the left of the base and 1 mm from its front; its height does not matter.  The
    # greater part of the door lies to its right, so it turns clockwise as seen from above.
    assert motion.through[:2] == (6, 1)
    assert motion.way == (0, 0, -1)


def test_the_heel_of_a_door_on_pins_needs_room_beside_it() -> None:
    """Its corners are hypot(heel, 1) from the pin, the end's face the heel and 0.25 mm."""
    for pin, heel in ((5, 2.75), (3.5, 1.25)):
        found = told("90 deg to the front about pin", ON_A_PIN.replace("PIN", f"{pin}"))
        assert [each.code for each in found] == ["opens-into"] * (math.hypot(heel, 1) > heel + 0.25)


CABINETS = """design: Cabinets
stock:
  board: {sheet: 2 mm}
parts:
  floor: {stock: board, wide: 60 mm, deep: 30 mm}
  back: {stock: board, wide: 20 mm, high: 20 mm}
  flap: {stock: board, deep: 10 mm, high: 20 mm}
sub-assemblies:
  left screen:
  right screen: {mirror of: left screen}
steps:
  - step: Make the screens
    builds: left screen
    start: back
    join:
      flap:
        back: loose against back
        left: flush with back
        bottom: flush with back
        opens: 30 deg to the left about left back edge of flap
  - step: Set them up
    start: floor
    join:
      left screen: {bottom: against floor, left: 5 mm inside floor, back: flush with floor}
      right screen: {bottom: against floor, right: 5 mm inside floor, back: flush with floor}
"""


def test_what_a_copy_brings_opens_in_the_whole_and_a_mirrored_one_the_other_way() -> None:
    reading = read_text(CABINETS, "cabinets.yaml", Path())
    assert [each.what for each in check(reading) if each.is_error] == []
    model = work_out(reading, "metric")
    (own,) = motions_of(model.worked, model.assembly)
    assert own.work == "left screen"
    left, right = motions_in(model.worked, model.assembly)
    assert (left.thing, right.thing) == ("flap", "right screen/flap")
    one, two = boxes(model, left), boxes(model, right)
    (a,), (b,) = one.values(), two.values()
    # The floor is 60 mm wide: one is the other's mirror image about 30 mm, open as well as shut.
    assert [60 - b[3], b[1], b[2], 60 - b[0], b[4], b[5]] == pytest.approx(a)
    assert a[0] < 5 - 4.9


def test_the_facts_tell_every_motion_exactly() -> None:
    (told_of,) = facts(made("12.5 mm to the front"))["motions"]
    assert told_of == {
        "thing": "door", "work": "", "step": 2, "toward": "front", "mm": "25/2",
        "way": ["0", "-1", "0"], "pieces": ["door", "knob"],
    }  # fmt: skip


BEHIND_A_DOOR = CUPBOARD.replace("wide: 35.5 mm", "wide: 17.5 mm")
BEHIND_A_DOOR = BEHIND_A_DOOR.replace(
    "\n  door:",
    """
  other door: {stock: board, wide: 17.5 mm, high: 39.5 mm}
  drawer: {stock: board, wide: 15 mm, deep: 10 mm}
  door:""",
).replace(
    "      knob:",
    """      other door:
        bottom: loose against base
        right: 2.25 mm inside base
        front: flush with base
        opens: 90 deg to the front about right front edge of other door
      drawer:
        bottom: loose against base
        right: 5 mm inside base
        front: 2 mm inside base
        opens: 8 mm to the front
      knob:""",
)


def test_what_opens_may_wait_for_another_that_opens_first() -> None:
    """A drawer behind a door: in the way while it is shut, not once it is open."""
    about = "90 deg to the front about left front edge of door"
    assert told(about, BEHIND_A_DOOR) == []
    said = "        opens: 90 deg to the front about right front edge of other door\n"
    (problem,) = told(about, BEHIND_A_DOOR.replace(said, ""))
    assert (problem.code, problem.facts["piece"]) == ("opens-into", "drawer")
    assert problem.facts["other"] == "other door"

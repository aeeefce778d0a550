"""What the pictures show, worked out from the joins: ways, distances, glued faces."""

import math
from fractions import Fraction

import pytest
import shapely

from patternpress.assembly.contacts import ways_out
from patternpress.assembly.convex import bulk, clashes
from patternpress.assembly.lying import BENCH, bench_way
from patternpress.assembly.solid import UNTURNED, box, moved
from patternpress.drawing.exploded import exploded
from patternpress.drawing.motions import Away, clear_distance, way_off
from patternpress.drawing.patches import Facing, patches_between
from patternpress.drawing.projection import isometric
from patternpress.drawing.scenes import StepScene
from patternpress.drawing.sight import in_sight, screens_of
from patternpress.drawing.things import Item, items_of, shifted
from tests.drawing.demo_pictures import DEMOS, bulks_for, model_of, scenes_of

UP, DOWN, FRONT, LEFT = (0.0, 0.0, 1.0), (0.0, 0.0, -1.0), (0.0, -1.0, 0.0), (-1.0, 0.0, 0.0)


def block(key: str, low: tuple[float, ...], high: tuple[float, ...]) -> Item:
    size = [b - a for a, b in zip(low, high, strict=True)]
    solid = moved(box(*size), UNTURNED, (low[0], low[1], low[2]))
    return Item(key, key, key, key.upper(), (), 1, bulk(solid))


def scene(demo: str, number: int) -> StepScene:
    return next(each for each in scenes_of(demo) if each.number == number)


def ways(each: StepScene) -> dict[str, tuple[float, ...]]:
    return {
        name: tuple(round(part) for part in group.motion.way)
        for group in each.groups
        for name in group.names
    }


# ------------------------------------------------------------------ ways


def test_a_board_between_two_walls_comes_from_above() -> None:
    walls = [block("l", (0, 0, 0), (2, 40, 30)), block("r", (50, 0, 0), (52, 40, 30))]
    floor = block("f", (0, 0, -2), (52, 40, 0))
    board = block("b", (2, 10, 0), (50, 12, 20))
    away = [Away((1.0, 0.0, 0.0), True), Away((-1.0, 0.0, 0.0), True), Away(UP, True)]
    assert way_off([board], [*walls, floor], away, "upright") == (UP, True)


def test_what_is_caught_on_all_sides_is_told_so() -> None:
    inner = block("i", (0, 0, 0), (10, 10, 10))
    around = [
        block(str(axis) + str(side), *_wall(axis, side)) for axis in range(3) for side in (0, 1)
    ]
    _, free = way_off([inner], around, [Away(UP, True)], "upright")
    assert not free


def _wall(axis: int, side: int) -> tuple[tuple[float, ...], tuple[float, ...]]:
    low, high = [-20.0] * 3, [30.0] * 3
    low[axis], high[axis] = (-20.0, 0.0) if side == 0 else (10.0, 30.0)
    return tuple(low), tuple(high)


def test_what_is_far_off_is_not_in_the_way() -> None:
    piece, lid = block("p", (0, 0, 0), (10, 10, 10)), block("l", (0, 0, 90), (10, 10, 92))
    floor = block("f", (-5, -5, -2), (15, 15, 0))
    away = [Away(UP, True)]
    assert way_off([piece], [floor, lid], away, "upright", room=20) == (UP, True)
    assert way_off([piece], [floor, lid], away, "upright")[0] != UP


def test_a_piece_is_clear_of_what_it_was_between() -> None:
    piece, wall = block("p", (0, 0, 0), (10, 10, 2)), block("w", (0, 5, 0), (10, 12, 30))
    assert clear_distance([piece], [wall], UP, 7.0) == pytest.approx(37.0)
    assert clear_distance([piece], [wall], LEFT, 7.0) == pytest.approx(17.0)


@pytest.mark.parametrize("lies", sorted(BENCH))
def test_work_is_turned_and_never_mirrored(lies: str) -> None:
    right, back, up = BENCH[lies]
    cross = tuple(
        right[(i + 1) % 3] * back[(i + 2) % 3] - right[(i + 2) % 3] * back[(i + 1) % 3]
        for i in range(3)
    )
    assert cross == tuple(up)
    named = {"upright": UP, "on its back": FRONT, "on its top": DOWN, "on its right": LEFT}
    if lies in named:
        assert bench_way(lies, UP) == named[lies]


def test_the_desk_is_put_together_the_way_a_maker_would() -> None:
    # Common practice, no source: worked out by hand from the joins of the design.
    assert ways(scene("keepers-desk", 2)) == {"left side": (-1, 0, 0), "right side": (1, 0, 0)}
    assert ways(scene("keepers-desk", 3))["back"] == (0, 0, 1)
    legs = scene("keepers-desk", 6)
    assert legs.lies == "on its top"
    assert set(ways(legs).values()) == {(0, 0, -1)}
    assert len(legs.groups) == 1 and len(legs.groups[0].things) == 4
    drawers = ways(scene("keepers-desk", 13))
    assert drawers == {"left drawer": (0, -1, 0), "right drawer": (0, -1, 0), "lid": (0, 0, 1)}


def test_a_sub_assembly_moves_as_one() -> None:
    group = scene("keepers-desk", 13).groups[0]
    assert group.letter == "" and group.owner == "drawer"
    assert [len(thing) for thing in group.things] == [5, 5]  # all but the knob, which has no size


def test_a_shelf_comes_out_of_its_groove() -> None:
    assert set(ways(scene("signal-shelf", 7)).values()) == {(0, -1, 0)}


# ------------------------------------------------------------------ no wood in wood


@pytest.mark.parametrize("demo", DEMOS)
def test_pieces_on_their_way_run_through_nothing(demo: str) -> None:
    for each in scenes_of(demo):
        apart = [shifted(item.bulk, each.shift_of(item.key)) for item in each.items]
        known = clashes([item.bulk for item in each.items], 0.02)
        blocked = any(group.motion.blocked for group in each.groups)
        if not known and not blocked:
            assert clashes(apart, 0.02) == (), f"step {each.number}"


@pytest.mark.parametrize("demo", DEMOS)
def test_most_ways_are_free_to_the_end(demo: str) -> None:
    groups = [group for each in scenes_of(demo) for group in each.groups]
    assert sum(group.motion.blocked for group in groups) <= len(groups) / 10


@pytest.mark.parametrize("demo", DEMOS)
def test_pieces_taken_apart_share_no_wood(demo: str) -> None:
    model, scenes = model_of(demo), scenes_of(demo)
    items = items_of(model, bulks_for(demo), model.assembly.placed)
    if clashes([item.bulk for item in items], 0.02):
        return  # a design whose own pieces clash is told so elsewhere
    shifts = exploded(model, scenes)
    assert len(set(shifts.values())) > 3
    apart = [shifted(item.bulk, shifts.get(item.key, (0.0, 0.0, 0.0))) for item in items]
    found = clashes(apart, 0.02)
    assert [(items[a].key, items[b].key) for a, b, _ in found] == []


def test_only_one_copy_of_a_sub_assembly_comes_apart() -> None:
    shifts = exploded(model_of("keepers-desk"), scenes_of("keepers-desk"))
    left = {shift for key, shift in shifts.items() if key.startswith("left drawer/")}
    right = {shift for key, shift in shifts.items() if key.startswith("right drawer/")}
    assert len(left) > 2
    assert len(right) == 1


# ------------------------------------------------------------------ glue


def test_a_patch_is_what_two_faces_share() -> None:
    floor, post = block("f", (0, 0, 0), (50, 40, 2)), block("p", (45, 10, 2), (60, 20, 30))
    (patch,) = patches_between(post, floor, Facing(()), True)
    assert (patch.on, patch.under, patch.normal) == ("f", "p", (0.0, 0.0, 1.0))
    ((ring,),) = patch.polygons
    assert shapely.Polygon([point[:2] for point in ring]).area == pytest.approx(5 * 10)
    assert {point[2] for point in ring} == {2.0}


@pytest.mark.parametrize("gap", [0.001, 3.0, -1.0])
def test_faces_that_do_not_meet_share_no_patch(gap: float) -> None:
    floor, post = block("f", (0, 0, 0), (50, 40, 2)), block("p", (5, 5, 2 + gap), (9, 9, 30))
    assert list(patches_between(post, floor, Facing(()), True)) == []


def test_loose_pieces_get_no_glue() -> None:
    assert scene("keepers-desk", 13).patches == ()


def test_the_glue_of_the_desks_legs_is_all_of_their_ends() -> None:
    each = scene("keepers-desk", 6)
    model = model_of("keepers-desk")
    leg = next(part for part in model.worked.parts if part.name == "leg")
    end = leg.extents["wide"].value * leg.extents["deep"].value
    areas: dict[str, float] = {}
    for patch in each.patches:
        for outer, *_ in patch.polygons:
            area = shapely.Polygon([point[:2] for point in outer]).area
            areas[patch.under] = areas.get(patch.under, 0.0) + area
    assert len(areas) == 4
    for area in areas.values():
        assert area == pytest.approx(float(Fraction(end)))


# ------------------------------------------------------------------ lines of sight


def test_a_line_is_seen_up_to_where_it_runs_behind_a_block() -> None:
    view = isometric()
    screen = block("s", (0, 0, 0), (10, 10, 10))
    screens = screens_of([("s", screen.solid)], view)
    # Straight away from the eye nothing is left of it; to the side all of it is.
    clear = in_sight((30.0, 30.0, 0.0), (60.0, 30.0, 0.0), view, screens, 1e-6)
    assert len(clear) == 1
    through = in_sight((5.0, 30.0, 5.0), (5.0, -30.0, 5.0), view, screens, 1e-6)
    whole = sum(shapely.LineString(part).length for part in clear) * 2
    seen = sum(shapely.LineString(part).length for part in through)
    # Inside the block (10 mm) and behind it: in front of it, from y = -30 to 0, all is seen.
    assert whole / 2 <= seen < whole * 5 / 6


def test_the_way_out_that_is_chosen_is_free() -> None:
    for each in scenes_of("keepers-desk"):
        there = list(each.old)
        for group in each.groups:
            for thing in group.things:
                moving = [item for item in each.new if item.key in thing]
                if not group.motion.blocked:
                    rest = [item.bulk for item in there]
                    bulks = [item.bulk for item in moving]
                    assert list(ways_out(bulks, rest, [group.motion.way])), group.names
                there += moving


def test_a_peg_comes_to_its_hole_the_way_it_leans() -> None:
    """The shelf's pegs, their fronts raised by 15°."""
    groups = [g for each in scenes_of("signal-shelf") for g in each.groups if g.owner == "peg"]
    way = (0.0, -math.cos(math.radians(15)), math.sin(math.radians(15)))
    assert [each.motion.way for each in groups] == [pytest.approx(way, abs=1e-9)]

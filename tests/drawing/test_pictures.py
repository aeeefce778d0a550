"""The pictures of the steps: what their SVG holds, and that names and arrows are clear."""

import math
import re
from dataclasses import fields
from itertools import combinations

import pytest
import shapely

from patternpress.drawing.contract import check_template
from patternpress.drawing.framing import BESIDE, LARGE, scale_steps
from patternpress.drawing.guides import guides_of
from patternpress.drawing.labelplaces import Naming
from patternpress.drawing.leaders import place_labels, shape_of
from patternpress.drawing.lines import Pen
from patternpress.drawing.pictures import Staged, step_picture
from patternpress.drawing.picturestyle import PictureStyle, large, sparing
from patternpress.drawing.projection import project
from patternpress.drawing.rendering import scaled
from patternpress.drawing.steady import HELD
from patternpress.drawing.views import choose_views, patch_shape, view_of
from tests.drawing.demo_pictures import DEMOS, STYLE, Drawn, drawn_steps, scenes_of
from tests.drawing.svg_reader import lines_of, words_of

GUIDE = "1.6 0.9"  # the dashes of guide lines, mm
MOST_FOREIGN = 3.0  # mm of a leader over other pieces
ENCLOSED = 3.0  # mm from what is seen of a piece to the paper round the picture: no way past
MOST_FROM_WITHIN = 10.0  # mm over other pieces of a leader from there
STEPS = [pytest.param(demo, n, id=f"{demo}-{n}") for demo in DEMOS for n in range(20)]


def step(demo: str, index: int) -> Drawn | None:
    steps = drawn_steps(demo)
    return steps[index] if index < len(steps) else None


def every() -> list[Drawn]:
    return [each for demo in DEMOS for each in drawn_steps(demo)]


def test_every_picture_keeps_the_contract() -> None:
    for drawn in every():
        for picture in (drawn.action, drawn.state):
            assert check_template(picture.svg) == [], drawn


def test_pictures_are_as_wide_as_the_column_and_no_higher_than_it_allows() -> None:
    for drawn in every():
        for picture in (drawn.action, drawn.state):
            assert picture.width == pytest.approx(BESIDE[0])
            assert 12 < picture.height <= BESIDE[1]


def test_both_pictures_of_a_step_have_one_scale() -> None:
    for drawn in every():
        assert drawn.state.scale == drawn.action.scale


def test_scales_are_of_one_series() -> None:
    # R20 of ISO 3 (from memory): twenty steps to a decade.
    for drawn in every():
        steps = 20 * math.log10(drawn.action.scale)
        assert steps == pytest.approx(round(steps), abs=1e-9)


def runs() -> list[tuple[Drawn, Drawn]]:
    """Each step with the one before it of the same work, if that lay the same way."""
    found = []
    for demo in DEMOS:
        before: dict[tuple[str, str], Drawn] = {}
        for drawn in drawn_steps(demo):
            key = (drawn.scene.work, drawn.scene.lies)
            found += [(before[key], drawn)] if key in before else []
            before[key] = drawn
    return found


def test_the_scale_changes_only_where_a_picture_would_not_fit_or_could_be_much_larger() -> None:
    changed = [(one, two) for one, two in runs() if one.action.scale != two.action.scale]
    assert len(changed) <= 0.2 * len(every()) + 1  # one in five, as for the view
    for one, two in changed:
        whole = Staged(two.choice, detail=two.detail)
        alone = step_picture(whole, "As if it were the first", STYLE).scale
        assert alone < one.action.scale or alone > HELD * one.action.scale / 10 ** (1 / 20), two
    assert len(changed) < len(runs()) / 2


def test_a_picture_keeps_the_scale_of_the_steps_before_rather_than_growing_a_little() -> None:
    desk = [each for each in drawn_steps("keepers-desk") if each.scene.work == "case"]
    assert len({each.action.scale for each in desk}) == 1
    alone = [step_picture(Staged(each.choice), "Alone", STYLE).scale for each in desk]
    assert max(alone) > min(alone) == desk[0].action.scale


@pytest.mark.parametrize("most", [0.9, 1.0, 3.7, 0.011])
def test_the_first_scale_is_the_largest_that_is_allowed(most: float) -> None:
    first, second, *_ = scale_steps(most)
    assert first <= most < first * 10 ** (1 / 20) * (1 + 1e-12)
    assert second == pytest.approx(first / 10 ** (1 / 20))


# ------------------------------------------------------------------ names


def test_everything_that_is_new_has_its_letter() -> None:
    for drawn in every():
        names = len(drawn.scene.base) + len({each.owner for each in drawn.scene.fittings})
        for group in drawn.scene.groups:
            names += len(group.things) if len(group.things) <= 2 else 1
        assert len(drawn.action.labels) == names, drawn


@pytest.mark.parametrize("drawn", every(), ids=str)
def test_no_line_runs_through_words(drawn: Drawn) -> None:
    for picture in (drawn.action, drawn.state):
        lines = shapely.union_all(lines_of(picture.svg))
        for text, box, height in words_of(picture.svg):
            assert height >= 2.45, text  # 2.5 mm (ISO 3098), but for a rounded last figure
            assert box.distance(lines) > 0.2, text


@pytest.mark.parametrize("drawn", every(), ids=str)
def test_leaders_cross_hardly_anything_that_is_not_theirs(drawn: Drawn) -> None:
    whole = scaled(drawn.choice.drawn.whole, drawn.action.scale)
    regions = {k: scaled(r, drawn.action.scale) for k, r in drawn.choice.drawn.regions.items()}
    for label in drawn.action.labels:
        dot = shapely.Point(label.dot)
        mine = [each for each in regions.values() if each.buffer(0.2).contains(dot)]
        own = shapely.union_all(mine)
        others = shapely.difference(whole, own.buffer(0.15))
        paper = shapely.box(*whole.bounds).buffer(9).difference(whole)
        most = MOST_FOREIGN if own.distance(paper) <= ENCLOSED else MOST_FROM_WITHIN
        assert label.line.intersection(others).length <= most, label.words


def test_labels_lie_apart() -> None:
    for drawn in every():
        boxes = [shape_of(each.box) for each in drawn.action.labels]
        for box in boxes:
            assert all(box.distance(arrow) > 0.3 for arrow in drawn.action.arrows), drawn
        for one, other in combinations(boxes, 2):
            assert one.distance(other) > 0.5, drawn


def test_leaders_cross_no_leader_no_label_and_no_arrow() -> None:
    for drawn in every():
        labels = drawn.action.labels
        for label in labels:
            assert not any(label.line.intersects(arrow) for arrow in drawn.action.arrows), drawn
            for other in labels:
                if other is not label:
                    assert not label.line.intersects(other.line), drawn
                    assert not label.line.intersects(shape_of(other.box)), drawn


def test_letters_are_never_too_small() -> None:
    for drawn in every():
        for label in drawn.action.labels:
            assert label.words.lettering.height >= 2.5


def test_a_name_without_room_is_left_out_rather_than_set_over_something() -> None:
    lettering = STYLE.set_in(3.5)
    wall = shapely.box(-40, -40, 40, 40)
    region = shapely.box(-1, -1, 1, 1)
    assert place_labels([Naming("A", lettering, region)], wall, (), 1.2, 64.0) == ()
    label = place_labels([Naming("A", lettering, region)], region, (), 1.2, 64.0)
    assert len(label) == 1


# ------------------------------------------------------------------ arrows and guides


def test_each_group_has_one_arrow() -> None:
    for drawn in every():
        assert len(drawn.action.arrows) == len(drawn.scene.groups), drawn


def test_arrows_point_the_way_the_piece_comes() -> None:
    for drawn in every():
        view = view_of(drawn.choice.eye, drawn.scene.lies)
        for group, arrow in zip(drawn.scene.groups, drawn.action.arrows, strict=True):
            tip = arrow.exterior.coords[0]
            tail = arrow.exterior.coords[3]
            other = arrow.exterior.coords[4]
            run = (tip[0] - (tail[0] + other[0]) / 2, tip[1] - (tail[1] + other[1]) / 2)
            x, y = project(view, group.motion.way)
            cosine = -(run[0] * x + run[1] * y) / (math.hypot(*run) * math.hypot(x, y))
            assert cosine == pytest.approx(1.0, abs=1e-6), drawn


def test_no_arrow_lies_over_what_comes_in_the_step() -> None:
    for drawn in every():
        keys = [key for group in drawn.scene.groups for key in group.keys]
        coming = scaled(drawn.choice.drawn.region(keys), drawn.action.scale)
        for arrow in drawn.action.arrows:
            assert arrow.intersection(coming).area <= 0.05 * arrow.area, drawn


def test_guides_are_dashed_and_thin() -> None:
    for drawn in every():
        paths = [each for each in drawn.action.svg.split("<path") if f'"{GUIDE}"' in each]
        dashed = [re.findall(r'stroke-width="([\d.]+)"', each)[0] for each in paths]
        assert all(float(width) < 0.25 for width in dashed)
        assert f'"{GUIDE}"' not in drawn.state.svg
    steps = [drawn for drawn in every() if GUIDE in drawn.action.svg]
    assert len(steps) >= 0.9 * len(every())


def test_guides_run_the_way_that_the_pieces_come() -> None:
    """Every dashed line that is printed lies along the motion of one of the step's groups."""
    checked = 0
    for drawn in every():
        seen = [(drawn.scene, view_of(drawn.choice.eye, drawn.scene.lies))]
        if drawn.detail is not None:  # its window may be seen from elsewhere
            seen.append((drawn.detail.scene, drawn.detail.drawn.view))
        ways = [project(view, each.motion.way) for scene, view in seen for each in scene.groups]
        ways += [project(view, each.way) for scene, view in seen for each in scene.fittings]
        for guide in lines_of(drawn.action.svg, dashed=GUIDE):
            (x, y), *_, (to_x, to_y) = guide.coords
            run = (to_x - x, y - to_y)  # on the page y runs down
            # A place is printed to a hundredth of a millimetre.
            astray = min(abs(run[0] * v - run[1] * u) / math.hypot(u, v) for u, v in ways)
            assert astray <= 0.015, drawn
            checked += 1
    assert checked > 60


def test_guides_end_where_a_thing_is_joined_and_not_in_the_air() -> None:
    checked = 0
    for drawn in every():
        scene, scale, seen = drawn.scene, drawn.action.scale, drawn.choice.drawn
        for group in scene.groups:
            faces = [each for each in scene.patches if each.under in group.keys]
            if not faces:
                continue  # what is not glued only hangs over its place
            laid = [scaled(patch_shape(scene, each, seen.view), scale) for each in faces]
            for guide in guides_of(scene, group, seen.view, seen.screens, scale):
                end = shapely.Point(*(each * scale for each in guide.home))
                assert min(end.distance(each) for each in laid) <= 3.0 + 1e-6, drawn
                checked += 1
    assert checked > 30


def test_new_pieces_are_drawn_stronger_than_old_ones() -> None:
    for drawn in (each for each in every() if each.scene.new):  # a bought fitting has a sign
        widths = {float(each) for each in re.findall(r'stroke-width="([\d.]+)"', drawn.state.svg)}
        assert max(widths) == 0.5
        assert max(widths) >= 2 * min(widths)


# ------------------------------------------------------------------ the same again


@pytest.mark.parametrize("demo", DEMOS)
def test_the_same_step_gives_the_same_bytes(demo: str) -> None:
    drawn = drawn_steps(demo)[1]
    choice = choose_views(scenes_of(demo)[:2])[1]
    again = step_picture(
        Staged(choice, most=drawn.action.scale), f"Step {drawn.scene.number} of {demo}", STYLE
    )
    assert again.svg == drawn.action.svg


def test_large_print_has_larger_letters_and_the_same_contract() -> None:
    drawn = drawn_steps("keepers-desk")[0]
    style = large(STYLE)
    title = "The first step, in large print"
    picture = step_picture(Staged(drawn.choice), title, style, LARGE)
    assert check_template(picture.svg) == []
    assert picture.width == pytest.approx(LARGE[0])
    assert picture.height <= LARGE[1]
    assert all(label.words.lettering.height >= 3.5 for label in picture.labels)


def pens(style: PictureStyle) -> dict[str, float]:
    """The width of every line of a style, mm; the drawing's own lines as well."""
    found: dict[str, float] = {}
    for field in fields(style):
        value = getattr(style, field.name)
        for number, each in enumerate(value if isinstance(value, tuple) else (value,)):
            if isinstance(each, Pen):
                found[f"{field.name} {number}"] = float(each.width)
    drawing = ("wide", "middle", "narrow", "thin")
    return found | {key: float(getattr(style.drawing, key)) for key in drawing}


def test_every_line_of_large_print_is_heavier() -> None:
    usual, heavy = pens(STYLE), pens(large(STYLE))
    assert len(usual) == 19
    assert {key for key in usual if heavy[key] <= usual[key]} == set()


def test_saving_ink_leaves_no_grey_and_tells_new_pieces_by_their_lines() -> None:
    drawn = drawn_steps("keepers-desk")[1]
    style = sparing(STYLE)
    saving = step_picture(Staged(drawn.choice), "A step, saving ink", style)
    assert check_template(saving.svg) == []
    assert greys(drawn.action.svg) and not greys(saving.svg)
    assert style.strong_pens[0].width > style.quiet_pens[0].width


def greys(svg: str) -> set[str]:
    """The greys between black and white that fill areas."""
    return set(re.findall(r'fill="(#[0-9a-f]{3,6})"', svg)) - {"#000", "#fff", "#000000", "#ffffff"}

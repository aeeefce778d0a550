"""The cover, all pieces apart, and the three views with their sizes."""

import re
import time
from dataclasses import replace

import numpy as np
import pytest
import shapely

from patternpress.assembly.extent import overall
from patternpress.assembly.model import work_out
from patternpress.assembly.solid import UNTURNED, moved
from patternpress.assembly.usage import Use
from patternpress.design.read import read_design
from patternpress.drawing.contract import check_template
from patternpress.drawing.finished import (
    COVER,
    PARTS,
    best_eye,
    cover_picture,
    cover_scene,
    exploded_picture,
    exploded_scene,
    finished_items,
)
from patternpress.drawing.framing import Picture
from patternpress.drawing.lettering import words as words_as_figure
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.things import bulks_of, span_of
from patternpress.drawing.threeviews import SCALES, VIEWS, three_views
from patternpress.measure.figures import show_length
from patternpress.measure.quantity import Kind, Quantity
from tests.drawing.demo_pictures import DEMOS, DESIGNS, STYLE, bulks_for, model_of, scenes_of
from tests.drawing.solid_scenes import prism, rectangle, round_outline
from tests.drawing.svg_reader import lines_of, words_of


def cover(demo: str) -> Picture:
    scene = cover_scene(model_of(demo), scenes_of(demo), bulks_for(demo))
    return cover_picture(best_eye(scene)[1], "The finished piece", STYLE)


def views(demo: str) -> Picture:
    model = model_of(demo)
    sizes = [Quantity(each, Kind.LENGTH) for each in overall(model.assembly)]
    wide, deep, high = (show_length(each, model.edition.display) for each in sizes)
    scene = [(item.key, item.solid) for item in finished_items(model, bulks_for(demo))]
    return three_views(scene, (wide, deep, high), "Three views of it", STYLE)


@pytest.mark.parametrize("demo", DEMOS)
def test_the_cover_fits_its_room(demo: str) -> None:
    picture = cover(demo)
    assert check_template(picture.svg) == []
    assert picture.width == pytest.approx(COVER[0])
    assert 60 < picture.height <= COVER[1]
    assert 'stroke-width="0.7"' in picture.svg


@pytest.mark.parametrize("demo", DEMOS)
def test_the_strong_outline_of_the_cover_goes_round_no_slit(demo: str) -> None:
    # Between facets there are slits of no width; a thick line round one is a blot.
    parts = re.findall(r'<path d="([^"]*)" stroke-width="0.7"', cover(demo).svg)
    rings = [ring for part in parts for ring in part.split("Z") if ring]
    assert rings
    for ring in rings:
        shape = shapely.Polygon([place.split() for place in re.split("[ML]", ring) if place])
        assert shape.area > 0.02 * shape.length, ring


def test_the_cover_shows_what_opens_as_far_open_as_is_said() -> None:
    model = model_of("keepers-desk")
    scene = dict(cover_scene(model, scenes_of("keepers-desk"), bulks_for("keepers-desk")))
    shifts = {
        item.key: {tuple(each) for each in np.subtract(there, item.solid.points).round(6)}
        for item in finished_items(model, bulks_for("keepers-desk"))
        if (there := scene[item.key].points) != item.solid.points
    }
    assert len(shifts) == 5
    assert all(key.startswith("right drawer/") for key in shifts)
    # `opens: 16 mm to the front`, and the front is where y is least.
    assert set.union(*shifts.values()) == {(0, -16, 0)}


def test_a_drawer_of_which_nothing_is_said_stands_half_out_on_the_cover() -> None:
    model = model_of("keepers-desk")
    uses = tuple(_unsaid(use) for use in model.worked.usage.uses)
    usage = replace(model.worked.usage, uses=uses)
    shut = replace(model, worked=replace(model.worked, usage=usage))
    scene = dict(cover_scene(shut, scenes_of("keepers-desk"), bulks_for("keepers-desk")))
    items = finished_items(shut, bulks_for("keepers-desk"))
    out = [item.key for item in items if scene[item.key].points != item.solid.points]
    assert len(out) == 5
    assert all(key.startswith("right drawer/") for key in out)


def _unsaid(use: Use) -> Use:
    return replace(use, joined=replace(use.joined, opens=None)) if use.joined else use


def test_what_hangs_on_a_wall_throws_no_shadow_on_the_ground() -> None:
    shadow = "#ebebeb"
    assert shadow in cover("keepers-desk").svg
    assert shadow not in cover("signal-shelf").svg
    assert PictureStyle().shadow == pytest.approx(0xEB / 255, abs=0.003)


@pytest.mark.parametrize("demo", DEMOS)
def test_every_part_with_a_size_has_its_letter_when_all_is_apart(demo: str) -> None:
    model = model_of(demo)
    apart = exploded_scene(model, scenes_of(demo), bulks_for(demo), "front right above")
    picture = exploded_picture(model, apart, (), "All the pieces", STYLE)
    assert check_template(picture.svg) == []
    assert picture.height <= PARTS[1]
    parts = {each.part for each in model.assembly.placed if each.part in bulks_for(demo)}
    assert len(picture.labels) == len(parts)
    # And near to its piece, so that nobody has to follow a line across the page.
    long = sorted(each.line.length for each in picture.labels)
    assert long[-2] <= 10 and long[-1] <= 22
    lines = shapely.union_all(lines_of(picture.svg))
    for text, box, _ in words_of(picture.svg):
        assert box.distance(lines) > 0.2, text


@pytest.mark.parametrize("demo", DEMOS)
def test_three_views_are_to_a_scale_of_the_standard(demo: str) -> None:
    picture = views(demo)
    assert check_template(picture.svg) == []
    assert picture.width <= VIEWS[0] and picture.height <= VIEWS[1]
    assert picture.scale in [above / below for above, below in SCALES]
    above, below = next(s for s in SCALES if s[0] / s[1] == picture.scale)
    assert f"{above}:{below}" in picture.svg


def test_three_views_tell_the_overall_sizes_in_both_units_where_an_edition_has_both() -> None:
    model = work_out(read_design(DESIGNS / "net-tote.yaml"), "both")
    sizes = [Quantity(each, Kind.LENGTH) for each in overall(model.assembly)]
    wide, deep, high = (show_length(each, model.edition.display) for each in sizes)
    scene = [(item.key, item.solid) for item in finished_items(model, bulks_of(model.worked))]
    texts = re.findall("<text.*?</text>", three_views(scene, (wide, deep, high), "", STYLE).svg)
    figures = [each for each in texts if "\N{NO-BREAK SPACE}mm (" in each]
    assert len(figures) == 3
    assert all("\N{NO-BREAK SPACE}in)" in each for each in figures)


@pytest.mark.parametrize("demo", DEMOS)
def test_three_views_are_drawn_as_large_as_their_scale_says(demo: str) -> None:
    picture = views(demo)
    items = finished_items(model_of(demo), bulks_for(demo))
    low, high = span_of(items)
    wide, deep, tall = ((b - a) * picture.scale for a, b in zip(low, high, strict=True))
    lines = re.findall(r"M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)", picture.svg)
    spans = {
        (round(abs(float(c) - float(a)), 2), round(abs(float(d) - float(b)), 2))
        for a, b, c, d in lines
    }
    # The dimension lines: as long as the sizes, level or upright.
    for span in ((wide, 0.0), (0.0, deep), (0.0, tall)):
        assert any(abs(x - span[0]) < 0.06 and abs(y - span[1]) < 0.06 for x, y in spans), (
            span,
            demo,
        )


def test_all_pictures_of_a_design_take_a_bounded_time() -> None:
    # About 1 s on an idle machine; the bound is for a busy one.
    start = time.process_time()
    model = model_of("keepers-desk")
    apart = exploded_scene(
        model, scenes_of("keepers-desk"), bulks_for("keepers-desk"), "front right above"
    )
    exploded_picture(model, apart, (), "All the pieces", STYLE)
    cover("keepers-desk")
    views("keepers-desk")
    assert time.process_time() - start < 12


def under_a_lid(hole: int) -> Picture:
    """Two pegs in two holes of a board, all under a lid; holes are coarser polygons than pegs."""
    places = ((5.0, 5.0), (35.0, 5.0))
    holes = [round_outline(0.77, hole, at) for at in places]
    board = prism(rectangle(0, 0, 40, 10), 4, holes)
    pegs = [
        (f"peg {n}", prism(round_outline(0.75, 16, at), 4, curved=True))
        for n, at in enumerate(places)
    ]
    lid = moved(prism(rectangle(-5, -5, 50, 20), 2), UNTURNED, (0.0, 0.0, 4.0))
    sizes = (words_as_figure("50"), words_as_figure("20"), words_as_figure("6"))
    return three_views([("board", board), *pegs, ("lid", lid)], sizes, "Views", STYLE)


def dashed_rings(svg: str) -> list[tuple[float, float]]:
    """The width and height of every dashed line that closes, mm."""
    found = []
    for attributes in re.findall(r"<path ([^>]*stroke-dasharray[^>]*)/>", svg):
        for line in lines_of(f"<path {attributes}/>"):
            if line.is_closed:
                low_x, low_y, high_x, high_y = line.bounds
                found.append((round(high_x - low_x, 1), round(high_y - low_y, 1)))
    return found


@pytest.mark.parametrize("hole", [8, 10, 12])
def test_a_peg_under_a_lid_is_a_dashed_circle_whatever_its_hole_is_like(hole: int) -> None:
    """The two polygons cross at every corner; the pieces were too short to draw, or all drawn."""
    picture = under_a_lid(hole)
    scale = picture.scale
    assert dashed_rings(picture.svg).count((round(1.5 * scale, 1), round(1.5 * scale, 1))) == 2
    for dashes in re.findall(r'stroke-dasharray="([\d. ]+)"', picture.svg):
        dash, gap = map(float, dashes.split())
        assert 0.3 <= gap <= dash


def test_a_hidden_circle_goes_on_across_a_line_that_is_seen() -> None:
    """It was cut in two arcs there, which looked like a letter S."""
    back = prism(rectangle(0, 0, 40, 10), 4, [round_outline(2.0, 16, (20.0, 5.0))])
    doors = [
        (f"door {n}", moved(prism(rectangle(n * 20, 0, 20, 10), 2), UNTURNED, (0.0, 0.0, 4.0)))
        for n in (0, 1)
    ]
    sizes = (words_as_figure("40"), words_as_figure("10"), words_as_figure("6"))
    picture = three_views([("back", back), *doors], sizes, "Views", STYLE)
    wide = round(4 * picture.scale, 1)
    assert (wide, wide) in dashed_rings(picture.svg)

"""Details: what would be too small or too hidden is shown larger, or from elsewhere."""

import math
import re
from pathlib import Path

import pytest
import shapely

from patternpress.assembly.checks.fitmoves import pins_of
from patternpress.assembly.model import work_out
from patternpress.assembly.solid import dot
from patternpress.design.read import read_design
from patternpress.drawing.details import (
    GAIN,
    LARGE,
    LONG,
    RADIUS,
    Detail,
    detail_of,
    fullest,
    size_on_paper,
)
from patternpress.drawing.framing import BESIDE, Room
from patternpress.drawing.framing import LARGE as LARGE_ROOM
from patternpress.drawing.ink import Stroke
from patternpress.drawing.insets import window_ink
from patternpress.drawing.leaders import shape_of
from patternpress.drawing.pictures import Staged, state_picture, step_picture
from patternpress.drawing.picturestyle import PictureStyle, large
from patternpress.drawing.rendering import scaled
from patternpress.drawing.scenes import step_scenes
from patternpress.drawing.things import bulks_of
from patternpress.drawing.views import FACE, choose_views
from tests.drawing.demo_pictures import DEMOS, STYLE, Drawn, drawn_steps, model_of

EVERY = [each for demo in DEMOS for each in drawn_steps(demo)]
MOST = 0.2  # of the steps have a detail because something is hidden


def details() -> list[tuple[Drawn, Detail]]:
    return [(each, each.detail) for each in EVERY if each.detail is not None]


# What leans in its hole: the floor of the hole is seen only by who looks along it.
PINS = {piece: on for demo in DEMOS for piece, on in pins_of(model_of(demo).worked).holders.items()}


@pytest.mark.parametrize("drawn", EVERY, ids=str)
def test_every_hidden_face_of_a_step_is_shown_by_its_detail(drawn: Drawn) -> None:
    choice = drawn.choice
    hidden = {f for f, s in choice.faces.items() if s < FACE and f not in choice.twins}
    if not hidden:
        assert drawn.detail is None or drawn.detail.shares == ()
        return
    assert drawn.detail is not None
    shares = dict(drawn.detail.shares)
    turned = {each.face: each.normal for each in drawn.scene.patches}
    parts = {item.key: item.part for item in drawn.scene.items}
    for face in hidden:
        if face[0] in PINS.get(face[2], ()):
            continue
        # Of like faces that look at each other, or lie in a row on one face, one may stand for all.
        alike = [
            shares[other]
            for other in shares
            if parts[other[2]] == parts[face[2]]
            and (other[:2] == face[:2] or dot(turned[other], turned[face]) < -0.5)
        ]
        assert max(shares.get(face, 0.0), *alike, 0.0) >= FACE


def test_at_most_one_step_in_five_needs_a_detail_for_what_is_hidden() -> None:
    needed = [each for each, detail in details() if detail.shares]
    assert 0 < len(needed) <= MOST * len(EVERY)


@pytest.mark.parametrize("drawn", EVERY, ids=str)
def test_what_is_small_in_print_has_a_detail(drawn: Drawn) -> None:
    if drawn.detail is not None:
        return
    for group in drawn.scene.groups:
        for thing in group.things:
            long, wide = size_on_paper(drawn.choice, thing, drawn.action.scale)
            assert long >= 9.0 or long * wide >= 36.0


def test_a_detail_of_a_small_thing_is_so_much_larger_than_the_picture() -> None:
    small = [(drawn, each) for drawn, each in details() if not each.shares]
    assert small
    for drawn, each in small:
        assert each.scale >= GAIN * fullest(drawn.choice.drawn)
        assert each.scale >= GAIN * drawn.action.scale
        assert each.eye == drawn.choice.eye
        thing = drawn.detail.scene.groups[0].things[0] if drawn.detail else ()
        long, wide = size_on_paper(drawn.choice, thing, fullest(drawn.choice.drawn))
        assert long < LONG and long * wide < LARGE


def test_a_detail_lies_beside_its_picture_and_nothing_lies_on_it() -> None:
    for drawn, _ in details():
        window, ring, tie, *words = drawn.action.busy
        assert window.bounds[2] - window.bounds[0] == pytest.approx(2 * RADIUS)
        assert drawn.action.silhouette.contains(window)
        for label in drawn.action.labels:
            box = shape_of(label.box)
            for shape in (window, ring, tie, *words):
                assert not box.intersects(shape), drawn
                assert not label.line.intersects(shape), drawn
        assert not any(arrow.intersects(window) for arrow in drawn.action.arrows)
        assert drawn.action.width == pytest.approx(BESIDE[0])


def test_the_ring_and_the_window_are_tied() -> None:
    for drawn, _ in details():
        window, ring, tie, *_ = drawn.action.busy
        assert tie.distance(ring) < 0.05
        assert tie.distance(window) < 0.05
        assert not shapely.Polygon(ring).intersects(window)


def test_a_detail_shows_which_way_its_thing_goes() -> None:
    shown = [each for _, each in details() if each.scene.groups]
    assert len(shown) >= 4
    for each in shown:
        arrows = [
            i for i in window_ink(each, STYLE) if isinstance(i, Stroke) and i.pen == STYLE.arrow
        ]
        assert len(arrows) == 1
        places = [(t.start, *((p.x, p.y) for p in t.pieces)) for t in arrows[0].tracks]
        assert all(math.hypot(x, y) < RADIUS for run in places for x, y in run)


def test_the_ring_round_a_hidden_place_is_small_and_that_round_a_small_thing_holds_it() -> None:
    for drawn, each in details():
        low, _, high, _ = drawn.action.busy[1].bounds
        if each.shares:
            assert high - low <= 9.1
        else:
            assert (high - low) / 2 == pytest.approx(max(2.2, each.radius * drawn.action.scale))


def test_a_detail_seen_from_elsewhere_says_so() -> None:
    elsewhere = [(drawn, each) for drawn, each in details() if each.eye != drawn.choice.eye]
    assert elsewhere
    for drawn, _ in elsewhere:
        assert "from below" in drawn.action.svg or "from the back" in drawn.action.svg


@pytest.mark.parametrize(("style", "room"), [(STYLE, BESIDE), (large(STYLE), LARGE_ROOM)])
def test_the_words_under_a_detail_lie_on_nothing(style: PictureStyle, room: Room) -> None:
    worded = 0
    for drawn, detail in details():
        choice = drawn.choice
        picture = step_picture(Staged(choice, detail=detail), "Detail", style, room)
        for words in picture.busy[3:]:
            worded += 1
            assert not words.intersects(scaled(choice.drawn.whole, picture.scale)), drawn
    assert worded >= 2


def test_the_same_step_has_the_same_detail() -> None:
    for drawn, detail in details():
        again = detail_of(drawn.choice)
        assert again is not None
        assert (again.eye, again.middle, again.radius) == (detail.eye, detail.middle, detail.radius)


PINNED = Path(__file__).parent / "pinned-doors.yaml"


def test_a_detail_of_a_small_thing_shows_the_thing() -> None:
    """Close to its place a pin was behind the side: the window showed an arrow and nothing else."""
    reading = read_design(PINNED)
    assert reading.book is not None
    model = work_out(reading, "metric")
    scenes = step_scenes(model, bulks_of(model.worked))
    details = [detail_of(choice) for choice in choose_views(scenes)]
    found = [each for each in details if each is not None and not each.shares]
    assert [each.thing.split()[-1] for each in found] == ["pin"]
    for each in found:
        window = shapely.Point(each.middle).buffer(each.radius)
        seen = shapely.union_all(list(each.drawn.seen_of(each.thing).values()))
        whole = each.drawn.outline([each.thing])
        assert shapely.intersection(seen, window).area > 0.2 * whole.area


def test_what_is_hidden_and_thin_on_the_paper_is_left_out_of_the_picture() -> None:
    """The two sides of its outline, dashed, came out as a letter S."""
    reading = read_design(PINNED)
    assert reading.book is not None
    model = work_out(reading, "metric")
    scenes = step_scenes(model, bulks_of(model.worked))
    scene, choice = scenes[-1], choose_views(scenes)[-1]
    svg = state_picture(scene, choice, "Done", STYLE, most=0.8).svg
    unseen = [a for a in re.findall(r"<path ([^>]*)>", svg) if 'dasharray="1.2 0.8"' in a]
    assert not unseen

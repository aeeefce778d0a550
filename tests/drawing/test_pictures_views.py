"""Where one stands: enough is seen of new pieces and of faces that take glue."""

import pytest

from patternpress.drawing.views import EYES, FACE, FIRST, PIECE, choose_views, measured, view_of
from tests.drawing.demo_pictures import DEMOS, drawn_steps, scenes_of

MOST_EXCEPTIONS = 0.2  # one in five


@pytest.mark.parametrize("demo", DEMOS)
def test_half_of_every_new_piece_is_seen(demo: str) -> None:
    shares = [s for each in drawn_steps(demo) for s in each.choice.things.values()]
    small = [share for share in shares if share < PIECE]
    assert len(small) <= MOST_EXCEPTIONS * len(shares)
    assert min(shares) > 0.2


@pytest.mark.parametrize("demo", DEMOS)
def test_a_fifth_of_every_glued_face_is_seen(demo: str) -> None:
    faces = [
        share
        for each in drawn_steps(demo)
        for face, share in each.choice.faces.items()
        if face not in each.choice.twins
    ]
    small = [share for share in faces if share < FACE]
    assert len(small) <= MOST_EXCEPTIONS * len(faces)


@pytest.mark.parametrize("demo", DEMOS)
def test_the_view_changes_seldom(demo: str) -> None:
    changed = [each.choice.changed for each in drawn_steps(demo)]
    assert sum(changed) <= MOST_EXCEPTIONS * len(changed) + 1


def test_nobody_looks_from_below_at_a_bench() -> None:
    for demo in DEMOS:
        for each in drawn_steps(demo):
            assert EYES[each.choice.eye][2] > 0


def test_the_choice_tells_what_the_picture_shows() -> None:
    for each in drawn_steps("keepers-desk"):
        again = measured(each.choice.scene, each.choice.eye)
        assert again.things == each.choice.things
        assert again.faces == each.choice.faces


def test_a_view_stays_as_long_as_it_shows_enough() -> None:
    for demo in DEMOS:
        held: dict[str, str] = {}
        for each in choose_views(scenes_of(demo)):
            work = each.scene.work
            before = held.get(work, FIRST)
            if each.scene.seen_from:
                assert each.eye == each.scene.seen_from
            elif not measured(each.scene, before).failing:
                assert each.eye == before
            held[work] = each.eye


def test_what_is_hidden_counts_as_failing() -> None:
    # From straight above, nothing but the lid is seen of a step that puts in the drawers.
    scene = next(each for each in scenes_of("keepers-desk") if each.number == 3)
    front = measured(scene, "front right above")
    behind = measured(scene, "back left above")
    assert behind.failing > front.failing


@pytest.mark.parametrize("lies", ["upright", "on its back", "on its top"])
@pytest.mark.parametrize("eye", sorted(EYES))
def test_every_view_is_a_right_handed_one(eye: str, lies: str) -> None:
    view = view_of(eye, lies)
    assert sum(part * part for part in view.toward) == pytest.approx(1.0)

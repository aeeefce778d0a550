"""What makes a step easy to read, as numbers over the demos.

Its pieces are large enough to be seen, they are few, and equal ones come together and are told
with their number.  The limits are ours; common practice, no source.
"""

from __future__ import annotations

from collections import defaultdict

import pytest

from tests.drawing.demo_pictures import DEMOS, Drawn, drawn_steps, model_of
from tests.drawing.svg_reader import words_of

PIXEL = 25.4 / 96  # mm, CSS
LEAST = 25  # pixels that are seen of a new piece, in the picture or in the window of its detail
MOST_THINGS, MOST_KINDS = 4, 2  # cut pieces and sub-assemblies of a step


def pixels(drawn: Drawn, keys: tuple[str, ...]) -> float:
    """What is seen of a thing in the printed picture of its step."""
    area = sum(drawn.choice.drawn.areas.get(key, 0.0) for key in keys)
    return area * (drawn.action.scale / PIXEL) ** 2


def magnified(drawn: Drawn, owner: str) -> float:
    """What is seen, in the window of the step's detail, of a thing of one kind."""
    detail = drawn.detail
    group = next((g for g in drawn.scene.groups if detail and detail.thing in g.keys), None)
    if detail is None or group is None or group.owner != owner:
        return 0.0
    keys = next(keys for keys in group.things if detail.thing in keys)
    area = sum(detail.drawn.areas.get(key, 0.0) for key in keys)
    return area * (detail.scale / PIXEL) ** 2


@pytest.mark.parametrize("demo", DEMOS)
def test_every_new_piece_is_large_enough_to_be_seen(demo: str) -> None:
    small = {
        (drawn.scene.number, keys)
        for drawn in drawn_steps(demo)
        for group in drawn.scene.groups
        for keys in group.things
        if pixels(drawn, keys) < LEAST and magnified(drawn, group.owner) < LEAST
    }
    assert small == set()


def test_a_pin_is_seen_in_its_detail_alone() -> None:
    """0.8 mm thick and 5 mm long, in the picture of a cupboard 54 mm high."""
    (last,) = [each for each in drawn_steps("smaller/oil-cupboard") if each.scene.number == 9]
    assert 0 < pixels(last, ("lower pin",)) < LEAST < magnified(last, "pin")


@pytest.mark.parametrize("demo", DEMOS)
def test_a_step_brings_few_things_of_few_kinds(demo: str) -> None:
    """What is bought and driven into its hole is not counted: it holds by itself."""
    for drawn in drawn_steps(demo):
        groups = drawn.scene.groups
        assert sum(len(group.things) for group in groups) <= MOST_THINGS, drawn
        assert len({group.owner for group in groups}) <= MOST_KINDS, drawn


@pytest.mark.parametrize("demo", DEMOS)
def test_equal_things_with_one_motion_are_one_group_with_their_number(demo: str) -> None:
    for drawn in drawn_steps(demo):
        groups = drawn.scene.groups
        motions = [(group.owner, group.motion.way) for group in groups]
        assert len(motions) == len(set(motions)), drawn
        words = {text.strip() for text, _, _ in words_of(drawn.action.svg)}
        for group in groups:
            if len(group.things) > 2 and group.letter:
                assert f"{len(group.things)} × {group.letter}" in words, drawn


def test_equal_pieces_come_into_a_work_in_one_step() -> None:
    """The two shelves of the signal shelf do not: the upper one is built by itself first."""
    steps: dict[tuple[str, str, str], set[int]] = defaultdict(set)
    for demo in DEMOS:
        for drawn in drawn_steps(demo):
            for group in drawn.scene.groups:
                steps[demo, drawn.scene.work, group.owner].add(drawn.scene.number)
    assert {key for key, numbers in steps.items() if len(numbers) > 1} == set()


def test_the_demos_hold_what_is_asked() -> None:
    every = [each for demo in DEMOS for each in drawn_steps(demo)]
    several = [g for each in every for g in each.scene.groups if len(g.things) > 1]
    assert len(several) >= 8
    assert len({len(g.things) for g in several}) >= 3
    assert all(model_of(demo).worked.usage.steps for demo in DEMOS)

"""Pieces of one copy of a sub-assembly, as a later step calls them: “post of left trestle”."""

from __future__ import annotations

import pytest

from patternpress.assembly.model import check
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from tests.booklet.test_sentences import plainly
from tests.whole.small import errors, model, read

BENCH = """
design: Trestle bench
scale: 1:12
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm, cut with: fine saw}
  wire: {rod: 1 mm, sold: 300 mm, cut with: fine saw}
parts:
  foot: {stock: board, wide: 20 mm, deep: 30 mm}
  post:
    stock: board
    deep: 30 mm
    high: 20 mm
    holes: {rail hole: {round: 1 mm, at: centre}}
  top: {stock: board, wide: 58 mm, deep: 30 mm}
  rail: {stock: wire, wide: 44 mm}
sub-assemblies:
  SUBS
tools: fine saw
materials:
  wood glue: {kind: glue, workable: 5 to 10 min, handle: 30 min, hard: 24 h}
steps:
  - step: Make the trestles
    builds: left trestle
    start: foot
    join:
      post: {bottom: against foot, left: 4 mm inside foot, front: flush with foot}
  - step: Join them
    start: left trestle
    join:
      right trestle:
        left: 18 mm from right of left trestle
        front: flush with left trestle
        bottom: flush with left trestle
      rail: {left: 2 mm beyond OTHER, right: through rail hole of the post of right trestle}
      top:
        bottom: against OTHER and post of right trestle
        left: flush with left trestle
        front: flush with OTHER
"""
TWINS = {
    "copies": ("left trestle", "trestle: {copies: [left trestle, right trestle]}"),
    "same as": ("left trestle", "left trestle: {}\n  right trestle: {same as: left trestle}"),
    "mirror of": ("left trestle", "left trestle: {}\n  right trestle: {mirror of: left trestle}"),
}


def bench(twins: str) -> str:
    _, subs = TWINS[twins]
    text = BENCH.replace("SUBS", subs)
    if twins == "copies":
        return text.replace("builds: left", "builds: ").replace("OTHER", "post of left trestle")
    return text.replace("OTHER", "post")


@pytest.mark.parametrize("twins", TWINS)
def test_a_piece_of_a_copy_is_where_its_copy_is(twins: str) -> None:
    text = bench(twins)
    assert errors(read(text)) == ()
    placed = {each.key: each for each in model(text).assembly.placed}
    left = "left trestle/post" if twins == "copies" else "post"
    # The right trestle begins 38 mm from the left end; mirrored, its post reaches to 16 mm of 20.
    right = 38 + (16 if twins == "mirror of" else 4)
    assert placed[left].pose.offset[0] == 4
    assert placed["right trestle/post"].pose.offset[0] == right
    assert placed["rail"].pose.offset[0] == 2  # 2 mm beyond the left post
    assert placed["top"].pose.offset[2] == 22  # on both posts


@pytest.mark.parametrize("twins", TWINS)
def test_it_is_told_with_its_copy(twins: str) -> None:
    made = model(bench(twins))
    told = " ".join(plainly(actions(made.worked.usage.steps[1], Wording(made, read_phrases("en")))))
    assert "the rail hole of the post (B) of the right trestle" in told
    assert ("the post (B) of the left trestle" in told) == (twins == "copies")


def test_german_and_french_tell_whose_it_is() -> None:
    made = model(bench("copies"))
    said = {
        tag: " ".join(
            plainly(actions(made.worked.usage.steps[1], Wording(made, read_phrases(tag))))
        )
        for tag in ("de", "fr")
    }
    assert "von left trestle" in said["de"]
    assert "de left trestle" in said["fr"]


def test_posts_of_unlike_height_contradict_each_other() -> None:
    text = bench("copies").replace(
        "bottom: flush with left trestle\n", "bottom: 1 mm beyond left trestle\n"
    )
    told = [each for each in check(read(text)) if each.code == "said-two-ways"]
    assert [each.facts["by"] for each in told] == ["1 mm (0.039 in)"]
    assert told[0].facts["piece"] == "top"


def test_what_lies_on_a_piece_of_a_copy_must_meet_it() -> None:
    text = bench("copies").replace(
        "front: flush with post of left", "front: 31 mm from back of post of left"
    )
    told = [each for each in check(read(text)) if each.code == "joint-gapes"]
    assert {each.facts["other"] for each in told} == {
        "post of left trestle",
        "post of right trestle",
    }


def test_a_part_that_is_marked_bears_the_mark_on_each_piece() -> None:
    """“on: right of side” for a part of two pieces: what goes on it was left free to slide."""
    text = """
design: Two sides
stock:
  board: {sheet: 2 mm}
parts:
  side: {stock: board, deep: 30 mm, high: 40 mm, pieces: [left side, right side]}
  shelf: {stock: board, wide: 50 mm, deep: 30 mm}
marks:
  shelf line: {on: right of side, line: 12 mm from bottom}
steps:
  - step: Glue it
    start: left side
    mark: shelf line
    join:
      shelf: {left: against left side, bottom: on shelf line, front: flush with left side}
      right side: {left: against shelf, bottom: flush with left side, front: flush with left side}
"""
    assert errors(read(text)) == ()
    placed = {each.key: each for each in model(text).assembly.placed}
    assert placed["shelf"].pose.offset[2] == 12

"""Edges that steps round over or chamfer, in the wood that pictures show.

The losses are those of plane geometry: a chamfer takes half a square of its size from the edge's
section, a round-over (1 − π/4)·r².
"""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import pytest

from patternpress.assembly.easings import Easing, eased, easings_of
from patternpress.assembly.joining import joined
from patternpress.assembly.solid import Solid, check_closed, edges, volume
from patternpress.assembly.solids import blocks_of
from patternpress.assembly.worked import Worked, work
from patternpress.design.read import read_text
from patternpress.drawing.things import bulks_of, step_bulks

DESIGN = """
design: Bollard shelf
scale: 1:12
units: mm
stock:
  board: {sheet: 2 mm}
  rod: {rod: 3 mm}
tools: {sanding block: {}}
choices:
  look: {ask: Plain or smart, answers: {plain: {means: As it is.}, smart: {means: With care.}}}
parts:
  shelf: {stock: board, wide: 40 mm, deep: 20 mm}
  bowed: {stock: board, wide: 40 mm, deep: 20 mm, edges: {front: arched 2 mm}}
  hollow: {stock: board, wide: 40 mm, deep: 20 mm, edges: {front: hollowed 2 mm}}
  notched: {stock: board, deep: 40 mm, high: 25 mm, corners: {top front: notch 5 x 3 mm}}
  pair: {stock: board, wide: 40 mm, deep: 20 mm, pieces: upper pair and lower pair}
  lid: {stock: board, wide: 40 mm, deep: 20 mm}
  peg: {stock: rod, deep: 12 mm}
steps:
  - step: Shape
    treat:
      - {round over: front edge of shelf, by: 0.8 mm}
      - round over: front edge of bowed, front edge of hollow, top front edge of notched
        by: 0.8 mm
      - {round over: front edge of upper pair, by: 0.8 mm}
      - {round over: back edge of shelf, by: 0.1 mm}
      - {chamfer: top of lid, by: 0.5 mm}
      - {chamfer: front end of peg, by: 0.5 mm}
      - {ease: all edges of lid}
  - step: Shape more
    afterwards:
      - {round over: left edge of shelf, by: 0.8 mm}
      - {chamfer: top right edge of shelf, by: 0.5 mm, only if: smart}
"""
LOSS = 1 - math.pi / 4


@cache
def worked() -> Worked:
    reading = read_text(DESIGN, "bollard.yaml", Path(__file__).parent)
    assert reading.book is not None
    return work(reading.book, reading.names)


def wood(name: str) -> tuple[Solid, Solid]:
    """A part before and after its edges are taken off, curves to 0.003 mm."""
    part = worked().part(name)
    assert part is not None
    blocks = blocks_of(part, worked().shapes.get(name), worked().solver, 0.003)
    return joined(blocks), joined(eased(blocks, easings_of(worked())[name], 0.003))


def test_a_rounded_front_loses_what_the_formula_says() -> None:
    """Both long edges of a bowed front: what a round-over of 0.8 mm takes, along their length."""
    sharp, soft = wood("bowed")
    assert check_closed(soft) == ()
    long = 0.0
    for e in edges(sharp):
        sides = {sharp.facets[i].side for i in (e.left, e.right) if i is not None}
        if sides == {"front", "top"}:
            long += math.dist(sharp.points[e.start], sharp.points[e.end])
    assert volume(sharp) - volume(soft) == pytest.approx(2 * LOSS * 0.64 * long, rel=0.02)


def test_a_chamfer_all_round_the_top() -> None:
    """Four edges of half a square of 0.5 mm, less what they share at the mitred corners: of each
    of the four corners a pyramid of a third of 0.5³."""
    sharp, soft = wood("lid")
    assert check_closed(soft) == ()
    lost = 0.125 * 2 * (40 + 20) - 4 * 0.5**3 / 3
    assert volume(sharp) - volume(soft) == pytest.approx(lost, abs=1e-6)


def test_a_chamfered_end_of_a_rod_is_a_cone() -> None:
    """By Pappus: half a square of 0.5 mm carried round at 1.5 − 0.5 / 3 mm from the axis."""
    sharp, soft = wood("peg")
    assert volume(sharp) - volume(soft) == pytest.approx(
        0.125 * 2 * math.pi * (1.5 - 0.5 / 3), rel=0.02
    )


def test_what_is_not_clear_stays_sharp() -> None:
    found = easings_of(worked())
    assert "pair" not in found
    for name in ("hollow", "notched"):
        sharp, soft = wood(name)
        assert volume(soft) == volume(sharp)


def test_edges_are_sharp_until_their_step() -> None:
    left = {Easing("round over", ("left", end), 0.8) for end in ("bottom", "top")}
    assert "shelf" not in easings_of(worked(), 0)
    assert not left & set(easings_of(worked(), 2)["shelf"])
    assert left <= set(easings_of(worked())["shelf"])
    assert all(each.verb != "chamfer" for each in easings_of(worked())["shelf"])
    last = bulks_of(worked())
    assert volume(step_bulks(worked(), last, 0)["shelf"].solid) == pytest.approx(1600)
    assert volume(last["shelf"].solid) < 1600 - 4 * 0.1

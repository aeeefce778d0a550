"""Whole designs against a library for solids: each part's volume, and what pieces share.

manifold3d gets the facets of each part's solid once, moves them by the exact poses and intersects
them itself; it knows nothing of our convex blocks.
"""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import manifold3d
import numpy as np
import pytest

from patternpress.assembly.bulks import Bulks, bulks_of
from patternpress.assembly.convex import boxes_touch, clashes
from patternpress.assembly.placing import Assembly, Placed, assemble
from patternpress.assembly.solid import centre, volume
from patternpress.assembly.worked import work
from patternpress.design.read import read_text
from tests.assembly.test_solids import manifold, mesh

DESIGNS = Path(__file__).parents[2] / "designs"
# What is bent or leans in a straight hole is drawn as straight wood.
PINNED = {"peg"}
# A hundredth of a millimetre over a square millimetre, mm³.
NOTHING = 0.01


# Each demo with how many parts have a solid, and how many pairs of pieces lie near each other, at
# least.
DEMOS = {
    "keepers-desk": (12, 30),
    "signal-shelf": (12, 30),
    "net-tote": (4, 8),
    "smaller/oil-cupboard": (7, 10),
}


def placed_in(demo: str, *changes: tuple[str, str]) -> tuple[Bulks, Assembly]:
    path = DESIGNS / f"{demo}.yaml"
    text = path.read_text("utf-8")
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    reading = read_text(text, path.name, path.parent)
    assert reading.book is not None
    worked = work(reading.book, reading.names)
    assembly = assemble(worked)
    return bulks_of(worked, assembly), assembly


def shared(bulks: Bulks, assembly: Assembly) -> dict[tuple[str, str], float]:
    """The volume, mm³, that each pair of pieces of the finished design shares in the library."""
    solids: dict[str, manifold3d.Manifold] = {}
    there: list[tuple[Placed, manifold3d.Manifold]] = []
    for each in assembly.placed:
        plain = bulks.part(each.part)
        if plain is None or each.part in PINNED:
            continue
        if each.part not in solids:
            solids[each.part] = manifold(plain.solid)
        rows = [[float(x) for x in row] for row in each.pose.matrix]
        pose = np.column_stack([np.array(rows), [float(x) for x in each.pose.offset]])
        there.append((each, solids[each.part].transform(pose)))
    found = {}
    for (one, mine), (two, theirs) in combinations(there, 2):
        a, b = bulks.of(one), bulks.of(two)
        if a is not None and b is not None and boxes_touch(a, b, 0.0):
            found[one.key, two.key] = abs((mine ^ theirs).volume())
    return found


@pytest.mark.parametrize("demo", DEMOS)
def test_the_solids_of_every_part_are_the_librarys(demo: str) -> None:
    bulks, assembly = placed_in(demo)
    tried = 0
    for name in assembly.bodies:
        plain = bulks.part(name)
        if plain is not None:
            whole = mesh(plain.solid)
            assert whole.is_watertight
            assert volume(plain.solid) == pytest.approx(whole.volume, rel=1e-6)
            assert centre(plain.solid) == pytest.approx(tuple(whole.center_mass), abs=1e-4)
            assert manifold(plain.solid).volume() == pytest.approx(whole.volume, rel=1e-5)
            tried += 1
    assert tried >= DEMOS[demo][0]


@pytest.mark.parametrize("demo", DEMOS)
def test_no_two_pieces_of_a_sound_design_share_wood(demo: str) -> None:
    found = shared(*placed_in(demo))
    assert len(found) >= DEMOS[demo][1]
    assert {pair: much for pair, much in found.items() if much > NOTHING} == {}


def test_what_clashes_for_us_shares_wood_there() -> None:
    """Dividers and a back that stand into the sloping lid: the same pairs, and no other."""
    bulks, assembly = placed_in("keepers-desk", ("lid gap: {is: 0.5 mm", "lid gap: {is: -0.5 mm"))
    library = {pair for pair, much in shared(bulks, assembly).items() if much > NOTHING}
    solids = [(each.key, bulk) for each in assembly.placed if (bulk := bulks.of(each)) is not None]
    ours = clashes([bulk for _, bulk in solids], NOTHING)
    assert {(solids[i][0], solids[j][0]) for i, j, _ in ours} == library
    assert library == {("back", "lid"), ("divider 1", "lid"), ("divider 2", "lid")}

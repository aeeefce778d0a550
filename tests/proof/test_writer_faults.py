"""Faults in the code that draws and presses are found in the file it makes.

The proof shares no code with the writer, so whatever the writer gets wrong it still sees.  Each
build shares its pictures with the first; only what the fault touches is drawn and pressed again.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from pikepdf import Name

from patternpress.booklet import inktags
from patternpress.booklet.build import Cache, make_edition
from patternpress.design.read import Reading, read_design
from patternpress.drawing import (
    bars,
    captions,
    features,
    foot,
    fromparts,
    numbers,
    seamplaces,
    seams,
    sheets,
    svg,
    template,
    tiles,
    tilesheets,
)
from patternpress.drawing.curves import pieces
from patternpress.drawing.ink import Extent, outline_track, shifted, stretched
from patternpress.proof.prove import prove

Patch = pytest.MonkeyPatch


@pytest.fixture(scope="module")
def reading() -> Reading:
    """Of a design with a curved template, a handed pair and a template on several sheets."""
    return read_design(Path(__file__).with_name("writer.yaml"))


@pytest.fixture(scope="module")
def cache() -> Cache:
    return {}


def wrapped(patch: Patch, module: Any, name: str, change: Callable[[Any], Any]) -> None:
    """Let a function's result be changed before it is given back."""
    before = getattr(module, name)
    patch.setattr(module, name, lambda *a, **k: change(before(*a, **k)))


def everything_two_thousandths_larger(patch: Patch) -> None:
    before = svg.filled
    patch.setattr(svg, "filled", lambda text, found: before(text, [x * 1.002 for x in found]))


def parts_drawn_smaller(patch: Patch) -> None:
    before = template.scaled_shape
    patch.setattr(template, "scaled_shape", lambda s, by: before(s, by * Fraction(997, 1000)))


def curves_cut_coarsely(patch: Patch) -> None:
    before = outline_track

    def coarse(outline: Any) -> Any:
        track = before(outline)
        return replace(track, pieces=pieces(outline, Fraction(1, 2)))

    for module in (template, features):
        patch.setattr(module, "outline_track", coarse)
    patch.setattr("patternpress.drawing.curves.arc_pieces", lambda radius, turn, error: 1)


def holes_off_by_a_hair(patch: Patch) -> None:
    def change(feature: Any) -> Any:
        return replace(feature, ink=shifted(feature.ink, 0.03, 0))

    wrapped(patch, features, "_hole", change)


def marks_off_by_a_hair(patch: Patch) -> None:
    def change(found: Any) -> Any:
        return [replace(each, ink=shifted(each.ink, 0, 0.04)) for each in found]

    wrapped(patch, features, "_marks", change)


def figures_cut_short(patch: Patch) -> None:
    before, hole = svg.filled, numbers.HOLE
    patch.setattr(numbers, "DECIMALS", 1)
    patch.setattr(svg, "filled", lambda text, x: before(text.replace(hole, "%.1f\n"), x))


def twin_not_mirrored(patch: Patch) -> None:
    wrapped(patch, fromparts, "shapes_of_hands", lambda found: found[:1] * len(found))


def letters_mixed_up(patch: Patch) -> None:
    wrong = captions._beside
    patch.setattr(captions, "_beside", lambda letter, rows, style: wrong("Z", rows, style))


def sizes_of_the_other_axis(patch: Patch) -> None:
    before = fromparts._drawn
    patch.setattr(fromparts, "_drawn", lambda p, s, page, e: before(p, s, 1 - page, e))


def inches_of_25_millimetres(patch: Patch) -> None:
    patch.setattr(bars, "INCH", 25.0)


def one_template_forgotten(patch: Patch) -> None:
    before = sheets._page
    patch.setattr(sheets, "_page", lambda things, spots, *more: before(things, spots[1:], *more))


def sheets_cut_askew(patch: Patch) -> None:
    """Each tile shows a stretch a little to the right of what it says."""
    before = tiles.clipped_ink

    def change(ink: Any, window: Any) -> Any:
        return before(ink, replace(window, left=window.left + 0.5, right=window.right + 0.5))

    patch.setattr(tiles, "clipped_ink", change)


def sheets_that_share_too_little(patch: Patch) -> None:
    patch.setattr(seamplaces, "OVERLAP", 1.0)


def sheets_joined_askew(patch: Patch) -> None:
    """What joins sheets is drawn a hair beside the place on the part that it stands for."""
    wrapped(patch, tiles, "seam_ink", lambda ink: shifted(ink, 0.03, 0))


def seams_with_one_letter(patch: Patch) -> None:
    before = seams.words
    patch.setattr(seams, "words", lambda text: before("x" if len(text) == 1 else text))


def diagonal_of_the_outline(patch: Patch) -> None:
    wrong = SimpleNamespace(ceil=math.ceil, dist=lambda one, two: abs(one[0] - two[0]))
    patch.setattr(tiles, "math", wrong)


def sheets_on_the_map_back_to_front(patch: Patch) -> None:
    before = tilesheets._on_map

    def change(tile: Any, tiled: Any, scale: float) -> Any:
        box = before(tile, tiled, scale)
        wide, high = tiled.whole.width * scale, tiled.whole.height * scale
        return Extent(wide - box.right, high - box.top, wide - box.left, high - box.bottom)

    patch.setattr(tilesheets, "_on_map", change)


def square_out_of_square(patch: Patch) -> None:
    wrapped(patch, foot, "check_square", lambda b: replace(b, ink=stretched(b.ink, 1.001, 1)))


def tags_forgotten(patch: Patch) -> None:
    patch.setattr(inktags, "TAG", "data-no-tag")


def scaling_left_to_the_printer(patch: Patch) -> None:
    patch.setattr("patternpress.booklet.join.NO_SCALING", Name.None_)


FAULTS = (
    (parts_drawn_smaller, "outline-off"),
    (curves_cut_coarsely, "outline-off"),
    (holes_off_by_a_hair, "hole-off"),
    (marks_off_by_a_hair, "mark-off"),
    (everything_two_thousandths_larger, "outline-off"),
    (figures_cut_short, "outline-off"),
    (twin_not_mirrored, "outline-off"),
    (letters_mixed_up, "letter-differs"),
    (sizes_of_the_other_axis, "label-differs"),
    (inches_of_25_millimetres, "bar-wrong"),
    (one_template_forgotten, "template-missing"),
    (tags_forgotten, "template-missing"),
    (sheets_cut_askew, "outline-off"),
    (sheets_that_share_too_little, "sheets-gap"),
    (sheets_joined_askew, "seam-off"),
    (seams_with_one_letter, "seam-wrong"),
    (diagonal_of_the_outline, "diagonal-differs"),
    (sheets_on_the_map_back_to_front, "map-wrong"),
    (square_out_of_square, "square-wrong"),
    (scaling_left_to_the_printer, "print-scaling"),
)


@pytest.mark.parametrize(("fault", "code"), FAULTS, ids=lambda f: getattr(f, "__name__", f))
def test_a_fault_of_the_writer_is_found(
    fault: Callable[[Patch], None],
    code: str,
    reading: Reading,
    cache: Cache,
    monkeypatch: Patch,
) -> None:
    # Template sheets are what most faults draw wrongly: none may come from a build before.
    for name in [name for name in cache if name.startswith("sheets:")]:
        del cache[name]
    if fault is tags_forgotten:  # by the press, which would know the sound sheets again
        cache = {}
    fault(monkeypatch)
    made = make_edition(reading, "metric", cache=cache)
    assert code in {each.code for each in prove(made.pdf, made.facts).findings}

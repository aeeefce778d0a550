"""Editions that save ink: measured on their pages beside those of the usual edition.

What fills an area is what a brush of 1.2 mm finds once all lines and letters are painted over.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pypdfium2
import pytest
from PIL import Image, ImageFilter

from patternpress.booklet.build import press_model
from patternpress.booklet.fill import content_of
from tests.whole.small import BODY, STEP, TOP, model

DPI = 100
BRUSH = 5  # pixels: 1.27 mm
JOIN = """\
    start: base
    join:
      left side: {bottom: against base, left: flush with base, front: flush with base}
      right side: {bottom: against base, right: flush with base, front: flush with base}
      shelf: {left: against left side, back: flush with base, bottom: on shelf line}
"""
DESIGN = TOP + BODY + STEP + JOIN


@cache
def pages(ink: str) -> tuple[Image.Image, ...]:
    made = model(DESIGN)
    edition = replace(made.edition, ink=ink)
    with pypdfium2.PdfDocument(press_model(replace(made, edition=edition)).pdf) as pdf:
        return tuple(page.render(scale=DPI / 72).to_pil().convert("RGB") for page in pdf)


def darkness(page: Image.Image) -> float:
    return float(255 - np.asarray(page.convert("L"), float).mean())


def areas(page: Image.Image) -> Image.Image:
    """A page without all that is thinner than the brush."""
    grey = page.convert("L")
    return grey.filter(ImageFilter.MaxFilter(BRUSH)).filter(ImageFilter.MinFilter(BRUSH))


def test_areas_take_at_most_half_of_the_ink() -> None:
    usual, saving = (
        sum(darkness(areas(page)) for page in pages(ink)) for ink in ("normal", "saving")
    )
    assert usual > 1
    assert saving <= usual / 2


def test_no_page_takes_more_ink() -> None:
    usual, saving = pages("normal"), pages("saving")
    assert len(saving) == len(usual)
    more = [n for n, (a, b) in enumerate(zip(usual, saving, strict=True), 1)
            if darkness(b) > darkness(a) + 0.02]  # fmt: skip
    assert more == []
    assert sum(map(darkness, saving)) < 0.95 * sum(map(darkness, usual))


def test_it_is_printed_in_black_alone() -> None:
    def coloured(ink: str) -> bool:
        return any(np.ptp(np.asarray(page, int), axis=2).max() > 8 for page in pages(ink))

    assert coloured("normal")
    assert not coloured("saving")


@pytest.mark.parametrize("change", [{"ink": "saving"}, {"letters": "large"}], ids=str)
def test_templates_are_the_same(change: dict[str, str]) -> None:
    """A pencil follows their lines, so they alone have one look; the pictures do change."""
    made = model(DESIGN)
    usual, other = (
        content_of(replace(made, edition=replace(made.edition, **each))) for each in ({}, change)
    )
    assert usual.templates and other.templates == usual.templates
    drawn = [each.steps[0].steps[0].figures[0].picture for each in (usual, other)]
    assert drawn[0] != drawn[1]

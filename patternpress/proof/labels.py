"""Templates judged by what is written at them, from the file alone.

In: a `Booklet`.  Out: how far each outline is from the size that stands at it, and findings.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy
import shapely

from patternpress.proof.amounts import (
    Amount,
    Rounding,
    agrees,
    amounts_of,
    plain,
    rounding_of,
    with_brackets,
)
from patternpress.proof.drawings import Drawing, covers, drawings_of, strangers
from patternpress.proof.findings import Counted, Judged, Measured, finding
from patternpress.proof.geometry import box_of
from patternpress.proof.reading import Booklet

LEAST = 8.0  # mm: a wide line around less than this is no part


def labels(booklet: Booklet) -> Iterator[Judged]:
    """Each template measures what it says, bears its letter, and says when it is reduced."""
    rounding = rounding_of(booklet.info.get("PatternRounding", ""))
    rounding = with_brackets(rounding, booklet.info.get("PatternBrackets", ""))
    found = drawings_of(booklet)
    for drawing in found:
        yield from _judged(drawing, rounding, booklet.language)
    for page, points in strangers(booklet):
        left, low, right, high = box_of(points)
        if min(right - left, high - low) > LEAST:
            facts = {"width": right - left, "height": high - low}
            yield finding("template-unnamed", page.number, **facts)
    yield from _covered(booklet, found)
    yield Counted("templates", len(found))


def _covered(booklet: Booklet, drawings: Sequence[Drawing]) -> Iterator[Judged]:
    for page, points in covers(booklet):
        white = shapely.box(*box_of(points))
        for drawing in drawings:
            lines = drawing.lines("outline") if drawing.page == page.number else []
            if any(white.intersects(shapely.LineString(line)) for line in lines):
                yield finding("template-covered", page.number, part=drawing.part)


def _judged(drawing: Drawing, rounding: Rounding, language: str) -> Iterator[Judged]:
    part, page = drawing.part, drawing.page
    yield from _named(drawing)
    outline = drawing.lines("outline")
    if not outline:
        # A tile from the middle of a part has none.
        if drawing.window is None and not drawing.only_words:
            yield finding("template-empty", page, part=part)
        return
    left, low, right, high = box_of(numpy.vstack(outline))
    wide, tall = (right - left) / float(drawing.scale), (high - low) / float(drawing.scale)
    sides = {"across": tall, "up": wide} if drawing.turned else {"across": wide, "up": tall}
    worst = allowed = 0.0
    for of, measured in sides.items():
        for said in drawing.said(of):
            for amount in amounts_of(said, language):
                worst = max(worst, _off(amount, measured))
                allowed = max(allowed, float(rounding.step(amount.unit)))
                if not agrees(amount, measured, rounding, _slack(drawing)):
                    facts = {"said": said, "measured": measured}
                    yield finding("label-differs", page, part=part, **facts)
    if not drawing.said("across"):
        if drawing.window is None:
            yield from _by_size(drawing, sides, rounding, language)
        return
    what = f"size written at part {part}{drawing.called}, to its outline"
    yield Measured(what, page, worst, allowed)


def _named(drawing: Drawing) -> Iterator[Judged]:
    """Its lines, its letter and its scale are what they should be."""
    part, page = drawing.part, drawing.page
    if drawing.covers:
        yield finding("template-covered", page, part=part)
    if drawing.unnamed:
        yield finding("line-unnamed", page, part=part)
    for said in drawing.said("letter"):
        if plain(said) != part:
            yield finding("letter-differs", page, part=part, said=said)
    if drawing.scale != 1 and not _says_scale(drawing):
        scale = f"{drawing.scale.numerator}:{drawing.scale.denominator}"
        yield finding("scale-unsaid", page, part=part, scale=scale)


def _slack(drawing: Drawing) -> float:
    """A hundredth of a millimetre on the paper, whatever the scale."""
    return 0.01 / float(drawing.scale)


def _off(amount: Amount, measured: float) -> float:
    return abs(float(amount.mm) - measured)


def _says_scale(drawing: Drawing) -> bool:
    said = f"{drawing.scale.numerator}:{drawing.scale.denominator}"
    return any(said in row for row in drawing.rows)


def _by_size(
    drawing: Drawing, sides: dict[str, float], rounding: Rounding, language: str
) -> Iterator[Judged]:
    """A template without dimensions is at least not larger than any size in its label."""
    said = [each for row in drawing.rows for each in amounts_of(row, language)]
    for measured in sides.values():
        if said and not any(
            float(each.mm) + float(rounding.step(each.unit)) + _slack(drawing) >= measured
            for each in said
        ):
            facts = {"said": " / ".join(dict.fromkeys(each.text for each in said))}
            yield finding(
                "label-differs", drawing.page, part=drawing.part, measured=measured, **facts
            )

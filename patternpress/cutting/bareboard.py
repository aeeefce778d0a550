"""A board without its pieces: its edge, what is trimmed off, what cannot be used.

In: a `LaidBoard` and its job.  Out: ink added to a `Drawn`, which holds a picture in the making.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.cutting.jobs import Job
from patternpress.cutting.laid import LaidBoard
from patternpress.cutting.parting import gone_from
from patternpress.cutting.shortened import Scale
from patternpress.cutting.slicing import Area, Spot
from patternpress.drawing.ink import Extent, Ink, Stroke, Tone, Track, straight
from patternpress.drawing.lines import Pen, dashed
from patternpress.drawing.style import DrawingStyle

BAR = 8.0  # mm that a length is drawn high
HATCH = 1.4  # mm between the lines of a defect, measured along its edges


@dataclass(frozen=True, slots=True)
class Drawn:
    """What a picture is made of so far; `taken` is where nothing else may be written."""

    scale: Scale
    bar: bool
    tones: list[Ink]
    lines: list[Ink]
    letters: list[Ink]
    taken: list[Extent]
    small: dict[str, int]


def box_of(area: Area | Spot, drawn: Drawn) -> Extent:
    """A rectangle of the board on the paper."""
    scale = drawn.scale
    low = float(area.y) * scale.by
    high = BAR if drawn.bar else float(area.across) * scale.by
    return Extent(scale.far(float(area.x)), low, scale.far(float(area.x + area.along)), low + high)


def rectangle(box: Extent) -> Track:
    """A rectangle as a closed line."""
    corners = (
        (box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top)
    )  # fmt: skip
    return straight(*corners, closed=True)


def bare_board(laid: LaidBoard, job: Job, drawn: Drawn, style: DrawingStyle) -> None:
    """The board itself."""
    sheet = laid.sheet
    whole = box_of(Area(Fraction(0), Fraction(0), sheet.along, sheet.across), drawn)
    drawn.lines.append(Stroke((rectangle(whole),), Pen(style.wide)))
    if job.trim:
        trim = job.trim
        inner = Area(trim, trim, sheet.along - 2 * trim, sheet.across - 2 * trim)
        if drawn.bar:
            inner = Area(trim, Fraction(0), sheet.along - 2 * trim, Fraction(0))
        drawn.lines.append(Stroke((rectangle(box_of(inner, drawn)),), dashed(style.thin)))
    for each in gone_from(sheet):
        if each.missing and drawn.bar:
            continue
        gone = box_of(each.area, drawn)
        if each.missing:
            drawn.tones.append(Tone((rectangle(gone),), 0.6))
        else:
            drawn.lines.append(Stroke(tuple(_hatching(gone)), Pen(style.thin)))
        drawn.lines.append(Stroke((rectangle(gone),), Pen(style.wide)))
        drawn.taken.append(gone)


def _hatching(box: Extent) -> Iterator[Track]:
    """Lines that rise to the right at 45 degrees, all over a rectangle."""
    for number in range(1, int((box.width + box.height) / HATCH) + 1):
        # The line x + y = far, turned over: it starts at the left or top and ends low or right.
        far = number * HATCH
        start = (box.left + max(0.0, far - box.height), box.top - min(far, box.height))
        end = (box.left + min(far, box.width), box.top - max(0.0, far - box.width))
        yield straight(start, end)

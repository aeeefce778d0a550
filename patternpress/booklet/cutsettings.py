"""What stands in brackets for the setting of a cut that frees a strip with several pieces in it.

In: a cut, the board it is made on and its job.  Out: the setting; in an edition of both systems
with its own sum in the second, so that the pieces have room by those figures as well.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.cutting.jobs import Job
from patternpress.cutting.layouts import LaidBoard
from patternpress.cutting.slicing import ALONG, Cut, Line
from patternpress.measure.digits import Display, as_printed
from patternpress.measure.quantity import Kind, Quantity
from patternpress.measure.values import InBoth

_SAME = Fraction(1, 100)  # mm: sums of the grid's whole units, and those of exact sizes


def setting_of(cut: Cut, board: LaidBoard, job: Job, display: Display) -> Quantity:
    """The setting of a cut, mm; where a row of pieces fills it, with the second system's own sum
    of the sizes that are printed for them.
    """
    second, sums = display.second, []
    for row in _rows(cut, board) if second is not None else ():
        kerfs = job.kerf * (len(row) - 1)
        if len(row) > 1 and second and abs(sum(row, kerfs) - cut.setting) < _SAME:
            printed = (as_printed(Quantity(each, Kind.LENGTH), second, display) for each in row)
            sums.append(sum(printed, kerfs))
    if not sums:
        return Quantity(cut.setting, Kind.LENGTH)
    return InBoth(cut.setting, Kind.LENGTH, second=max(sums))


@dataclass(frozen=True, slots=True)
class _Lying:
    """A piece in what is cut off: where it begins and its size across the cut, and along it."""

    at: Fraction
    size: Fraction
    start: Fraction
    long: Fraction


def _rows(cut: Cut, board: LaidBoard) -> Iterator[list[Fraction]]:
    """The pieces that lie side by side in what is cut off: their sizes across the cut."""
    for line in cut.lines:
        inside = sorted(_inside(cut, line, board), key=lambda each: (each.at, each.start))
        for first in inside:
            row = [first]
            for each in inside:
                last = row[-1]
                level = max(each.start, last.start) < min(
                    each.start + each.long, last.start + last.long
                )
                if level and each.at >= last.at + last.size:
                    row.append(each)
            yield [each.size for each in row]


def _inside(cut: Cut, line: Line, board: LaidBoard) -> Iterator[_Lying]:
    """The pieces between a line and the one that is the setting before it."""
    along = cut.runs == ALONG
    blade, start, end = (line.y, line.x, line.to_x) if along else (line.x, line.y, line.to_y)
    for spot in board.spots:
        lies = (spot.y, spot.across, spot.x, spot.along)
        each = _Lying(*lies) if along else _Lying(spot.x, spot.along, spot.y, spot.across)
        off = blade - cut.setting - _SAME <= each.at and each.at + each.size <= blade + _SAME
        if off and start - _SAME <= each.start and each.start + each.long <= end + _SAME:
            yield each

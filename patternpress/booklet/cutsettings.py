"""What stands in brackets for the setting of a cut that frees a strip with several pieces in it.

In: a cut, the board it is made on and its job.  Out: the setting; in an edition of both systems
with its own sum in the second, so that the pieces have room by those figures as well.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from patternpress.cutting.jobs import Job
from patternpress.cutting.layouts import LaidBoard
from patternpress.cutting.slicing import ALONG, Cut, Line, Spot, swap_line, swap_spot
from patternpress.measure.digits import Display, as_printed
from patternpress.measure.quantity import Kind, Quantity
from patternpress.measure.values import InBoth

_SAME = Fraction(1, 100)  # mm: sums of the grid's whole units, and those of exact sizes


def setting_of(cut: Cut, board: LaidBoard, job: Job, display: Display) -> Quantity:
    """The setting of a cut, mm; where a row of pieces fills it, with the second system's own sum
    of the sizes that are printed for them.
    """
    plain, second = Quantity(cut.setting, Kind.LENGTH), display.second
    if second is None:
        return plain
    sums = []
    for row in _rows(cut, board):
        kerfs = job.kerf * (len(row) - 1)
        if len(row) > 1 and abs(sum(row, kerfs) - cut.setting) < _SAME:
            printed = (as_printed(Quantity(each, Kind.LENGTH), second, display) for each in row)
            sums.append(sum(printed, kerfs))
    return InBoth(plain.value, plain.kind, second=max(sums)) if sums else plain


def _rows(cut: Cut, board: LaidBoard) -> Iterator[list[Fraction]]:
    """The pieces that lie side by side in what is cut off: their sizes across the cut."""
    spots, lines = board.spots, cut.lines
    if cut.runs != ALONG:
        spots, lines = tuple(map(swap_spot, spots)), tuple(map(swap_line, lines))
    for line in lines:
        inside = sorted(_cut_off(line, cut.setting, spots), key=lambda each: (each.y, each.x))
        for first in inside:
            row = [first]
            for each in inside:
                last = row[-1]
                level = max(each.x, last.x) < min(each.x + each.along, last.x + last.along)
                if level and each.y >= last.y + last.across:
                    row.append(each)
            yield [each.across for each in row]


def _cut_off(line: Line, setting: Fraction, spots: Sequence[Spot]) -> Iterator[Spot]:
    """The pieces between a line along the board and the one that is the setting before it."""
    for each in spots:
        beside = line.x - _SAME <= each.x and each.x + each.along <= line.to_x + _SAME
        before = line.y - setting - _SAME <= each.y and each.y + each.across <= line.y + _SAME
        if beside and before:
            yield each

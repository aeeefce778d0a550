"""What should be cut only once the real board has been measured.

In: a sound `Worked` design.  Out: a `Waiting` for each size of a part, and each width or depth of
a groove or hole, that follows from the thickness of a board which comes thicker and thinner than
its label; with the size that it would have from a board at either end of that range.  The same of
each planned size of an opening, which is measured all the same, and of what is taken off it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.shape import Axis, Groove, Shape
from patternpress.assembly.sizes import AXES, shared
from patternpress.assembly.tolerance import range_of, with_thickness
from patternpress.assembly.worked import Worked, work
from patternpress.design.records.goods import Stock

# How far a thickness is moved to see what follows from it, where no range holds for the board
# of this edition; a part in a hundred moves every size that follows and turns none about.
NUDGE = Fraction(101, 100)
OPENING = ": opening"  # in place of a feature, whose name has no colon
TAKEN = ": taken off"

Key = tuple[str, str, str]  # part, axis, feature


@dataclass(frozen=True)
class End:
    """One end of a board's range: the real `thickness`, and what the size is then, in mm."""

    thickness: Fraction
    size: Fraction


@dataclass(frozen=True)
class Waiting:
    """A size that follows from the real thickness of a board.

    `axis` is wide, deep or high; of a groove or hole that `feature` names, wide or deep.  Of an
    opening `part` is its name, and `feature` is OPENING; TAKEN of what a part is smaller than the
    opening that it is made to (with all that share it).  `ends` are those of the range that change
    it, thinnest first; empty where the board of this edition is not the one whose range is known.
    `per`: how much the size grows, in mm, for each mm that the board is
    thicker.
    """

    part: str
    axis: str
    feature: str
    stock: str
    planned: Fraction
    ends: tuple[End, ...]
    per: Fraction


def measured_first(plain: Worked, made: Worked) -> tuple[Waiting, ...]:
    """Every size that waits for a board to be measured, in the order of stock and parts.

    `made` is what an edition prints, whose sizes may be written without the formulas that `plain`
    still has; equal where nothing was rounded.
    """
    bought = {each.name.value: made.solver.thickness(each) for each in made.book.stock}
    planned = dict(_sizes(made))
    found: list[Waiting] = []
    for stock in plain.book.stock:
        label = bought.get(stock.name.value)
        if stock.really is not None and label is not None:
            found += _of_stock(plain, stock, label.value, planned)
    return tuple(found)


def between(waiting: Iterable[Waiting], name: str, axis: str) -> tuple[Fraction, Fraction] | None:
    """The least and the most, mm, that an opening comes to with the boards that are sold; None
    where their thickness does not move it, or is not known.
    """
    key = (name, axis, OPENING)
    mine = [each for each in waiting if (each.part, each.axis, each.feature) == key and each.ends]
    if not mine:
        return None
    low = high = mine[0].planned
    for each in mine:
        sizes = [each.planned, *(end.size for end in each.ends)]
        low, high = low + min(sizes) - each.planned, high + max(sizes) - each.planned
    return low, high


def _of_stock(
    plain: Worked, stock: Stock, label: Fraction, planned: Mapping[Key, Fraction]
) -> Iterator[Waiting]:
    ends = range_of(plain, stock)
    known = ends if ends and ends[0] <= label <= ends[1] else ()
    tried = [each for each in known if each != label] or [label * NUDGE]
    before = dict(_sizes(_made_from(plain, stock, label)))
    others = [(each, dict(_sizes(_made_from(plain, stock, each)))) for each in tried]
    for key, size in planned.items():
        moved = [
            End(thick, size + sizes[key] - before[key])
            for thick, sizes in others
            if key in before and sizes.get(key, before[key]) != before[key]
        ]
        if moved:
            per = (moved[0].size - size) / (moved[0].thickness - label)
            yield Waiting(*key, stock.name.value, size, tuple(moved) if known else (), per)


def _made_from(worked: Worked, stock: Stock, thickness: Fraction) -> Worked:
    return work(with_thickness(worked.book, stock, thickness), worked.names)


def _sizes(worked: Worked) -> Iterator[tuple[Key, Fraction]]:
    """The sizes that are sawn, those of grooves and holes, and those of openings, in mm."""
    for part in worked.parts:
        for axis in _sawn(part):
            yield (part.name, axis, ""), part.extents[axis].value
        if part.name in worked.shapes:
            for feature, axis, size in _features(worked.shapes[part.name]):
                yield (part.name, axis, feature), size
        for axis, planned_for in part.planned.items():
            left = part.extents[axis].value * shared(part.part, axis)
            yield (part.name, axis, TAKEN), planned_for - left
    for opening in worked.book.openings:
        for axis in AXES:
            planned = worked.solver.opening(opening, axis)
            if planned is not None:
                yield (opening.name.value, axis, OPENING), planned.value


def _sawn(part: CutPart) -> Iterator[str]:
    """The axes along which a part is cut; one that waits for an opening is measured there."""
    if part.form == "bought":
        return
    sawn = {part.along, part.across} if part.form == "sheet" else {part.along}
    for axis in AXES:
        if axis in sawn and axis != part.thin and axis in part.extents and axis not in part.waits:
            yield axis


def _features(shape: Shape) -> Iterator[tuple[str, str, Fraction]]:
    for groove in shape.grooves:
        yield groove.name, "wide", _width(groove)
        yield groove.name, "deep", groove.depth
    for hole in shape.holes:
        if hole.diameter is not None:
            yield hole.name, "wide", hole.diameter
        if hole.depth is not None:
            yield hole.name, "deep", hole.depth


def _width(groove: Groove) -> Fraction:
    """Across its run, on the face that it is cut into."""
    sides = (groove.high.x - groove.low.x, groove.high.y - groove.low.y)
    return sides[1] if groove.along is Axis.X else sides[0]

"""From rectangles on a board to the cuts that free them.

In: pieces as they lie on a rectangle of stock, which cut runs first, the kerf.  Out: the same
pieces moved together, and numbered `Cut`s in the order of the saw: strips first, then columns,
boxes, trimming; within each, one setting of the fence after the other, the largest first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

ALONG, ACROSS = "along", "across"


@dataclass(frozen=True, slots=True)
class Spot:
    """A piece on a board: the index of its item, where it lies, its sizes as it lies, in mm.

    `turn`: by how many degrees its outline is turned to the left; `mirrored`: turned over before.
    """

    item: int
    x: Fraction
    y: Fraction
    along: Fraction
    across: Fraction
    turn: int = 0
    mirrored: bool = False


@dataclass(frozen=True, slots=True)
class Area:
    """A rectangle of a board, in mm: x and `along` run with the grain."""

    x: Fraction
    y: Fraction
    along: Fraction
    across: Fraction


@dataclass(frozen=True, slots=True)
class Line:
    """Where the blade runs: one edge of the kerf, from one end to the other, in mm."""

    x: Fraction
    y: Fraction
    to_x: Fraction
    to_y: Fraction


@dataclass(frozen=True, slots=True)
class Cut:
    """All cuts of one stage with one setting of the fence or stop.

    They run `along` the grain or `across` it, and are cut off at `setting`; `frees` are the
    indexes of the items that come off finished.
    """

    stage: int
    runs: str
    setting: Fraction
    lines: tuple[Line, ...]
    frees: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Sliced:
    """A board cut up: pieces, cuts in order, and what is left over."""

    spots: tuple[Spot, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Area, ...]


@dataclass(frozen=True, slots=True)
class _Node:
    """A part of the board cut off at `size` across the cuts before it."""

    size: Fraction
    inside: tuple[_Node, ...]
    spot: Spot | None = None


@dataclass(frozen=True, slots=True)
class _Single:
    """One cut before it is put together with those of the same setting."""

    stage: int
    setting: Fraction
    line: Line
    frees: tuple[int, ...]


def slice_up(
    spots: Sequence[Spot], area: Area, kerf: Fraction, first: str = ALONG
) -> Sliced | None:
    """Move pieces together and work out the cuts; nothing if no edge-to-edge cuts part them."""
    if not spots:
        return Sliced((), (), (area,))
    swapped = [spot if first == ALONG else swap_spot(spot) for spot in spots]
    inner = area if first == ALONG else swap_area(area)
    tree = _tree(swapped, "y", kerf)
    if tree is None:
        return None
    laid = _Laid([], [], [])
    _lay(tree, inner, kerf, 1, laid)
    cuts = _together(laid.cuts, first)
    if first == ALONG:
        return Sliced(tuple(laid.spots), cuts, tuple(laid.offcuts))
    return Sliced(
        tuple(swap_spot(spot) for spot in laid.spots),
        tuple(replace(cut, lines=tuple(map(swap_line, cut.lines))) for cut in cuts),
        tuple(swap_area(each) for each in laid.offcuts),
    )


def _tree(spots: Sequence[Spot], axis: str, kerf: Fraction) -> tuple[_Node, ...] | None:
    """Slices across an axis, largest first; each is a piece, or slices the other way."""
    nodes = []
    slices = list(_slices(spots, axis, kerf))
    other = "x" if axis == "y" else "y"
    for each in slices:
        if len(each) == 1:
            nodes.append(_Node(_extent(each[0], axis), (), each[0]))
            continue
        if len(slices) == 1 and len(list(_slices(each, other, kerf))) == 1:
            return None
        inside = _tree(each, other, kerf)
        if inside is None:
            return None
        nodes.append(_Node(max(_reach(one, axis, kerf) for one in inside), inside))
    return tuple(sorted(nodes, key=lambda node: (-node.size, _first_item(node))))


def _reach(node: _Node, axis: str, kerf: Fraction) -> Fraction:
    """How far a slice reaches the other way: its piece, or its own slices with kerfs between."""
    if node.spot is not None:
        return _extent(node.spot, axis)
    sizes = [each.size for each in node.inside]
    return sum(sizes, Fraction(0)) + kerf * (len(sizes) - 1)


def _first_item(node: _Node) -> int:
    return node.spot.item if node.spot else min(_first_item(each) for each in node.inside)


def _slices(spots: Sequence[Spot], axis: str, kerf: Fraction) -> Iterator[list[Spot]]:
    """Groups of pieces that a straight cut parts from the next group.

    Pieces that lie askew of each other may be nearer than a kerf: no cut runs between them.
    """
    group: list[Spot] = []
    end = Fraction(0)
    for spot in sorted(spots, key=lambda each: (_place(each, axis), each.item)):
        if group and _place(spot, axis) >= end + kerf:
            yield group
            group = []
        end = max(end, _place(spot, axis) + _extent(spot, axis))
        group.append(spot)
    if group:
        yield group


def _place(spot: Spot, axis: str) -> Fraction:
    return spot.x if axis == "x" else spot.y


def _extent(spot: Spot, axis: str) -> Fraction:
    return spot.along if axis == "x" else spot.across


@dataclass(frozen=True, slots=True)
class _Laid:
    """What laying the tree down has made so far; the lists grow."""

    spots: list[Spot]
    cuts: list[_Single]
    offcuts: list[Area]


def _lay(nodes: Sequence[_Node], area: Area, kerf: Fraction, stage: int, laid: _Laid) -> None:
    """Cut an area into slices: odd stages one above the other, even ones side by side."""
    upward = stage % 2 == 1
    at = area.y if upward else area.x
    end = at + (area.across if upward else area.along)
    mine: _Single | None = None  # the last cut made here
    for node in nodes:
        done = at + node.size
        part = (
            Area(area.x, at, area.along, node.size)
            if upward
            else Area(at, area.y, node.size, area.across)
        )
        frees = (node.spot.item,) if node.spot is not None and _fills(node.spot, part) else ()
        if done < end:
            line = (
                Line(area.x, done, area.x + area.along, done)
                if upward
                else Line(done, area.y, done, area.y + area.across)
            )
            mine = _Single(stage, node.size, line, frees)
            laid.cuts.append(mine)
        elif mine is not None and frees:
            # The last piece fills what is left: the cut before it frees both.
            laid.cuts[laid.cuts.index(mine)] = replace(mine, frees=(*mine.frees, *frees))
        _within(node, part, kerf, stage, laid)
        at = done + kerf
    if at < end:
        rest = end - at
        laid.offcuts.append(
            Area(area.x, at, area.along, rest) if upward else Area(at, area.y, rest, area.across)
        )


def _within(node: _Node, part: Area, kerf: Fraction, stage: int, laid: _Laid) -> None:
    if node.spot is None:
        _lay(node.inside, part, kerf, stage + 1, laid)
        return
    if _fills(node.spot, part):
        laid.spots.append(replace(node.spot, x=part.x, y=part.y))
        return
    size = node.spot.along if stage % 2 == 1 else node.spot.across
    _lay((_Node(size, (), node.spot),), part, kerf, stage + 1, laid)


def _fills(spot: Spot, part: Area) -> bool:
    return spot.along == part.along and spot.across == part.across


def _together(singles: Sequence[_Single], first: str) -> tuple[Cut, ...]:
    """Cuts of one stage and setting as one, in the order of the saw."""
    runs = (first, other_way(first))
    order = sorted({(each.stage, -each.setting) for each in singles})
    cuts = []
    for stage, setting in order:
        same = [e for e in singles if e.stage == stage and e.setting == -setting]
        lines = tuple(each.line for each in same)
        frees = tuple(sorted(item for each in same for item in each.frees))
        cuts.append(Cut(stage, runs[(stage - 1) % 2], -setting, lines, frees))
    return tuple(cuts)


def swap_spot(spot: Spot) -> Spot:
    """The same piece with the board turned a quarter: what ran along runs across."""
    return Spot(spot.item, spot.y, spot.x, spot.across, spot.along)


def swap_area(area: Area) -> Area:
    """The rectangle with along and across exchanged."""
    return Area(area.y, area.x, area.across, area.along)


def swap_line(line: Line) -> Line:
    """The line with along and across exchanged."""
    return Line(line.y, line.x, line.to_y, line.to_x)


def other_way(runs: str) -> str:
    """Across for along, and along for across."""
    return ACROSS if runs == ALONG else ALONG

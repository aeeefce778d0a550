"""An independent judge of layouts: Shapely and its own recursion, nothing of what it judges.

In: rectangles as numbers.  Out: what is wrong, in words; nothing where all is well.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from shapely import STRtree, box

Number = int | Fraction
Rect = tuple[Number, Number, Number, Number]  # left, low, width, height
Row = Sequence[Number]  # x, y, w, h, item


def wrong_sheets(
    sheets: Sequence[Sequence[Row]],
    sheet: tuple[Number, Number],
    items: Sequence[tuple[Number, Number]],
    *,
    turned: bool,
) -> list[str]:
    """What is wrong with sheets of rows x, y, w, h, item: pieces, sizes, edges, overlaps."""
    found = []
    rows = [row for each in sheets for row in each]
    if Counter(int(row[4]) for row in rows) != Counter(range(len(items))):
        found.append("not every item lies on a sheet just once")
    for _, _, wide, high, item in rows:
        upright = (wide, high) == tuple(items[int(item)])
        if not upright and not (turned and (high, wide) == tuple(items[int(item)])):
            found.append(f"item {item} is {wide} x {high}")
    for number, each in enumerate(sheets):
        rects = [(x, y, w, h) for x, y, w, h, _ in each]
        found += [f"sheet {number}: {wrong}" for wrong in wrong_places(rects, sheet)]
    return found


def wrong_places(
    rects: Sequence[Rect], sheet: tuple[Number, Number], kerf: Number = 0
) -> Iterator[str]:
    """Pieces over the edge, or nearer to each other than the kerf; by Shapely.

    A kerf may run out over the edge of the sheet: each piece is widened by it to the right and
    upwards, and so is the sheet.
    """
    bounds = box(0, 0, float(sheet[0]), float(sheet[1]))
    pieces = [box(float(x), float(y), float(x + w), float(y + h)) for x, y, w, h in rects]
    wide = [
        box(float(x), float(y), float(x + w + kerf), float(y + h + kerf)) for x, y, w, h in rects
    ]
    for number, piece in enumerate(pieces):
        if not bounds.buffer(1e-9).covers(piece):
            yield f"piece {number} lies over the edge"
    tree = STRtree(wide)
    for number, piece in enumerate(wide):
        for other in tree.query(piece):
            if other < number and piece.intersection(wide[other]).area > 1e-9:
                yield f"pieces {other} and {number} overlap"


def stages(rects: Sequence[Rect], kerf: Number = 0, *, along_x: bool = True) -> int | None:
    """How many stages of edge-to-edge cuts part the pieces; nothing if no such cuts do.

    The first stage cuts along x, the second along y, and so on.  Cuts of one stage are all that
    run through.  A piece smaller than what is cut free needs one trimming cut more, which is
    allowed where it is the only one, and not counted.
    """
    if len(rects) == 1:
        return 0
    axis = 1 if along_x else 0
    parts = _parted(rects, axis, kerf)
    if len(parts) == 1:
        if not _parted(rects, 1 - axis, kerf)[1:]:
            return None
        deeper = stages(rects, kerf, along_x=not along_x)
        return None if deeper is None else deeper + 1
    depths = [stages(part, kerf, along_x=not along_x) for part in parts]
    return None if None in depths else 1 + max(depth for depth in depths if depth is not None)


def _parted(rects: Sequence[Rect], axis: int, kerf: Number) -> list[list[Rect]]:
    """Groups that lines across an axis part, a kerf at least between them."""
    ordered = sorted(rects, key=lambda rect: rect[axis])
    groups = [[ordered[0]]]
    end = ordered[0][axis] + ordered[0][axis + 2]
    for rect in ordered[1:]:
        if rect[axis] >= end + kerf:
            groups.append([])
        groups[-1].append(rect)
        end = max(end, rect[axis] + rect[axis + 2])
    return groups


def kerf_sum(ends: Sequence[tuple[Number, Number]], kerf: Number, length: Number) -> list[str]:
    """Pieces (start, size) on a length: in order, a kerf between, none over the end."""
    ordered = sorted(ends)
    found = [
        f"{one} and {two} are too near"
        for one, two in pairwise(ordered)
        if one[0] + one[1] + kerf > two[0]
    ]
    if ordered and (ordered[0][0] < 0 or ordered[-1][0] + ordered[-1][1] > length):
        found.append("over the end")
    return found

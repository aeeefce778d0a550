"""Shapes as cells of a grid, and where two of them clash.

In: polygons in units of cells.  Out: masks (numpy arrays of yes and no, x first), which hold
every cell that a polygon's inside reaches into, so that masks that share no cell never overlap.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

Mask = NDArray[np.bool_]
NEAR = 1e-6  # of a cell: what lies so near to a grid line lies on it


def mask_of(shape: Polygon, wide: int, high: int) -> Mask:
    """The cells of a grid that the inside of a polygon reaches into."""
    toggles = np.zeros((wide + 1, high), dtype=np.int64)
    reached = np.zeros((wide, high), dtype=np.bool_)
    for ring in (shape.exterior, *shape.interiors):
        corners = _snapped(np.asarray(ring.coords)[:, :2])
        for one, two in pairwise(corners):
            _cross_rows(one, two, toggles)
            _reach(one, two, reached)
    inside = np.cumsum(toggles[:-1], axis=0) % 2 == 1
    return np.asarray(inside | reached)


def _snapped(places: NDArray[np.float64]) -> NDArray[np.float64]:
    whole = np.round(places)
    return np.where(np.abs(places - whole) < NEAR, whole, places)


def _cross_rows(
    one: NDArray[np.float64], two: NDArray[np.float64], toggles: NDArray[np.int64]
) -> None:
    """Where an edge crosses the middle of a row, all cells beyond it change sides."""
    (x, y), (to_x, to_y) = (one, two) if one[1] <= two[1] else (two, one)
    rows = np.arange(max(0, math.ceil(y - 0.5)), min(toggles.shape[1], math.ceil(to_y - 0.5)))
    if not rows.size:
        return
    at = x + (rows + 0.5 - y) / (to_y - y) * (to_x - x)
    first = np.clip(np.ceil(at - 0.5), 0, toggles.shape[0] - 1).astype(np.int64)
    np.add.at(toggles, (first, rows), 1)


def _reach(one: NDArray[np.float64], two: NDArray[np.float64], reached: Mask) -> None:
    """The cells that an edge runs through: one between each two grid lines it crosses."""
    shares = [np.array([0.0, 1.0])]
    for start, end in zip(one, two, strict=True):
        if start == end:
            if start == round(start):
                return  # it runs along a grid line and enters no cell
            continue
        low, high = sorted((start, end))
        shares.append((np.arange(math.ceil(low), math.floor(high) + 1) - start) / (end - start))
    cuts = np.sort(np.concatenate(shares))
    middles = ((cuts[1:] + cuts[:-1]) / 2)[np.diff(cuts) > 1e-12]
    cells = np.floor(one + middles[:, None] * (two - one)).astype(np.int64)
    wide, high_ = reached.shape
    kept = (cells >= 0).all(axis=1) & (cells[:, 0] < wide) & (cells[:, 1] < high_)
    reached[cells[kept, 0], cells[kept, 1]] = True


def clashes(lies: Mask, comes: Mask) -> Mask:
    """Where one mask may not come because another lies there.

    Element [i, j] tells of the place i - (width of `comes` - 1), j - (height - 1) beside it.
    Counted by the fast Fourier transform: shared cells are whole numbers, so a half parts them.
    """
    wide, high = (a + b - 1 for a, b in zip(lies.shape, comes.shape, strict=True))
    if lies.all() and comes.all():
        return np.ones((wide, high), dtype=np.bool_)
    size = _smooth(wide), _smooth(high)
    product = np.fft.rfft2(lies, size) * np.fft.rfft2(comes[::-1, ::-1], size)
    return np.asarray(np.fft.irfft2(product, size)[:wide, :high] > 0.5)


def _smooth(size: int) -> int:
    """The next number whose only prime factors are 2, 3 and 5: quick to transform."""
    while True:
        rest = size
        for prime in (2, 3, 5):
            while rest % prime == 0:
                rest //= prime
        if rest == 1:
            return size
        size += 1

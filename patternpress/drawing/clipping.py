"""Cut ink along the edges of a rectangle.

In: tracks or ink in mm, and a window.  Out: what of them lies inside, as true as before: straight
pieces are cut where they meet an edge, cubics are split there (de Casteljau), nothing is flattened.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from patternpress.drawing.curves import Cubic, Piece, Straight
from patternpress.drawing.ink import Extent, Ink, Place, Stroke, Track, Words, words_extent

_NEAR = 1e-9


def clipped_ink(inks: Iterable[Ink], window: Extent) -> tuple[Ink, ...]:
    """Return the ink inside a window; words and solid areas only where they are wholly in it."""
    kept: list[Ink] = []
    for ink in inks:
        if isinstance(ink, Stroke):
            tracks = tuple(part for track in ink.tracks for part in clipped_track(track, window))
            if tracks:
                kept.append(replace(ink, tracks=tracks))
        elif isinstance(ink, Words):
            if _holds(window, words_extent(ink)):
                kept.append(ink)
        else:
            tracks = tuple(track for track in ink.tracks if _is_whole(track, window))
            if tracks:
                kept.append(replace(ink, tracks=tracks))
    return tuple(kept)


def clipped_track(track: Track, window: Extent) -> tuple[Track, ...]:
    """Return the stretches of a track that lie inside a window, in the order of the track.

    A track that lies inside whole comes back as it is, closed if it was closed.
    """
    if _is_whole(track, window):
        return (track,)
    runs: list[list[tuple[Place, Piece]]] = []
    for start, piece in _steps(track):
        for begin, stretch in _inside(start, piece, window):
            joins = runs and _end(runs[-1]) == begin
            if joins:
                runs[-1].append((begin, stretch))
            else:
                runs.append([(begin, stretch)])
    # A closed track that is cut begins in the middle of a stretch; it is put together again.
    if track.closed and len(runs) > 1 and _end(runs[-1]) == runs[0][0][0]:
        runs[0] = runs.pop() + runs[0]
    return tuple(Track(run[0][0], tuple(piece for _, piece in run)) for run in runs)


def _end(run: list[tuple[Place, Piece]]) -> Place:
    piece = run[-1][1]
    return (piece.x, piece.y)


def _steps(track: Track) -> Iterator[tuple[Place, Piece]]:
    here = track.start
    for piece in track.pieces:
        yield here, piece
        here = (piece.x, piece.y)
    if track.closed and math.dist(here, track.start) > _NEAR:
        yield here, Straight(*track.start)


def _is_whole(track: Track, window: Extent) -> bool:
    places = [track.start]
    for piece in track.pieces:
        if isinstance(piece, Cubic):
            places += [(piece.x1, piece.y1), (piece.x2, piece.y2)]
        places.append((piece.x, piece.y))
    return all(_in(place, window) for place in places)


def _in(place: Place, window: Extent) -> bool:
    return (
        window.left - _NEAR <= place[0] <= window.right + _NEAR
        and window.bottom - _NEAR <= place[1] <= window.top + _NEAR
    )


def _holds(window: Extent, box: Extent) -> bool:
    return _in((box.left, box.bottom), window) and _in((box.right, box.top), window)


def _inside(start: Place, piece: Piece, window: Extent) -> Iterator[tuple[Place, Piece]]:
    """Yield the stretches of one piece inside the window, each with its start."""
    controls = _controls(start, piece)
    times = [0.0, *_crossings(controls, window), 1.0]
    for low, high in pairwise(times):
        middle = _at(controls, (low + high) / 2)
        if high - low > _NEAR and _in((middle.real, middle.imag), window):
            yield _stretch(controls, low, high)


def _controls(start: Place, piece: Piece) -> tuple[complex, ...]:
    if isinstance(piece, Straight):
        return complex(*start), complex(piece.x, piece.y)
    one, two = complex(piece.x1, piece.y1), complex(piece.x2, piece.y2)
    return complex(*start), one, two, complex(piece.x, piece.y)


def _crossings(controls: tuple[complex, ...], window: Extent) -> list[float]:
    """Return the times, in order, at which a piece meets the line of an edge of the window."""
    found: set[float] = set()
    for values, edges in (
        ([c.real for c in controls], (window.left, window.right)),
        ([c.imag for c in controls], (window.bottom, window.top)),
    ):
        for edge in edges:
            if min(values) < edge < max(values):
                found.update(_roots([value - edge for value in values]))
    return sorted(found)


def _roots(values: list[float]) -> Iterator[float]:
    """Yield the times in (0, 1) at which a Bernstein polynomial of degree 1 or 3 is nothing."""
    if len(values) == 2:
        yield values[0] / (values[0] - values[1])
        return
    p0, p1, p2, p3 = values
    powers = [p3 - 3 * p2 + 3 * p1 - p0, 3 * (p2 - 2 * p1 + p0), 3 * (p1 - p0), p0]
    largest = max(abs(power) for power in powers)
    while abs(powers[0]) <= 1e-14 * largest:
        powers.pop(0)
    for root in np.roots(powers):
        if abs(root.imag) < 1e-9 and 0 < root.real < 1:
            yield float(root.real)


def _at(controls: tuple[complex, ...], time: float) -> complex:
    points = list(controls)
    while len(points) > 1:
        points = [p + (q - p) * time for p, q in pairwise(points)]
    return points[0]


def _stretch(controls: tuple[complex, ...], low: float, high: float) -> tuple[Place, Piece]:
    if low > 0:
        controls = _split(controls, low)[1]
    if high < 1:
        controls = _split(controls, (high - low) / (1 - low))[0]
    pairs = [(point.real, point.imag) for point in controls]
    if len(pairs) == 2:
        return pairs[0], Straight(*pairs[1])
    return pairs[0], Cubic(*pairs[1], *pairs[2], *pairs[3])


def _split(
    controls: tuple[complex, ...], time: float
) -> tuple[tuple[complex, ...], tuple[complex, ...]]:
    points, before, after = list(controls), [controls[0]], [controls[-1]]
    while len(points) > 1:
        points = [p + (q - p) * time for p, q in pairwise(points)]
        before.append(points[0])
        after.append(points[-1])
    return tuple(before), tuple(reversed(after))

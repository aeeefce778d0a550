"""Straight lines added up: what the tests compare pictures with, written without the code."""

import math
from collections.abc import Iterable

Segment = tuple[float, float, float, float]


def joined(segments: Iterable[Segment], near: float = 1e-6) -> list[Segment]:
    """Every line once: segments of one straight line that overlap or touch become one."""
    waiting = [s for s in segments if math.dist(s[:2], s[2:]) > near]
    done: list[Segment] = []
    while waiting:
        one = waiting.pop()
        for index, other in enumerate(waiting):
            both = _sum(one, other, near)
            if both is not None:
                waiting[index] = both
                break
        else:
            done.append(one)
    return sorted(min(s, (*s[2:], *s[:2])) for s in done)


def _sum(one: Segment, two: Segment, near: float) -> Segment | None:
    """The two as one segment, if they lie on one line and meet."""
    if math.dist(one[:2], one[2:]) < math.dist(two[:2], two[2:]):
        one, two = two, one
    length = math.dist(one[:2], one[2:])
    dx, dy = (one[2] - one[0]) / length, (one[3] - one[1]) / length
    places = [(0.0, one[:2]), (length, one[2:])]
    for end in (two[:2], two[2:]):
        x, y = end[0] - one[0], end[1] - one[1]
        if abs(dx * y - dy * x) > near:
            return None
        places.append((dx * x + dy * y, end))
    low, high = sorted(place for place, _ in places[2:])
    if low > length + near or high < -near:
        return None
    return (*min(places)[1], *max(places)[1])


def differences(ones: list[Segment], twos: list[Segment], near: float = 1e-6) -> list[str]:
    """Segments of either list that the other lacks, ends compared within `near` mm."""
    return [f"only first: {s}" for s in ones if not _among(s, twos, near)] + [
        f"only second: {s}" for s in twos if not _among(s, ones, near)
    ]


def _among(segment: Segment, others: list[Segment], near: float) -> bool:
    turned = (*segment[2:], *segment[:2])
    return any(
        all(abs(a - b) <= near for a, b in zip(each, other, strict=True))
        for other in others
        for each in (segment, turned)
    )

"""A small sign that tells which side of the work is which.

In: a View and how the work lies.  Out: ink of a little block seen from the same place, the
sides that it shows named; and, where the work has been turned, words and a sign that say so.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from patternpress.assembly.solid import Vec, box, dot
from patternpress.drawing.hidden import visible_lines
from patternpress.drawing.ink import Anchor, Ink, Place, Solid, Stroke, Words, straight
from patternpress.drawing.lettering import words as as_figure
from patternpress.drawing.motions import side_way
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.projection import View, project

_BLOCK = 3.4  # mm, its edge at full size
_GAP = 1.0
_SEEN = 0.2  # how squarely a side must face the eye to be named
_SIDES = ("left", "right", "front", "back", "top", "bottom")


def sign(view: View, upright: bool, style: PictureStyle) -> tuple[Ink, ...]:
    """Return the block with its names, round the origin.

    Where the work stands upright the side on top goes without saying.
    """
    solid = box(_BLOCK, _BLOCK, _BLOCK)
    middle = project(view, (_BLOCK / 2, _BLOCK / 2, _BLOCK / 2))
    tracks = tuple(
        straight(*(_less(place, middle) for place in stroke.points))
        for stroke in visible_lines([("block", solid)], view)
    )
    return (Stroke(tracks, style.quiet_pens[1]), *_names(view, upright, style))


def _names(view: View, upright: bool, style: PictureStyle) -> Iterator[Words]:
    lettering = style.set_in(style.label, italic=True)
    for side in _SIDES:
        way = side_way(side)
        if dot(way, view.toward) <= _SEEN:
            continue
        x, y = project(view, way)
        if abs(x) < 0.3:  # the one that faces up or down on the paper
            if upright:
                continue
            above = y > 0
            reach = _reach(view, (0.0, 1.0 if above else -1.0))
            level = reach + _GAP if above else -reach - _GAP - style.label
            yield Words(as_figure(style.say(side)), (0.0, level), lettering, Anchor.MIDDLE)
            continue
        reach = _reach(view, (1.0 if x > 0 else -1.0, 0.0))
        at = ((reach + _GAP) * (1 if x > 0 else -1), y * _BLOCK / 2 - style.label / 2)
        anchor = Anchor.START if x > 0 else Anchor.END
        yield Words(as_figure(style.say(side)), at, lettering, anchor)


def _reach(view: View, way: Place) -> float:
    half = _BLOCK / 2
    corners: list[Vec] = [
        (x, y, z) for x in (-half, half) for y in (-half, half) for z in (-half, half)
    ]
    places = [project(view, corner) for corner in corners]
    return max(x * way[0] + y * way[1] for x, y in places)


def turned_sign(lies: str, style: PictureStyle) -> tuple[Ink, ...]:
    """Return a bent arrow and words for work that has been laid otherwise, from the origin on."""
    radius = 2.0
    places = [
        (radius + radius * math.cos(math.radians(a)), 0.8 + radius * math.sin(math.radians(a)))
        for a in range(180, 9, -10)
    ]
    x, y = places[-1]
    head = straight((x, y - 1.3), (x + 1.0, y + 0.7), (x - 1.0, y + 0.7), closed=True)
    lettering = style.set_in(style.label, weight=600)
    at = (2 * radius + 2.0, 0.0)
    return (
        Stroke((straight(*places),), style.arrow),
        Solid((head,)),
        Words(as_figure(style.say(lies)), at, lettering),
    )


def _less(place: Place, other: Place) -> Place:
    return place[0] - other[0], place[1] - other[1]

"""The sign of a bought fitting: a head with a slot and a shank, or a ring with a dot.

In: `Fitting`s and what is seen of a scene.  Out: `Sign`s: ink, the shape of the head, and the
guide to the place.  The first sign is for what goes into a hole, the second for what is laid on
a face.  Signs have one size on the paper, as letters have.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import shapely

from patternpress.assembly.solid import Vec
from patternpress.drawing.fittings import Fitting
from patternpress.drawing.ink import Ink, Place, Stroke, Tone, straight
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.projection import View, project
from patternpress.drawing.rendering import Render, scaled, tracks_of
from patternpress.drawing.sight import Screens, in_sight

HEAD = 1.15  # mm on paper: the radius of the head
SHANK = 2.8
OUT = 6.5  # how far a sign stands off its place
SMALLER = 0.75  # the radius where it sits in its place
_FARTHER = 20
_CLEAR = 0.8
_LEAST = 0.15  # of a direction on paper that is worth following


@dataclass(frozen=True, eq=False)
class Sign:
    """A fitting's sign on the paper: its ink, the shape of its head, and the guide to its place."""

    fitting: Fitting
    inks: tuple[Ink, ...]
    head: Any
    guide: Any


def signs_apart(
    fittings: Iterable[tuple[Fitting, Vec]],
    drawn: Render,
    scale: float,
    style: PictureStyle,
    screens: Screens,
) -> tuple[Sign, ...]:
    """Return the signs of fittings, told with the shifts of their bearers, off their places.

    One that would hang behind something is drawn farther off, beside the picture.
    """
    return tuple(_seen_sign(each, by, drawn, scale, style, screens) for each, by in fittings)


def one_of_each(signs: Iterable[Sign]) -> tuple[Sign, ...]:
    """Return of each kind of fitting the sign that is nearest to its place."""
    found: dict[str, Sign] = {}
    for each in signs:
        best = found.get(each.fitting.owner)
        if best is None or round(each.guide.length - best.guide.length, 3) < 0:
            found[each.fitting.owner] = each
    return tuple(found.values())


def _seen_sign(
    fitting: Fitting,
    shift: Vec,
    drawn: Render,
    scale: float,
    style: PictureStyle,
    screens: Screens,
) -> Sign:
    found = sign_of(fitting, shift, drawn.view, scale, style)
    long = math.hypot(*project(drawn.view, fitting.way))
    if long <= _LEAST:
        return found
    start = tuple(a + s + 1e-3 * w for a, s, w in zip(fitting.at, shift, fitting.way, strict=True))
    far = OUT / (long * scale)
    end = tuple(a + far * w for a, w in zip(start, fitting.way, strict=True))
    parts = in_sight(_vec(start), _vec(end), drawn.view, screens, 1e-3)
    if sum(math.dist(*part) for part in parts) >= 0.5 * far * long:
        return found
    whole = scaled(drawn.whole, scale)
    for step in range(1, _FARTHER):
        tried = sign_of(fitting, shift, drawn.view, scale, style, OUT + 2.0 * step)
        if tried.head.distance(whole) > _CLEAR:
            return tried
    return found


def _vec(values: Sequence[float]) -> Vec:
    x, y, z = values
    return x, y, z


def sign_of(
    fitting: Fitting,
    shift: Vec,
    view: View,
    scale: float,
    style: PictureStyle,
    out: float = OUT,
    size: float = HEAD,
) -> Sign:
    """Return the sign of a fitting whose bearer is shifted, `out` mm of paper off its place."""
    (x, y), (across, up) = project(view, fitting.at), project(view, shift)
    home = ((x + across) * scale, (y + up) * scale)
    along = project(view, fitting.way)
    long = math.hypot(*along)
    towards = (along[0] / long, along[1] / long) if long > _LEAST else (0.0, 1.0)
    off = out if long > _LEAST else 0.0
    tip = (home[0] + towards[0] * off, home[1] + towards[1] * off)
    head = shapely.Point(tip).buffer(size, quad_segs=8)
    near = SHANK if fitting.hole and off else size
    end = (tip[0] - towards[0] * near, tip[1] - towards[1] * near)
    inks: list[Ink] = []
    if off > near:
        inks.append(Stroke((straight(end, home),), style.guide))
    if fitting.hole and off:
        inks.append(Stroke((straight(tip, end),), style.strong_pens[0]))
    inks += [Tone(tuple(tracks_of(head)), 1.0), *_face(fitting, tip, head, size, style)]
    return Sign(fitting, tuple(inks), head, shapely.LineString([end, home]))


def _face(
    fitting: Fitting, at: Place, head: Any, size: float, style: PictureStyle
) -> Iterator[Ink]:
    """Yield the head with a slot, or the ring with a dot."""
    pen = style.arrow if size >= HEAD else style.quiet_pens[0]
    yield Stroke(tuple(tracks_of(head)), pen)
    x, y = at
    if fitting.hole:
        slot = 0.7 * size
        yield Stroke((straight((x - slot, y - slot / 2), (x + slot, y + slot / 2)),), pen)
    else:
        dot_in = shapely.Point(at).buffer(0.35 * size, quad_segs=4)
        yield Tone(tuple(tracks_of(dot_in)), 0.0)

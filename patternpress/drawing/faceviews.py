"""Pieces alone, face on, with what a step marks on them or cuts into them.

In: `Workpiece`s, and how a length is shown.  Out: a `Picture` for each row of faces: each face with
its outline quiet and the step's marks, holes, grooves and edges strong, distances from the sides
that the author measures from (ISO 129-1 habits), and a name above.  Faces that stand side by side
share a scale where none loses more than a step of sizes by that (√2, as ISO 3098-1 has them).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Any

import shapely

from patternpress.assembly.flattening import flattened
from patternpress.assembly.onwood import on_wood
from patternpress.assembly.openings import round_ends
from patternpress.assembly.shape import Hole, MarkLine, Shape
from patternpress.assembly.turning import scaled_shape
from patternpress.drawing.facedims import (
    Show,
    broken_for_words,
    dimension_ink,
    each_once,
    measures_of,
    sides_of,
)
from patternpress.drawing.facewords import Texts, edge_words, groove_words, hole_words
from patternpress.drawing.framing import Picture, scale_steps
from patternpress.drawing.ink import (
    Anchor,
    Extent,
    Ink,
    Stroke,
    Tone,
    Words,
    extent,
    outline_track,
    shifted,
    straight,
)
from patternpress.drawing.labelplaces import Naming
from patternpress.drawing.leaders import place_labels, shape_of
from patternpress.drawing.lettering import words as as_figure
from patternpress.drawing.pictures import lettered, ruled_lines
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.rendering import tracks_of
from patternpress.drawing.svg import svg_page
from patternpress.drawing.workpieces import Workpiece
from patternpress.measure.pieces import Figure

NARROW, WIDE = 62.0, 137.0  # mm: a column, and the whole width
ACROSS, LONG, HIGH = 44.0, 80.0, 34.0  # for an outline, mm: usual, for a long one, upwards
MOST = 4.0  # times full size
_LONG = 3.5  # length over width of a face that gets the whole width
_APART = 6.0  # mm between faces that stand side by side
_STEP = Fraction(142, 100)  # how much smaller a face may become to have the scale of its neighbours
_FLAT = 0.05
_CROSS = 1.4
_SMALL = 3.0  # mm² on the paper

_Card = tuple[Workpiece, tuple[Ink, ...]]  # a piece and its face, at the scale that suits it


def face_pictures(
    pieces: Sequence[Workpiece],
    show: Show,
    titled: Callable[[Sequence[Workpiece]], str],
    style: PictureStyle,
    hollow: tuple[Show, Show] | None = None,
) -> tuple[Picture, ...]:
    """Return the faces of a step, a picture for each row; one face alone is as wide as a column.

    `titled` gives the title of a picture of some pieces.  `hollow` is how the widths of
    holes and of grooves are shown, where that is not as any length.
    """
    texts = Texts(show, *(hollow or (show, show)), style.say)
    cards = [(each, _card(each, texts, style, _scale(each))) for each in pieces]
    return tuple(
        _row(row, texts, titled([piece for piece, _ in row]), style)
        for row in _rows(cards, NARROW if len(pieces) == 1 else WIDE)
    )


def _rows(cards: Sequence[_Card], room: float) -> list[list[_Card]]:
    """Return the cards in rows, as many in each as have room side by side."""
    rows: list[list[_Card]] = [[]]
    used = 0.0
    for each in cards:
        wide = extent(each[1]).width
        if rows[-1] and used + wide > room:
            rows.append([])
            used = 0.0
        rows[-1].append(each)
        used += wide + _APART
    return rows


def _row(row: Sequence[_Card], texts: Texts, title: str, style: PictureStyle) -> Picture:
    """Return a row as a picture: cards of nearly one scale are drawn anew at the same."""
    least = min(_scale(piece) for piece, _ in row)
    alike = all(_scale(piece) <= least * _STEP for piece, _ in row)
    inks: list[Ink] = []
    left = 0.0
    for piece, found in row:
        anew = alike and _scale(piece) != least
        card = _card(piece, texts, style, least) if anew else found
        box = extent(card)
        inks += shifted(card, left - box.left, -box.top)
        left += box.width + _APART
    box = extent(inks).grown(0.6)
    svg = svg_page(
        (box.width, box.height),
        [shifted(inks, -box.left, -box.bottom)],
        title,
        style.drawing.typeface,
        rounded=True,
    )
    letters = tuple(dict.fromkeys(piece.letter for piece, _ in row))
    return Picture(svg, 1.0, box.width, box.height, letters=letters)


# ------------------------------------------------------------------ one face


def _card(piece: Workpiece, texts: Texts, style: PictureStyle, scale: Fraction) -> tuple[Ink, ...]:
    measures = each_once(measures_of(piece))
    shape = scaled_shape(piece.shape, scale)
    whole = shapely.Polygon(flattened(shape.outline, _FLAT))
    inks = [*_face(piece, shape, whole, style)]
    dims = [*dimension_ink(measures, whole.bounds, scale, texts.show, style)]
    named = [*_named(piece, shape, whole, texts, style)]
    taken = [shape_of(extent([each])) for each in dims if isinstance(each, Words)]
    taken += ruled_lines(dims)
    around = shapely.union_all([whole, *(shape_of(extent([each])) for each in dims)])
    labels = place_labels(named, around, taken, style.clear, WIDE, ruled_lines(inks))
    inks += broken_for_words(dims)
    inks += [ink for label in labels for ink in lettered(label, style)]
    return (*inks, _title(piece, extent(inks), whole, style))


def _scale(piece: Workpiece) -> Fraction:
    """Return the scale, of the series for pictures, at which an outline has its room."""
    wide, high = float(piece.shape.width), float(piece.shape.height)
    room = LONG if wide > _LONG * high else ACROSS
    most = min(room / wide, HIGH / high, MOST)
    return Fraction(round(next(scale_steps(most)) * 10**4), 10**4)


def _title(piece: Workpiece, box: Extent, whole: Any, style: PictureStyle) -> Ink:
    """Return the name above a face: over its outline, or as far left as the figures reach."""
    seen = style.say(f"seen {piece.face}")
    text = as_figure(style.say("face", letter=piece.letter, name=piece.name, seen=seen))
    lettering = style.set_in(style.label, weight=600)
    wide = extent([Words(text, (0.0, 0.0), lettering, Anchor.START)]).width
    left = max(box.left, min(whole.bounds[0], box.right - wide))
    return Words(text, (left, box.top + 1.6), lettering, Anchor.START)


def _face(piece: Workpiece, shape: Shape, whole: Any, style: PictureStyle) -> Iterator[Ink]:
    """Yield the outline, and what is on the face; what the step makes is strong."""
    quiet, strong = style.quiet_pens[0], style.strong_pens[0]
    for groove in shape.grooves:
        band = shapely.box(*(float(v) for p in (groove.low, groove.high) for v in (p.x, p.y)))
        sunk = shapely.intersection(band, whole)
        made = groove.name in piece.strong
        yield Tone(tuple(tracks_of(sunk)), style.floor if made else 1.0)
        yield Stroke(tuple(tracks_of(sunk)), style.arrow if made else style.fine)
    yield Stroke((outline_track(shape.outline),), quiet)
    for hole in shape.holes:
        made = hole.name in piece.strong
        if hole.depth is not None and made:
            yield Tone((outline_track(hole.outline),), style.floor)
        yield Stroke((outline_track(hole.outline),), style.arrow if made else style.fine)
        if made and hole.diameter is not None:
            yield Stroke(_cross(float(hole.centre.x), float(hole.centre.y), hole), style.fine)
        for end in round_ends(hole) if made else ():
            yield Stroke(_cross(float(end.x), float(end.y)), style.fine)
    for mark in shape.marks:
        if isinstance(mark, MarkLine):
            edges = on_wood(shape, mark)
            yield Stroke(tuple(straight(*edge) for edge in edges), style.arrow)
        else:
            yield Stroke(_cross(float(mark.at.x), float(mark.at.y)), style.arrow)
    for edge in _edges(piece, shape, whole):
        yield Stroke(tuple(straight(*line.coords) for line in edge), strong)


def _cross(x: float, y: float, hole: Hole | None = None) -> tuple[Any, Any]:
    size = _CROSS
    if hole is not None:
        reach = flattened(hole.outline, _FLAT)
        size = 0.8 + max(px for px, _ in reach) - x
    return straight((x - size, y), (x + size, y)), straight((x, y - size), (x, y + size))


def _edges(piece: Workpiece, shape: Shape, whole: Any) -> Iterator[list[Any]]:
    """Yield the lines of every edge that the step works on, in the order of the piece's edges."""
    for edge in piece.edges:
        holes = [each for each in shape.holes if each.name == edge.where]
        if holes:
            ring = shapely.Polygon(flattened(holes[0].outline, _FLAT)).exterior
        else:
            ring = whole.exterior
        side = None if holes or not edge.where else _direction(piece, edge.where)
        yield _facing(ring, side)


def _facing(ring: Any, side: tuple[int, int] | None) -> list[Any]:
    """Return a ring, or those of its lines that look to a side."""
    if side is None:
        return [ring]
    ring = ring if ring.is_ccw else ring.reverse()
    places = list(ring.coords)
    found = []
    for (x, y), (to_x, to_y) in pairwise(places):
        long = ((to_x - x) ** 2 + (to_y - y) ** 2) ** 0.5
        # Going round anticlockwise, the outside is on the right hand.
        if long and ((to_y - y) * side[0] - (to_x - x) * side[1]) / long > 0.6:
            found.append(shapely.LineString([(x, y), (to_x, to_y)]))
    return list(shapely.get_parts(shapely.line_merge(shapely.union_all(found))))


def _direction(piece: Workpiece, side: str) -> tuple[int, int] | None:
    ways = ((-1, 0), (1, 0), (0, -1), (0, 1))
    return dict(zip(sides_of(piece), ways, strict=True)).get(side)


# ------------------------------------------------------------------ names


def _named(
    piece: Workpiece, shape: Shape, whole: Any, texts: Texts, style: PictureStyle
) -> Iterator[Naming]:
    """Yield what is written at holes, grooves, marks and edges; like holes share their words."""
    lettering = style.set_in(style.label)
    by_words: dict[str, list[tuple[Figure, Any]]] = {}
    holes = {each.name: each for each in piece.shape.holes}
    called = dict(piece.called)
    grooves = {each.name: each for each in piece.shape.grooves}
    for hole in shape.holes:
        if hole.name in piece.strong:
            figure = hole_words(holes[hole.name], called.get(hole.name, hole.name), texts)
            region = shapely.Polygon(flattened(hole.outline, _FLAT))
            by_words.setdefault(repr(figure), []).append((figure, region))
    for groove in shape.grooves:
        if groove.name in piece.strong:
            figure = groove_words(grooves[groove.name], texts)
            band = shapely.box(*(float(v) for p in (groove.low, groove.high) for v in (p.x, p.y)))
            wood = shapely.intersection(band, whole)
            by_words.setdefault(repr(figure), []).append((figure, wood))
    for alike in by_words.values():
        figure = alike[0][0]
        region = shapely.union_all([each for _, each in alike])
        inner = [each.representative_point() for _, each in alike]
        # In a hole that is hardly seen no dot has room, so it is told where one lies all the same.
        told = len(alike) > 1 or region.area < _SMALL
        spots = tuple((each.x, each.y) for each in inner) if told else ()
        yield Naming(texts.counted(len(alike), figure), lettering, region, spots)
    for edge, lines in zip(piece.edges, _edges(piece, shape, whole), strict=True):
        region = shapely.union_all(lines)
        middle = max(shapely.get_parts(region), key=lambda line: round(line.length, 3))
        spot = middle.interpolate(0.5, normalized=True)
        yield Naming(edge_words(edge, texts), lettering, region.buffer(0.3), ((spot.x, spot.y),))

"""Templates held against the design: every outline, hole, groove and mark.

In: a `Booklet` and the `Facts` it should come from.  Out: for each thing how far it is out at the
worst, and where, and findings for what is out by more than `OUT`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy
import shapely
from numpy.typing import NDArray

from patternpress.proof.design import Arc, Band, Facts, Hole, Outline, Part
from patternpress.proof.drawings import Drawing, drawings_of
from patternpress.proof.findings import Judged, Measured, finding
from patternpress.proof.geometry import (
    Points,
    apart,
    area,
    box_of,
    centre_of,
    dense,
    farthest_from,
)
from patternpress.proof.marks import Track
from patternpress.proof.placing import (
    OUT,
    Placing,
    cross_at,
    cross_of,
    lines_in,
    sides_within,
    uncovered,
    wood_of,
)
from patternpress.proof.reading import Booklet
from patternpress.proof.stretches import stretches


def templates(booklet: Booklet, facts: Facts) -> Iterator[Judged]:
    """Every template that the design asks for is there and true, and no other is."""
    drawn: dict[tuple[str, str], list[Drawing]] = {}
    for drawing in drawings_of(booklet):
        if not drawing.only_words:
            drawn.setdefault((drawing.part, drawing.hand), []).append(drawing)
    known: set[tuple[str, str]] = set()
    for part in facts.parts:
        for letter, hand in _hands(part) if part.template else ():
            key = (letter, hand)
            known.add(key)
            if key not in drawn:
                page = booklet.sections.get("templates", range(0)).start
                said = f", {hand} hand" if hand else ""
                yield finding("template-missing", page, part=letter, hand=said)
            elif part.outline is not None:
                yield from _held(drawn[key], part, part.outline)
    for key, several in drawn.items():
        for drawing in several if key not in known else ():
            yield finding("template-extra", drawing.page, part=key[0], hand=drawing.called)
    yield from _words(booklet, drawn)


def _words(
    booklet: Booklet, drawn: Mapping[tuple[str, str], Sequence[Drawing]]
) -> Iterator[Judged]:
    """Only those of a template on several sheets stand by themselves."""
    for drawing in drawings_of(booklet):
        several = drawn.get((drawing.part, drawing.hand), ())
        if drawing.only_words and not any(each.sheet for each in several):
            facts = {"part": drawing.part, "hand": drawing.called}
            yield finding("template-extra", drawing.page, **facts)


def _held(several: Sequence[Drawing], part: Part, outline: Outline) -> Iterator[Judged]:
    if all(each.window is not None for each in several):
        yield from stretches(several, part, outline)
        return
    first, *more = several
    for each in more:
        yield finding("template-extra", each.page, part=each.part, hand=each.called)
    if first.lines("outline"):
        yield from _compared(first, part, outline)


def _hands(part: Part) -> list[tuple[str, str]]:
    hands = ("left", "right") if part.twins else ("",)
    return [(part.letter, hand) for hand in hands]


def _compared(drawing: Drawing, part: Part, outline: Outline) -> Iterator[Judged]:
    part, lines = part.of_hand(drawing.hand), drawing.lines("outline")
    placing = Placing(drawing.hand == "right", drawing.turned, float(drawing.scale))
    compared = _Compared(drawing, _laid_over(placing, numpy.vstack(lines), outline))
    yield from compared.outline(lines, outline)
    yield from compared.holes(part.holes)
    yield from compared.bands(part.bands, outline)
    yield from compared.marks(part, outline)
    yield from compared.extras(part)


def _laid_over(placing: Placing, drawn: Points, outline: Outline) -> Placing:
    """Lay the design's outline over the drawn one; nothing in the file says where it lies.

    First the middles of their boxes; where that is not true all round, that corner of the boxes
    by which they are nearest on the whole, so that one wrong point does not shift the rest.
    """
    wanted = placing.put(outline.points)
    (left, low, right, high), (a, b, c, d) = box_of(drawn), box_of(wanted)
    middle = ((left + right - a - c) / 2, (low + high - b - d) / 2)
    if apart(drawn, wanted + numpy.array(middle))[0] <= OUT:
        return replace(placing, away=middle)
    line = shapely.LineString(drawn)
    tries = [middle, *((x, y) for x in (left - a, right - c) for y in (low - b, high - d))]

    def off(away: tuple[float, float]) -> float:
        places = dense(wanted + numpy.array(away))
        return float(numpy.mean(shapely.distance(shapely.points(places), line)))

    return replace(placing, away=min(tries, key=off))


@dataclass(frozen=True)
class _Compared:
    drawing: Drawing
    placing: Placing

    @property
    def who(self) -> dict[str, str]:
        return {"part": self.drawing.part, "hand": self.drawing.called}

    def measured(self, what: str, worst: float, at: tuple[float, float] | None) -> Measured:
        name = f"{what} of part {self.drawing.part}{self.drawing.called}"
        return Measured(name, self.drawing.page, worst, OUT, at=at)

    def outline(self, lines: Sequence[Points], outline: Outline) -> Iterator[Judged]:
        """The greatest distance both ways, corner for corner, and the area."""
        page = self.drawing.page
        wanted = self.placing.put(outline.points)
        longest = max(lines, key=len)
        worst, at = apart(longest, wanted)
        yield self.measured("outline", worst, at)
        if worst > OUT or len(lines) > 1:
            facts = {"out": worst, "x": round(at[0], 1), "y": round(at[1], 1)}
            yield finding("outline-off", page, **self.who, **facts)
            return
        yield from self.joints("outline", self.drawing.tracks[("outline", "")][0], outline)
        drawn, true = area(longest), area(wanted)
        allowed = OUT * shapely.LineString(wanted).length
        what = f"area of part {self.drawing.part}{self.drawing.called}"
        yield Measured(what, page, abs(drawn - true), allowed, "mm²")
        if abs(drawn - true) > allowed:
            yield finding("area-off", page, **self.who, measured=drawn, wanted=true)

    def joints(self, name: str, track: Track, outline: Outline) -> Iterator[Judged]:
        """Pieces meet where they should; an arc is drawn in equal pieces.

        A joint that slips along a smooth curve hardly changes the line, so that distance alone
        does not show it; but nobody moves one by accident.
        """
        drawn = self.drawing.printer.undone(_ends(track.points, track.kinds))
        wanted = self.placing.put(outline.joints)
        worst, at = farthest_from(wanted, shapely.MultiPoint(drawn))
        here, scale = self.placing.back(drawn), self.placing.scale
        near = 2 * OUT / scale
        slipped = max((slip(here, arc, near) for arc in outline.arcs), default=0.0)
        worst = max(worst, slipped * scale)
        curved = numpy.zeros(len(here), dtype=bool)
        for arc in outline.arcs:
            curved |= on_arc(here, arc, near)
        stray = here[~curved]
        if len(stray):
            away, there = farthest_from(self.placing.put(stray), shapely.MultiPoint(wanted))
            worst, at = max((worst, at), (away, there))
        if worst > OUT:
            facts = {"name": name, "out": worst, "x": round(at[0], 1), "y": round(at[1], 1)}
            yield finding("joint-off", self.drawing.page, **self.who, **facts)

    def holes(self, holes: Sequence[Hole]) -> Iterator[Judged]:
        """Centre, diameter and edge of each hole."""
        for hole in holes:
            cross = [self.placing.put(line) for line in cross_of(hole, self.placing.scale)]
            yield from self.lines("centre", hole.name, cross, f"cross in the {hole.name}")
            lines = self.drawing.lines("hole", hole.name)
            if not lines:
                facts = {"name": hole.name}
                yield finding("hole-missing", self.drawing.page, **self.who, **facts)
                continue
            yield from self.hole(hole, lines[0])

    def hole(self, hole: Hole, line: Points) -> Iterator[Judged]:
        page, name = self.drawing.page, hole.name
        wanted = self.placing.put(hole.outline.points)
        centre = centre_of(line)
        off = math.dist(centre, centre_of(wanted))
        yield self.measured(f"centre of the {name}", off, centre)
        if off > OUT:
            yield finding("hole-off", page, **self.who, name=name, out=off)
            return
        across = math.sqrt(4 * area(line) / math.pi)
        true = math.sqrt(4 * area(wanted) / math.pi)
        edge, at = apart(line, wanted)
        worst = max(edge, abs(across - true) / 2)
        yield self.measured(f"edge of the {name}", worst, at)
        if worst > OUT:
            facts = {"measured": across, "wanted": true}
            yield finding("hole-size", page, **self.who, name=name, **facts)
        else:
            yield from self.joints(name, self.drawing.tracks[("hole", name)][0], hole.outline)

    def bands(self, bands: Sequence[Band], outline: Outline) -> Iterator[Judged]:
        """The sides of each groove, as far as they lie on the part."""
        for band in bands:
            sides = sides_within(band, outline.points)
            yield from self.lines("groove", band.name, [self.placing.put(each) for each in sides])

    def marks(self, part: Part, outline: Outline) -> Iterator[Judged]:
        """Each line, as far as there is wood under it, and each point that is drawn on the part."""
        whole = wood_of(part, outline)
        for mark in part.marks:
            if mark.start == mark.to:
                cross = cross_at(mark, self.placing.scale)
                yield from self.lines("point", mark.name, [self.placing.put(e) for e in cross])
                continue
            line = shapely.LineString([mark.start, mark.to])
            inside = list(lines_in(whole.intersection(line))) or [numpy.array(line.coords)]
            yield from self.lines("mark", mark.name, [self.placing.put(each) for each in inside])

    def lines(
        self, kind: str, name: str, wanted: Sequence[Points], told: str = ""
    ) -> Iterator[Judged]:
        page, drawn = self.drawing.page, self.drawing.lines(kind, name)
        if not wanted:
            return
        if not drawn:
            yield finding("mark-missing", page, **self.who, name=told or name)
            return
        worst, at = max(uncovered(drawn, wanted), uncovered(wanted, drawn))
        yield self.measured(f"the {told or name}", worst, at)
        if worst > OUT:
            yield finding("mark-off", page, **self.who, name=told or name, out=worst)

    def extras(self, part: Part) -> Iterator[Judged]:
        """Nothing is drawn on the part that the design does not have."""
        known = {
            "hole": {each.name for each in part.holes},
            "centre": {each.name for each in part.holes if cross_of(each, self.placing.scale)},
            "groove": {each.name for each in part.bands},
            "mark": {each.name for each in part.marks},
            "point": {each.name for each in part.marks},
        }
        for kind, names in known.items():
            for name in self.drawing.names(kind):
                if name not in names:
                    yield finding("drawn-extra", self.drawing.page, **self.who, name=name)


def _ends(points: Sequence[tuple[float, float]], kinds: str) -> Points:
    """Return the places of a track that are no handles."""
    found, place = [points[0]], 0
    for kind in kinds:
        place += 1 if kind == "l" else 3
        found.append(points[place])
    return numpy.array(found)


def on_arc(points: Points, arc: Arc, near: float) -> NDArray[numpy.bool_]:
    """Return for each place whether it lies no further than `near` from the inside of an arc."""
    away = points - numpy.array(arc.centre)
    share = _shares(points, arc, near)
    on: NDArray[numpy.bool_] = numpy.abs(numpy.hypot(*away.T) - arc.radius) < near
    inside: NDArray[numpy.bool_] = (share > near) & (share < abs(arc.swept) * arc.radius - near)
    return on & inside


def _shares(points: Points, arc: Arc, near: float) -> Points:
    """Return how far along an arc's circle places are from its start, in mm."""
    away = points - numpy.array(arc.centre)
    turns = numpy.arctan2(away[:, 1], away[:, 0]) - arc.start
    # An end is met a little before or after it, and then counts as the end, not as a full turn.
    ends = near / max(arc.radius, near)
    found: Points = numpy.mod(math.copysign(1, arc.swept) * turns + ends, math.tau) - ends
    return found * arc.radius


def slip(points: Points, arc: Arc, near: float) -> float:
    """Return how far along an arc the worst of the places on it is from dividing it evenly.

    `near`: what is no further from the arc lies on it.
    """
    long = abs(arc.swept) * arc.radius
    shares = _shares(points, arc, near)[on_arc(points, arc, near)]
    inner = numpy.unique(numpy.round(shares, 9))
    if not len(inner):
        return 0.0
    even = long * numpy.arange(1, len(inner) + 1) / (len(inner) + 1)
    return float(numpy.abs(inner - even).max())

"""A small picture of something that does not fit.

In: a `Worked` design, its `Assembly` if there is one, and a `Problem` of places or fit.  Out: SVG:
the pieces that the problem names drawn strong and named (dashed where others hide them), the others
that are there by then quiet, and a ring round the place: the one that the check found, else where
two pieces meet, else the named side of the one piece, else its middle; none where several pieces
are the trouble.  Before pieces are placed, and where only a part is named, that is shown by itself.
None where the problem names no piece that has sizes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.lying import bench_way
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.solid import Vec
from patternpress.assembly.thing import sign_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import covered, fit, placing, plan, thickness, work
from patternpress.design.problem import Problem
from patternpress.drawing.framing import Layout, fitted
from patternpress.drawing.ink import Ink, Stroke, Tone
from patternpress.drawing.labelplaces import Naming
from patternpress.drawing.leaders import place_labels
from patternpress.drawing.pictures import UP, lettered
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.projection import View, project
from patternpress.drawing.rendering import (
    Render,
    lines,
    render,
    scaled,
    silhouette,
    tones,
    tracks_of,
)
from patternpress.drawing.things import Bulks, Item, bulks_of, placed_items, step_bulks
from patternpress.drawing.views import EYES, view_of

# The kinds of problem that a picture can show: families, and single ones of others.
SHOWN = frozenset(each.__name__ for each in (covered, fit, placing, plan, thickness))
SHOWN_TOO = frozenset({work.PieceNeverUsed})
# Facts that may name a piece, the one that is at fault first, or pieces.
NAMING, SEVERAL = ("piece", "other"), "pieces"
# Facts that may name the part that is at fault before pieces are placed, the likeliest first.
ALONE = ("part", "other", "piece")
# Facts that may name a side of it.
SIDED = ("side", "toward")
SMALL = (64.0, 64.0)  # mm
ENOUGH = 0.5  # of a piece's own silhouette: then it counts as shown
HIDDEN = 0.2  # and below this it is drawn dashed as well
_SPARE = 10.0  # mm left for names in a typeface that runs wider than ours
_RING, _WIDE = 2.0, 0.7  # mm on paper: the radius of the ring, the white round it
_LEVEL = "upright"


@dataclass(frozen=True, eq=False)
class Subject:
    """What a picture shows: the items there by then, the keys of the strong ones, the place, and
    the side that must be seen, if any.
    """

    items: tuple[Item, ...]
    strong: tuple[tuple[str, ...], ...]  # keys by named thing
    names: tuple[str, ...]
    at: Vec | None
    side: str = ""


class FaultPictures:
    """Draws the problems of one design; solids are made when the first picture is asked for."""

    def __init__(self, worked: Worked, assembly: Assembly | None) -> None:
        self.worked = worked
        self.assembly = assembly
        self._bulks: Bulks | None = None

    def draw(self, problem: Problem) -> str | None:
        """Return the picture of a problem as SVG; None where there is nothing to show."""
        if problem.kind.__module__ not in SHOWN and problem.kind not in SHOWN_TOO:
            return None
        if self._bulks is None:
            # With sharp edges: so the check that found the problem saw them.
            self._bulks = step_bulks(self.worked, bulks_of(self.worked), 0)
        alone = "part" in problem.facts and "piece" not in problem.facts
        if self.assembly is None or alone:
            subject = _by_itself(problem, self.worked, self._bulks)
        else:
            subject = _subject(problem, self.worked, self.assembly, self._bulks)
        return _drawn(subject, problem.what, PictureStyle()) if subject is not None else None


# ------------------------------------------------------------------ what is shown


def _by_itself(problem: Problem, worked: Worked, bulks: Bulks) -> Subject | None:
    """Return the part that is at fault as it stands: all there is before any piece is placed."""
    named = (problem.facts.get(key, "").strip("“”") for key in ALONE)
    found = ((name, worked.part(name)) for name in named)
    name, part = next(((n, p) for n, p in found if p is not None), ("", None))
    if part is None or part.name not in bulks:
        return None
    item = Item(name, name, part.name, part.letter, (), 0, bulks[part.name])
    side = problem.facts.get("side", "")
    return Subject((item,), ((name,),), (name,), problem.at, side)


def _subject(problem: Problem, worked: Worked, assembly: Assembly, bulks: Bulks) -> Subject | None:
    several = [each for each in problem.facts.get(SEVERAL, "").split(", ") if each]
    names = [problem.facts[key] for key in NAMING if problem.facts.get(key)] + several
    best: tuple[tuple[int, int], tuple[Placed, ...], list[list[Placed]]] | None = None
    for pieces in assembly.works.values():
        sized = [each for each in pieces if each.part in bulks]
        named = [[each for each in sized if _called(name, each)] for name in names]
        # All that is named in as small a work as may be.
        rank = (-sum(bool(each) for each in named), len(pieces))
        if rank[0] and (best is None or rank < best[0]):
            best = (rank, tuple(sized), named)
    if best is None:
        return _whole(problem, worked, assembly, bulks)
    _, pieces, named = best
    by_then = max(each.step for group in named for each in group)
    items = placed_items(worked, bulks, (each for each in pieces if each.step <= by_then))
    told = [(name, group) for name, group in zip(names, named, strict=True) if group]
    strong = tuple(tuple(each.key for each in group) for _, group in told)
    whole = problem.at or _between(items, strong) or _upon(items, strong, problem)
    at = None if several else whole
    return Subject(items, strong, tuple(name for name, _ in told), at)


def _whole(problem: Problem, worked: Worked, assembly: Assembly, bulks: Bulks) -> Subject | None:
    """Return the finished piece with a place in it; None for a problem without a place."""
    items = placed_items(worked, bulks, assembly.placed)
    return Subject(items, (), (), problem.at) if items and problem.at is not None else None


def _called(name: str, placed: Placed) -> bool:
    return name in (placed.key, placed.piece, placed.part, placed.brought, *placed.path[:1])


def _between(items: Sequence[Item], strong: Sequence[Sequence[str]]) -> Vec | None:
    """Return the middle of what two things share, or of the gap between them; None for one."""
    if len(strong) != len(NAMING):
        return None
    pairs = [
        (one.bulk, two.bulk)
        for one in items
        for two in items
        if one.key in strong[0] and two.key in strong[1] and one.key != two.key
    ]
    found: tuple[float, Vec] | None = None
    for one, two in pairs:
        low = np.maximum(one.least, two.least)
        high = np.minimum(one.most, two.most)
        apart = float((low - high).max())
        if found is None or apart < found[0]:
            x, y, z = ((low + high) / 2).tolist()
            found = (apart, (x, y, z))
    return found[1] if found is not None else None


def _upon(items: Sequence[Item], strong: Sequence[Sequence[str]], problem: Problem) -> Vec | None:
    """Return the middle of the side of the first named thing that a problem tells, else its own."""
    mine = [item.bulk for item in items if strong and item.key in strong[0]]
    if not mine:
        return None
    low = np.min([each.least for each in mine], axis=0)
    high = np.max([each.most for each in mine], axis=0)
    middle = (low + high) / 2
    side = next((problem.facts[key] for key in SIDED if problem.facts.get(key) in SIDE_AXIS), "")
    if side:
        axis = SIDE_AXIS[side]
        middle[axis] = (high if sign_of(side) > 0 else low)[axis]
    x, y, z = middle.tolist()
    return x, y, z


# ------------------------------------------------------------------ how it is drawn


def _drawn(subject: Subject, title: str, style: PictureStyle) -> str:
    drawn = _best(subject)
    strong = {key for keys in subject.strong for key in keys}
    up = bench_way(_LEVEL, UP)

    def laid(scale: float) -> Layout:
        inks: list[Ink] = [*tones(drawn, scale, strong, up, style)]
        inks += lines(drawn, scale, strong, style)
        whole = scaled(drawn.whole, scale)
        ring = _ring(subject.at, drawn.view, scale)
        names = list(_namings(subject, drawn, scale, style))
        taken = [ring] if ring is not None else []
        inks += _hidden(subject, drawn, scale, style)
        labels = place_labels(names, whole, taken, style.clear, SMALL[0] - _SPARE)
        if ring is not None:
            inks += [
                Tone(tuple(tracks_of(ring.buffer(_WIDE).difference(ring.buffer(-_WIDE)))), 1.0)
            ]
            inks += [Stroke(tuple(tracks_of(ring)), style.outline)]
        inks += [ink for label in labels for ink in lettered(label, style)]
        return Layout(tuple(inks), whole, labels, complete=len(labels) == len(names))

    return fitted(laid, drawn.bounds, title, style, SMALL).svg


def _best(subject: Subject) -> Render:
    """Return the view that shows most of the strong pieces, and the place from outside."""
    scene = tuple((item.key, item.solid) for item in subject.items)
    found: tuple[float, Render] | None = None
    views = [view_of(eye, _LEVEL) for eye in EYES]
    for view in (each for each in views if _sees(each, subject.side)):
        drawn = render(scene, view)
        shown = _shown(subject, drawn)
        if found is None or shown > found[0] + 1e-6:
            found = (shown, drawn)
        if shown > 1 - 1e-6:
            break
    assert found is not None
    return found[1]


def _sees(view: View, side: str) -> bool:
    return side not in SIDE_AXIS or view.toward[SIDE_AXIS[side]] * sign_of(side) > 0


def _shown(subject: Subject, drawn: Render) -> float:
    """Return from 0 to 1 how well the named things are to be seen."""
    shares = (_share(subject, keys, drawn) / ENOUGH for keys in subject.strong)
    return min((min(1.0, each) for each in shares), default=1.0)


def _alone(subject: Subject, keys: Sequence[str], view: View) -> Any:
    """Return what a thing covers on the paper, mm at full size, when nothing stands before it."""
    return silhouette([item.solid for item in subject.items if item.key in keys], view)


def _share(subject: Subject, keys: Sequence[str], drawn: Render) -> float:
    seen = sum(drawn.areas.get(key, 0.0) for key in keys)
    return seen / float(_alone(subject, keys, drawn.view).area)


def _hidden(subject: Subject, drawn: Render, scale: float, style: PictureStyle) -> Iterator[Ink]:
    """Yield the outlines of named things that others hide, dashed."""
    for keys in subject.strong:
        if _share(subject, keys, drawn) < HIDDEN:
            outline = scaled(_alone(subject, keys, drawn.view), scale)
            yield Stroke(tuple(tracks_of(outline)), style.drawing.hidden)


def _ring(at: Vec | None, view: View, scale: float) -> Any:
    """Return the disc round the place on the paper; None where there is no place."""
    if at is None:
        return None
    x, y = project(view, at)
    return shapely.Point(x * scale, y * scale).buffer(_RING)


def _namings(
    subject: Subject, drawn: Render, scale: float, style: PictureStyle
) -> Iterator[Naming]:
    lettering = style.set_in(style.label)
    for name, keys in zip(subject.names, subject.strong, strict=True):
        hidden = _share(subject, keys, drawn) < HIDDEN
        region = _alone(subject, keys, drawn.view) if hidden else drawn.region(keys)
        yield Naming(name, lettering, scaled(region, scale))

"""The design's facts, as JSON: what the booklet ought to be.

In: facts in format 1 (see DEVELOPERS.md).  Out: `Facts`: parts with their outlines as places in
mm, each within `geometry.FLAT` of the true curve.  Lengths are read as exact fractions first.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

import numpy

from patternpress.proof.geometry import FLAT, Points, cubic
from patternpress.proof.marks import Place


class FactsError(Exception):
    """Facts that cannot be read; the words say why."""


@dataclass(frozen=True)
class Arc:
    """A piece of a circle: from the angle `start` it turns by `swept` radians."""

    centre: Place
    radius: float
    start: float
    swept: float


@dataclass(frozen=True)
class Outline:
    """A closed line: its places, those among them where its pieces meet, and its arcs."""

    points: Points
    joints: Points
    arcs: tuple[Arc, ...]


@dataclass(frozen=True)
class Hole:
    """An opening; `diameter` only for a round one; `through`: no wood is left behind it."""

    name: str
    centre: Place
    diameter: float | None
    outline: Outline
    through: bool


@dataclass(frozen=True)
class Band:
    """A groove: its rectangle, which way it runs, and which ends are open."""

    name: str
    along: str
    low: Place
    high: Place
    open_low: bool
    open_high: bool


@dataclass(frozen=True)
class Mark:
    """A line, or a point where `to` is `start`; `hand`: "left" or "right" if only that has it."""

    name: str
    start: Place
    to: Place
    hand: str = ""


@dataclass(frozen=True)
class Part:
    """A part of the design; `outline` is None for one without a shape of its own.

    `width`: of its blank as drawn, over the middle of which its twin is mirrored.
    """

    letter: str
    name: str
    form: str
    quantity: int
    twins: int
    printed: str
    template: bool
    width: float
    outline: Outline | None
    holes: tuple[Hole, ...]
    bands: tuple[Band, ...]
    marks: tuple[Mark, ...]

    def of_hand(self, hand: str) -> Part:
        """The part with the marks of one hand; `hand` is nothing where both are alike."""
        kept = tuple(each for each in self.marks if each.hand in ("", hand or each.hand))
        return replace(self, marks=kept)


@dataclass(frozen=True)
class Facts:
    """What an edition of a design ought to be."""

    design: str
    edition: str
    digest: str
    parts: tuple[Part, ...]
    overall: tuple[float, ...]


def read_facts(facts: Mapping[str, Any]) -> Facts:
    """Return the facts; raises `FactsError` for a format that is not known."""
    if facts.get("format") != 1:
        raise FactsError("the facts are not in format 1")
    try:
        return Facts(
            design=str(facts["design"]),
            edition=str(facts["edition"]["name"]),
            digest=digest(facts),
            parts=tuple(_part(each) for each in facts["parts"]),
            overall=tuple(float(Fraction(each)) for each in facts["overall"].values()),
        )
    except (KeyError, TypeError, ValueError, ZeroDivisionError, IndexError) as error:
        raise FactsError(f"the facts cannot be read ({error})") from None


def digest(facts: Mapping[str, Any]) -> str:
    """Return the hash of facts that stands in a booklet: SHA-256 of their shortest JSON."""
    text = json.dumps(facts, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _part(part: Mapping[str, Any]) -> Part:
    shape = part.get("shape", {})
    return Part(
        letter=part["letter"],
        name=part.get("called", part["name"]),
        form=part["form"],
        quantity=part["quantity"],
        twins=part["twins"],
        printed=part["printed"],
        template=part["template"],
        width=float(Fraction(shape.get("width", "0"))),
        outline=_outline(shape.get("face", shape["outline"])) if shape else None,
        holes=tuple(_hole(each) for each in shape.get("holes", ())),
        bands=tuple(_band(each) for each in shape.get("grooves", ())),
        marks=tuple(_mark(each) for each in shape.get("marks", ())),
    )


def _place(pair: list[str]) -> Place:
    x, y = pair
    return (float(Fraction(x)), float(Fraction(y)))


def _hole(hole: Mapping[str, Any]) -> Hole:
    across = hole["diameter"]
    return Hole(
        hole["name"],
        _place(hole["centre"]),
        float(Fraction(across)) if across is not None else None,
        _outline(hole["outline"]),
        hole.get("depth") is None,
    )


def _band(groove: Mapping[str, Any]) -> Band:
    low, high = groove["open"]
    return Band(
        groove["name"],
        groove["along"],
        _place(groove["low"]),
        _place(groove["high"]),
        bool(low),
        bool(high),
    )


def _mark(mark: Mapping[str, Any]) -> Mark:
    start, to = mark["line"] if "line" in mark else (mark["point"], mark["point"])
    return Mark(mark["name"], _place(start), _place(to), mark.get("hand", ""))


# ------------------------------------------------------------------ outlines


def _outline(legs: list[Mapping[str, Any]]) -> Outline:
    here = _place(legs[0]["start"])
    points, joints, arcs = [here], [here], []
    for leg in legs[1:]:
        if "line" in leg:
            points.append(_place(leg["line"]))
        elif "curve" in leg:
            one, two = leg["controls"]
            points += cubic(here, _place(one), _place(two), _place(leg["curve"]))
        else:
            arc = _arc(here, _place(leg["arc"]), _place(leg["centre"]), leg["turn"])
            arcs.append(arc)
            points += [*_along(arc), _place(leg["arc"])]
        here = points[-1]
        joints.append(here)
    return Outline(numpy.array(points), numpy.array(joints), tuple(arcs))


def _heading(one: Place, two: Place) -> float:
    return math.atan2(two[1] - one[1], two[0] - one[0])


def _arc(here: Place, to: Place, centre: Place, turn: str) -> Arc:
    start = _heading(centre, here)
    swept = (_heading(centre, to) - start) % math.tau or math.tau
    if turn == "clockwise":
        swept = (swept - math.tau) or -math.tau
    return Arc(centre, math.dist(here, centre), start, swept)


def _along(arc: Arc) -> Iterator[Place]:
    """Yield the places between an arc's ends; a chord strays from it by r·(1 − cos(step/2))."""
    step = 2 * math.acos(1 - FLAT / arc.radius) if arc.radius > FLAT else math.pi / 2
    count = max(2, math.ceil(abs(arc.swept) / step))
    (x, y), r = arc.centre, arc.radius
    for index in range(1, count):
        angle = arc.start + arc.swept * index / count
        yield (x + r * math.cos(angle), y + r * math.sin(angle))

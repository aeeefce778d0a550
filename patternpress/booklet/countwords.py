"""From where the figure of a place counts, where a rule laid to the piece would tell another.

In: a join and one of its places.  Out: sentences for what is not where it seems: a piece that leans
has its outermost front at its foot or its top, and a board that tapers has its outermost edge
elsewhere than beside what is set on it.
"""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from patternpress.assembly.facecount import HAIR
from patternpress.assembly.leaning import lean_of
from patternpress.assembly.marked import hole_of, row_way
from patternpress.assembly.placing import Placed
from patternpress.assembly.pose import DIRECTION, Vector, dot
from patternpress.assembly.realedge import set_back
from patternpress.booklet.sidewords import named
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import OPPOSITE, Place, Target
from patternpress.design.records.work import Joined
from patternpress.measure.quantity import Kind


def counted(joined: Joined, side: str, place: Place, wording: Wording) -> Iterator[Markup]:
    """What is to be said of a figure that counts from one side of a join's piece."""
    end = _outermost_end(joined, side, wording)
    rests = any(
        each.how in ("against", "loose against") and "bottom" in sides.value
        for sides, each in joined.places
    )
    if end == "top" or (end and not rests):
        yield wording.say(f"seat_count_{end}")
    if _tapers(joined, side, place, wording):
        yield wording.say("seat_outermost", held=named(place.target.thing, wording))


def count_of_row(target: Target, wording: Wording) -> Iterator[Markup]:
    """From which end one counts to a hole that is told by its number in a row."""
    model = wording.model
    hole = hole_of(model.worked.part(target.thing), target.feature)
    if target.kind != "hole" or hole is None or hole.name.value == target.feature:
        return
    for work in model.assembly.works.values():
        bearer = next((each for each in work if target.thing in each.called), None)
        if bearer is not None:
            way = row_way(hole, model.assembly.thing(bearer.piece, bearer))
            end = min(DIRECTION, key=lambda side: dot(DIRECTION[side], way))
            yield wording.say("do_row_count", side=wording.say(f"side_{end}"))
            return


def _outermost_end(joined: Joined, side: str, wording: Wording) -> str:
    """The end of a leaning piece that reaches farthest to a side; empty where it is straight."""
    lean = lean_of(wording.model.worked, joined)
    for said, toward in lean.angles if lean is not None else ():
        angle = wording.model.worked.solver.value(said, Kind.ANGLE)
        if angle is None or not angle.value or side not in (toward, OPPOSITE.get(toward)):
            continue
        assert lean is not None
        other = "foot" if lean.end == "top" else "top"
        return lean.end if (angle.value > 0) is (side == toward) else other
    return ""


def _tapers(joined: Joined, side: str, place: Place, wording: Wording) -> bool:
    """Whether the edge that a figure counts from lies further in all along the counted side."""
    model, edge = wording.model, place.target.sides[0] if place.target.sides else side
    for work in model.assembly.works.values():
        mine = next((each for each in work if joined.piece.value in each.called), None)
        bearer = next((each for each in work if place.target.thing in each.called), None)
        part = model.worked.part(bearer.part) if bearer is not None else None
        if mine is None or bearer is None or part is None or len(part.extents) < len(DIRECTION) / 2:
            continue
        shape = model.worked.shapes.get(part.name)
        local = _side_within(bearer, edge)
        if local and mine.part in model.assembly.bodies:
            thing = model.assembly.thing(mine.piece, mine)
            ends = [_within(bearer, at) for at in thing.corners_on(thing.face(side))]
            return bool(ends) and all(set_back(part, shape, local, at) > HAIR for at in ends)
    return False


def _within(placed: Placed, point: Vector) -> Vector:
    """A point of the work, in the frame of a piece's part."""
    (x, y, z), (a, b, c) = point, placed.pose.offset
    return _turned_back(placed, (x - a, y - b, z - c))


def _turned_back(placed: Placed, way: Vector) -> Vector:
    x, y, z = (dot(column, way) for column in zip(*placed.pose.matrix, strict=True))
    return x, y, z


def _side_within(placed: Placed, side: str) -> str:
    """A side of the work, as the part of a piece calls it; empty where it stands aslant."""
    way = _turned_back(placed, DIRECTION[side])
    return next((name for name, each in DIRECTION.items() if tuple(each) == way), "")

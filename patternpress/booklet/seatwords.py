"""Where a joined piece sits, in words a buyer can lay a rule to.

In: the places of a join that are no contacts, its lean, its turn, its row.  Out: one sentence for
each; every figure is counted from a named side of a named piece.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import partial

from markupsafe import Markup

from patternpress.assembly.leaning import lean_of, own_lean
from patternpress.assembly.pose import DIRECTION, dot
from patternpress.assembly.usage import row_of
from patternpress.booklet.countwords import counted
from patternpress.booklet.plain import key_of, lower, short
from patternpress.booklet.sidewords import side_list, side_of, way_list
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import OPPOSITE, Lean, Place
from patternpress.design.records.parts import Piece
from patternpress.design.records.work import Joined
from patternpress.design.span import Said
from patternpress.measure.digits import as_printed
from patternpress.measure.quantity import Kind, Quantity

Seat = tuple[Said[tuple[str, ...]], Place]
QUARTER = 90
# mm by which the gaps of a row, as they are printed, may together miss its end: common practice, no
# source.
SEEN = Fraction(3, 10)
MEASURED = ("inside", "beyond")
COUNTED = ("from", *MEASURED)


def seats(
    seated: Sequence[Seat], wording: Wording, joined: Joined | None = None
) -> Iterator[Markup]:
    """Places of one kind and one target share a sentence: “its front and top flush with …”.

    Of what is `joined`, it is told as well from where a figure counts.
    """
    groups: dict[tuple[str, Markup, Markup], list[str]] = {}
    places: dict[tuple[str, Markup, Markup], Place] = {}
    for sides, place in seated:
        key = (place.how, side_of(place.target, wording), wording.said(place.distance))
        groups.setdefault(key, []).extend(sides.value)
        places[key] = place
    flush: list[Markup] = []
    told: set[Markup] = set()
    for (how, held, far), sides_of in groups.items():
        named = tuple(dict.fromkeys(sides_of))
        side = way_list(named, wording) if how == "centred" else side_list(named, wording)
        if how == "flush":
            flush.append(wording.say("seat_flush_of", side=side, held=held))
        elif how in MEASURED:
            for one in named:
                yield _measured(how, one, held, far, wording)
        else:
            yield wording.say(f"seat_{key_of(how)}", side=side, held=held, far=far)
        place = places[how, held, far]
        if joined is not None and how in COUNTED:
            notes = (note for one in named for note in counted(joined, one, place, wording))
            fresh = [note for note in dict.fromkeys(notes) if note not in told]
            told.update(fresh)
            yield from fresh
    if flush:
        yield from short(flush, partial(_flush, wording), wording)


def _measured(how: str, side: str, held: Markup, far: Markup, wording: Wording) -> Markup:
    """A distance from the like side of another: “2 mm below the top of …”."""
    shown = wording.say(f"side_{side}")
    return wording.say(f"seat_{how}_{side}", side=shown, far=far, held=held)


def _flush(wording: Wording, sides: Markup) -> Markup:
    return wording.say("seat_flush", sides=sides)


def leans(joined: Joined, wording: Wording) -> Iterator[Markup]:
    """How far a piece leans, by its join or as all pieces of its part do; what is built of leaning
    pieces leans once it is set in its place, not on the bench.
    """
    worked, name = wording.model.worked, joined.piece.value
    built = name if joined.kind == "sub-assembly" and not joined.turned else ""
    lean = _first_lean(built, wording) if built else lean_of(worked, joined)
    if lean is None or (wording.building and lean == _first_lean(wording.building, wording)):
        return
    for angle, toward in lean.angles:
        yield wording.say(
            "do_tilt" if toward in ("raised", "lowered") else "do_lean",
            end=wording.say(f"side_{lean.end}" if lean.end != "foot" else "end_foot"),
            angle=wording.said(angle),
            way=wording.say(f"lean_{toward}"),
        )


def _first_lean(sub: str, wording: Wording) -> Lean | None:
    """How the piece leans that a sub-assembly is begun with."""
    worked = wording.model.worked
    starts = (s.start.value for s in worked.usage.steps
              if s.start and s.builds and s.builds.value == sub)  # fmt: skip
    first = next(starts, "")
    return own_lean(worked, first) if first else None


def turns(joined: Joined, piece: Markup, wording: Wording) -> Iterator[Markup]:
    """How a piece is turned about its upright axis: said first, for glue lets nobody turn it."""
    own = _piece(joined, wording)
    for said in (own.turned if own is not None else None, joined.turned):
        turn = wording.model.worked.solver.value(said, Kind.ANGLE) if said else None
        if turn is None or not turn.value:
            continue
        way = "left" if turn.value > 0 else "right"
        far = abs(turn.value)
        if far == QUARTER:
            yield wording.say(f"do_turn_quarter_{way}", piece=piece)
        elif far == 2 * QUARTER:
            yield wording.say("do_turn_half", piece=piece)
        else:
            yield wording.say(f"do_turn_{way}", piece=piece, angle=wording.degrees(far))


def _piece(joined: Joined, wording: Wording) -> Piece | None:
    pieces = (each for part in wording.model.worked.book.parts for each in part.pieces)
    return next((each for each in pieces if each.name.value == joined.piece.value), None)


def row(joined: Joined, wording: Wording) -> Iterator[Markup]:
    """The others of a row: how far apart, and where the last one ends."""
    said = joined.row
    if said is None:
        return
    usage = wording.model.worked.usage
    pieces = row_of(joined, usage.pieces)
    count, every = len(pieces) - 1, usage.pieces[usage.part_of[pieces[0]]]
    # Where some of a part's pieces are left for another row, these are not “the others”.
    some = "_some" if len(pieces) < len(every) else ""
    way = wording.say(f"side_{said.toward.value[0]}")
    if said.every is not None:
        far = wording.said(said.every)
        yield wording.say(f"do_row_every{some}", way=way, far=far, count=count)
    elif said.up_to is not None:
        gap = _gap(joined, wording)
        key = "do_row_even" if gap is None else "do_row_gaps"
        if gap is not None and count * _off(gap, wording) > SEEN:
            key = "do_row_about"
        far = wording.mm(gap) if gap is not None else Markup("")
        yield wording.say(key + some, way=way, count=count, far=far)
        for seat in seats([(said.toward, said.up_to)], wording):
            yield wording.say("do_row_last", action=lower(seat, wording))


def _off(length: Fraction, wording: Wording) -> Fraction:
    """How far a length as it is printed is off at most, mm."""
    display, told = wording.model.edition.display, Quantity(length, Kind.LENGTH)
    systems = [each for each in (display.first, display.second) if each is not None]
    return max(abs(as_printed(told, each, display) - length) for each in systems)


def _gap(joined: Joined, wording: Wording) -> Fraction | None:
    """The clear gap between two neighbours of a row, where they stand apart."""
    assert joined.row is not None
    assembly = wording.model.assembly
    names = row_of(joined, wording.model.worked.usage.pieces)[:2]
    for work in assembly.works.values():
        two = [each for name in names for each in work if each.piece == name and not each.path]
        if len(two) != 2:
            continue
        side = joined.row.toward.value[0]
        way, back = DIRECTION[side], DIRECTION[OPPOSITE[side]]
        body = assembly.bodies[two[0].part]
        wide = body.reach(two[0].pose, way) + body.reach(two[0].pose, back)
        pitch = dot(two[1].pose.offset, way) - dot(two[0].pose.offset, way)
        return pitch - wide if pitch > wide else None
    return None

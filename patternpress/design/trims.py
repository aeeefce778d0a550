"""The grammars of places and cuts on one piece.

In: a piece of text and the names of the design.  Out: a frozen record, or nothing and a problem
with examples: a position or a line on a face, a corner, an edge, an end, a lean.
"""

from __future__ import annotations

import re

from patternpress.design.kinds import naming
from patternpress.design.phrases import (
    OPPOSITE,
    EndCut,
    Lean,
    Line,
    Offset,
    Position,
    Slide,
    Trim,
    Turn,
    formula,
    part_of,
    refuse,
    side_words,
    sides,
    target,
)
from patternpress.design.reads import Reader
from patternpress.design.source import Scalar
from patternpress.design.span import Said
from patternpress.measure.formula import Formula


def corner(scalar: Scalar, reader: Reader) -> Said[tuple[str, ...]] | None:
    """Two sides that meet."""
    found = sides(scalar, reader)
    if found is None:
        return None
    if len(found.value) != 2 or OPPOSITE[found.value[0]] == found.value[1]:
        reader.report(
            naming.NotOpposite, scalar.span, text=scalar.text, wrong="is no corner of two sides"
        )
        return None
    return found


POSITIONS = "`centre`, `5 mm from left and 8 mm from top`, `centred and 4 mm from top`"


def offset(scalar: Scalar, text: str, reader: Reader) -> Offset | None:
    """A distance from a side; None after reporting."""
    found = re.fullmatch(r"(?P<far>.+) from (?:the )?(?P<side>[\w ]+)", text.strip())
    named = side_words(found["side"]) if found else None
    if not found or named is None or len(named) != 1:
        refuse(part_of(scalar, text), reader, POSITIONS)
        return None
    distance = formula(scalar, found["far"], reader)
    return Offset(distance, named[0]) if distance else None


def position(scalar: Scalar, reader: Reader) -> Position | None:
    """A point on a face."""
    found: list[Offset] = []
    for piece in re.split(r",\s*| and ", scalar.text):
        words = piece.strip().removeprefix("in the ").removeprefix("at the ")
        if words in ("centre", "center", "centred", "centered", "middle", ""):
            continue
        read = offset(scalar, piece, reader)
        if read is None:
            return None
        found.append(read)
    axes = {min(each.side, OPPOSITE[each.side]) for each in found}
    if len(axes) < len(found):
        refuse(scalar, reader, POSITIONS)
        return None
    return Position(tuple(found))


ON_BOARD = "`50 mm from left and 80 mm from bottom`, `100 mm from right`"


def board_position(scalar: Scalar, reader: Reader) -> Position | None:
    """A point on a board that lies as its layout is drawn."""
    found = position(scalar, reader)
    if found is not None and any(each.side in ("front", "back") for each in found.offsets):
        refuse(scalar, reader, ON_BOARD)
        return None
    return found


DIRECTIONS = {
    "left to right": "left",
    "right to left": "left",
    "across": "left",
    "front to back": "front",
    "back to front": "front",
    "up and down": "bottom",
    "bottom to top": "bottom",
    "upright": "bottom",
    "top to bottom": "bottom",
}
LINES = "`22 mm from top`, `centre, left to right`, `along top of shelf`"


def line(scalar: Scalar, reader: Reader) -> Line | None:
    """A line on a face."""
    text = " ".join(scalar.text.split())
    found = re.fullmatch(r"(?:the )?(?:centre|center)(?: line)?,? (?P<way>.+)", text)
    if found and found["way"] in DIRECTIONS:
        return Line("centre", direction=DIRECTIONS[found["way"]])
    if text.startswith("along "):
        held = target(part_of(scalar, text.removeprefix("along ")), reader)
        return Line("along", target=held) if held else None
    if " from " in text:
        read = offset(scalar, text, reader)
        return Line("from", read) if read else None
    refuse(scalar, reader, LINES)
    return None


LEANS = (
    "`foot 8 deg to the left and 6 deg to the front`, `top 10 deg to the front`, "
    "`back raised by 12 deg`"
)


def lean(scalar: Scalar, reader: Reader) -> Lean | None:
    """Which end of a piece goes out of upright, how far and to which side."""
    text = " ".join(scalar.text.split())
    tilted = re.fullmatch(r"(?:the )?(left|right|front|back) (raised|lowered) by (.+)", text)
    if tilted:
        tilt = formula(scalar, tilted[3], reader)
        return Lean(tilted[1], ((tilt, tilted[2]),)) if tilt else None
    found = re.fullmatch(r"(?:the )?(top|foot|bottom) (.+)", text)
    if not found:
        refuse(scalar, reader, LEANS)
        return None
    angles = _angles(
        scalar,
        found[2],
        r"(?P<angle>.+) (?:to|toward|towards) (?:the )?(?P<side>\w+)",
        LEANS,
        reader,
    )
    end = "top" if found[1] == "top" else "foot"
    return Lean(end, angles) if angles else None


OPENS = (
    "`15 mm to the front`, `20 mm to the top`, `100 deg to the front about left front edge of door`"
)


def opens(scalar: Scalar, reader: Reader) -> Slide | Turn | None:
    """How far something is moved when it is opened: straight on, or about a line."""
    text = " ".join(scalar.text.split())
    found = re.fullmatch(r"(.+?) (?:to|toward|towards) (?:the )?(\w+)(?: about (.+))?", text)
    named = side_words(found[2]) if found else None
    if not found or not named:
        refuse(scalar, reader, OPENS)
        return None
    by = formula(scalar, found[1], reader)
    if not found[3]:
        return Slide(by, named[0]) if by else None
    about = target(part_of(scalar, found[3]), reader)
    return Turn(by, named[0], about) if by and about else None


ENDS = '`"45 deg, longest at front"`, `level`, `upright`'


def end_cut(scalar: Scalar, reader: Reader) -> EndCut | None:
    """How an end or edge is cut when not square."""
    text = " ".join(scalar.text.split()).removeprefix("cut ").removeprefix("at ")
    if text in ("level", "upright"):
        return EndCut(text)
    text = text.replace(", longest", " longest")
    angles = _angles(
        scalar, text, r"(?P<angle>.+?),? longest (?:at|on) (?:the )?(?P<side>\w+)", ENDS, reader
    )
    return EndCut("angles", angles) if angles else None


def _angles(
    scalar: Scalar, text: str, pattern: str, examples: str, reader: Reader
) -> tuple[tuple[Said[Formula], str], ...] | None:
    angles = []
    for piece in re.split(r",\s*| and ", text):
        found = re.fullmatch(pattern, piece.strip())
        named = side_words(found["side"]) if found else None
        if not found or not named:
            refuse(scalar, reader, examples)
            return None
        angle = formula(scalar, found["angle"], reader)
        if angle is None:
            return None
        angles.append((angle, named[0]))
    return tuple(angles)


CORNERS = "`round 6 mm`, `hollow 8 mm`, `cut off 5 x 10 mm`, `notch 3 x 5 mm`"


def corner_trim(scalar: Scalar, reader: Reader) -> Trim | None:
    """What is done to a corner: rounded, hollowed, cut off, notched."""
    found = re.fullmatch(
        r"(round|hollow|cut off|notch) (?P<a>.+?)(?: [x×] (?P<b>.+))?", scalar.text.strip()
    )
    if not found or (found[1] in ("round", "hollow") and found["b"]):
        refuse(scalar, reader, CORNERS)
        return None
    first = found["a"]
    unit = re.search(r"\s(mm|cm|in|″)\s*$", found["b"] or "")
    if unit and re.fullmatch(r"[\d\s./]+", first):
        read = formula(Scalar(f"{first} {unit[1]}", scalar.span), f"{first} {unit[1]}", reader)
    else:
        read = formula(scalar, first, reader)
    sizes = [read, formula(scalar, found["b"], reader)] if found["b"] else [read]
    kept = tuple(each for each in sizes if each)
    return Trim(found[1], kept) if len(kept) == len(sizes) else None


EDGES = "`arched 6 mm`, `hollowed 4 mm`, `hollowed 4 mm between 5 mm from left and 5 mm from right`"


def edge_trim(scalar: Scalar, reader: Reader) -> Trim | None:
    """How an edge is shaped: arched out of the blank's line, or hollowed into it."""
    found = re.fullmatch(
        r"(arched|hollowed) (?P<by>.+?)(?: between (?P<span>.+))?", scalar.text.strip()
    )
    if not found:
        refuse(scalar, reader, EDGES)
        return None
    by = formula(scalar, found["by"], reader)
    ends: list[Offset | None] = []
    if found["span"]:
        ends = [offset(scalar, piece, reader) for piece in found["span"].split(" and ")]
    between = tuple(each for each in ends if each)
    if by is None or len(between) != len(ends) or len(ends) not in (0, 2):
        return None
    return Trim(found[1], (by,), between)


def point(scalar: Scalar, reader: Reader) -> tuple[Said[Formula], ...] | None:
    """Two distances, from the left (or front) and from the bottom (or front)."""
    pieces = scalar.text.split(",")
    if len(pieces) != 2:
        refuse(scalar, reader, "`12 mm, 8 mm` (from the left or front, then the other way)")
        return None
    read = [formula(scalar, piece, reader) for piece in pieces]
    kept = tuple(each for each in read if each)
    return kept if len(kept) == 2 else None


def offset_only(scalar: Scalar, reader: Reader) -> Offset | None:
    """A distance from one side, as the whole value."""
    return offset(scalar, scalar.text, reader)

"""Sound cupboards with what the plain ones lack: woods that swell, a top that hangs over, faces
that are sanded, dyed and oiled in a right order, pegs of a depth, doors and lids.

In: a number.  Out: the text of a design about which nothing can be said; and `TWINS`, which make
one wrong in one thing each.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable

from tests.assembly.carcass import Plan, carcass, plan
from tests.assembly.furnished import furnished

# Percent of its width that a board swells from 6 to 10 % moisture: four times the tangential
# coefficients of the Wood Handbook (FPL-GTR-190), table 13-5.  In miniature 0.75 mm is borne.
SWELLS = {
    "lime (basswood)": 1.32,
    "cherry": 0.992,
    "walnut": 1.096,
    "maple": 1.412,
    "red oak": 1.476,
    "beech": 1.724,
}
BORNE, TOO_FAR = 0.74, 0.76
THICK = {
    "1.5 mm": 1.5,
    "2 mm": 2,
    "3 mm": 3,
    "1/16 in": 1.5875,
    "3/32 in": 2.38125,
    "1/8 in": 3.175,
}
PAPER = "        with: fine paper\n"
ENDS = f"      - sand: left of floor, right of floor\n{PAPER}"
ROOF = f"      - sand: top of roof\n{PAPER}"
CUT = "  - step: Cut and mark\n"
ROOFED = "  - step: Put in the back and the roof\n    builds: case\n"
SET_UP = "  - step: Set the case up\n"
CENTRED = "left and right: centred on roof"
EVEN = "front and back: centred on roof"
BARE = (
    "      - leave bare: left of floor, right of floor\n",
    "      - resist: left of floor, right of floor\n        with: wood glue\n",
)


def dressed(number: int) -> str:
    """A cupboard, furnished or not, with some of all that."""
    of, pick = plan(number), random.Random(number + 11)
    opens = pick.random() < 0.3
    text = furnished(number) if opens else carcass(number)
    if pick.random() < 0.6:
        text = _wooden(text, of, pick)
    topped = not of.hole and not opens and pick.random() < 0.8
    text = _sanded(text, topped=topped)
    if topped:
        text = _topped(text, pick)
    if of.hole:
        deep = pick.choice(["board", "half board", "1 mm", "board - 0.3 mm"])
        text = text.replace("in peg hole of roof'", f"in peg hole of roof, {deep} deep'")
    if pick.random() < 0.5:
        text = _dyed(text, pick, opens=opens)
    return _oiled(text) if pick.random() < 0.4 else text


def _with(text: str, section: str, lines: str) -> str:
    return text.replace(f"{section}:\n", f"{section}:\n{lines}", 1)


def _wooden(text: str, of: Plan, pick: random.Random) -> str:
    """Boards of solid wood that may be glued crosswise over the depth, the back of plywood where it
    would swell too much.
    """
    wood = pick.choice([each for each, by in SWELLS.items() if by * of.depth < 100 * BORNE])
    moves = SWELLS[wood] * (min(of.width, of.height) - 2 * THICK[of.board]) / 100
    if BORNE <= moves <= TOO_FAR:
        return text
    text = re.sub(r"( board: \{sheet: [^,]+,)", rf"\1 wood: {wood},", text)
    if moves < BORNE:
        return text
    ply = f"  back ply: {{sheet: {of.board}, wood: birch plywood, cut with: craft knife}}\n"
    return _with(text, "stock", ply).replace("back: {stock: lime board", "back: {stock: back ply")


def _sanded(text: str, *, topped: bool) -> str:
    """Ends and faces that are sanded while they can be reached, and those that stay open later."""
    start = text.index(CUT)
    end = text.index("  - step:", start + 1)
    step = text[start:end]
    if "    treat:\n" not in step:
        step += "    treat:\n"
    head, _, rest = step.partition("    treat:\n")
    step = f"{head}    treat:\n{ENDS}{ROOF if topped else ''}{rest}"
    later = f"    afterwards:\n      - sand: left of left side, bottom of floor\n{PAPER}"
    later += f"      - ease: bottom left edge of left side\n{PAPER}"
    text = f"{text[:start]}{step}{text[end:]}"
    text = text.replace(ROOFED, f"{later}{ROOFED}")
    return _with(text, "materials", "  fine paper: {kind: abrasive}\n")


def _topped(text: str, pick: random.Random) -> str:
    """A top that hangs over by as much left and right; behind it is flush or hangs over as well."""
    over, even = pick.choice(["0.8 mm", "1 mm", "1.5 mm", "board"]), pick.random() < 0.5
    part = f"  top board:\n    stock: lime board\n    wide: width + 2 * {over}\n"
    part += f"    deep: depth + {2 if even else 1} * {over}\n    grain: left to right\n"
    place = EVEN if even else "back: flush with roof"
    step = "  - step: Put the top on\n    builds: case\n    work lies: upright\n    join:\n"
    step += f"      top board: {{bottom: against roof, {CENTRED}, {place}}}\n"
    step += "    wait: {for: wood glue, until: handle}\n"
    step += f"    afterwards:\n      - round over: top front edge of top board\n{PAPER}"
    return _with(text, "parts", part).replace(SET_UP, step + SET_UP)


def _dyed(text: str, pick: random.Random, *, opens: bool) -> str:
    """Floor and sides are dyed before they are glued, the ends of the floor kept from it."""
    step = "  - step: Dye the case\n    treat:\n" + pick.choice(BARE)
    step += "      - dye: floor, left side, right side\n        with: dark dye\n"
    if opens:  # nothing is glued to a door
        step += "      - paint: left door\n        with: dark dye\n"
    step += "    wait: {for: dark dye, until: handle}\n"
    text = _with(text, "materials", "  dark dye: {kind: finish, handle: 1 h}\n")
    first = "  - step: Join the sides to the floor\n"
    return text.replace(first, step + first)


def _oiled(text: str) -> str:
    oil = "finishing:\n  - step: Oil it\n    treat: {oil: work, with: thin oil}\n"
    oil += "    wait: {for: thin oil, until: handle}\n"
    text = _with(text, "materials", "  thin oil: {kind: finish, handle: 12 h}\n")
    return text + oil


# ------------------------------------------------------------------ nearly the same, and wrong


def _replaced(old: str, new: str) -> Callable[[str], str]:
    return lambda text: text.replace(old, new)


def _too_late(line: str, step: str) -> Callable[[str], str]:
    """What is sanded in the first step is sanded at the beginning of a later one."""

    def wrong(text: str) -> str:
        if line not in text:
            return text
        return text.replace(line, "").replace(step, f"{step}    treat:\n{line}").replace(
            "    treat:\n  - step", "  - step"
        )  # fmt: skip

    return wrong


def _glued_in_colour(text: str) -> str:
    for each in BARE:
        text = text.replace(each, "")
    return text


def _deeper(text: str) -> str:
    return re.sub(r"(in peg hole of roof, )[^']+ deep", r"\1board + 0.2 mm deep", text)


def _further(text: str) -> str:
    return re.sub(r"\d+ deg to the (top|front)", r"300 deg to the \1", text)


def _out(text: str) -> str:
    return re.sub(r"opens: [\d.]+ mm to the front", "opens: 200 mm to the front", text)


# What is made wrong: the code that is then told, and how; a text that has no such thing stays.
TWINS: dict[str, tuple[str, Callable[[str], str]]] = {
    "a top aside": ("unequal-overhang", _replaced(CENTRED, "left: 0.4 mm beyond left side")),
    "a top ahead": ("unequal-overhang", _replaced(EVEN, "front: 0.3 mm beyond left side")),
    "ends sanded late": ("face-covered", _too_late(ENDS, ROOFED)),
    "a roof sanded late": (
        "face-covered",
        _too_late(ROOF, f"{SET_UP}    start: case\n"),
    ),
    "ends dyed": ("dyed-where-glued", _glued_in_colour),
    "a solid back": ("wood-moves", _replaced("back: {stock: back ply", "back: {stock: lime board")),
    "a peg too deep": ("stem-too-long", _deeper),
    "turned too far": ("opens-into", _further),
    "drawn too far": ("comes-out", _out),
}

"""Sound cupboards with what opens: a door or a pair of them, a hinged lid, a drawer drawn out.

In: a number.  Out: the text of a design about which nothing can be said.
"""

from __future__ import annotations

import random
import re

from tests.assembly.carcass import carcass, plan


def furnished(number: int) -> str:
    """A cupboard with a door or two in front of it, and a lid on it where no peg stands there.

    Where there is a drawer, the doors turn about their back edges and by a right angle at least,
    so that they leave its way free.
    """
    of, pick, text = plan(number), random.Random(number + 7), carcass(number)
    pair = pick.random() < 0.5
    degrees = pick.randint(90, 120) if of.drawer else pick.randint(10, 120)
    edge = "back" if of.drawer else pick.choice(["front", "back"])
    parts = (
        f"  door:\n    stock: lime board\n    wide: {'(width - 1 mm) / 2' if pair else 'width'}\n"
    )
    parts += "    high: height - 0.5 mm\n"
    parts += "    pieces: [left door, right door]\n" if pair else "    pieces: [left door]\n"
    step = "  - step: Hang what opens\n    join:\n"
    for side in ("left", "right")[: 1 + pair]:
        step += _joined(
            f"{side} door",
            "back: loose against floor",
            f"{side}: flush with {side} side",
            "bottom: flush with floor",
            f"opens: {degrees} deg to the front about {side} {edge} edge of {side} door",
        )
    if not of.hole:
        parts += "  lid: {stock: lime board, wide: width, deep: depth}\n"
        edge = pick.choice(["top back", "bottom back"])
        step += _joined(
            "lid",
            "bottom: loose against roof",
            "left: flush with left side",
            "back: flush with left side",
            f"opens: {pick.randint(5, 170)} deg to the top about {edge} edge of lid",
        )
    if of.drawer:
        last = "        left and right: centred on floor\n"
        text = text.replace(last, f"{last}        opens: {of.depth / 2} mm to the front\n")
    text = text.replace("parts:\n", "parts:\n" + parts, 1)
    return re.sub(r"(?m)^steps:\n(?:(?: .*)?\n)*", lambda found: found[0] + step, text, count=1)


def _joined(piece: str, *places: str) -> str:
    return f"      {piece}:\n" + "".join(f"        {each}\n" for each in places)

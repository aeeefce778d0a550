"""Sound stools without end: a seat on four splayed legs, each stool at its own angles.

In: a number.  Out: the text of a design about which nothing can be said.
"""

from __future__ import annotations

import random

LEGS = {
    "front left": ("as drawn", "left", "front"),
    "front right": ("mirrored left to right", "right", "front"),
    "back left": ("mirrored front to back", "left", "back"),
    "back right": ("mirrored both ways", "right", "back"),
}


def stool(number: int) -> str:
    """The text of a sound design."""
    pick = random.Random(number)
    metric = pick.random() < 0.7
    seat, strip = ("3 mm", "3 mm") if metric else ("1/8 in", "1/8 in")
    aside, ahead = pick.randint(0, 18), pick.randint(1, 18)
    inset, wide, deep = pick.randint(6, 9), pick.randint(28, 60), pick.randint(26, 50)
    marks = "".join(
        f"  {name} point:\n    on: bottom of seat\n"
        f"    point: {inset} mm from {x} and {inset} mm from {y}\n"
        for name, (_, x, y) in LEGS.items()
    )
    pieces = "".join(f"      {name} leg: {stands}\n" for name, (stands, _, _) in LEGS.items())
    joins = "".join(
        f"      {name} leg:\n        top: against seat\n"
        f"        left and right: centred on {name} point\n"
        f"        front and back: centred on {name} point\n"
        for name in LEGS
    )
    return f"""design: Stool {number}
scale: 1:12
stock:
  seat board: {{sheet: {seat}, sold: 100 x 600 mm, cut with: craft knife}}
  leg strip: {{strip: {strip}, sold: 600 mm, cut with: craft knife}}
parts:
  seat: {{stock: seat board, wide: {wide} mm, deep: {deep} mm}}
  leg:
    stock: leg strip
    high: {pick.randint(20, 60)} mm
    leans: foot {aside} deg to the left and {ahead} deg to the front
    ends: {{top: level, bottom: level}}
    pieces:
{pieces}marks:
{marks}tools:
  craft knife: with a fresh blade
  pencil:
materials:
  wood glue: {{kind: glue, workable: 5 to 10 min, handle: 30 min}}
steps:
  - step: Mark the seat
    uses: pencil
    mark: {", ".join(f"{name} point" for name in LEGS)}
  - step: Glue the legs on
    work lies: on its top
    start: seat
    join:
{joins}"""

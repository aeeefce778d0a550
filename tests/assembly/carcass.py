"""Sound designs without end: little cupboards, each different, each in a right order of work.

In: a number.  Out: the text of a design about which nothing can be said.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace


@dataclass(frozen=True)
class Plan:
    """What one cupboard is like; lengths in mm."""

    board: str
    width: int
    depth: int
    height: int
    shelves: int
    drawer: bool
    hole: bool
    prose: bool
    scale: str
    twice: bool  # the joins say of both ends where they go
    divider: bool  # stands in the highest bay
    plinth: bool  # two boards on edge under the floor


def plan(number: int) -> Plan:
    """A cupboard that can be made: bays of 14 mm and more, drawers that are wide enough."""
    pick = random.Random(number)
    shelves = pick.randint(0, 3)
    metric = pick.random() < 0.7
    board = pick.choice(["1.5 mm", "2 mm", "3 mm"] if metric else ["1/16 in", "3/32 in", "1/8 in"])
    return Plan(
        board=board,
        width=pick.randint(40, 110),
        depth=pick.randint(25, 60),
        height=pick.randint(18, 30) * (shelves + 1) + 8,
        shelves=shelves,
        drawer=pick.random() < 0.5,
        hole=pick.random() < 0.4,
        prose=pick.random() < 0.5,
        scale=pick.choice(["1:12", "1:24", "1:16"]),
        twice=pick.random() < 0.5,
        divider=shelves > 0 and pick.random() < 0.5,
        plinth=pick.random() < 0.5,
    )


def carcass(number: int, *, plain: bool = False) -> str:
    """The text of a sound design; a `plain` one has neither divider nor plinth."""
    of = replace(plan(number), divider=False, plinth=False) if plain else plan(number)
    sections = [
        f"design: Cupboard {number}\nscale: {of.scale}\nunits: mm\n",
        _sizes(of),
        _stock(of),
        _parts(of),
        "sub-assemblies:\n  case:\n" + "  drawer: {moves: slides}\n" * of.drawer,
        _openings(of),
        _marks(of),
        _goods(of),
        _steps(of),
    ]
    # The order of the sections is the author's own affair.
    head, *rest = (each for each in sections if each)
    random.Random(number + 1).shuffle(rest)
    return head + "".join(rest)


def _sizes(of: Plan) -> str:
    lines = [
        "inside: width - 2 * board",
        f"width: {of.width} mm",
        f"depth: {of.depth} mm",
        f"height: {of.height} mm",
        "board: thickness of lime board",
    ]
    if of.shelves or of.drawer:
        lines.append(f"bay: (height - {of.shelves + 2} * board) / {of.shelves + 1}")
    random.Random(of.width).shuffle(lines)
    return "sizes:\n" + "".join(f"  {line}\n" for line in lines)


def _stock(of: Plan) -> str:
    text = (
        f"stock:\n  lime board: {{sheet: {of.board}, sold: 150 x 600 mm, cut with: craft knife}}\n"
    )
    if of.drawer:
        text += "  thin board: {sheet: 1 mm, sold: 150 x 600 mm, cut with: craft knife}\n"
    if of.hole:
        text += "  dowel: {rod: 2 mm, sold: 300 mm}\n"
    return text


def _parts(of: Plan) -> str:
    text = """parts:
  side:
    stock: lime board
    deep: depth
    high: height
    pieces: {left side: as drawn, right side: mirrored left to right}
    grain: up and down
  floor: {stock: lime board, wide: inside, deep: depth, grain: left to right}
  roof: {stock: lime board, wide: inside, deep: depth, grain: left to right}
  back: {stock: lime board, wide: inside, high: height - 2 * board}
"""
    if of.shelves:
        text += "  shelf:\n    stock: lime board\n    wide: inside\n    deep: depth - board\n"
        text += f"    quantity: {of.shelves}\n" if of.shelves > 1 else ""
    if of.divider:
        text += "  divider: {stock: lime board, deep: depth - board, high: bay}\n"
    if of.plinth:
        text += "  plinth:\n    stock: lime board\n    wide: inside\n    high: 6 mm\n"
        text += "    pieces: [front plinth, back plinth]\n"
    if of.hole:
        text += "  lamp peg: {stock: dowel, high: 8 mm}\n"
        text = text.replace(
            "roof: {stock: lime board, wide: inside, deep: depth, grain: left to right}",
            "roof:\n    stock: lime board\n    wide: inside\n    deep: depth\n"
            "    grain: left to right\n    holes:\n      peg hole: {round: 2 mm, at: centre}",
        )
    if of.drawer:
        text += """  drawer front:
    stock: lime board
    fitted: drawer bay
    less: {wide: 0.25 to 0.5 mm, high: 0.25 to 0.5 mm}
    grain: left to right
  drawer side:
    stock: thin board
    deep: depth - 3 * board
    high: height of drawer front - 1 mm
    pieces: [drawer left, drawer right]
  drawer back:
    stock: thin board
    wide: width of drawer front - 2 * thickness of thin board
    high: height of drawer side
  drawer floor:
    stock: thin board
    wide: width of drawer back
    deep: depth of drawer side - thickness of thin board
"""
    return text


def _openings(of: Plan) -> str:
    if not of.drawer:
        return ""
    above = "roof" if not of.shelves else shelf_names(of)[0]
    return f"""openings:
  drawer bay:
    between: left side and right side, floor and {above}
    wide: inside
    high: bay
"""


def shelf_names(of: Plan) -> list[str]:
    """The pieces of the shelf, lowest first."""
    if of.shelves == 1:
        return ["shelf"]
    return [f"shelf {n}" for n in range(1, of.shelves + 1)]


def _marks(of: Plan) -> str:
    lines = ""
    for number in range(1, of.shelves + 1):
        lines += f"  line {number}:\n    on: right of left side, left of right side\n"
        lines += f"    line: {number} * (bay + board) from bottom\n    keep off: 2 mm from front\n"
    return f"marks:\n{lines}" if lines else ""


def _goods(of: Plan) -> str:
    text = "tools:\n  craft knife: with a fresh blade\n  steel rule:\n  pencil:\n"
    text += "  hand drill:\n" if of.hole else ""
    text += "materials:\n  wood glue:\n    {kind: glue, workable: 20 to 30 min, handle: 30 min}\n"
    return text + "  masking tape: low tack\n"


WAIT = "    wait: {for: wood glue, until: handle}\n"


def _steps(of: Plan) -> str:
    marks = ", ".join(f"line {n}" for n in range(1, of.shelves + 1))
    text = "steps:\n  - step: Cut and mark\n    uses: steel rule, pencil\n"
    text += f"    mark: {marks}\n" if marks else ""
    if of.hole:
        text += "    treat:\n      - drill: peg hole of roof\n        with: hand drill\n"
    text += _prose(of)
    text += f"""  - step: Join the sides to the floor
    builds: case
    start: floor
    join:
      left side: {{right: against floor, {_both(of, "back: flush with floor")}
        bottom: flush with floor, front: flush with floor}}
      right side: {{left: against floor, {_both(of, "back: flush with floor")}
        bottom: flush with floor, front: flush with floor}}
    hold: {{with: masking tape, where: across both sides}}
"""
    text += WAIT
    other = _both(of, "right: against right side")
    text += "  - step: Put in the back and the roof\n    builds: case\n    join:\n"
    text += f"      back: {{bottom: against floor, left: against left side, {other}"
    text += f"back: flush with floor}}\n      roof: {{left: against left side, {other}"
    text += _both(of, "bottom: against back") + _both(of, "back: flush with left side")
    text += "top: flush with left side, front: flush with left side}\n" + WAIT
    for number, name in enumerate(shelf_names(of) if of.shelves else [], 1):
        text += f"  - step: Glue in shelf {number}\n    builds: case\n    join:\n"
        text += f"      {name}: {{left: against left side, back: against back, {other}"
        text += _both(of, "front: flush with floor")
        text += f"bottom: on line {number}}}\n" + WAIT
    text += _divider(of) + _plinth(of) + "  - step: Set the case up\n    start: case\n"
    if of.hole:
        text += "    join:\n      lamp peg: {bottom: 'in peg hole of roof'}\n" + WAIT
    return text + _drawer(of)


def _divider(of: Plan) -> str:
    """It goes in from the front, between the highest shelf and the roof."""
    if not of.divider:
        return ""
    shelf = shelf_names(of)[-1]
    join = f"      divider: {{bottom: against {shelf}, {_both(of, 'top: against roof')}"
    join += f"back: against back, left and right: centred on {shelf}}}\n"
    return "  - step: Divide the highest bay\n    builds: case\n    join:\n" + join + WAIT


def _plinth(of: Plan) -> str:
    """Two boards across, so far in that a toe finds room; the case lies on its roof meanwhile."""
    if not of.plinth:
        return ""
    text = (
        "  - step: Set it on its plinth\n    builds: case\n    work lies: on its top\n    join:\n"
    )
    for side in ("front", "back"):
        text += f"      {side} plinth: {{top: against floor, left: flush with floor, "
        text += f"{_both(of, 'right: flush with floor')}{side}: 2 mm inside floor}}\n"
    return text + WAIT


def _both(of: Plan, place: str) -> str:
    """A second end's place, which must agree with the size."""
    return f"{place}, " if of.twice else ""


def _prose(of: Plan) -> str:
    if not of.prose:
        return ""
    return "    tip: Cut <floor> first, <width of floor> long, and lay <steel rule> on the line.\n"


def _drawer(of: Plan) -> str:
    if not of.drawer:
        return ""
    return f"""  - step: Measure and cut the drawer
    measure: drawer bay
    cut: drawer front, drawer side, drawer back, drawer floor
  - step: Build the drawer
    builds: drawer
    start: drawer front
    join:
      drawer left: {{
        front: against drawer front, left: flush with drawer front,
        bottom: flush with drawer front}}
      drawer right: {{
        front: against drawer front, right: flush with drawer front,
        bottom: flush with drawer front}}
      drawer back: {{
        left: against drawer left, {_both(of, "right: against drawer right")}
        {_both(of, "top: flush with drawer left")}back: flush with drawer left,
        bottom: flush with drawer left}}
      drawer floor: {{
        left: against drawer left, {_both(of, "right: against drawer right")}
        {_both(of, "back: against drawer back")}front: against drawer front,
        bottom: flush with drawer front}}
{WAIT}  - step: Slide the drawer in
    join:
      drawer:
        bottom: loose against floor
        front: flush with floor
        left and right: centred on floor
"""

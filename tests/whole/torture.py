"""A design that asks too much of a page: long names, large quantities, many rows, many pieces.

In: nothing.  Out: the text of a design in both units.  A tray gets fourteen rails, each
of its own length and twelve of them in one step, and 480 pins.
"""

from __future__ import annotations

COMPASS = ["north-western", "north-eastern", "south-western", "south-eastern"]
PLACES = ["harbour", "lighthouse", "signal-house", "storehouse", "boathouse"]
EDGE = "straightedge engraved on both edges for harbour lighthouse keepers"
OILS = [f"thinned linseed oil {place} {side} store" for place in PLACES[:3] for side in COMPASS]
PIN = "provisioning pin for hanging lamp-trimming lighthouse tools"
RAILS = 14
AT_ONCE = 12  # pieces that the first step brings
PINS = 480

TOP = """\
design: The Long-Named Provisioning and Lamp-Trimming Tray of the Lighthouse Quay
version: "10.12"
date: 2026-11-25
scale: 1:12
units: in

stock:
  unusually well seasoned close-grained lighthouse board:
    sheet: 5/32 in
    sold: 12 x 48 in
    cut with: fine-toothed dovetailing saw beech-handled reinforced sheet steel
    kerf: 1/64 in
  straight carefully planed lighthouse rail strip:
    strip: 5/64 in
    sold: 35 63/64 in
    cut with: fine-toothed dovetailing saw beech-handled reinforced sheet steel
    kerf: 1/64 in
  polished pin: {bought: a polished round-headed brass pin for lighthouse lamps, pack: 25}

tools:
  fine-toothed dovetailing saw beech-handled reinforced sheet steel: {note: with a stop}
  straightedge engraved on both edges for harbour lighthouse keepers:
"""

MATERIALS = """\
materials:
  slow-setting waterproof wood glue for lighthouse keepers: {kind: glue, handle: 30 min, hard: 24 h}
"""


def rails() -> list[str]:
    """The names of the rails, of about sixty letters each."""
    sides = [f"{place} {side}" for place in PLACES for side in COMPASS]
    every = [
        f"{place} stiffening rail {way} provisioning row"
        for place in sides
        for way in ("outermost", "innermost")
    ]
    return every[:RAILS]


def design() -> str:
    """The text of the design."""
    names = rails()
    parts = "".join(
        f"  {name}:\n    stock: straight carefully planed lighthouse rail strip\n"
        f"    wide: {3 + place // 8} {2 * (place % 32) + 1}/64 in\n"
        for place, name in enumerate(names)
    )
    oils = "".join(f"  {oil}: {{kind: finish}}\n" for oil in OILS)
    groups = [names[:AT_ONCE]]
    groups += [names[first : first + 8] for first in range(AT_ONCE, RAILS, 8)]
    steps = "".join(_step(number, names, group) for number, group in enumerate(groups))
    return (
        TOP
        + f"""
parts:
  tray:
    stock: unusually well seasoned close-grained lighthouse board
    wide: 9 63/64 in
    deep: 8 61/64 in
    template: yes
  {PIN}: {{stock: polished pin, spares: {PINS - 1}}}
{parts}
{MATERIALS}{oils}
steps:
{steps}
editions:
  long: {{units: both, paper: A4, labels: yes}}
  tall: {{units: in, paper: Letter, labels: yes}}
"""
    )


def _step(number: int, names: list[str], group: list[str]) -> str:
    first = number == 0
    start = f"    start: tray\n    uses: {', '.join([EDGE, *OILS])}\n" if first else ""
    joins = f"      {PIN}: {{bottom: against tray, right: 1 in inside tray," if first else ""
    joins += " back: 1 in inside tray}\n" if first else ""
    for name in group:
        joins += f"      {name}: {{bottom: against tray, left: 1/4 in inside tray,"
        joins += f" front: {13 * names.index(name) + 3}/64 in inside tray}}\n"
    return (
        f"  - step: Glue every one of the rails of row {number + 1} in front of the others\n{start}"
        "    glue: slow-setting waterproof wood glue for lighthouse keepers\n"
        f"    join:\n{joins}    takes: 95 min\n"
    )

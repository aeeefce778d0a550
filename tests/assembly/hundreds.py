"""A design of three hundred pieces: a type case of boxes within boxes.

In: nothing.  Out: the text of a sound design; every piece is joined by a line of its own.
Its sums are of the board's thickness by name, never of a typed 1 mm: in inches that would be
another length than the board, and the bars would not meet the ribs.
"""

from __future__ import annotations

COLUMNS, ROWS = 16, 17
LETTERS = "abcdefghijklmnop"


def type_case() -> str:
    """A floor, four rims, 15 long bars and 16 x 17 + 8 short ones: 300 pieces, 25 sizes."""
    return "\n".join(_lines())


def _lines() -> list[str]:
    names = [f"bar {LETTERS[c]}{r}" for c in range(COLUMNS) for r in range(1, ROWS + 1)]
    long = [f"rib {c}" for c in range(1, COLUMNS)]
    feet = [f"foot {n}" for n in range(1, 9)]
    bars = ", ".join(names)
    lines = f"""design: Type case
scale: 1:12
stock:
  board: {{sheet: 1 mm}}
  strip: {{strip: 2 mm}}
sizes:
  thick: thickness of board
  cell: 9 mm
  step: cell + thick
  deep: {ROWS + 1} * cell + {ROWS} * thick
parts:
  floor: {{stock: board, wide: {COLUMNS} * step - thick, deep: deep}}
  long rim:
    {{stock: board, wide: width of floor + 2 * thick, high: 6 mm, pieces: [front rim, back rim]}}
  short rim: {{stock: board, deep: deep, high: 6 mm, pieces: [left rim, right rim]}}
  rib: {{stock: board, deep: deep, high: 5 mm, pieces: [{", ".join(long)}]}}
  bar: {{stock: board, wide: cell, high: 5 mm, pieces: [{bars}]}}
  foot: {{stock: strip, high: 4 mm, pieces: [{", ".join(feet)}]}}
steps:
  - step: Rims
    start: floor
    join:
      left rim: {{right: against floor, bottom: flush with floor, front: flush with floor}}
      right rim: {{left: against floor, bottom: flush with floor, front: flush with floor}}
      front rim: {{back: against floor, bottom: flush with floor, left: flush with left rim}}
      back rim: {{front: against floor, bottom: flush with floor, left: flush with left rim}}
    wait: 1 min""".split("\n")
    lines += ["  - step: Ribs", "    join:"]
    place = (
        "{{bottom: against floor, front: against front rim, left: {} * step - thick inside floor}}"
    )
    lines += [f"      {name}: " + place.format(n) for n, name in enumerate(long, 1)]
    lines += ["    wait: 1 min"]
    for column in range(1, COLUMNS + 1):
        lines += [f"  - step: Column {column}", "    join:"]
        left = "left rim" if column == 1 else f"rib {column - 1}"
        lines += [
            f"      bar {LETTERS[column - 1]}{row}: {{bottom: against floor, left: against {left}, "
            f"front: {row} * step - thick from front of floor}}"
            for row in range(1, ROWS + 1)
        ]
        lines += ["    wait: 1 min"]
    lines += ["  - step: Feet", "    join:"]
    for n, name in enumerate(feet):
        side = "front" if n % 2 else "back"
        lines.append(
            f"      {name}: {{top: against floor, {side}: flush with floor, "
            f"left: {n // 2} * 50 mm from left of floor}}"
        )
    return [*lines, ""]

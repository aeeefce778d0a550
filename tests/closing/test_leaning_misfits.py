"""How far a piece that leans may be off in a closed edition."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.closing.close import check_closing
from patternpress.design.read import read_text

CHAIR = """design: Chair without a back
scale: 1:12
sizes:
  seat width: WIDE
  seat depth: 38 mm
  board: thickness of lime board
  post: thickness of post strip
  seat height: 38 mm
  inset: 3 mm
  lean: LEAN
  notch: post / cos(lean) + board * tan(lean) + 0.2 mm
  foot front: seat depth - notch + 0.1 mm - (seat height - board) * tan(lean)
stock:
  lime board: {sheet: 2 mm, sold: 100 x 300 mm, nearest: 5/64 in}
  post strip: {strip: 3 mm, sold: 300 mm, nearest: 1/8 in}
  leg rod: {rod: 3 mm, sold: 300 mm, nearest: 1/8 in}
parts:
  seat:
    stock: lime board
    wide: seat width
    deep: seat depth
    symmetrical: left to right
    outline:
      - start: half seat width, 0 mm
      - line: seat width, 0 mm
      - line: seat width - inset, seat depth - notch
      - line: seat width - inset - post, seat depth - notch
      - line: seat width - inset - post, seat depth
      - line: half seat width, seat depth
  front leg: {stock: leg rod, high: seat height - board}
  back post:
    stock: post strip
    high: 80 mm
    leans: top lean to the back
    ends: {bottom: level}
    pieces: [left back post, right back post]
steps:
  - step: Glue it
    start: seat
    join:
      front leg:
        top: against bottom of seat
        left and right: centred on seat
        front: 6 mm inside seat
      left back post:
        left: inset from left of seat
        front: foot front from front of seat
        bottom: flush with front leg
      right back post:
        right: inset from right of seat
        front: foot front from front of seat
        bottom: flush with front leg
editions:
  inch: {units: in, fraction: 1/64 in}
"""


def misfits(wide: str, lean: str) -> list[str]:
    text = CHAIR.replace("WIDE", wide).replace("LEAN", lean)
    found = check_closing(read_text(text, "chair.yaml", Path(__file__).parent))
    return [each.facts.get("what", each.code) for each in found if each.is_error]


@pytest.mark.parametrize(
    ("lean", "by"),
    [
        ("5 deg", ""),  # 0.02 mm: less than a knife's line
        ("7 deg", ""),
        ("8 deg", "0.08 mm"),
    ],
)
def test_a_hair_does_not_refuse_an_edition_and_a_tenth_does(lean: str, by: str) -> None:
    told = misfits("42 mm", lean)
    assert len(told) == (2 if by else 0)
    assert all(f"runs {by} " in each for each in told)

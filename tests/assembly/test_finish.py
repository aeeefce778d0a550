"""Finish that comes before glue: what is told, and what silences it."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.assembly.model import check
from patternpress.design.read import read_text

RIM = """design: Tray
stock:
  board: {sheet: 2 mm}
  dowel: {rod: 3 mm}
parts:
  base:
    stock: board
    wide: 40 mm
    deep: 30 mm
    holes: {peg hole: {round: 3 mm, at: centre}}
  rim: {stock: board, wide: 40 mm, high: 8 mm}
  end:
    stock: board
    deep: 20 mm
    high: 8 mm
    pieces: {left end: as drawn, right end: mirrored left to right}
  peg: {stock: dowel, high: 9 mm}
materials:
  colour: {kind: finish}
  wood glue: {kind: glue}
steps:
  - step: Colour it
    start: base
    treat:
      - drill: peg hole of base
      - COAT
      - KEPT
    wait: 1 min
  - step: Glue it
    treat:
      - ease: top edge of rim
      - THEN
    join:
      rim: {bottom: against base, left: flush with base, front: flush with base}
      left end: {front: against rim, left: flush with rim, bottom: flush with rim}
      right end: {front: against rim, right: flush with rim, bottom: flush with rim}
      peg: {bottom: in peg hole of base}
"""


def told(coat: str, kept: str = "", then: str = "") -> list[str]:
    text = RIM
    for word, said in (("COAT", coat), ("KEPT", kept), ("THEN", then)):
        text = text.replace(f"      - {word}\n", f"      - {{{said}}}\n" if said else "")
    found = check(read_text(text, "tray.yaml", Path()))
    assert {each.code for each in found} <= {"dyed-where-glued", "material-unused"}
    return [each.what for each in found if each.code == "dyed-where-glued"]


@pytest.mark.parametrize(
    ("coat", "piece", "side"),
    [
        # On paint, oil, varnish and wax glue holds nowhere, bare as the other face may be.
        ("paint: rim", "rim", "bottom"),
        ("oil: base", "base", "top"),
        ("varnish: bottom of rim", "rim", "bottom"),
        ("wax: peg", "peg", "bottom"),
        ("oil: work", "base", "top"),
        ("paint: end", "left end", "front"),
        ("paint: back of rim", "rim", "back"),
        # Dye is bad on both faces.
        ("dye: 'rim, base'", "rim", "bottom"),
        ("dye: 'bottom of rim, top of base'", "rim", "bottom"),
        ("dye: 'right end, rim'", "right end", "front"),
    ],
)
@pytest.mark.parametrize("both", [False, True])
def test_a_finished_face_is_told_where_it_is_glued(
    coat: str, piece: str, side: str, both: bool
) -> None:
    """Both in a step before, and before the joining in the step that glues."""
    first = told(coat)[0] if not both else told("sand: base", "", coat)[0]
    step = 2 if both else 1
    assert first == f"“{piece}” is finished in step {step}, and its {side} is glued in step 2"


@pytest.mark.parametrize("verb", ["leave bare", "resist"])
@pytest.mark.parametrize(
    ("coat", "kept", "still"),
    [
        ("paint: rim", "bottom of rim, back of rim", 0),
        ("paint: rim", "rim", 0),
        ("paint: rim", "bottom of rim", 1),  # the ends are glued to its back
        ("paint: rim", "top of rim", 1),
        ("paint: rim", "top back edge of rim", 1),
        ("oil: base", "top of base", 0),
        ("oil: base", "peg hole of base", 1),
        ("wax: peg", "bottom of peg", 0),
        ("dye: 'rim, base'", "bottom of rim", 0),  # one bare face is enough for dye
        ("dye: 'rim, base'", "top of base", 0),
        ("paint: end", "front of end", 0),
        ("paint: end", "front of left end", 1),
        ("dye: 'rim, end'", "back of rim", 0),
    ],
)
def test_a_face_that_is_left_bare_on_purpose_is_not_told(
    verb: str, coat: str, kept: str, still: int
) -> None:
    assert told(coat) != []
    assert len(told(coat, f"{verb}: '{kept}'")) == still


@pytest.mark.parametrize(
    "coat",
    [
        "dye: rim",  # the base is bare
        "dye: 'left end, right end'",
        "paint: top of rim",
        "varnish: bottom of base",
        "oil: front of rim",
        "sand: 'rim, base'",
        "paint: top front edge of rim",
    ],
)
def test_a_finish_beside_the_glue_is_not_told(coat: str) -> None:
    assert told(coat) == []


def test_what_is_finished_when_all_is_glued_is_not_told() -> None:
    text = RIM.replace("      - COAT\n      - KEPT\n", "").replace("      - THEN\n", "")
    text += "    afterwards:\n      - {paint: 'rim, end'}\nfinishing:\n  - step: Oil it\n"
    text += "    treat: {oil: work, with: colour}\n"
    codes = [each.code for each in check(read_text(text, "tray.yaml", Path()))]
    assert "dyed-where-glued" not in codes

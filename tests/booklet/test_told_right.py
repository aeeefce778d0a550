"""Sentences that told a buyer to do the wrong thing, each mended where it was made."""

from __future__ import annotations

import pytest

from patternpress.booklet.fillcutting import end_notes, notes_of
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from tests.booklet.test_sentences import plainly
from tests.whole.small import model

CASE = """
design: Wall case
scale: 1:12
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm, cut with: fine saw}
  rod: {rod: 2 mm, sold: 300 mm, cut with: fine saw}
  brass knob: {bought: a small brass knob}
parts:
  side:
    stock: board
    deep: 20 mm
    high: 30 mm
    pieces: {left side: as drawn, right side: mirrored left to right}
    holes: {rod hole: {round: 2 mm, at: centre, for: the rod}}
  shelf: {stock: board, wide: 40 mm, deep: 20 mm}
  door:
    stock: board
    wide: 19 mm
    high: 26 mm
    pieces: {left door: as drawn, right door: mirrored left to right}
    holes: {knob hole: {round: 1 mm, at: centre, on: front, for: the knob}}
  bar: {stock: rod, wide: 50 mm}
  stop: {stock: board, wide: 2 mm, deep: 6 mm, high: 6 mm, pieces: [left stop, right stop]}
  knob: {stock: brass knob, pieces: [left knob, right knob]}
marks:
  shelf line: {on: right of left side, line: 12 mm from bottom}
  outer line: {on: left of left side, line: 5 mm from bottom}
tools: fine saw, pencil
materials:
  wood glue: {kind: glue, workable: 5 to 10 min, handle: 30 min, hard: 24 h}
  quick glue: {kind: glue, workable: 1 to 2 min, handle: 5 min, hard: 1 h}
  thin oil: {kind: finish, handle: 12 h, hard: 48 h}
steps:
  - step: Begin
    start: left side
    work lies: on its left
    mark: shelf line, outer line
    treat:
      - {ease: left of left door and right of right door}
      - {sand: left of left side and right of right side}
    join:
      shelf: {left: against left side, bottom: on shelf line, front: flush with left side}
      right side: {left: against shelf, front: flush with left side, bottom: flush with left side}
    wait: {for: wood glue, until: hard}
  - step: Put the bar in
    join:
      bar: {left: 3 mm beyond left side, right: loose through rod hole of left side}
      STOPS
    wait: {for: wood glue, until: hard}
  - step: Hang the doors
    glue: quick glue
    join:
      left door: {back: against left side, left: flush with left side, bottom: flush with left side}
      right door: {back: against right side, right: flush with right side,
                   bottom: flush with left door}
      left knob: {back: in knob hole of left door}
      right knob: {back: in knob hole of right door}
  - step: Oil it
    treat: {oil: work, with: thin oil}
"""
STOPS = (
    "\n      ".join(
        f"{hand} stop: {{{back}: against {hand} end of bar, front and back: centred on bar,"
        " top and bottom: centred on bar}"
        for hand, back in (("left", "right"), ("right", "left"))
    )
    .replace("left end of bar", "left of bar")
    .replace("right end of bar", "right of bar")
)


def told(step: int, stops: str = "", design: str = CASE) -> list[str]:
    made = model(design.replace("      STOPS\n", f"      {stops}\n" if stops else ""))
    return plainly(actions(made.worked.usage.steps[step - 1], Wording(made, read_phrases("en"))))


def test_the_narrow_sides_of_two_boards_are_edges() -> None:
    """“The outer face of each door” would be its front."""
    first = told(1)
    assert "Take the sharpness off the outer edge of each door (C)." in first
    assert "Sand the outer face of each side (A) smooth." in first


def test_what_is_below_is_marked_before_the_piece_is_laid_on_it() -> None:
    first = told(1)
    laid = next(n for n, each in enumerate(first) if each.startswith("Lay the"))
    outer, inner = (
        next(n for n, each in enumerate(first) if line in each)
        for line in ("outer line", "shelf line")
    )
    assert outer < laid < inner


def test_a_bar_with_glued_ends_is_not_taken_out() -> None:
    assert "Take the bar (D) out until all is dry." in told(4)
    assert not any("Take the bar" in each for each in told(4, STOPS))


def test_fittings_name_their_glue() -> None:
    (pushed,) = (each for each in told(3) if each.startswith("Push 2 knobs"))
    assert pushed.endswith("with quick glue.")


def test_what_is_higher_than_deep_is_stood_on_the_bench() -> None:
    upright = CASE.replace("    work lies: on its left\n", "")
    first = told(1, design=upright)
    stood = first.index("Stand the left side (A) upright on the bench.")
    # What stands is drawn on, eased and drilled before, while it lies.
    assert all(first.index(each) < stood for each in first if each.startswith(("Draw", "Take")))
    assert first[stood + 1].startswith("Glue the shelf")
    flat = upright.replace("start: left side", "start: shelf").replace(
        "shelf: {left: against left side, bottom: on shelf line, front: flush with left side}",
        "left side: {right: against shelf, top: 10 mm beyond shelf, front: flush with shelf}",
    )
    assert "Lay the shelf (B) on the bench." in told(1, design=flat)
    said = flat.replace("    start: shelf\n", "    start: shelf\n    work lies: upright\n")
    assert "Lay the shelf (B) on the bench, with its top up." in told(1, design=said)


RACK = """
design: Rack
scale: 1:12
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm, cut with: fretsaw}
  strip: {strip: 2 mm, sold: 600 mm, cut with: fretsaw}
parts:
  base: {stock: board, wide: 60 mm, deep: 30 mm}
  rail: {stock: strip, wide: 60 mm, pieces: [front rail, back rail]}
  slat: {stock: board, wide: 6 mm, deep: 30 mm, quantity: 4}
  case:
    stock: board
    wide: 60 mm
    high: 30 mm
    holes:
      port: {window: 20 x 10 mm, at: centre}
      eye: {round: 8 mm, at: 8 mm from left and centred}
  lid: {stock: board, wide: 60 mm, high: 20 mm, pieces: [case lid, base lid]}
sub-assemblies:
  mount: {}
tools: fretsaw
materials:
  wood glue: {kind: glue, workable: 5 to 10 min, handle: 30 min, hard: 24 h}
  wax: {kind: finish, handle: 1 h, hard: 24 h}
steps:
  - step: Case
    builds: mount
    cut: slat
    start: case
    treat: {drill: port of case and eye of case, with: fretsawNOTE}
    join:
      case lid: {bottom: against case, left: flush with case, front: flush with case}
  - step: Rails
    start: base
    join:
      front rail: {bottom: against base, left: flush with base, front: flush with base}
      back rail: {bottom: against base, left: flush with base, back: flush with base}
      slat: {bottom: loose against front rail, left: flush with base, front: flush with base,
             row: {toward: right, every: 10 mm}}
      base lid: {bottom: loose against back rail, left: flush with base, back: flush with base,
                 opens: 90 deg to the back about bottom back edge of base lid}
    wait: {for: wood glue, until: hard}
  - step: Wax
    treat: {wax: work, with: wax}
"""


def test_all_of_a_row_is_taken_out_and_what_is_hinged_stays() -> None:
    last = told(3, design=RACK.replace("NOTE", ""))
    assert last == ["Take 4 slats (C) out until all is dry.", "Wax the whole work."]


@pytest.mark.parametrize(("note", "said"), [("", True), (", note: Bore a hole first.", False)])
def test_a_saw_begins_in_a_hole_told_once(note: str, said: bool) -> None:
    first = told(1, design=RACK.replace("NOTE", note))
    begun = [each for each in first if each.startswith("First drill a starting hole")]
    assert len(begun) == said
    assert "Cut 4 slats (C)." in first


@pytest.mark.parametrize(("verb", "word"), [("varnish", "Varnish"), ("wax", "Wax"), ("oil", "Oil")])
def test_each_finish_has_its_word(verb: str, word: str) -> None:
    design = CASE.replace("{oil: work, with: thin oil}", f"{{{verb}: work, with: thin oil}}")
    last = told(4, design=design)
    assert f"{word} the whole work, with thin oil." in last
    assert "Take the bar (D) out until all is dry." in last


BOX = """
design: Kiste
languages: de
scale: 1:12
stock:
  Brett: {sheet: 2 mm, sold: 100 x 600 mm, cut with: Messer}
parts:
  Wand:
    stock: Brett
    deep: 30 mm
    high: 20 mm
    ends: {front: "45 deg, longest at left", back: "45 deg, longest at left"}
    pieces: {linke Wand: as drawn, rechte Wand: mirrored left to right}
    grooves: {Nut: {on: right, wide: 1 mm, deep: 0.8 mm, at: 2 mm from bottom}}
  Boden: {stock: Brett, wide: 50 mm, deep: 30 mm}
  Deckel: {stock: Brett, wide: 54 mm, deep: 30 mm}
tools: Messer
materials:
  Leim: {kind: glue, workable: 5 to 10 min, handle: 30 min, hard: 24 h}
steps:
  - step: Leimen
    start: Boden
    treat: {groove: Wand, with: Messer}
    join:
      linke Wand: {right: against Boden, bottom: flush with Boden, front: flush with Boden}
      rechte Wand: {left: against Boden, bottom: flush with Boden, front: flush with Boden}
    wait: {for: Leim, until: hard}
  - step: Deckel
    glue: Leim
    join:
      Deckel: {bottom: 20 mm from bottom of Boden, left: flush with linke Wand, OPENS}
    wait: {for: Leim, until: hard}
"""
HINGED = "front: flush with Boden, opens: 80 deg to the top about top back edge of Deckel"
BOX_TOLD = BOX.replace("OPENS", HINGED)


def test_inner_faces_are_those_that_look_at_each_other_whatever_they_are_called() -> None:
    """The names are German: “the right of each wall” is the outside of the right one."""
    assert "Cut the Nut into the inner face of each Wand (A), with the Messer." in told(
        1, design=BOX_TOLD
    )


def test_a_mirrored_piece_has_its_ends_by_its_own_sides() -> None:
    """Were both its ends alike, it would be the same piece turned round."""
    uneven = BOX_TOLD.replace('back: "45 deg', 'back: "30 deg')
    wording = Wording(model(uneven), read_phrases("en"))
    part = wording.model.worked.part("Wand")
    assert part is not None
    drawn, twin = ("".join(end_notes(part, wording, twin=each)) for each in (False, True))
    assert drawn.count("longest at the left") == 2 and "right" not in drawn
    assert twin.count("longest at the right") == 2 and "left" not in twin
    said = [each.striptags() for each in notes_of(part, wording)]
    assert any(each.startswith("Rechte Wand: front mitred at 45") for each in said)


def test_what_opens_is_not_glued_where_it_only_touches() -> None:
    assert "Set the Deckel (C) in its place." in told(2, design=BOX_TOLD)
    fast = BOX.replace("OPENS", "front: flush with Boden")
    assert any(each.startswith("Glue the Deckel (C) to") for each in told(2, design=fast))


def test_a_wall_goes_with_its_groove_over_the_bottom() -> None:
    """Only the wall that stood first had its groove named; the others were glued to the bottom."""
    wide = BOX_TOLD.replace("{on: right, wide: 1 mm", "{on: right, wide: 2.1 mm")
    wide = wide.replace("wide: 50 mm, deep: 30 mm}", "wide: 50 mm, deep: 26 mm}")
    for side, other in (("right", "left"), ("left", "right")):
        wide = wide.replace(
            f"{{{side}: against Boden, bottom: flush with Boden, front: flush with Boden}}",
            f"{{{side}: 0.8 mm inside {other} of Boden, bottom: 2 mm beyond Boden,"
            " front and back: centred on Boden}",
        )
    assert "Slide the Nut of the linke Wand (A) over the Boden (B)." in told(1, design=wide)
    assert not any("Slide" in each for each in told(1, design=BOX_TOLD))

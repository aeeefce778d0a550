"""One example of each way of joining, glued and not, as its sentences read in all three languages.

Read by eye by someone who speaks them; a change of words here is a change that buyers read.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from patternpress.assembly.articles import bent
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import PLACING
from tests.booklet.test_sentences import plainly
from tests.whole.small import TOP, model

DESIGN = """\
languages: en, de, fr
names:
  de:
    base: die Grundplatte
    side: {one: die Seitenwand, several: Seitenwände}
    left side: die linke Wand
    right side: die rechte Wand
    shelf: der Boden
    ledge: die Leiste
    pin: der Stift
    prop: die Strebe
    other prop: die andere Strebe
    shelf line: die Bodenlinie
    shelf groove: die Bodennut
    pin hole: das Stiftloch
    wood glue: der Holzleim
  fr:
    base: le socle
    side: {one: le côté, several: côtés}
    left side: le côté gauche
    right side: le côté droit
    shelf: la tablette
    ledge: la lisière
    pin: la goupille
    prop: la béquille
    other prop: l’autre béquille
    shelf line: la ligne de tablette
    shelf groove: la rainure
    pin hole: le trou de goupille
    wood glue: la colle à bois
stock:
  board: {sheet: 3 mm, sold: 100 x 600 mm}
  thin: {sheet: 1 mm, sold: 100 x 600 mm}
  wire: {rod: 1 mm, sold: 300 mm}
parts:
  base: {stock: board, wide: 60 mm, deep: 40 mm}
  side:
    stock: board
    deep: 40 mm
    high: 30 mm
    holes:
      pin hole: {round: 1 mm, at: 20 mm from front and 20 mm from bottom, row: ROW}
    grooves:
      shelf groove: {on: right, along: front, wide: 1 mm, deep: 1 mm, at: 10 mm from bottom}
    pieces: {left side: as drawn, right side: mirrored left to right}
  shelf: {stock: thin, wide: 56 mm, deep: 30 mm}
  ledge: {stock: thin, wide: 20 mm, deep: 30 mm}
  pin: {stock: wire, wide: 8 mm}
  prop:
    stock: thin
    wide: 6 mm
    high: 20 mm
    leans: top 8 deg to the back
    pieces: {prop: as drawn, other prop: mirrored front to back}
marks:
  shelf line: {on: right of left side, line: 9 mm from bottom}
materials:
  wood glue: {kind: glue, handle: 30 min, hard: 24 h}
steps:
  - step: Sides
    start: base
    join:
      left side: {bottom: against base, left: flush with base, front: flush with base}
      right side: {bottom: against base, right: flush with base, front: flush with base}
    wait: {for: wood glue, until: hard}
  - step: Join it
    join:
      JOIN
    glue: wood glue
editions:
  metric: {units: mm}
  deutsch: {units: mm, language: de}
  francais: {units: mm, language: fr}
""".replace("ROW", "{toward: back, every: 9 mm, quantity: 2}")
EDITIONS = {"en": "metric", "de": "deutsch", "fr": "francais"}
GROOVES = "left: HOW in shelf groove of left side, right: HOW in shelf groove of right side"
# The way of placing, and what the join says.
JOINS = {
    "against": "shelf: {bottom: against base}",
    "loose against": "shelf: {bottom: loose against base}",
    "loose against a side": "shelf: {left: loose against left side}",
    "flush": "shelf: {bottom: against base, front: flush with base}",
    "inside": "shelf: {bottom: against base, front: 2 mm inside base}",
    "beyond": "shelf: {bottom: against base, front: 1 mm beyond base}",
    "centred": "shelf: {bottom: against base, left and right: centred on base}",
    "from": "shelf: {left: against left side, bottom: 12 mm from top of base}",
    "in hole": "pin: {left: 'in pin hole of left side, 2 mm deep'}",
    "loose in hole": "pin: {left: 'loose in pin hole of left side, 2 mm deep'}",
    "through hole": "pin: {left: through pin hole of left side}",
    "loose through hole": "pin: {left: loose through pin hole of left side}",
    "in a hole of a row": "pin: {left: 'in pin hole 2 of left side, 2 mm deep'}",
    "through two holes": "pin: {left: through pin hole of left side and pin hole of right side}",
    "turns in": "pin: {left: through pin hole of left side, turns in: pin hole of right side}",
    "in a groove": "ledge: {left: in shelf groove of left side}",
    "loose in a groove": "ledge: {left: loose in shelf groove of left side}",
    "in a groove and its twin": "shelf: {left: in shelf groove of left side}",
    "loose in a groove and its twin": "shelf: {left: loose in shelf groove of left side}",
    "in two grooves": f"shelf: {{{GROOVES.replace('HOW ', '')}}}",
    "loose in two grooves": f"shelf: {{{GROOVES.replace('HOW', 'loose')}}}",
    "on mark": "shelf: {left: against left side, bottom: on shelf line}",
    "under mark": "shelf: {left: against left side, top: under shelf line}",
    "over mark": "shelf: {left: against left side, bottom: over shelf line}",
    "at mark": "shelf: {left: against left side, bottom: at shelf line}",
    "leans by its join": "pin: {left: in pin hole of left side, leans: right raised by 10 deg}",
    "leans by its part": "prop: {left: against left side, bottom: 2 mm from top of base}",
    "leans by its part, as a twin": (
        "other prop: {left: against left side, bottom: 2 mm from top of base}"
    ),
}
# The sentences as they are read: a heading for each join, a line for each language.
READ = (Path(__file__).parent / "every-join.txt").read_text("utf-8")


def told(how: str, language: str) -> list[str]:
    whole = model(TOP + DESIGN.replace("JOIN", JOINS[how]), EDITIONS[language])
    wording = Wording(whole, read_phrases(language))
    return plainly(actions(whole.worked.usage.steps[-1], wording))


def all_told(how: str) -> str:
    """A join as it stands in the file."""
    lines = [f"{language}: {' '.join(told(how, language))}" for language in EDITIONS]
    return "\n".join([f"# {how} – {JOINS[how]}", *lines, ""])


@pytest.mark.parametrize("how", JOINS)
def test_a_join_reads_as_it_should_in_every_language(how: str) -> None:
    assert all_told(how) in READ


def test_every_way_of_joining_is_read_glued_and_loose() -> None:
    assert {how for how, _ in PLACING} <= set(JOINS)
    assert READ.count("# ") == len(JOINS)


def test_what_takes_no_glue_never_reads_as_glued() -> None:
    """No sentence both glues and leaves the glue out."""
    glues = ("Glue ", "Leime ", "Collez ")
    without = ("without glue", "ohne Leim", "sans colle")
    for sentence in re.split(r"(?<=\.) |\n", READ):
        assert not (any(g in sentence for g in glues) and any(w in sentence for w in without))


@pytest.mark.parametrize(
    ("how", "read"),
    [
        ("against", "Klebe den Boden (C) mit Klarkleber an die Grundplatte (A)."),
        ("in a groove", "Klebe die linke Seite der Leiste (D) mit Klarkleber in die Bodennut"),
        ("in two grooves", "Klebe den Boden (C) mit Klarkleber in die Bodennut"),
    ],
)
def test_only_joiners_glue_is_what_german_calls_leim(how: str, read: str) -> None:
    """“Leimen” is said of wood; a clear glue that is no Leim sticks, “klebt”."""
    design = TOP + DESIGN.replace("der Holzleim", "der Klarkleber").replace("JOIN", JOINS[how])
    whole = model(design, EDITIONS["de"])
    said = plainly(actions(whole.worked.usage.steps[-1], Wording(whole, read_phrases("de"))))
    assert said[0].startswith(read)


def test_glue_is_some_of_it_in_french() -> None:
    """“De la colle”, “du vernis”: what is used up has the partitive."""
    some = bent("fr", ("la colle", "le vernis", "l’huile", "les paillettes", "colle"))["some"]
    assert some == {
        "colle": "de la colle",
        "vernis": "du vernis",
        "huile": "de l’huile",
        "paillettes": "des paillettes",
    }


def test_what_a_trial_may_find_is_asked_in_german() -> None:
    """“Bei „er wackelt“: …” was read as a heading that had lost its list."""
    found = "{er wackelt: Sand it., es passt: Go on.}"
    check = f"    check: {{try: Look along it., when: before gluing, if: {found}}}\neditions:"
    design = TOP + DESIGN.replace("editions:", check).replace("JOIN", JOINS["against"])
    whole = model(design, EDITIONS["de"])
    said = plainly(actions(whole.worked.usage.steps[-1], Wording(whole, read_phrases("de"))))
    assert "Er wackelt? Sand it." in said

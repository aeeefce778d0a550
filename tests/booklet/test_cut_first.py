"""What is cut before the first step is said once, above it, with what is cut later by letter."""

from __future__ import annotations

import pytest

from patternpress.booklet.cutfirst import cut_first_words
from patternpress.booklet.fillsteps import steps
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from tests.whole.small import TOP, model

DESIGN = """\
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
  pin: {bought: a brass pin, pack: 10}
parts:
  base: {stock: board, wide: 80 mm, deep: 40 mm}
  side: {stock: board, deep: 40 mm, high: 30 mm}
  lid: {stock: board, wide: 80 mm, deep: 40 mm}
  knob: {stock: pin}
steps:
"""
STEP = "  - step: Work\n"


def worded(lines: str, language: str = "en") -> Wording:
    return Wording(model(TOP + DESIGN + lines), read_phrases(language))


def told(*cut: str, language: str = "en") -> str:
    lines = "".join(f"{STEP}    cut: {each}\n" if each else STEP for each in cut)
    return str(cut_first_words(worded(lines, language))).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("cut", "said"),
    [
        (("",), "Before step 1, cut out all pieces in the cutting list."),
        (
            ("", "lid"),
            "Before step 1, cut out all pieces in the cutting list except C (see step 2).",
        ),
        (
            ("side", "", "lid"),
            "Before step 1, cut out all pieces in the cutting list except B and C"
            " (see steps 1 and 3).",
        ),
        (("base, side, lid",), ""),
    ],
)
def test_what_a_step_cuts_is_left_out_by_letter(cut: tuple[str, ...], said: str) -> None:
    assert told(*cut) == said


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("de", "Schneide vor Schritt 1 alle Teile der Stückliste zu, außer C (siehe Schritt 2)."),
        (
            "fr",
            "Avant l’étape 1, débitez toutes les pièces de la liste de débit, sauf C"
            " (voir étape 2).",
        ),
    ],
)
def test_it_is_said_in_every_language(language: str, said: str) -> None:
    assert told("", "lid", language=language) == said


def test_it_stands_above_the_first_step_alone() -> None:
    builds = "sub-assemblies: {case: {}}\n"
    lines = f"{STEP}    builds: case\n{STEP}    builds: case\n{STEP}"
    made = model(TOP + builds + DESIGN + lines)
    groups = steps(Wording(made, read_phrases("en")))
    assert len(groups) == 2
    assert groups[0].words == cut_first_words(Wording(made, read_phrases("en"))) != ""
    assert groups[1].words == ""


FITTED = """\
openings:
  bed: {between: base, wide: 60 mm}
"""


def test_what_waits_for_a_measuring_is_sawn_oversize_first_as_the_layouts_say() -> None:
    """“Cut all except” stood against the layouts, which had it sawn."""
    loose = "  loose: {stock: board, fitted: bed, less: {wide: 1 to 2 mm}, high: 10 mm}\n"
    lines = DESIGN.replace("steps:\n", "") + loose + FITTED + "steps:\n"
    lines += f"{STEP}{STEP}    measure: bed\n    cut: lid, loose\n"
    said = cut_first_words(Wording(model(TOP + lines), read_phrases("en"))).replace("\xa0", " ")
    assert said == (
        "Before step 1, cut out all pieces in the cutting list except C and E (see step 2)."
        " Saw E oversize to keep aside, as the cutting layouts say."
    )

"""What a step prints of its holds and checks: each kind there is, in three languages."""

from __future__ import annotations

from dataclasses import fields

import pytest
from markupsafe import Markup

from patternpress.booklet.content import Check, Step
from patternpress.booklet.fillsteps import step
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from patternpress.design.records.work import Check as Said
from tests.booklet.test_sentences import plainly
from tests.whole.small import TOP, model

CASE = """\
languages: en, de, fr
names:
  de:
    board: das Brett
    base: die Grundplatte
    side: die Seite
    masking tape: das Kreppband
    bar clamp: die Zwinge
    wood glue: der Holzleim
DE  fr:
    board: la planche
    base: le socle
    side: le côté
    masking tape: le ruban de masquage
    bar clamp: le serre-joint
    wood glue: la colle à bois
FRstock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
parts:
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  side: {stock: board, deep: 30 mm, high: 20 mm}
tools: bar clamp
materials:
  wood glue: {kind: glue, workable: 5 to 10 min, handle: 30 min, hard: 24 h}
  masking tape:
steps:
  - step: {en: Glue it, de: Leimen, fr: Coller}
    start: base
    join: {side: {bottom: against base, left: flush with base, front: flush with base}}
    SAID
    wait: {for: wood glue, until: hard}
"""


OUTCOMES = {
    "DE": "    it is square: sie steht im Winkel\n    it leans: sie neigt sich\n",
    "FR": "    it is square: il est d’équerre\n    it leans: il penche\n",
}


def made(said: str, language: str = "en") -> Step:
    """The step with a hold or a check, as it is printed."""
    text = TOP + CASE.replace("SAID", said)
    for place, names in OUTCOMES.items():
        text = text.replace(place, names if "it leans" in said else "", 1)
    worked = model(text + f"editions: {{one: {{language: {language}, units: mm}}}}\n", "one")
    wording = Wording(worked, read_phrases(language))
    return step(worked.worked.usage.steps[0], 1, wording)


WHERE = "{en: across both ends, de: quer über beide Enden, fr: en travers des deux bouts}"
NOTE = "{en: Lay paper under it., de: Lege Papier darunter., fr: Glissez du papier dessous.}"
HOLDS = [
    ("hold: bar clamp", ("Bar clamp.", "Zwinge.", "Serre-joint.")),
    ("hold: masking tape", ("Masking tape.", "Kreppband.", "Ruban de masquage.")),
    (
        f"hold: {{with: bar clamp, where: {WHERE}}}",
        (
            "Bar clamp, across both ends.",
            "Zwinge, quer über beide Enden.",
            "Serre-joint, en travers des deux bouts.",
        ),
    ),
    (
        f"hold: {{with: masking tape, note: {NOTE}}}",
        (
            "Masking tape. Lay paper under it.",
            "Kreppband. Lege Papier darunter.",
            "Ruban de masquage. Glissez du papier dessous.",
        ),
    ),
    (
        f"hold: [{{with: bar clamp, where: {WHERE}, note: {NOTE}}}, masking tape]",
        (
            "Bar clamp, across both ends. Lay paper under it. Masking tape.",
            "Zwinge, quer über beide Enden. Lege Papier darunter. Kreppband.",
            "Serre-joint, en travers des deux bouts. Glissez du papier dessous. Ruban de masquage.",
        ),
    ),
]


@pytest.mark.parametrize("language", [0, 1, 2], ids=["en", "de", "fr"])
@pytest.mark.parametrize(("said", "told"), HOLDS)
def test_a_hold(said: str, told: tuple[str, str, str], language: int) -> None:
    printed = made(said, ("en", "de", "fr")[language])
    assert plainly([Markup(printed.hold)]) == [told[language]]


def test_what_holds_is_laid_ready() -> None:
    assert plainly([Markup(made(HOLDS[4][0]).uses)]) == ["Bar clamp, wood glue, masking tape."]


TRY = """\
check: {try: {en: Hold the square against it., de: Halte den Winkel daran., fr: Tenez l’équerre.},
      if: {it is square: {en: Go on., de: Mach weiter., fr: Continuez.},
           it leans: {en: Push it over., de: Drücke sie gerade., fr: Redressez-le.}}WHEN}"""
PRINTED = {
    "en": (
        "Hold the square against it.",
        ("It is square", "Go on."),
        ("It leans", "Push it over."),
    ),
    "de": (
        "Halte den Winkel daran.",
        ("Sie steht im Winkel", "Mach weiter."),
        ("Sie neigt sich", "Drücke sie gerade."),
    ),
    "fr": ("Tenez l’équerre.", ("Il est d’équerre", "Continuez."), ("Il penche", "Redressez-le.")),
}
# What is tried dry is an action, and no outcome is told that only says to go on.
DRY = {
    "en": [
        "Try it first without glue. Hold the square against it.",
        "If it leans: push it over.",
    ],
    "de": [
        "Probiere es zuerst ohne Leim. Halte den Winkel daran.",
        "Sie neigt sich? Drücke sie gerade.",
    ],
    "fr": ["Essayez d’abord sans colle. Tenez l’équerre.", "S’il penche : redressez-le."],
}
# When a check is made: whether it stands before the wait, after it, or among the actions.
WHEN = {
    "": "early",
    "before waiting": "early",
    "after waiting": "late",
    "before gluing": "dry",
}


def as_printed(checks: tuple[Check, ...]) -> list[tuple[object, ...]]:
    """The question and the outcomes of each check."""
    return [
        (str(each.question), *((str(o.found), str(o.remedy)) for o in each.outcomes))
        for each in checks
    ]


def test_every_time_of_a_check_is_tried_here() -> None:
    """As the reference names them."""
    (reads,) = (each.metadata["reads"] for each in fields(Said) if each.name == "when")
    assert set(WHEN) == {"", *reads.words}


@pytest.mark.parametrize("language", PRINTED)
@pytest.mark.parametrize("when", WHEN)
def test_a_check(when: str, language: str) -> None:
    said = TRY.replace("WHEN", f", when: {when}" if when else "")
    printed = made(said, language)
    stands = WHEN[when]
    assert as_printed(printed.checks) == ([PRINTED[language]] if stands == "early" else [])
    assert as_printed(printed.later_checks) == ([PRINTED[language]] if stands == "late" else [])
    actions = plainly(map(Markup, printed.actions))
    assert [each for each in actions if each in DRY[language]] == (
        DRY[language] if stands == "dry" else []
    )


def test_a_check_without_outcomes_is_its_question_alone() -> None:
    short = "check: {en: Hold the square against it., de: Halte den Winkel daran., fr: Tenez-le.}"
    assert as_printed(made(short).checks) == [("Hold the square against it.",)]
    dry = f"check: {{try: {short.removeprefix('check: ')}, when: before gluing}}"
    assert "Try it first without glue. Hold the square against it." in plainly(
        map(Markup, made(dry).actions)
    )

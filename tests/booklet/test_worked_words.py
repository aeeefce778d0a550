"""What is worked into a piece, as its sentences read in all three languages."""

from __future__ import annotations

import pytest

from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from tests.booklet.test_sentences import plainly
from tests.whole.small import TOP, model

RAIL = """\
languages: en, de, fr
names:
  de:
    rail: die Leiste
    peg hole: {one: das Stiftloch, several: Stiftlöcher}
    router: die Fräse
    low rebate: der Falz
  fr:
    rail: la tringle
    peg hole: {one: le trou de cheville, several: trous de cheville}
    router: la défonceuse
    low rebate: la feuillure
stock:
  board: {sheet: 3 mm, sold: 100 x 600 mm}
parts:
  rail:
    stock: board
    wide: 80 mm
    high: 20 mm
    holes:
      peg hole:
        round: 1 mm
        deep: 2 mm
        at: 10 mm from left and 10 mm from bottom
        row: {toward: right, every: 14 mm, quantity: 5}
    grooves:
      low rebate: {on: front, along: bottom, wide: 2 mm, deep: 1 mm, stopped: [3 mm from left]}
tools: router
steps:
  - step: Work the rail
    treat:
      - drill: peg hole of rail
      - groove: rail
        with: router
      - ease: all edges of rail, front of rail
editions:
  en: {units: mm}
  de: {units: mm, language: de}
  fr: {units: mm, language: fr}
"""
# A row is told by its holes, from one end; a rebate is no groove, and does not run all along where
# it stops; edges are eased, not faces.
READ = {
    "en": [
        "Drill 5 peg holes in the rail (A), 1 mm across and 2 mm deep.",
        "The centre of the first is 10 mm from the left and 10 mm from the bottom.",
        "The others follow in a row toward the right, 14 mm apart.",
        "Cut the low rebate into the front of the rail (A), with the router.",
        "It is 2 mm wide and 1 mm deep.",
        "It is 77 mm long and stops 3 mm short of the left.",
        "It runs along the bottom edge.",
        "Take the sharpness off the edges of the rail (A).",
        "Take the sharpness off the front of the rail (A).",
    ],
    "de": [
        "Bohre 5 Stiftlöcher in der Leiste (A), Durchmesser 1 mm, 2 mm tief.",
        "Die erste Lochmitte liegt 10 mm von links und 10 mm von unten.",
        "Die weiteren folgen in einer Reihe nach rechts, Abstand 14 mm.",
        "Arbeite den Falz in die Vorderseite der Leiste (A) ein, mit der Fräse.",
        "Der Falz ist 2 mm breit und 1 mm tief.",
        "Der Falz ist 77 mm lang und endet 3 mm vor der linken Seite.",
        "Er läuft unten an der Kante entlang.",
        "Brich die Kanten der Leiste (A).",
        "Brich die Kanten an der Vorderseite der Leiste (A).",
    ],
    "fr": [
        "Percez 5 trous de cheville dans la tringle (A), diamètre 1 mm, profondeur 2 mm.",
        "Le centre du premier trou est à 10 mm du bord gauche et à 10 mm du bord inférieur.",
        "Les autres suivent en ligne vers la droite, espacés de 14 mm.",
        "Creusez la feuillure dans la face avant de la tringle (A), avec la défonceuse.",
        "La feuillure a 2 mm de largeur et 1 mm de profondeur.",
        "La feuillure a 77 mm de longueur et s’arrête à 3 mm de la face gauche.",
        "Elle longe le bord inférieur.",
        "Adoucissez les arêtes de la tringle (A).",
        "Adoucissez les arêtes de la face avant de la tringle (A).",
    ],
}


@pytest.mark.parametrize("language", READ)
def test_a_worked_piece_reads_as_it_should(language: str) -> None:
    whole = model(TOP + RAIL, language)
    wording = Wording(whole, read_phrases(language))
    assert plainly(actions(whole.worked.usage.steps[0], wording)) == READ[language]

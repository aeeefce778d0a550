"""What is planned for a fitted part is one figure, on its card and in every list."""

from __future__ import annotations

import re

import pytest

from patternpress.assembly import shown
from patternpress.booklet.build import make_edition
from patternpress.booklet.fillcards import cards
from patternpress.booklet.fillcutting import notes_of
from patternpress.booklet.lists import as_text
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import Wording
from patternpress.closing.close import close
from patternpress.measure.quantity import Quantity
from patternpress.proof.prove import prove
from tests.whole.small import read

DESIGN = """\
design: Tray
version: "1"
licence: Make as many as you like.
sizes:
  play: {{is: {play}, scales: no}}
stock:
  board: {{sheet: 2 mm, sold: 100 x 600 mm, nearest: 3/32 in}}
  thin: {{sheet: 1 mm, sold: 100 x 600 mm}}
parts:
  floor: {{stock: board, wide: {wide}, deep: 24 mm}}
  wall: {{stock: board, deep: 24 mm, high: 14 mm, pieces: [left wall, right wall]}}
  slip:
    stock: board
    fitted: gap
    less: {{wide: play, high: play}}
  lid: {{stock: thin, fitted: gap, less: {{wide: 2 * thickness of board + play}}, deep: 24 mm}}
openings:
  gap: {{between: left wall and right wall, wide: {wide} - 2 * thickness of board, high: 14 mm}}
materials: {{wood glue: {{kind: glue, handle: 30 min}}}}
steps:
  - step: Glue the walls on
    start: floor
    join:
      left wall: {{bottom: against floor, left: flush with floor, front: flush with floor}}
      right wall: {{bottom: against floor, right: flush with floor, front: flush with floor}}
    wait: {{for: wood glue, until: handle}}
  - step: Measure and cut
    measure: gap
    cut: slip, lid
  - step: Put them in
    join:
      slip: {{bottom: against floor, front: flush with floor, left and right: centred on floor}}
      lid: {{front: against slip, bottom: against floor, left and right: centred on floor}}
editions:
  metric: {{units: mm, paper: A4}}
  inch: {{units: in, paper: Letter}}
  both: {{units: both, paper: A4}}
"""
PLAYS = ("0.4 to 0.6 mm", "0.25 to 0.5 mm", "0.5 to 0.9 mm", "0.4 mm")


def planned(wording: Wording) -> dict[tuple[str, str], str]:
    """What the card says is left for each part, by its letter and axis; of a range the most."""
    step = next(each for each in wording.model.worked.usage.steps if each.measure)
    found = {}
    for card in cards(step, wording):
        for row in card.rows:
            for each in row.results:
                axis, letter = re.findall(r"^(\w+) .*\((\w)\)", plain_words(each.name))[0]
                found[letter, axis] = plain_words(each.planned)
    return found


def most(text: str) -> str:
    """The larger end of each range, as a list would have it: one figure for each unit."""
    return re.sub(r"[\d /.]+ to ", "", text)


@pytest.mark.parametrize("play", PLAYS)
@pytest.mark.parametrize("edition", ["metric", "inch", "both"])
def test_the_list_says_what_the_card_says(play: str, edition: str) -> None:
    model = close(read(DESIGN.format(play=play, wide="60 mm")), edition).model
    wording = Wording(model, read_phrases("en"))
    told = planned(wording)
    assert {letter for letter, _ in told} == {"C", "D"}
    rows = dict(re.findall(r"^(\w)  \w+: \d off, (.+?), grain", as_text(wording), re.M))
    for (letter, axis), said in told.items():
        groups = re.findall(r"([^()]+) (mm|in)", rows[letter])
        listed = {unit: [each.strip() for each in text.split("×")] for text, unit in groups}
        for text, unit in re.findall(r"([^()]+) (mm|in)", most(said)):
            assert text.strip() in listed[unit], (axis, said, rows[letter])


def test_the_proof_holds_the_card_against_the_list(monkeypatch: pytest.MonkeyPatch) -> None:
    reading = read(DESIGN.format(play=PLAYS[0], wide="60 mm"))
    made = make_edition(reading, "inch")
    report = prove(made.pdf, made.facts)
    assert report.sound
    counted = {each.what: each.number for each in report.counted}
    assert counted["planned sizes on measure cards"] == 3

    before = shown.shown_extent

    def smaller(part: shown.CutPart, axis: str, edition: shown.Published) -> Quantity:
        found = before(part, axis, edition)
        less = shown.step_of(edition.display, edition.display.first)
        return Quantity(found.value - less, found.kind) if part.letter == "C" else found

    monkeypatch.setattr(shown, "shown_extent", smaller)
    spoilt = make_edition(read(DESIGN.format(play=PLAYS[0], wide="60 mm")), "inch")
    assert {each.code for each in prove(spoilt.pdf, spoilt.facts).findings} == {"card-differs"}


@pytest.mark.parametrize(
    ("tag", "largest", "fixed"),
    [
        ("en", "Largest planned size.", "Planned size."),
        ("de", "Größtes Planmaß.", "Planmaß."),
        ("fr", "Plus grande mesure prévue.", "Mesure prévue."),
    ],
)
def test_the_list_says_that_its_figure_is_the_largest_of_a_range(
    tag: str, largest: str, fixed: str
) -> None:
    for play, told in ((PLAYS[0], largest), (PLAYS[-1], fixed)):
        wording = Wording(
            close(read(DESIGN.format(play=play, wide="60 mm")), "metric").model, read_phrases(tag)
        )
        slip = wording.model.worked.part("slip")
        assert slip is not None
        assert plain_words(notes_of(slip, wording)[0]).startswith(told)

"""What was found of figures and places serves again after a changed word, and only then."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from patternpress.assembly import model
from patternpress.assembly import wordless as digests
from patternpress.assembly.model import examine
from patternpress.assembly.wordless import wordless
from patternpress.closing import close as closing
from patternpress.closing.close import close
from patternpress.closing.facts import closed_facts
from patternpress.closing.table import table
from patternpress.design.read import Reading, read_text

ROOT = Path(__file__).parents[2]
DESK = (ROOT / "designs" / "keepers-desk.yaml").read_text(encoding="utf-8")
GAP = (ROOT / "tests" / "assembly" / "faults" / "gap-shows.yaml").read_text(encoding="utf-8")
IN_STEPS, IN_FRONT = "so that the lines meet across them", "manner of a ship's office"


def desk(text: str, memory: dict[str, Any] | None = None) -> Reading:
    return read_text(text, "desk.yaml", ROOT / "designs", memory)


@pytest.fixture(scope="module")
def memory() -> dict[str, Any]:
    """What the desk as it stands leaves to remember."""
    kept: dict[str, Any] = {}
    reading = desk(DESK, kept)
    examine(reading)
    assert close(reading, "metric").model.waiting  # worked out when it is first asked for
    return kept


def nothing_found_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let every search for places and figures fail."""
    for module, name in ((model, "_misfits"), (closing, "_chosen"), (model, "measured_first")):
        monkeypatch.setattr(module, name, None)


def test_after_changed_words_nothing_is_found_anew(
    memory: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    said = DESK.replace(IN_STEPS, f"{IN_STEPS} well").replace(IN_FRONT, f"{IN_FRONT} in port")
    fresh = desk(said)
    problems, anew = examine(fresh).problems, close(fresh, "metric")
    assert anew.model.waiting
    nothing_found_anew(monkeypatch)
    reading = desk(said, dict(memory))
    assert examine(reading).problems == problems
    remembered = close(reading, "metric")
    assert closed_facts(remembered) == closed_facts(anew)
    assert table(remembered) == table(anew)
    assert remembered.model.waiting == anew.model.waiting
    assert "lines meet across them well" in str(remembered.model.worked.book.steps)


def test_a_book_is_digested_once_for_its_check_and_its_closing(
    memory: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    digested: list[object] = []

    def counted(book: object) -> str:
        digested.append(book)
        return wordless(book)

    monkeypatch.setattr(digests, "wordless", counted)
    reading = desk(DESK.replace(IN_STEPS, f"{IN_STEPS} twice"), dict(memory))
    examine(reading)
    close(reading, "metric")
    assert [book is reading.book for book in digested] == [True]


def test_editions_on_other_paper_share_their_figures(
    memory: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    other = DESK.replace("editions:\n", "editions:\n  letter: {units: mm, paper: Letter}\n", 1)
    kept: dict[str, Any] = {}
    reading = desk(other, kept)
    close(reading, "metric")
    nothing_found_anew(monkeypatch)
    assert close(reading, "letter").model.edition.paper == "Letter"
    with pytest.raises(TypeError):
        close(reading, "inch")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("  width: 84 mm\n", "  width: 85 mm\n"),
        ("steps:\n", "\nsteps:\n"),  # problems would be told a line too high
        ("design: ", "design: The "),  # some problems are shown at its end
    ],
)
def test_all_else_is_found_anew(old: str, new: str) -> None:
    before, after = (desk(text).book for text in (DESK, DESK.replace(old, new, 1)))
    assert wordless(before) != wordless(after)


def test_a_problem_of_places_is_told_where_it_stands_by_now() -> None:
    kept: dict[str, Any] = {}
    first = examine(read_text(GAP, "gap.yaml", ROOT, kept)).problems
    assert any(each.code == "gap-shows" for each in first)
    lower = examine(read_text("\n" + GAP, "gap.yaml", ROOT, kept)).problems
    down = [replace(e.span, line=e.span.line + 1, end_line=e.span.end_line + 1) for e in first]
    assert [each.span for each in lower] == down

"""Problem records in words and as JSON."""

import json
import re

from patternpress.design.kinds import form, naming
from patternpress.design.problem import Problem
from patternpress.design.span import NOWHERE, Span
from patternpress.desk.report import MOST, MOST_DRAWN, as_json, as_text, count

SOURCE = "design: Box\nparts:\n  lid:\n    stock: lime bord\n    tip: it is 3 mm thick\n"
SOURCES = (("box.yaml", SOURCE),)
BORD = Problem(
    naming.UnknownName,
    Span("box.yaml", 4, 12, 4, 21),
    {"name": "lime bord", "kind": "stock", "near": "lime board"},
)
TYPED = Problem(
    naming.FigureInProse,
    Span("box.yaml", 5, 16, 5, 20),
    {"figure": "3 mm", "how": "write <board> in its place."},
)


def test_words_with_line_caret_reason_and_mend() -> None:
    assert as_text([BORD, TYPED], SOURCES, colour=False, folder="designs") == (
        "designs/box.yaml:4:12: error[unknown-name]\n"
        "4 |     stock: lime bord\n"
        "  |            ^^^^^^^^^\n"
        "    no stock is called “lime bord”\n"
        "    At the bench: the buyer would look for a piece, line or tool that is nowhere to be "
        "found.\n"
        "    To mend: correct the spelling, or describe it in its own section. Did you mean “lime "
        "board”?\n"
        "\n"
        "designs/box.yaml:5:16: warning[figure-in-prose]\n"
        "5 |     tip: it is 3 mm thick\n"
        "  |                ^^^^\n"
        "    the figure “3 mm” is typed into a sentence\n"
        "    At the bench: it stays as it is when the design changes, and it is not converted for "
        "the other\n"
        "    edition. This is how wrong figures reach buyers.\n"
        "    To mend: write <board> in its place.\n"
        "\n"
        "1 error and 1 warning\n"
    )


def test_colour_adds_escapes_and_nothing_else() -> None:
    plain = as_text([BORD, TYPED], SOURCES, colour=False)
    coloured = as_text([BORD, TYPED], SOURCES, colour=True)
    assert "\x1b[1;31m" in coloured
    assert "\x1b" not in plain
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == plain


def test_gutter_is_as_wide_as_the_number() -> None:
    text = "\n" * 11 + "stok: x\n"
    problem = Problem(form.UnknownField, Span("a", 12, 1, 12, 5), {"name": "stok"})
    lines = as_text([problem], (("a", text),), colour=False).split("\n")
    assert lines[1:3] == ["12 | stok: x", "   | ^^^^"]


def test_a_problem_without_a_known_line_has_words_only() -> None:
    lines = as_text([Problem(form.EmptyDesign, NOWHERE)], (), colour=False).split("\n")
    assert lines[1].strip() == "this file holds no design"


def test_facts_cannot_steer_the_terminal_or_flood_it() -> None:
    facts = {"name": "\x1b[2J" + "x" * 5000, "kind": "stock"}
    text = as_text([Problem(naming.UnknownName, NOWHERE, facts)], (), colour=False)
    assert "\x1b" not in text
    assert "␛[2J" in text
    assert len(text) < 600


def test_very_many_problems_are_counted_and_not_all_shown() -> None:
    many = [Problem(form.EmptyField, Span("a", n, 1, n, 2)) for n in range(1, MOST + 51)]
    text = as_text(many, (), colour=False)
    assert text.count("error[empty-field]") == MOST
    assert text.endswith(f"\n{MOST + 50} errors (the first {MOST} are shown)\n")
    assert len(json.loads(as_json(many))["problems"]) == MOST + 50


def test_no_problems_no_words() -> None:
    assert as_text([], SOURCES, colour=True) == ""


def test_count() -> None:
    assert count([BORD, BORD, TYPED]) == "2 errors and 1 warning"
    assert count([TYPED, TYPED]) == "2 warnings"
    assert count([]) == "no problems"


def test_json_record_has_every_field() -> None:
    (record,) = json.loads(as_json([BORD], "designs"))["problems"]
    assert record == {
        "code": "unknown-name",
        "level": "error",
        "file": "designs/box.yaml",
        "line": 4,
        "column": 12,
        "end_line": 4,
        "end_column": 21,
        "what": "no stock is called “lime bord”",
        "why": "the buyer would look for a piece, line or tool that is nowhere to be found.",
        "mend": "correct the spelling, or describe it in its own section. "
        "Did you mean “lime board”?",
        "near": "lime board",
        "facts": {"name": "lime bord", "kind": "stock", "near": "lime board"},
        "picture": "",
    }


def test_the_first_problems_get_the_pictures_that_are_drawn_of_them() -> None:
    asked: list[Problem] = []

    def draw(problem: Problem) -> str | None:
        asked.append(problem)
        return "<svg/>" if problem is TYPED else None

    many = [BORD, TYPED, *([BORD] * MOST_DRAWN)]
    found = json.loads(as_json(many, draw=draw))["problems"]
    assert [each["picture"] for each in found[:3]] == ["", "<svg/>", ""]
    assert len(found) > len(asked) == MOST_DRAWN


def test_json_is_versioned_and_plain_ascii() -> None:
    text = as_json([BORD])
    assert json.loads(text)["format"] == 1
    assert text.isascii()

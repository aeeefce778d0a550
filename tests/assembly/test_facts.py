"""The facts of a model: exact, complete, ready for JSON, and the same every time."""

import json
import re
import subprocess
import sys
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from patternpress.assembly.facts import FORMAT, digest, facts
from patternpress.assembly.model import Model, work_out
from patternpress.design.read import read_design, read_text
from tests.assembly.trays import design

DESK = Path(__file__).parents[2] / "designs" / "keepers-desk.yaml"


def model(text: str, edition: str = "metric") -> Model:
    return work_out(read_text(text, "tray.yaml", Path()), edition)


@pytest.fixture(scope="module")
def desk() -> dict[str, Any]:
    return facts(work_out(read_design(DESK), "inch"))


def strings(value: object) -> list[str]:
    if isinstance(value, dict):
        return [each for inner in value.values() for each in strings(inner)]
    if isinstance(value, list | tuple):
        return [each for inner in value for each in strings(inner)]
    return [value] if isinstance(value, str) else []


def test_facts_go_through_json_and_hold_no_floats(desk: dict[str, Any]) -> None:
    text = json.dumps(desk)
    assert json.loads(text) == desk
    assert json.loads(text, parse_float=lambda figure: pytest.fail(f"a float: {figure}"))
    assert desk["format"] == FORMAT == 1


def test_every_length_is_an_exact_fraction_beside_its_printed_figure(desk: dict[str, Any]) -> None:
    front = next(part for part in desk["parts"] if part["name"] == "drawer front")
    # Of the opening, (84 - 2 * 2 - 2) / 2 = 39 mm wide and 11 mm high, 0.25 to 0.5 mm comes off.
    assert Fraction(front["extents"]["wide"]["mm"]) == Fraction(155, 4)
    assert Fraction(front["smallest"]["wide"]["mm"]) == Fraction(77, 2)
    assert Fraction(front["extents"]["high"]["mm"]) == Fraction(43, 4)
    # 38.75 mm is 1.52559 in: 1 34/64 is 1.53125, 1 33/64 is 1.515625; the first is nearer.
    assert front["extents"]["wide"]["printed"] == "1 17/32\N{NO-BREAK SPACE}in"
    assert (front["measured_at"], front["quantity"], front["grain"]) == ("drawer opening", 2, True)


def test_a_figure_that_is_not_exact_says_how_far_it_may_be_off(desk: dict[str, Any]) -> None:
    slope = desk["sizes"]["slope"]
    assert slope["kind"] == "angle"
    assert 0 < Fraction(slope["error"]) < Fraction(1, 10**30)
    assert "error" not in desk["sizes"]["width"]


def test_pieces_steps_and_copies_are_told(desk: dict[str, Any]) -> None:
    assert desk["sub_assemblies"] == {"case": 1, "drawer": 2}
    leg = next(part for part in desk["parts"] if part["name"] == "leg")
    assert leg["pieces"] == ["front left leg", "front right leg", "back left leg", "back right leg"]
    brought = [name for step in desk["steps"] for name in step["brings"]]
    assert {"bottom board", "left side", "lid", "left drawer"} <= set(brought)
    assert [step["number"] for step in desk["steps"]] == list(range(1, len(desk["steps"]) + 1))
    side = next(part for part in desk["parts"] if part["name"] == "side")
    assert side["template"]
    # The outline of the side, from its front: level, up, then down along the slope.
    assert side["shape"]["outline"][:3] == [{"start": ["0", "0"]}, {"line": ["42", "0"]},
                                            {"line": ["42", "25"]}]  # fmt: skip


def test_places_marks_and_what_is_left_free_are_told(desk: dict[str, Any]) -> None:
    shelf = next(each for each in desk["places"] if each["piece"] == "shelf")
    # On the shelf line: 2 mm of board and 11 mm of drawer above the bench side of the bottom board.
    assert shelf["corner"] == ["0", "0", "13"]
    assert shelf["axes"] == [["1", "0", "0"], ["0", "1", "0"], ["0", "0", "1"]]
    inside = {each["piece"]: each["corner"] for each in desk["places_in"]["drawer"]}
    assert set(inside) >= {"drawer front", "left drawer side", "right drawer side", "drawer back"}
    assert inside["left drawer side"] == ["0", "2", "0"]
    line = [each for each in desk["marks"] if each["mark"] == "shelf line"]
    assert [(each["on"], each["side"], each["from"]) for each in line] == [
        ("left side", "right", {"bottom": "13"}),
        ("right side", "left", {"bottom": "13"}),
    ]
    assert {each["keep_off"]["front"] for each in line} == {"2"}
    post = next(each for each in desk["marks"] if each["mark"] == "post line")
    assert post["from"] == {"left": "40"}
    # The shelf is held on four sides; how thick it is, its board says alone.
    assert desk["by_size"]["shelf"] == ["up and down"]
    assert desk["by_size"]["bottom board"] == ["left to right", "front to back", "up and down"]


def test_no_facts_hold_a_path_of_the_machine(desk: dict[str, Any]) -> None:
    assert not [each for each in strings(desk) if re.search(r"^/|\\|file:", each)]


def test_the_digest_changes_with_a_figure_and_with_nothing_else() -> None:
    text = design()
    same = text.replace("design: Tray", "# a note\ndesign:   Tray")
    other = text.replace("deep: 30 mm", "deep: 30.01 mm")
    assert digest(model(text)) == digest(model(same))
    assert digest(model(text)) != digest(model(other))
    assert digest(model(text)) != digest(model(text, "inch"))


def test_another_process_with_another_seed_gives_the_same_digest() -> None:
    code = "from pathlib import Path; from patternpress.design.read import read_design; "
    code += "from patternpress.assembly.model import work_out; "
    code += "from patternpress.assembly.facts import digest; "
    code += f"print(digest(work_out(read_design(Path({str(DESK)!r})), 'both')))"
    found = {
        subprocess.run(
            [sys.executable, "-c", code],
            check=True,
            capture_output=True,
            text=True,
            cwd=DESK.parents[1],
            env={"PYTHONHASHSEED": seed, "PATH": ""},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(found) == 1
    assert re.fullmatch(r"[0-9a-f]{64}\n", found.pop())


def test_a_design_that_cannot_be_read_has_no_model() -> None:
    with pytest.raises(ValueError, match="could not be read"):
        model("design: Tray\n")
    with pytest.raises(KeyError):
        model(design(), "metrik")

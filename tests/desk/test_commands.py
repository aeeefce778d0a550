"""Each command as a maker types it: what is printed where, and the exit code."""

import contextlib
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from patternpress.desk.cli import COMMANDS, SHOW_TRACEBACK, main
from patternpress.desk.commands.new import starter


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in, with unforeseen exceptions let through."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv(SHOW_TRACEBACK, "1")
    return tmp_path


@pytest.fixture
def box(folder: Path) -> Path:
    """The first design, written."""
    path = folder / "box.yaml"
    path.write_text(starter("box"), "utf-8")
    return path


@pytest.fixture
def wrong(folder: Path) -> Path:
    """The first design with a mistyped stock."""
    text = starter("box").replace("    stock: lime board", "    stock: lime bord", 1)
    path = folder / "wrong.yaml"
    path.write_text(text, "utf-8")
    return path


def typed(*words: str) -> Result:
    """Run a command in this process."""
    return CliRunner().invoke(main, words)


@pytest.mark.parametrize("command", sorted(COMMANDS))
def test_help_of_every_command_has_an_example(command: str) -> None:
    done = typed(command, "--help")
    assert done.exit_code == 0
    assert f"  patternpress {command}" in done.stdout.split("Example")[1]


def test_help_lists_the_commands() -> None:
    done = typed("--help")
    assert [w for w in ("new", "check", "build", "proof", "facts") if w not in done.stdout] == []


def test_a_command_that_prints_nothing_does_not_load_the_press() -> None:
    """Nor the library for cutters' files, nor the page's server: they would treble the start."""
    heavy = ("weasyprint", "ezdxf", "starlette", "uvicorn", "watchfiles", "pypdfium2", "pikepdf")
    code = (
        "import sys, patternpress.desk.cli as desk; desk.main.get_command(None, 'check');"
        f" print([m for m in {heavy} if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


def test_explaining_loads_nothing_that_works_out_or_draws() -> None:
    heavy = ("numpy", "pint", "babel", "markdown_it", "patternpress.design.read")
    code = (
        "import sys, patternpress.desk.cli as desk; desk.main(['explain'], standalone_mode=False);"
        f" print([m for m in {heavy} if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_a_mistyped_command_is_told_with_the_nearest() -> None:
    done = typed("biuld", "box.yaml")
    assert done.exit_code == 2
    assert "no command is called “biuld”. Did you mean “build”?" in done.stderr
    assert "No such command 'zzz'" in typed("zzz").stderr


def test_version() -> None:
    assert typed("--version").stdout.startswith("patternpress, version 0.")


@pytest.mark.parametrize(
    "words",
    [
        ["check"],
        ["build"],
        ["facts"],
        ["new"],
        ["check", "nowhere.yaml"],
        ["check", "."],
        ["check", "a" * 5000],
        ["check", "nul\0.yaml"],
        ["check", "box.yaml", "--format", "xml"],
        ["build", "box.yaml", "--edition", "imperial"],
        ["build", "box.yaml", "--edition", "inch", "--all-editions"],
        ["build", "box.yaml", "--printer-measured", "99"],
        ["build", "box.yaml", "--printer-measured", "80x99"],
        ["build", "box.yaml", "--cutters", "wide"],
        ["build", "box.yaml", "--cutters", "7"],
        ["build", "box.yaml", "--cutters", "-1"],
        ["facts", "box.yaml", "--edition", "imperial"],
        ["explain", "no-such-code"],
        ["saw", "box.yaml"],
    ],
)
def test_wrong_use_ends_with_two_and_says_so_on_stderr(box: Path, words: list[str]) -> None:
    done = typed(*words)
    assert done.exit_code == 2
    assert done.stdout == ""
    assert "Error: " in done.stderr


def test_a_mistyped_file_name_is_guessed(box: Path) -> None:
    assert "did you mean “box.yaml”?" in typed("check", "bxo.yaml").stderr
    assert "did you mean “box.yaml”?" in typed("check", "box").stderr


def test_a_folder_is_answered_with_its_designs(box: Path) -> None:
    assert "is a folder; name one design file. It holds box.yaml." in typed("check", ".").stderr


def test_a_mistyped_edition_is_guessed(box: Path) -> None:
    done = typed("build", "box.yaml", "--edition", "metrik")
    assert "Did you mean “metric”? This design has: metric, inch." in done.stderr


# --- check


def test_check_tells_what_waits_for_the_real_board(folder: Path) -> None:
    text = starter("box").replace(", wood:", ", really: 1.8 to 2.1 mm, wood:", 1)
    Path("box.yaml").write_text(text, "utf-8")
    done = typed("check", "box.yaml")
    assert done.exit_code == 0
    first, head, *lines = done.stdout.splitlines()
    assert (first, head) == (
        "box.yaml: no problems.",
        "Boards come thicker and thinner than their label.",
    )
    assert lines
    assert all("Measure your lime board before you cut: " in line for line in lines)
    told = json.loads(typed("check", "box.yaml", "--format", "json").stdout)
    assert told["measure_first"] == lines
    assert told["problems"] == []


# --- new


def test_new_writes_a_design_that_checks_clean(folder: Path) -> None:
    done = typed("new", "box")
    assert (done.exit_code, done.stdout) == (
        0,
        "Wrote box.yaml.\nNext: patternpress build box.yaml\n",
    )
    assert typed("check", "box.yaml").stdout == "box.yaml: no problems.\n"


@pytest.mark.parametrize(
    ("name", "file", "title"),
    [
        ("Candle box", "Candle-box.yaml", "design: Candle box"),
        ("box.yaml", "box.yaml", "design: Box"),
        ("étagère 2", "étagère-2.yaml", "design: Étagère 2"),
    ],
)
def test_new_puts_the_name_in(folder: Path, name: str, file: str, title: str) -> None:
    assert typed("new", name, "--dir", "designs").exit_code == 0
    path = folder / "designs" / file
    assert title in path.read_text("utf-8").splitlines()
    assert typed("check", str(path)).exit_code == 0


def at_terminal(answers: list[str]) -> str:
    """What `new box` says at a terminal (POSIX openpty), each question answered in turn."""
    ours, theirs = os.openpty()
    command = [sys.executable, "-m", "patternpress.desk", "new", "box"]
    with subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs):
        os.close(theirs)
        os.write(ours, "".join(f"{each}\n" for each in answers).encode())
        said = b""
        with contextlib.suppress(OSError):  # Linux says so when the other end is closed
            while part := os.read(ours, 4096):
                said += part
    os.close(ours)
    return said.decode()


def test_new_asks_at_a_terminal_and_enter_takes_what_is_usual(folder: Path) -> None:
    said = at_terminal(["", "", "", ""])
    for question in ("Millimetres or inches?", "How large is the box?", "thick is your board?"):
        assert question in said
    assert (folder / "box.yaml").read_text("utf-8") == starter("box")


def test_new_asks_again_until_it_is_told_and_builds_what_is_answered(folder: Path) -> None:
    said = at_terminal(["cubits", "in", "1 1/2 x 3/4 x 5/8", "1/16", "1:16"])
    assert said.count("Millimetres or inches?") == 2
    text = (folder / "box.yaml").read_text("utf-8")
    assert "scale: 1:16" in text
    assert "1 1/2 in" in text
    assert typed("check", "box.yaml").stdout == "box.yaml: no problems.\n"


def test_new_never_overwrites(folder: Path) -> None:
    (folder / "box.yaml").write_text("mine", "utf-8")
    done = typed("new", "box")
    assert done.exit_code == 2
    assert "is there already; it was left as it is." in done.stderr
    assert (folder / "box.yaml").read_text("utf-8") == "mine"


@pytest.mark.parametrize(
    "name",
    [
        "",
        " ",
        "..",
        "../box",
        "a/b",
        "a\\b",
        "-box",
        ".box",
        "con",
        "LPT1",
        "a:b",
        "b" * 61,
    ],
)
def test_new_refuses_unsafe_names(folder: Path, name: str) -> None:
    done = typed("new", "--", name)
    assert done.exit_code == 2
    assert list(folder.iterdir()) == []


def test_new_refuses_a_folder_that_cannot_be_made(folder: Path) -> None:
    (folder / "file").write_text("", "utf-8")
    assert typed("new", "box", "--dir", "file/inside").exit_code == 2


# --- check


def test_check_shows_the_problem_with_its_caret(wrong: Path) -> None:
    done = typed("check", "wrong.yaml")
    number = wrong.read_text("utf-8").split("lime bord")[0].count("\n") + 1
    assert done.exit_code == 1
    assert done.stderr == ""
    assert done.stdout.startswith(
        f"wrong.yaml:{number}:12: error[unknown-name]\n"
        f"{number} |     stock: lime bord\n"
        "   |            ^^^^^^^^^\n"
        "     no stock is called “lime bord”\n"
    )
    assert "\n1 error" in done.stdout


def test_check_shows_the_folder_as_it_was_typed(wrong: Path) -> None:
    home = wrong.parent.name
    assert typed("check", f"../{home}/wrong.yaml").stdout.startswith(f"../{home}/wrong.yaml:")


def test_check_json(wrong: Path) -> None:
    done = typed("check", "wrong.yaml", "--format", "json")
    found = json.loads(done.stdout)
    assert done.exit_code == 1
    assert found["format"] == 1
    assert found["problems"][0]["code"] == "unknown-name"
    assert found["problems"][0]["near"] == "lime board"


def test_check_json_of_a_sound_design_is_an_empty_list(box: Path) -> None:
    done = typed("check", "box.yaml", "--format", "json")
    assert (done.exit_code, json.loads(done.stdout)) == (
        0,
        {"format": 1, "problems": [], "measure_first": []},
    )


def test_warnings_do_not_fail(box: Path) -> None:
    text = box.read_text("utf-8").replace(
        "pin vice, sanding block", "pin vice, sanding block, adze"
    )
    box.write_text(text, "utf-8")
    done = typed("check", "box.yaml")
    assert done.exit_code == 0
    assert "warning[tool-unused]" in done.stdout
    assert done.stdout.endswith("\n1 warning\n")


def test_a_shared_file_is_checked_by_itself(folder: Path) -> None:
    (folder / "shared.yaml").write_text(
        "tools: pencil\nmaterials:\n  oil: {only if: oiled}\n", "utf-8"
    )
    done = typed("check", "shared.yaml")
    assert done.exit_code == 0
    assert [w for w in done.stdout.split() if "[" in w] == ["warning[no-design]"]


@pytest.mark.parametrize("command", ["check wrong.yaml", "figures box.yaml", "explain stock"])
def test_what_is_piped_has_neither_colour_nor_moving_lines(
    box: Path, wrong: Path, command: str
) -> None:
    done = typed(*command.split())
    assert done.output
    assert min(set(done.output) - {"\n"}) >= " "  # no sign that steers a terminal


# --- build


def test_build_one_edition_lists_its_files(box: Path) -> None:
    done = typed("build", "box.yaml", "--edition", "inch", "--out", "to print")
    assert done.exit_code == 0, done.output
    files = [Path(line) for line in done.stdout.splitlines()]
    assert Path("to print/box-inch.pdf") in files
    assert all(file.is_file() for file in files)
    assert files[0].read_bytes().startswith(b"%PDF-")
    assert done.stderr.startswith("Building inch (1 of 1)\nSound: ")
    assert [each.suffix for each in files].count(".html") == 1


def test_build_makes_every_edition_and_tells_json(box: Path) -> None:
    done = typed("build", "box.yaml", "--all-editions", "--format", "json")
    record = json.loads(done.stdout)
    assert done.exit_code == 0
    assert record["problems"] == []
    assert {"build/box-metric.pdf", "build/box-inch.pdf"} <= set(record["files"])


def test_build_makes_nothing_of_a_wrong_design(wrong: Path) -> None:
    done = typed("build", "wrong.yaml")
    assert done.exit_code == 1
    assert done.stdout == ""
    assert "error[unknown-name]" in done.stderr
    assert not Path("build").exists()


def test_build_makes_templates_for_one_printer_and_nothing_else(box: Path) -> None:
    done = typed("build", "box.yaml", "--edition", "inch", "--printer-measured", "99.2x99.5")
    assert done.exit_code == 0, done.output
    name = "build/box-inch-templates-for-printer-99.2x99.5"
    files = [f"{name}-proof.html", f"{name}.pdf"]
    assert sorted(each.as_posix() for each in Path("build").iterdir()) == files
    assert set(done.stdout.splitlines()) >= set(files)


def test_a_printer_far_out_is_told_to_print_at_actual_size(box: Path) -> None:
    said = typed("build", "box.yaml", "--printer-measured", "80x99").stderr
    assert "print at actual size first" in said


def test_build_makes_files_for_cutters_beside_the_booklet(box: Path) -> None:
    done = typed("build", "box.yaml", "--edition", "inch", "--cutters", "0,15 mm")
    assert done.exit_code == 0, done.output
    files = done.stdout.splitlines()
    assert "build/box-inch.pdf" in files
    made = [file for file in files if file.startswith("build/box-inch/templates/")]
    assert made
    assert {Path(file).suffix for file in made} == {".svg", ".dxf"}
    assert all(Path(file).is_file() for file in made)


# --- facts


def test_facts_are_json_of_the_first_edition_or_the_named_one(box: Path) -> None:
    first = json.loads(typed("facts", "box.yaml").stdout)
    assert first["edition"]["name"] == "metric"
    assert first["sizes"]["width"]["value"] == "30"
    inch = json.loads(typed("facts", "box.yaml", "--edition", "inch").stdout)
    assert inch["edition"]["name"] == "inch"


def test_facts_of_a_wrong_design_are_refused(wrong: Path) -> None:
    done = typed("facts", "wrong.yaml")
    assert (done.exit_code, done.stdout) == (1, "")
    assert "error[unknown-name]" in done.stderr


# --- explain and schema


def test_explain_prints_the_page() -> None:
    done = typed("explain", "unknown-name")
    assert done.exit_code == 0
    assert done.stdout.startswith("unknown-name (error)\n\nSomething is named that the design")
    assert "\nAt the bench: " in done.stdout
    assert "\nTo mend: " in done.stdout


def test_explain_takes_what_a_report_shows() -> None:
    assert typed("explain", "error[unknown-name]").stdout == typed("explain", "Unknown-Name").stdout


def test_explain_knows_what_a_proof_finds() -> None:
    done = typed("explain", "label-differs")
    assert done.exit_code == 0
    assert done.stdout.startswith("label-differs (refused by the proof)\n\nThe template of part … ")
    assert "\nAt the bench: " in done.stdout
    assert "In a file that was just built: The fault is patternpress's own" in done.stdout
    assert "Did you mean “label-differs”?" in typed("explain", "label-difers").stderr
    rows = [line.split(maxsplit=1) for line in typed("explain").stdout.splitlines()]
    told = "The template of part … says …, but its outline measures … mm."
    assert ["label-differs", told] in rows
    both = typed("explain", "overall-differs").stdout  # in a design, and in a booklet
    assert "overall-differs (error)\n\n" in both
    assert "overall-differs (refused by the proof)\n\n" in both


def test_explain_guesses() -> None:
    assert "Did you mean “unknown-name”?" in typed("explain", "unknwn-name").stderr


def test_explain_alone_lists_families() -> None:
    lines = typed("explain").stdout.splitlines()
    assert lines[0] == "Files"
    assert "The order of work" in lines
    assert any(line.split(maxsplit=1)[0] == "unknown-name" for line in lines if line.strip())


def test_schema_is_json() -> None:
    assert json.loads(typed("schema").stdout)["$schema"].endswith("2020-12/schema")


# --- the last resort


def broken(*_: object) -> None:
    """Something that goes wrong where nobody foresaw it."""
    raise ZeroDivisionError("/home/somebody/secret.yaml")


def test_an_unforeseen_exception_is_one_line_without_paths(
    box: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv(SHOW_TRACEBACK)
    monkeypatch.setattr("patternpress.desk.rooms.examine", broken)
    done = typed("check", "box.yaml")
    assert done.exit_code == 1
    assert done.stderr.count("\n") == 1
    assert "ZeroDivisionError in desk.commands.check, line " in done.stderr
    assert "secret" not in done.stderr
    assert "Traceback" not in done.stderr


def test_an_unforeseen_exception_passes_for_developers(
    box: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("patternpress.desk.rooms.examine", broken)
    assert isinstance(typed("check", "box.yaml").exception, ZeroDivisionError)


def test_a_full_disk_is_told_plainly(box: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device", "/home/somebody/box-inch.pdf")

    monkeypatch.delenv(SHOW_TRACEBACK)
    monkeypatch.setattr("patternpress.desk.pressing.build_edition", full)
    done = typed("build", "box.yaml", "--edition", "inch")
    assert done.exit_code == 1
    words = "patternpress had to stop: box-inch.pdf: no space left on device.\n"
    assert done.stderr.endswith(words)


# --- as a process of its own


def test_a_terminal_without_our_signs_gets_them_spelt_out(wrong: Path) -> None:
    environment = {**os.environ, "PYTHONIOENCODING": "latin-1", "PYTHONUTF8": "0"}
    done = subprocess.run(
        [sys.executable, "-m", "patternpress.desk", "check", "wrong.yaml"],
        env=environment,
        capture_output=True,
        check=False,
    )
    assert done.returncode == 1
    assert rb"no stock is called \u201clime bord\u201d" in done.stdout
    assert b"Traceback" not in done.stderr


def test_cutting_names_the_design_whose_edition_is_missing(box: Path) -> None:
    other = box.with_name("chest.yaml")
    other.write_text(box.read_text("utf-8").replace("design: ", "design: Second ", 1), "utf-8")
    both = typed("cutting", "box.yaml", "chest.yaml", "box.yaml")
    assert both.exit_code == 0
    assert "\n\n1  " in both.stdout
    assert "\n3  " not in both.stdout
    wrong = typed("cutting", "box.yaml", "chest.yaml", "--edition", "nowhere")
    assert wrong.exit_code == 2
    assert "box.yaml: no edition is called" in wrong.stderr
    assert "chest.yaml" not in wrong.stderr.partition("Error")[2]

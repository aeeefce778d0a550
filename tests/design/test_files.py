"""Faults that no text file can hold for long: bytes, limits, signs that do not print."""

import time
from collections.abc import Callable
from pathlib import Path

import pytest

from patternpress.assembly.model import check
from patternpress.design.problem import Problem
from patternpress.design.read import read_design, read_text
from tests.design.faulty import told

TRAY = """\
design: Tray
stock:
  board: {sheet: 2 mm}
parts:
  base: {stock: board, wide: 40 mm, deep: 30 mm}
steps:
  - step: Cut it out
    start: base
"""


def of_text(text: str) -> tuple[Problem, ...]:
    return check(read_text(text, "tray.yaml", Path()))


def of_bytes(folder: Path, data: bytes) -> tuple[Problem, ...]:
    path = folder / "tray.yaml"
    path.write_bytes(data)
    return check(read_design(path))


def anchors(count: int, of: str) -> str:
    """Each anchor holds the one before it many times over."""
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, count)]
    return "\n".join([TRAY + of, *lines])


Made = Callable[[Path], tuple[Problem, ...]]

# Code -> how the design comes about, and everything that a maker is told, the place before it.
BUILT: dict[str, tuple[Made, str]] = {
    "not-text": (
        lambda folder: of_bytes(folder, TRAY.encode("utf-16")),
        """
        tray.yaml:1:1
        # error 1-1 not-text: tray.yaml is no plain text in UTF-8
        # mend: save the file as plain text, encoding UTF-8.
        """,
    ),
    "file-too-large": (
        lambda folder: of_text(TRAY + "#" * 400_000),
        """
        tray.yaml:1:1
        # error 1-1 file-too-large: this file is too long; at most 400,000 characters are read
        # mend: split off words and stock into a shared file, or take out what was pasted in
        by mistake.
        """,
    ),
    "too-deep": (
        lambda folder: of_text("about: " + "[" * 2000),
        """
        tray.yaml:1:31
        # error 31-32 too-deep: entries are nested more than 24 deep
        # mend: bring the line back to the column of its neighbours.
        """,
    ),
    "too-many-entries": (
        lambda folder: of_text(anchors(9, "")),
        """
        tray.yaml:14:10
        # error 10-13 too-many-entries: this file expands to more than 20,000 entries
        # mend: write the part out once and use `pieces` for its copies.
        """,
    ),
    "strange-character": (
        lambda folder: of_text(TRAY.replace("Cut it", "Cut\0it")),
        """
        tray.yaml:7:14
        # error 14-15 strange-character: a character here cannot be read
        # mend: delete the character and type it again; save the file as plain text in UTF-8.
        """,
    ),
    "empty-design": (
        lambda folder: of_text("# nothing yet\n"),
        """
        tray.yaml:1:1
        # error 1-1 empty-design: this file holds no design
        # mend: start from `patternpress new NAME`, or from the example in designs/README.md.
        """,
    ),
}


@pytest.mark.parametrize("code", BUILT)
def test_a_fault_of_the_whole_file_is_told_in_full_and_alone(code: str, tmp_path: Path) -> None:
    make, words = BUILT[code]
    (problem,) = make(tmp_path)
    assert " ".join([str(problem.span), *told(problem)]) == " ".join(words.split())
    assert problem.code == code


@pytest.mark.parametrize(
    "text",
    [
        anchors(9, ""),
        anchors(400, ""),
        "[" * 300_000,
        "{a: " * 60_000,
        "- " * 100_000,
        "\n".join(
            f"k{n}: &k{n} {'[' * 20}{f'*k{n - 1}' if n else 'x'}{']' * 20}" for n in range(60)
        ),
        TRAY + "about: " + "<" * 200_000 + "\n",
        TRAY + "about: &t " + "x" * 1900 + "\nlist: [" + ", ".join(["*t"] * 3000) + "]\n",
        "a: b: c\n" * 20_000,
        TRAY.replace("40 mm", "9" * 300_000 + " mm"),
        TRAY.replace("40 mm", "(" * 300_000),
        "".join(f"name{n}: 1\n" for n in range(25_000)),
        TRAY + "tools:\n" + "".join(f"  tool {n}:\n" for n in range(9_000)),
        '"' + "\\x41" * 90_000 + '"',
    ],
    ids=lambda text: f"{text[:12]}… {len(text)}",
)
def test_a_hostile_file_costs_no_more_than_a_large_one(text: str) -> None:
    before = time.perf_counter()
    problems = of_text(text)
    assert problems
    assert all(each.span.line >= 1 and each.span.column >= 1 for each in problems)
    assert time.perf_counter() - before < 8


@pytest.mark.parametrize(
    ("escape", "line", "column"),
    [("\\0", 2, 8), ("\\x1b[2J", 2, 8), ("\\ud800", 2, 8), ("\\UFFFFFFFF", 2, 13)],
)
def test_an_escape_brings_in_no_sign_that_cannot_be_printed(
    escape: str, line: int, column: int
) -> None:
    problems = of_text(TRAY.replace("stock:", f'about: "tea {escape}"\nstock:', 1))
    told_of = [(each.code, each.span.line, each.span.column) for each in problems]
    assert told_of == [("strange-character", line, column)]


def test_a_file_may_begin_with_a_byte_order_mark_and_end_its_lines_as_windows_does(
    tmp_path: Path,
) -> None:
    assert of_bytes(tmp_path, b"\xef\xbb\xbf" + TRAY.replace("\n", "\r\n").encode()) == ()
    crooked = TRAY.replace("deep: 30 mm", "deep: 30").replace("\n", "\r\n").encode()
    (problem,) = of_bytes(tmp_path, crooked)
    assert (problem.code, problem.span.line, problem.span.column) == ("unit-missing", 5, 43)


def test_a_file_that_is_not_there_is_told_and_not_raised(tmp_path: Path) -> None:
    (problem,) = check(read_design(tmp_path / "gone.yaml"))
    assert (problem.code, str(problem.span)) == ("file-missing", "gone.yaml:1:1")
    (problem,) = check(read_design(tmp_path))
    assert problem.code == "file-missing"


def test_nothing_outside_the_folder_is_read(tmp_path: Path) -> None:
    """Not by dots, not by an absolute name, not through a link."""
    folder = tmp_path / "designs"
    folder.mkdir()
    secret = tmp_path / "secret.yaml"
    secret.write_text("series: secret\n")
    (folder / "link.yaml").symlink_to(secret)
    for name in ("../secret.yaml", str(secret), "link.yaml", "./../secret.yaml"):
        reading = read_text(f"shares: {name}\n{TRAY}", "tray.yaml", folder)
        assert [each.code for each in reading.problems] == ["outside-folder"]
        assert len(reading.sources) == 1


def test_faults_of_a_shared_file_are_told_at_their_place_in_it(tmp_path: Path) -> None:
    (tmp_path / "quay.yaml").write_text("tools:\n  steel rule: {colour: grey}\n")
    reading = read_text(f"shares: quay.yaml\n{TRAY}", "tray.yaml", tmp_path)
    (problem,) = reading.problems
    assert (problem.code, str(problem.span)) == ("unknown-field", "quay.yaml:2:16")

"""Files that no maker writes: each gets a located problem, none a traceback, all of them soon."""

import json
import random
import time
from itertools import pairwise
from pathlib import Path

import pytest
from click.testing import CliRunner

from patternpress.desk.cli import SHOW_TRACEBACK, main

HEAD = "design: x\nparts: {}\nsteps: []\n"
LEVELS = "abcdefghij"
BOMB = "a: &a [x, x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{name}: &{name} [{', '.join([f'*{before}'] * 10)}]\n" for before, name in pairwise(LEVELS)
)

HOSTILE: dict[str, tuple[bytes | str, str]] = {
    "binary": (random.Random(7).randbytes(5000), "not-text"),
    "utf-16": ("design: x".encode("utf-16"), "not-text"),
    "empty": ("", "empty-design"),
    "only a comment": ("# nothing\n", "empty-design"),
    "a list": ("- a\n- b\n", "empty-design"),
    "escape signs": ("design: A \x1b[31mred\n", "strange-character"),
    "nul": ("design: \0\n", "strange-character"),
    "ten megabytes": ("a" * 10_000_000, "file-too-large"),
    "ten megabytes of é": ("é" * 5_000_000, "file-too-large"),
    "deep brackets": ("a: " + "[" * 5000, "too-deep"),
    "deep braces": ("a: " + "{a: " * 5000, "too-deep"),
    "deep lines": ("".join(f"{' ' * n}a:\n" for n in range(200)), "too-deep"),
    "alias bomb": (BOMB, "too-many-entries"),
    "alias of a long text": (
        f'design: &a "{"x" * 200_000}"\nkeep: [{", ".join(["*a"] * 15_000)}]\n',
        "too-many-entries",
    ),
    "alias of itself": ("a: &a [*a]\n", "unknown-alias"),
    "two designs": (f"{HEAD}---\n{HEAD}", "second-design"),
    "a name for a list": (HEAD + "? [a, b]\n: c\n", "strange-key"),
    "a tag for a program": (HEAD + 'about: !!python/object/apply:os.system ["x"]\n', "wrong-shape"),
    "a path upwards": (HEAD + "shares: ../../../etc/passwd\n", "outside-folder"),
    "a path from the root": (HEAD + "shares: /etc/passwd\n", "outside-folder"),
    "itself, shared": (HEAD + "shares: hostile.yaml\n", "unknown-field"),
    "brackets in a sum": (HEAD + f"sizes: {{a: {'(' * 300}1{')' * 300}}}\n", "sum-too-long"),
    "a ring of sizes": (HEAD + "sizes: {a: b, b: c, c: a + 1 mm}\n", "circular-size"),
    "thousands of unknown names": (
        HEAD
        + f"sizes: {{{', '.join(f'size number {n}: 1 mm' for n in range(900))}}}\n"
        + f"keep: [{', '.join(f'sise numbre {n}' for n in range(5000))}]\n",
        "unknown-name",
    ),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_gets_a_located_problem(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    content, code = HOSTILE[name]
    monkeypatch.setenv(SHOW_TRACEBACK, "1")
    monkeypatch.chdir(tmp_path)
    path = Path("hostile.yaml")
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    started = time.monotonic()
    done = CliRunner().invoke(main, ["check", "hostile.yaml", "--format", "json"])
    assert done.exit_code == 1, done.output
    problems = json.loads(done.stdout)["problems"]
    assert code in {each["code"] for each in problems}
    assert all(each["file"] == "hostile.yaml" and each["line"] >= 1 for each in problems)
    assert time.monotonic() - started < 20


@pytest.mark.parametrize("name", ["escape signs", "nul", "binary", "deep brackets", "alias bomb"])
def test_words_about_a_hostile_file_are_printable_and_narrow(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    content, _ = HOSTILE[name]
    monkeypatch.setenv(SHOW_TRACEBACK, "1")
    path = tmp_path / "hostile.yaml"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    monkeypatch.chdir(tmp_path)
    lines = CliRunner().invoke(main, ["check", "hostile.yaml"]).stdout.split("\n")
    assert all(line.isprintable() for line in lines)
    assert max(map(len, lines)) <= 100


def test_a_file_that_may_not_be_read_is_a_problem(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.chdir(tmp_path)
    Path("box.yaml").write_text(HEAD, "utf-8")
    monkeypatch.setattr(Path, "open", refuse)
    done = CliRunner().invoke(main, ["check", "box.yaml"])
    assert done.exit_code == 1
    assert "box.yaml cannot be read: Permission denied" in done.stdout

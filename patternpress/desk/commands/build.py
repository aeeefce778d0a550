"""``patternpress build``: make the booklets of a design, one for each edition."""

from __future__ import annotations

import importlib
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from patternpress.design.problem import Problem
from patternpress.design.read import Reading, read_design
from patternpress.desk import report, rooms
from patternpress.desk.excerpt import visible
from patternpress.desk.opening import any_file, chosen, design_file
from patternpress.desk.showing import FORMATS, busy, folder_of, show

EXAMPLES = """\b
Examples:
  patternpress build box.yaml
  patternpress build box.yaml --edition inch --out to-print
"""


@click.command(epilog=EXAMPLES, short_help="Make the booklets of a design.")
@click.argument("design", callback=design_file, shell_complete=any_file)
@click.option("--edition", "wanted", multiple=True, help="Only this edition (may be repeated).")
@click.option("--all-editions", is_flag=True, help="Every edition; so it is when none is named.")
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("build"),
    show_default=True,
    help="The folder for what is made; it is made too.",
)
@click.option("--format", "form", type=FORMATS, default="text", help="Words, or JSON for programs.")
def build(design: Path, wanted: tuple[str, ...], all_editions: bool, out: Path, form: str) -> None:
    """Make the booklet of DESIGN in each of its editions, and list the files made.

    Nothing is made when the design has an error.
    """
    if wanted and all_editions:
        raise click.UsageError("say either --edition or --all-editions, not both.")
    reading = read_design(design)
    problems = rooms.check(reading, wanted)
    sound = not any(each.is_error for each in problems)
    files: list[Path] = []
    if form == "text":
        show(problems, reading, err=True)
    if sound and reading.book is not None:
        editions = chosen(wanted, rooms.edition_names(reading))
        files = _make(reading, editions, out, form)
    if form == "json":
        click.echo(_record(problems, files, reading), nl=False)
    if not sound:
        raise click.exceptions.Exit(1)


def _make(reading: Reading, editions: Sequence[str], out: Path, form: str) -> list[Path]:
    files: list[Path] = []
    cache: dict[str, Any] = {}  # what the editions have in common is made once
    for number, edition in enumerate(editions, 1):
        with busy(f"Building {edition} ({number} of {len(editions)})"):
            made = _made(reading, edition, out, cache)
        files += made
        if form == "text":
            for each in made:
                click.echo(each.as_posix())
    return files


def _made(reading: Reading, edition: str, out: Path, cache: dict[str, Any]) -> tuple[Path, ...]:
    """The files of one edition; a plain error when its pages cannot be pressed."""
    press = _press()
    try:
        files: tuple[Path, ...] = press.build_edition(reading, edition, out, cache=cache)
        return files
    except press.PressError as error:
        complaints = "; ".join(visible(line) for line in str(error).splitlines())
        raise click.ClickException(f"the {edition} edition was not made: {complaints}") from None


def _press() -> Any:
    """The pressing module, loaded only now (it says why)."""
    try:
        return importlib.import_module("patternpress.desk.pressing")
    except OSError:  # how the PDF engine says that a library of the system is missing
        raise click.ClickException(
            "the PDF engine needs the libraries Pango and HarfBuzz; on Debian or Ubuntu type "
            "`sudo apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0`."
        ) from None


def _record(problems: Sequence[Problem], files: Sequence[Path], reading: Reading) -> str:
    record = {
        "format": report.FORMAT,
        "problems": report.records(problems, folder_of(reading)),
        "files": [each.as_posix() for each in files],
    }
    return json.dumps(record, indent=2) + "\n"

"""``patternpress build``: make the booklets of a design, one for each edition."""

from __future__ import annotations

import itertools
import json
import re
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any

import click

from patternpress.design.problem import Problem
from patternpress.design.read import Reading, read_design
from patternpress.desk import report, rooms
from patternpress.desk.hands import hands_for, make_all
from patternpress.desk.making import Order, Outcome
from patternpress.desk.opening import any_file, chosen, design_file
from patternpress.desk.showing import FORMATS, busily, folder_of, show
from patternpress.measure.errors import MeasureError
from patternpress.measure.printers import Correction, read_correction

EXAMPLES = """\b
Examples:
  patternpress build box.yaml
  patternpress build box.yaml --edition inch --out to-print
  patternpress build box.yaml --printer-measured 99.2x99.5
  patternpress build box.yaml --cutters 0.15
"""


def printer_measured(_: click.Context, __: click.Parameter, value: str | None) -> Correction | None:
    """What the 100 mm bars measure on a printer, across the page and up it.

    Raises click.BadParameter for what is no such pair, or too far from 100.
    """
    try:
        return None if value is None else read_correction(value)
    except MeasureError as error:
        raise click.BadParameter(_BARS[error.code]) from None


def kerf_width(_: click.Context, __: click.Parameter, value: str | None) -> Fraction | None:
    """How wide a cutter cuts, mm.  Raises click.BadParameter for what is no such width."""
    if value is None:
        return None
    found = _WIDTH.fullmatch(value)
    if not found or Fraction(found[1].replace(",", ".")) > _WIDEST:
        raise click.BadParameter("say the width in mm, at most 3, such as 0.2.")
    return Fraction(found[1].replace(",", "."))


_WIDTH = re.compile(r"\s*(\d(?:[.,]\d{1,3})?)\s*(?:mm)?\s*")
_WIDEST = Fraction(3)  # mm
_BARS = {
    "bad-bars": "say the two lengths in mm, those across the page first, such as 99.2x99.5.",
    "bars-far-out": "a bar more than 5 mm out comes from a setting: print at actual size first.",
}


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
@click.option(
    "--printer-measured",
    "measured",
    callback=printer_measured,
    metavar="ACROSSxUP",
    help="Only the templates, for a printer whose 100 mm bars measure so many mm.",
)
@click.option(
    "--cutters",
    "kerf",
    callback=kerf_width,
    metavar="KERF",
    help="Also an SVG and a DXF of each part, for cutters that cut KERF mm wide (0: as drawn).",
)
@click.option(
    "--unproved",
    is_flag=True,
    help="Do not measure the finished booklet; its last page says so.",
)
@click.option(
    "--at-once",
    type=click.IntRange(1, 16),
    metavar="N",
    help="Make N editions at a time (as many as there are processors, at most 4, unless you say).",
)
@click.option("--format", "form", type=FORMATS, default="text", help="Words, or JSON for programs.")
def build(
    design: Path,
    wanted: tuple[str, ...],
    all_editions: bool,
    out: Path,
    form: str,
    at_once: int | None,
    **wishes: Any,
) -> None:
    """Make the booklet of DESIGN in each of its editions, and list the files made.

    Nothing is made when the design has an error. Each finished booklet is measured, and one that
    is not true is not written; the others are.
    """
    if wanted and all_editions:
        raise click.UsageError("say either --edition or --all-editions, not both.")
    reading = read_design(design)
    problems = rooms.check(reading, wanted)
    sound = not any(each.is_error for each in problems)
    files: list[Path] = []
    complaints: list[str] = []
    if form == "text":
        show(problems, reading, err=True)
    if sound and reading.book is not None:
        editions = chosen(wanted, rooms.edition_names(reading))
        hands = hands_for(len(editions), at_once)
        files, complaints = _make(Order(reading, out, **wishes), editions, hands, form)
    if form == "json":
        click.echo(_record(problems, files, reading), nl=False)
    for complaint in complaints:
        click.ClickException(complaint).show()
    if complaints or not sound:
        raise click.exceptions.Exit(1)


def _make(
    order: Order, editions: Sequence[str], hands: int, form: str
) -> tuple[list[Path], list[str]]:
    """The files made, and the complaints of the editions that could not be."""
    files: list[Path] = []
    complaints: dict[str, None] = {}  # each once: some hold for every edition
    with busily() as say:
        begun = itertools.count(1)

        def started(edition: str) -> None:
            say(f"Building {edition} ({next(begun)} of {len(editions)})")

        for made in make_all(order, editions, hands, started):
            files += made.files
            if made.complaint:
                complaints[made.complaint] = None
            elif form == "text":
                _tell(made)
    return files, list(complaints)


def _tell(made: Outcome) -> None:
    for each in made.files:
        click.echo(each.as_posix())
    if made.headline:
        click.echo(made.headline, err=True)


def _record(problems: Sequence[Problem], files: Sequence[Path], reading: Reading) -> str:
    record = {
        "format": report.FORMAT,
        "problems": report.records(problems, folder_of(reading)),
        "files": [each.as_posix() for each in files],
    }
    return json.dumps(record, indent=2) + "\n"

"""``patternpress build``: make the booklets of a design, one for each edition."""

from __future__ import annotations

import importlib
import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

import click

from patternpress.design.problem import Problem
from patternpress.design.read import Reading, read_design
from patternpress.desk import report, rooms
from patternpress.desk.excerpt import visible
from patternpress.desk.opening import any_file, chosen, design_file
from patternpress.desk.showing import FORMATS, busy, folder_of, show
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


@dataclass(frozen=True)
class _Wish:
    """What is to be made of an edition instead of its booklet, or beside it."""

    measured: Correction | None
    kerf: Fraction | None


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
@click.option("--format", "form", type=FORMATS, default="text", help="Words, or JSON for programs.")
def build(
    design: Path,
    wanted: tuple[str, ...],
    all_editions: bool,
    out: Path,
    measured: Correction | None,
    kerf: Fraction | None,
    form: str,
) -> None:
    """Make the booklet of DESIGN in each of its editions, and list the files made.

    Nothing is made when the design has an error.
    """
    if wanted and all_editions:
        raise click.UsageError("say either --edition or --all-editions, not both.")
    wish = _Wish(measured, kerf)
    reading = read_design(design)
    problems = rooms.check(reading, wanted)
    sound = not any(each.is_error for each in problems)
    files: list[Path] = []
    if form == "text":
        show(problems, reading, err=True)
    if sound and reading.book is not None:
        editions = chosen(wanted, rooms.edition_names(reading))
        files = _make(reading, editions, out, form, wish)
    if form == "json":
        click.echo(_record(problems, files, reading), nl=False)
    if not sound:
        raise click.exceptions.Exit(1)


def _make(
    reading: Reading,
    editions: Sequence[str],
    out: Path,
    form: str,
    wish: _Wish,
) -> list[Path]:
    files: list[Path] = []
    cache: dict[str, Any] = {}  # what the editions have in common is made once
    for number, edition in enumerate(editions, 1):
        with busy(f"Building {edition} ({number} of {len(editions)})"):
            made = _made(reading, edition, out, cache, wish)
        files += made
        if form == "text":
            for each in made:
                click.echo(each.as_posix())
    return files


def _made(
    reading: Reading,
    edition: str,
    out: Path,
    cache: dict[str, Any],
    wish: _Wish,
) -> tuple[Path, ...]:
    """The files of one edition; a plain error when its pages cannot be pressed."""
    press = _press()
    try:
        if wish.measured is None:
            files = press.build_edition(reading, edition, out, cache=cache)
        else:
            files = press.build_corrected(reading, edition, out, wish.measured)
        if wish.kerf is not None:
            files += press.build_cut_files(reading, edition, out, wish.kerf)
        made: tuple[Path, ...] = files
        return made
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

"""``patternpress proof``: measure a finished booklet."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click

from patternpress.booklet.writing import write_whole
from patternpress.design.read import read_design
from patternpress.desk import rooms
from patternpress.desk.excerpt import visible
from patternpress.desk.opening import chosen, design_file
from patternpress.desk.showing import FORMATS, show
from patternpress.proof.page import as_page
from patternpress.proof.prove import edition_of, prove
from patternpress.proof.telling import as_record, as_text

EXAMPLES = """\b
Examples:
  patternpress proof build/box-metric.pdf
  patternpress proof build/box-metric.pdf --design box.yaml
  patternpress proof build/box-metric.pdf --design box.yaml --page proof.html
"""


def _read_file(ctx: click.Context, _: click.Parameter, value: str) -> Path:
    path = Path(value)
    try:
        if path.is_file():
            return path
    except (OSError, ValueError):  # a name that no file can have
        pass
    raise click.UsageError(f"there is no file “{visible(value)[:80]}”.", ctx)


def _known(ctx: click.Context, param: click.Parameter, value: str | None) -> Path | None:
    return None if value is None else design_file(ctx, param, value)


@click.command(epilog=EXAMPLES, short_help="Measure a finished booklet.")
@click.argument("pdf", callback=_read_file)
@click.option("--design", callback=_known, help="Hold it against this design file.")
@click.option("--edition", help="The design's edition; the one the booklet names when left out.")
@click.option(
    "--page",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Also write the proof as an HTML page to keep.",
)
@click.option("--format", "form", type=FORMATS, default="text", help="Words, or JSON for programs.")
def proof(
    pdf: Path, design: Path | None, edition: str | None, page: Path | None, form: str
) -> None:
    """Measure the finished booklet PDF: every template, bar, figure and page.

    Alone it is judged by what it says of itself; with --design, by the design. Ends with code 0
    when it is sound, with 1 when anything is wrong.
    """
    if edition is not None and design is None:
        raise click.UsageError("--edition says which edition of --design; name the design too.")
    data = pdf.read_bytes()
    facts = None if design is None else _facts(design, edition or edition_of(data))
    report = prove(data, facts, file=pdf.name)
    if page is not None:
        write_whole(page, as_page(report).encode())
    record = json.dumps(as_record(report), indent=2) + "\n"
    click.echo(record if form == "json" else visible_lines(as_text(report)), nl=False)
    if not report.sound:
        raise click.exceptions.Exit(1)


def visible_lines(text: str) -> str:
    """Return a text whose words may come from a stranger's file, safe for a terminal."""
    return "\n".join(visible(line) for line in text.split("\n"))


def _facts(design: Path, edition: str) -> Mapping[str, Any]:
    reading = read_design(design)
    problems = rooms.check(reading)
    if reading.book is None or any(each.is_error for each in problems):
        show(problems, reading, err=True)
        raise click.exceptions.Exit(1)
    known = rooms.edition_names(reading)
    wanted = (edition,) if edition else ()
    return rooms.facts(reading, chosen(wanted, known)[0])

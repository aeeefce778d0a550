"""``patternpress check``: read a design and report everything that is wrong with it."""

from __future__ import annotations

from pathlib import Path

import click

from patternpress.design.read import read_design
from patternpress.desk import rooms
from patternpress.desk.opening import any_file, design_file
from patternpress.desk.report import as_json
from patternpress.desk.showing import FORMATS, folder_of, show

EXAMPLES = """\b
Examples:
  patternpress check box.yaml
  patternpress check box.yaml --format json
"""


@click.command(epilog=EXAMPLES, short_help="Report everything that is wrong with a design.")
@click.argument("design", callback=design_file, shell_complete=any_file)
@click.option("--format", "form", type=FORMATS, default="text", help="Words, or JSON for programs.")
def check(design: Path, form: str) -> None:
    """Read DESIGN and report everything that is wrong with it, all at once.

    In JSON, problems of pieces that do not fit have a `picture`, a small SVG of the place.

    Then it names the parts that are best cut once the real board has been measured.

    Warnings do not stop a booklet. Ends with code 0 when there is no error, with 1 when there is.
    """
    reading = read_design(design)
    checked = rooms.examine(reading)
    problems = checked.problems
    sound = not any(each.is_error for each in problems)
    first = rooms.measured_first(reading) if sound else ()
    if form == "json":
        besides = {"measure_first": list(first)}
        click.echo(as_json(problems, folder_of(reading), rooms.drawer(checked), besides), nl=False)
    elif problems:
        show(problems, reading, err=False)
    else:
        click.echo(f"{design}: no problems.")
    if first and form == "text":
        click.echo("\n".join(["Boards come thicker and thinner than their label.", *first]))
    if not sound:
        raise click.exceptions.Exit(1)

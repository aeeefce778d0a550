"""``patternpress facts``: everything that is worked out for an edition, as JSON."""

from __future__ import annotations

import json
from pathlib import Path

import click

from patternpress.design.read import read_design
from patternpress.desk import rooms
from patternpress.desk.opening import any_file, chosen, design_file
from patternpress.desk.showing import show

EXAMPLES = """\b
Examples:
  patternpress facts box.yaml
  patternpress facts box.yaml --edition inch
"""


@click.command(epilog=EXAMPLES, short_help="Print what is worked out from a design, as JSON.")
@click.argument("design", callback=design_file, shell_complete=any_file)
@click.option("--edition", help="The edition; the first one when left out.")
def facts(design: Path, edition: str | None) -> None:
    """Print the sizes, parts, pieces and steps worked out from DESIGN, as JSON.

    Problems go to standard error, so that the output can be passed on.
    """
    reading = read_design(design)
    problems = rooms.check(reading, (edition,) if edition is not None else ())
    show(problems, reading, err=True)
    if reading.book is None or any(each.is_error for each in problems):
        raise click.exceptions.Exit(1)
    wanted = (edition,) if edition is not None else ()
    first = chosen(wanted, rooms.edition_names(reading))[0]
    click.echo(json.dumps(rooms.facts(reading, first), indent=2))

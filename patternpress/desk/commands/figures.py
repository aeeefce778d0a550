"""``patternpress figures``: the figures of an edition, and why each is what it is."""

from __future__ import annotations

from pathlib import Path

import click

from patternpress.design.read import read_design
from patternpress.desk import rooms
from patternpress.desk.opening import chosen, design_file
from patternpress.desk.showing import show

EXAMPLES = """\b
Examples:
  patternpress figures box.yaml
  patternpress figures box.yaml --edition inch
"""


@click.command(epilog=EXAMPLES, short_help="Print the figures of an edition, and why they moved.")
@click.argument("design", callback=design_file)
@click.option("--edition", help="The edition; the first one when left out.")
def figures(design: Path, edition: str | None) -> None:
    """Print a table of every figure of DESIGN in an edition.

    For each: what it is in the design, what is printed, by how many steps it moved, and why.
    """
    reading = read_design(design)
    problems = rooms.check(reading, (edition,) if edition is not None else ())
    show(problems, reading, err=True)
    if reading.book is None or any(each.is_error for each in problems):
        raise click.exceptions.Exit(1)
    wanted = (edition,) if edition is not None else ()
    first = chosen(wanted, rooms.edition_names(reading))[0]
    click.echo(rooms.figures(reading, first), nl=False)

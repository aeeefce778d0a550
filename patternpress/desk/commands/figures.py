"""``patternpress figures``: the figures of an edition, and why each is what it is."""

from __future__ import annotations

from pathlib import Path

import click

from patternpress.design.read import read_design
from patternpress.desk import rooms
from patternpress.desk.opening import any_file, design_file
from patternpress.desk.showing import sound_edition

EXAMPLES = """\b
Examples:
  patternpress figures box.yaml
  patternpress figures box.yaml --edition inch
"""


@click.command(epilog=EXAMPLES, short_help="Print the figures of an edition, and why they moved.")
@click.argument("design", callback=design_file, shell_complete=any_file)
@click.option("--edition", help="The edition; the first one when left out.")
def figures(design: Path, edition: str | None) -> None:
    """Print a table of every figure of DESIGN in an edition.

    For each: what it is in the design, what is printed, by how many steps it moved, and why.
    """
    reading = read_design(design)
    click.echo(rooms.figures(reading, sound_edition(reading, edition)), nl=False)

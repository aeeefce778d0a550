"""``patternpress facts``: everything that is worked out for an edition, as JSON."""

from __future__ import annotations

import json
from pathlib import Path

import click

from patternpress.design.read import read_design
from patternpress.desk import rooms
from patternpress.desk.opening import any_file, design_file
from patternpress.desk.showing import sound_edition

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
    found = rooms.facts(reading, sound_edition(reading, edition))
    click.echo(json.dumps(found, indent=2))

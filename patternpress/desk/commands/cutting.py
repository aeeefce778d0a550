"""``patternpress cutting``: what one or several designs need, and how all of it is cut."""

from __future__ import annotations

import importlib
from pathlib import Path

import click

from patternpress.design.read import read_design
from patternpress.desk import rooms
from patternpress.desk.excerpt import visible
from patternpress.desk.opening import any_file, design_file
from patternpress.desk.showing import sound_edition

EXAMPLES = """\b
Examples:
  patternpress cutting box.yaml
  patternpress cutting box.yaml stool.yaml --edition inch
"""


def design_files(ctx: click.Context, param: click.Parameter, value: tuple[str, ...]) -> list[Path]:
    """The paths of design files that exist, each once."""
    return list(dict.fromkeys(design_file(ctx, param, each) for each in value))


@click.command(epilog=EXAMPLES, short_help="Print what designs need together, and the cuts.")
@click.argument("designs", nargs=-1, required=True, callback=design_files, shell_complete=any_file)
@click.option("--edition", help="The edition; the first one of each design when left out.")
def cutting(designs: list[Path], edition: str | None) -> None:
    """Print tools, materials and what to buy for all DESIGNS together, then how it is cut.

    Stock that several designs use is bought once, and their pieces are cut from the same boards.
    """
    models = []
    for each in designs:
        reading = read_design(each)
        try:
            models.append(rooms.edition_model(reading, sound_edition(reading, edition)))
        except click.UsageError as error:
            raise click.UsageError(f"{visible(str(each))}: {error.message}") from None
    # Loaded only now: the booklet's room would make every command start later.
    room = importlib.import_module("patternpress.booklet.series")
    click.echo(room.series_text(models), nl=False)

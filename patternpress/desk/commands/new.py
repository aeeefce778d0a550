"""``patternpress new``: a first design to change, with comments."""

from __future__ import annotations

import re
import sys
from importlib import resources
from pathlib import Path

import click

from patternpress.desk.excerpt import visible
from patternpress.desk.firstbox import USUAL, Box, box_of, figures_of

EXAMPLES = """\b
Examples:
  patternpress new box
  patternpress new "candle box" --dir designs
  patternpress new box --units in --size "1 1/2 x 3/4 x 5/8" --board 1/16 --scale 1:12

When it is typed at a terminal without options, it asks; Enter takes what stands in brackets.
"""
MOST = 60
# Names that Windows keeps for devices, with any ending.
_DEVICES = re.compile(r"con|prn|aux|nul|(com|lpt)\d", re.IGNORECASE)


@click.command(epilog=EXAMPLES, short_help="Write a small design to start from.")
@click.argument("name")
@click.option(
    "--dir",
    "folder",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path(),
    help="The folder to write it in; the current one when left out.",
)
@click.option("--units", type=click.Choice(("mm", "in")), help="The system you work in.")
@click.option("--size", help="The box: width x depth x height.")
@click.option("--board", help="How thick your board is.")
@click.option("--scale", help="The model ratio, such as 1:12; 1:1 for full size.")
def new(
    name: str,
    folder: Path,
    units: str | None,
    size: str | None,
    board: str | None,
    scale: str | None,
) -> None:
    """Write a small design called NAME, with comments, for you to change.

    It can be built at once. A file that is there already is never overwritten.
    """
    stem = _stem(name)
    path = folder / f"{stem}.yaml"
    said = {"units": units, "size": size, "board": board, "scale": scale}
    asked = _asked() if not any(said.values()) and sys.stdin.isatty() else said
    try:
        text = starter(stem, box_of(**asked))
    except ValueError as error:
        raise click.UsageError(str(error)) from None
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        raise click.UsageError(f"{path} is there already; it was left as it is.") from None
    except OSError as error:
        raise click.UsageError(f"{path} cannot be written: {error.strerror}.") from None
    click.echo(f"Wrote {path}.")
    click.echo(f"Next: patternpress build {_quoted(path)}")


def _asked() -> dict[str, str | None]:
    """What the maker answers, one question a line."""
    units = click.prompt("Millimetres or inches?", "mm", type=click.Choice(("mm", "in")))
    usual = USUAL[units]
    return {
        "units": units,
        "size": click.prompt("How large is the box? Width x depth x height", usual.size),
        "board": click.prompt("How thick is your board?", usual.board),
        "scale": click.prompt("Which scale? 1:1 for full size", "1:12"),
    }


def starter(stem: str, box: Box | None = None) -> str:
    """The text of a first design whose file is called `stem`.yaml."""
    text = resources.files("patternpress.desk").joinpath("starter", "box.yaml").read_text("utf-8")
    title = stem.replace("-", " ")
    figures = figures_of(box or box_of())
    return text.format(title=title[0].upper() + title[1:], file=f"{stem}.yaml", **figures)


def _stem(name: str) -> str:
    """The file's name without its ending; a usage error for one that is not safe everywhere."""
    words = name.removesuffix(".yaml").split()
    stem = "-".join(words)
    plain = re.fullmatch(r"[^\W_](?:[^\W_]|-)*", stem)
    if not plain or len(stem) > MOST or _DEVICES.fullmatch(stem):
        raise click.UsageError(
            f"“{visible(name)[:MOST]}” cannot be the name of a design: use letters, figures, "
            f"spaces and hyphens, {MOST} at most."
        )
    return stem


def _quoted(path: Path) -> str:
    return f'"{path}"' if " " in str(path) else str(path)

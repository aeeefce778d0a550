"""``patternpress new``: a first design to change, with comments."""

from __future__ import annotations

import re
from importlib import resources
from pathlib import Path

import click

from patternpress.desk.excerpt import visible

EXAMPLES = """\b
Examples:
  patternpress new box
  patternpress new "candle box" --dir designs
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
def new(name: str, folder: Path) -> None:
    """Write a small design called NAME, with comments, for you to change.

    It can be built at once. A file that is there already is never overwritten.
    """
    stem = _stem(name)
    path = folder / f"{stem}.yaml"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(starter(stem))
    except FileExistsError:
        raise click.UsageError(f"{path} is there already; it was left as it is.") from None
    except OSError as error:
        raise click.UsageError(f"{path} cannot be written: {error.strerror}.") from None
    click.echo(f"Wrote {path}.")
    click.echo(f"Next: patternpress build {_quoted(path)}")


def starter(stem: str) -> str:
    """The text of a first design whose file is called `stem`.yaml."""
    text = resources.files("patternpress.desk").joinpath("starter", "box.yaml").read_text("utf-8")
    title = stem.replace("-", " ")
    return text.format(title=title[0].upper() + title[1:], file=f"{stem}.yaml")


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

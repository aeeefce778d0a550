"""``patternpress preview``: a page that shows the booklet while its design is written."""

from __future__ import annotations

import importlib
from pathlib import Path
from typing import Any

import click

from patternpress.desk.opening import any_file, design_file

EXAMPLES = """\b
Examples:
  patternpress preview box.yaml
  patternpress preview box.yaml --port 8123 --no-browser
"""


@click.command(epilog=EXAMPLES, short_help="Show the booklet on a page while you write.")
@click.argument("design", callback=design_file, shell_complete=any_file)
@click.option(
    "--port", type=click.IntRange(0, 65535), default=0, help="The port; a free one when left out."
)
@click.option("--browser/--no-browser", default=True, help="Open the page in your browser.")
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("build"),
    show_default=True,
    help="The folder for booklets that are built from the page.",
)
def preview(design: Path, port: int, browser: bool, out: Path) -> None:
    """Show the pages of DESIGN as they will be printed, and keep them up to date.

    Change the file in any editor, or click a figure on a page. Only this computer can open the
    page. End it with Ctrl+C; nothing is lost, for every change is in the file already.
    """
    serving().serve(design, out, port, browser)


def serving() -> Any:
    """The server's module, read only when it is wanted: other commands start quicker."""
    return importlib.import_module("patternpress.desk.preview.serving")

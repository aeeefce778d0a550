"""How a command talks: problems, progress, and whether colour is wanted.

In: problems and the streams of the process.  Out: text on standard output or standard error.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from pathlib import Path

import click
from rich.console import Console
from rich.markup import escape

from patternpress.design.problem import Problem
from patternpress.design.read import Reading
from patternpress.desk import rooms
from patternpress.desk.opening import chosen
from patternpress.desk.report import as_text

FORMATS = click.Choice(["text", "json"])


def wants_colour(err: bool) -> bool:
    """True for a terminal whose user has not said NO_COLOR (see no-color.org)."""
    stream = sys.stderr if err else sys.stdout
    return stream.isatty() and not os.environ.get("NO_COLOR")


def folder_of(reading: Reading) -> str:
    """The design's folder as the user typed it; empty for the one they are in."""
    return "" if reading.folder == Path() else reading.folder.as_posix()


def show(problems: Sequence[Problem], reading: Reading, *, err: bool) -> None:
    """Print the problems in words."""
    text = as_text(problems, reading.sources, wants_colour(err), folder_of(reading))
    click.echo(text, err=err, nl=False, color=True if wants_colour(err) else None)


def sound_edition(reading: Reading, edition: str | None) -> str:
    """Show the problems of a design; return the edition asked for, or its first one.

    Ends the command with code 1 when the design has errors; raises click.UsageError for an
    edition that it does not have.
    """
    wanted = (edition,) if edition is not None else ()
    problems = rooms.check(reading, wanted)
    show(problems, reading, err=True)
    if reading.book is None or any(each.is_error for each in problems):
        raise click.exceptions.Exit(1)
    return chosen(wanted, rooms.edition_names(reading))[0]


@contextmanager
def busily() -> Iterator[Callable[[str], None]]:
    """Say on standard error what is being done: a moving line on a terminal, else plain text.

    Gives the function that is told what is begun.
    """
    if not sys.stderr.isatty():
        yield partial(click.echo, err=True)
        return
    with Console(stderr=True).status("") as status:
        yield lambda words: status.update(escape(click.unstyle(words)))

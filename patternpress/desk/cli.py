"""``patternpress``, the command.

In: the arguments of the process.  Out: what the commands print, and an exit code: 0 when all
is well (warnings allowed), 1 when the design or a booklet is wrong, 2 when the command was typed
wrongly.
"""

from __future__ import annotations

import errno
import importlib
import os
import sys
import traceback
from io import TextIOWrapper
from pathlib import Path
from typing import Any

import click

from patternpress import __version__
from patternpress.design.problem import near_name
from patternpress.desk.excerpt import visible

COMMANDS = (
    "new",
    "check",
    "build",
    "preview",
    "proof",
    "facts",
    "figures",
    "tidy",
    "cutting",
    "explain",
    "schema",
    "completion",
)
"""Each is the function of its name in the module of its name in `commands`."""

SHOW_TRACEBACK = "PATTERNPRESS_TRACEBACK"
"""Set in the environment, this lets unexpected exceptions through, for tests and developers."""

EXAMPLES = """\b
A first booklet:
  patternpress new box
  patternpress build box.yaml
"""


class _Desk(click.Group):
    """A group of commands that never ends in a traceback.

    A command is loaded when it is asked for: what `build` and `proof` need takes as long to load
    as the rest, and nobody who asks what a code means should wait for it.
    """

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of all commands, as in the list of help."""
        return sorted(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return a command, loaded, or nothing where none is called so."""
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"patternpress.desk.commands.{cmd_name}")
        command: click.Command = getattr(module, cmd_name)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Return the command that is typed; one that is mistyped is told with the nearest."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError:
            near = near_name(args[0][:80], COMMANDS)
            if not near or args[0].startswith("-"):
                raise
            ctx.fail(f"no command is called “{visible(args[0])}”. Did you mean “{near}”?")

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; an exception that nobody foresaw becomes one line."""
        _print_anything()
        try:
            return super().invoke(ctx)
        except (click.ClickException, click.Abort, click.exceptions.Exit):
            raise
        except Exception as error:
            if os.environ.get(SHOW_TRACEBACK) or getattr(error, "errno", None) == errno.EPIPE:
                raise
            click.echo(last_words(error), err=True)
            raise click.exceptions.Exit(1) from None


def _print_anything() -> None:
    """Let signs that a terminal's encoding lacks be spelt out; they must not stop a report."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def last_words(error: Exception) -> str:
    """One line about an exception that nobody foresaw; it names no path and quotes no text."""
    if isinstance(error, OSError) and error.strerror:
        name = f" {visible(Path(str(error.filename)).name)}:" if error.filename else ""
        return f"patternpress had to stop:{name} {error.strerror.lower()}."
    return (
        f"patternpress had to stop, and the fault is its own ({type(error).__name__} in "
        f"{_where(error)}). Please send this line and your design file to its authors."
    )


def _where(error: Exception) -> str:
    """The last place in our own code: ``assembly.sizes, line 88``."""
    ours = [
        (frame.f_globals.get("__name__", ""), line)
        for frame, line in traceback.walk_tb(error.__traceback__)
        if str(frame.f_globals.get("__name__", "")).startswith("patternpress.")
    ]
    name, line = ours[-1] if ours else ("patternpress.desk", 0)
    return f"{str(name).removeprefix('patternpress.')}, line {line}"


@click.group(cls=_Desk, epilog=EXAMPLES, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="patternpress")
def main() -> None:
    """From one design file to a printed pattern and instruction booklet."""

"""``patternpress completion``: what a shell needs to finish words by itself."""

from __future__ import annotations

import click
from click.shell_completion import get_completion_class

SHELLS = ("bash", "zsh", "fish")
EXAMPLES = """\b
Examples:
  patternpress completion bash >> ~/.bashrc
  patternpress completion fish > ~/.config/fish/completions/patternpress.fish
"""


@click.command(epilog=EXAMPLES, short_help="Let your shell finish words for you.")
@click.argument("shell", type=click.Choice(SHELLS))
@click.pass_context
def completion(ctx: click.Context, shell: str) -> None:
    """Print what SHELL needs to finish commands, options and names of files when you press Tab."""
    made = get_completion_class(shell)
    assert made is not None  # the three shells are always there
    root = ctx.find_root().command
    click.echo(made(root, {}, "patternpress", "_PATTERNPRESS_COMPLETE").source())

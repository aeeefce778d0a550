"""``patternpress tidy``: put the fields of a design in the order of the reference."""

from __future__ import annotations

from pathlib import Path

import click

from patternpress.booklet.writing import write_whole
from patternpress.design.read import open_text
from patternpress.desk.opening import any_file, design_file
from patternpress.desk.tidying import NotTidiedError, tidied

EXAMPLES = """\b
Examples:
  patternpress tidy box.yaml
  patternpress tidy box.yaml --check
"""


@click.command(epilog=EXAMPLES, short_help="Put a design file in order, its meaning unchanged.")
@click.argument("design", callback=design_file, shell_complete=any_file)
@click.option("--check", is_flag=True, help="Change nothing; end with code 1 if it is untidy.")
def tidy(design: Path, check: bool) -> None:
    """Put the fields of DESIGN in the order of the reference, comments with their lines.

    Names keep their order, since letters and pages follow it. The file is only written when it
    means exactly the same as before.
    """
    text, problems = open_text(design, design.name)
    if text is None:
        raise click.ClickException(problems[0].what)
    try:
        made = tidied(text, design.parent)
    except NotTidiedError as error:
        raise click.ClickException(f"{design} was left as it is: {error}.") from None
    if made == text:
        click.echo(f"{design} is tidy.")
    elif check:
        click.echo(f"{design} is not in the house form; `patternpress tidy` puts it in order.")
        raise click.exceptions.Exit(1)
    else:
        write_whole(design, made.encode())
        click.echo(f"Put {design} in order.")

"""``patternpress schema``: the JSON Schema that helps editors complete a design file."""

from __future__ import annotations

import click

from patternpress.design.schema import as_text

EXAMPLES = """\b
Example:
  patternpress schema > design.schema.json
"""


@click.command(epilog=EXAMPLES, short_help="Print the JSON Schema of design files.")
def schema() -> None:
    """Print the JSON Schema of design files, for editors that complete and check while typing."""
    click.echo(as_text(), nl=False)

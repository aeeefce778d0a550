"""``patternpress explain``: the page behind a problem's code."""

from __future__ import annotations

import click

from patternpress.design.problem import near_name
from patternpress.desk.excerpt import visible
from patternpress.desk.kinds import by_code, families

EXAMPLES = """\b
Examples:
  patternpress explain unknown-name
  patternpress explain
"""


@click.command(epilog=EXAMPLES, short_help="Explain a problem's code.")
@click.argument("code", required=False)
def explain(code: str | None) -> None:
    """Explain what the problem CODE means and how to mend it; without CODE, list them all."""
    if code is None:
        click.echo(listing(), nl=False)
        return
    bare = code.strip().removeprefix("error").removeprefix("warning").strip("[]").lower()
    kind = by_code().get(bare)
    if kind is None:
        near = near_name(bare[:80], by_code())
        mean = f" Did you mean “{near}”?" if near else ""
        words = f"no problem has the code “{visible(code)[:80]}”.{mean}"
        raise click.UsageError(f"{words} `patternpress explain` lists them all.")
    click.echo(f"{kind.code()} ({kind.level.value})\n\n{kind.page()}")


def listing() -> str:
    """All codes, family by family, each with the first line of its page."""
    width = max(len(code) for code in by_code())
    blocks = []
    for title, kinds in families():
        rows = [f"  {each.code():{width}}  {first_line(each.page())}" for each in kinds]
        blocks.append("\n".join([title, *rows]) + "\n")
    return "\n".join(blocks)


def first_line(page: str) -> str:
    """The first paragraph of a page, on one line."""
    return " ".join(page.split("\n\n", maxsplit=1)[0].split())

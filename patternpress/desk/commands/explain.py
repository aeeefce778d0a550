"""``patternpress explain``: the page behind a problem's code."""

from __future__ import annotations

import re
import textwrap

import click

from patternpress.design.problem import near_name
from patternpress.desk.excerpt import visible
from patternpress.desk.kinds import by_code, families
from patternpress.proof.sentences import AUTHORS, OF_ANOTHER, SENTENCES

PROOF = "What the proof refuses in a finished booklet"
BENCH = (
    "what is printed and what is drawn must be one thing; wood that is cut to a wrong sheet is "
    "lost. So a booklet that is refused is not written."
)
WIDE = 88

EXAMPLES = """\b
Examples:
  patternpress explain unknown-name
  patternpress explain label-differs
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
    pages = [f"{kind.code()} ({kind.level.value})\n\n{kind.page()}"] if kind is not None else []
    if bare in SENTENCES:
        pages.append(f"{bare} (refused by the proof)\n\n{proof_page(bare)}")
    if not pages:
        near = near_name(bare[:80], [*by_code(), *SENTENCES])
        mean = f" Did you mean “{near}”?" if near else ""
        words = f"no problem has the code “{visible(code)[:80]}”.{mean}"
        raise click.UsageError(f"{words} `patternpress explain` lists them all.")
    click.echo("\n\n".join(pages))


def listing() -> str:
    """All codes, family by family, each with the first line of its page."""
    width = max(len(code) for code in (*by_code(), *SENTENCES))
    blocks = []
    for title, kinds in families():
        rows = [f"  {each.code():{width}}  {first_line(each.page())}" for each in kinds]
        blocks.append("\n".join([title, *rows]) + "\n")
    rows = [f"  {code:{width}}  {_blank(what)}" for code, (what, _) in SENTENCES.items()]
    blocks.append("\n".join([PROOF, *rows]) + "\n")
    return "\n".join(blocks)


def proof_page(code: str) -> str:
    """The page behind what the proof of a finished booklet finds."""
    what, mend = (_blank(each) for each in SENTENCES[code])
    blocks = [what, f"At the bench: {BENCH}", f"To mend: {mend}"]
    if SENTENCES[code][1] in OF_ANOTHER:
        blocks.append(f"In a file that was just built: {AUTHORS}")
    return "\n\n".join(textwrap.fill(each, WIDE) for each in blocks)


def _blank(words: str) -> str:
    """A sentence without its facts: each stands as three dots."""
    return re.sub(r"\{\w+\}", "…", words)


def first_line(page: str) -> str:
    """The first paragraph of a page, on one line."""
    return " ".join(page.split("\n\n", maxsplit=1)[0].split())

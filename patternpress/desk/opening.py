"""Which design a command is about.

In: what the user typed for a design file and an edition.  Out: a path that is a file, and
names of editions; or a usage error that says what there is instead.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click
from click.shell_completion import CompletionItem

from patternpress.design.problem import near_name
from patternpress.desk.excerpt import visible


def design_file(ctx: click.Context, _: click.Parameter, value: str) -> Path:
    """The path of a design file that exists; nothing is read from it here.

    Raises click.UsageError for what is no file, with a near file name.
    """
    path = Path(value)
    try:
        if path.exists() and not path.is_dir():
            return path
        words = _folder_words(path) if path.is_dir() else _missing_words(path)
    except (OSError, ValueError):  # a name too long, or with a character no file can have
        words = f"{_named(path)} cannot be the name of a file."
    raise click.UsageError(words, ctx)


def any_file(_: click.Context, __: click.Parameter, begun: str) -> list[CompletionItem]:
    """Let the shell finish the name of a file by its own means."""
    return [CompletionItem(begun, type="file")]


def _named(path: Path) -> str:
    text = visible(str(path))
    return f"“{text if len(text) <= 80 else text[:79] + '…'}”"


def _missing_words(path: Path) -> str:
    words = f"there is no file {_named(path)}"
    stems = {Path(each).stem: each for each in _designs(path.parent)}
    near = stems.get(near_name(path.stem, stems), "")
    return f"{words}; did you mean {_named(path.with_name(near))}?" if near else f"{words}."


def _folder_words(path: Path) -> str:
    files = _designs(path)
    there = f" It holds {', '.join(files[:6])}{' …' if len(files) > 6 else ''}." if files else ""
    return f"{_named(path)} is a folder; name one design file.{there}"


def _designs(folder: Path) -> list[str]:
    if not folder.is_dir():
        return []
    return sorted(visible(each.name) for each in folder.glob("*.y*ml"))


def chosen(wanted: Sequence[str], known: Sequence[str]) -> tuple[str, ...]:
    """The wanted editions, each once; all of them when none is wanted.

    Raises click.UsageError for an edition that the design does not have.
    """
    for each in wanted:
        if each not in known:
            near = near_name(each, known)
            mean = f" Did you mean “{near}”?" if near else ""
            raise click.UsageError(
                f"no edition is called “{visible(each)[:80]}”.{mean} "
                f"This design has: {', '.join(known)}."
            )
    return tuple(dict.fromkeys(wanted or known))

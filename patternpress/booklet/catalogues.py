"""The message catalogues: made from the English lists, brought up to date, and checked.

    python -m patternpress.booklet.catalogues extract       writes words/messages.pot
    python -m patternpress.booklet.catalogues update [nl]   the same, and every messages.po
    python -m patternpress.booklet.catalogues check         says what a translator has to do

`update` keeps what is translated.  What is new has no words yet, and what changed in English is
marked fuzzy: both stand in English in the booklet until somebody has looked, and `check` names
them.  Named a tag that has no folder, `update` makes its catalogue.  No clock and no name of a
computer goes into a file, so the same words give the same bytes.
"""

from __future__ import annotations

import io
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from string import Formatter
from typing import Any

from babel.messages.catalog import Catalog, Message
from babel.messages.plurals import get_plural
from babel.messages.pofile import write_po

from patternpress.assembly.articles import BARE_FORMS, CASES
from patternpress.booklet.wordfiles import (
    CATALOGUE,
    ENGLISH,
    english,
    read_catalogue,
    read_forms,
    words_folder,
)

TEMPLATE = "messages.pot"
WIDTH = 98
ONCE = "The English was: "  # before what a fuzzy translation was made for
USAGE = "Say one of: extract, update, update TAG, check.\n"
_CLOCKS = re.compile(
    r'^"(?:Project-Id-Version|Report-Msgid-Bugs-To|POT-Creation-Date|PO-Revision-Date'
    r"|Last-Translator|Language-Team|Generated-By):.*\n",
    re.MULTILINE,
)


def template() -> Catalog:
    """A catalogue of every English text, with its key as context and no translation."""
    made = Catalog(header_comment="# The words of the booklet.", fuzzy=False)
    for each in english():
        made.add(each.text, None, [(each.file, 0)], context=each.key, auto_comments=each.notes)
    return made


def merged(fresh: Catalog, old: Catalog | None, tag: str) -> Catalog:
    """The template with the translations of an older catalogue.

    A translation whose English has changed is kept and marked fuzzy; one whose key is gone goes.
    """
    known = {each.context: each for each in old or () if each.id}
    made = Catalog(
        tag.replace("-", "_"),
        header_comment=f"# The words of the booklet in {tag}.",
        fuzzy=False,
    )
    if old is not None:
        made.header_comment = old.header_comment
    for each in fresh:
        if not each.id:
            continue
        before = known.get(each.context)
        if before is None and "-" in tag:
            continue  # a region says only what differs
        kept = _kept(each, before)
        made.add(each.id, locations=each.locations, auto_comments=each.auto_comments,
                 context=each.context, **kept)  # fmt: skip
    return made


def _kept(fresh: Message, before: Message | None) -> dict[str, Any]:
    """What of an older message goes over into a fresh one of the same key."""
    if before is None or isinstance(before.id, str) != isinstance(fresh.id, str):
        return {}
    notes = [each for each in before.user_comments if before.fuzzy or not each.startswith(ONCE)]
    if before.id != fresh.id and any(_tuple(before.string)):
        notes += [ONCE + " / ".join(_tuple(before.id))]
        return {"string": before.string, "user_comments": notes, "flags": {"fuzzy"}}
    flags = {"fuzzy"} if before.fuzzy else set()
    return {"string": before.string, "user_comments": notes, "flags": flags}


def written(catalogue: Catalog) -> str:
    """The text of a catalogue as it is stored."""
    out = io.BytesIO()
    write_po(out, catalogue, width=WIDTH, include_lineno=False)
    return _CLOCKS.sub("", out.getvalue().decode("utf-8"))


def tags() -> list[str]:
    """The languages that have a catalogue, in order."""
    folders = (each for each in words_folder().iterdir() if each.is_dir())
    return sorted(each.name for each in folders if (each / CATALOGUE).is_file())


def problems(tag: str) -> Iterator[str]:
    """What is left to do in the catalogue of a language: file, line and what is wrong.

    A general language says everything; a region (`de-AT`) only what differs.
    """
    said = read_catalogue(tag)
    if said is None:
        return
    where = f"{tag}/{CATALOGUE}"
    if said.plural_expr != get_plural(tag.replace("-", "_")).plural_expr:
        yield f"{where}: Plural-Forms is not CLDR's: plural={said.plural_expr}"
    words = {each.context: each for each in template() if each.id}
    own = {each.context: each for each in said if each.id}
    for key in [key for key in words if key not in own and "-" not in tag]:
        yield f"{where}: “{key}” is missing: run update"
    forms = {*read_forms(tag), *BARE_FORMS, *CASES}
    for key, message in own.items():
        wrong = _wrong(message, words.get(key), frozenset(forms))
        if wrong:
            yield f"{where}:{message.lineno}: “{key}” {wrong}"


def _wrong(message: Message, source: Message | None, known: frozenset[str]) -> str:
    """What is wrong with one message, or nothing; `known` are the forms of the language."""
    if source is None:
        return "is no longer said: run update"
    if message.id != source.id:
        return "is not the English of the lists: run update"
    if message.fuzzy:
        return "is fuzzy: the English has changed; look at it and take the mark away"
    ids, forms = _tuple(message.id), _tuple(message.string)
    if not all(forms):
        return "has no words yet"
    wanted = {name for text in ids for name, _ in places(text)}
    for text in forms:
        found = places(text)
        stray = sorted({name for name, _ in found} ^ wanted)
        if stray:
            return f"has other places than the English: {', '.join(stray)}"
        unknown = sorted({form for _, form in found if form and form not in known})
        if unknown:
            return f"asks for a form that forms.yaml lacks: {', '.join(unknown)}"
    return ""


def places(text: str) -> set[tuple[str, str]]:
    """The places of a text, each with the form that it asks for: {("side", "dat")}."""
    return {(name, form or "") for _, name, form, _ in Formatter().parse(text) if name is not None}


def _tuple(words: object) -> tuple[str, ...]:
    return tuple(words) if isinstance(words, tuple | list) else (str(words or ""),)


def main(asked: list[str], folder: Path | None = None) -> int:
    """Do what was asked for; return 0, 1 where `check` found something, or 2 for other words."""
    folder = folder or Path(str(words_folder()))
    match asked:
        case ["check"]:
            return _check(folder)
        case ["extract"] | ["update"] | ["update", _]:
            _write(folder / TEMPLATE, written(template()))
        case _:
            sys.stderr.write(USAGE)
            return 2
    if asked[0] == "update":
        for tag in sorted({*tags(), *asked[1:]} - {ENGLISH}):
            _write(folder / tag / CATALOGUE, written(merged(template(), read_catalogue(tag), tag)))
    return 0


def _check(folder: Path) -> int:
    found = [each for tag in tags() for each in problems(tag)]
    stored = folder / TEMPLATE
    if not stored.is_file() or stored.read_text("utf-8") != written(template()):
        found.insert(0, f"{TEMPLATE} is not of the English lists: run update")
    sys.stdout.write("".join(f"{each}\n" for each in found))
    return 1 if found else 0


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

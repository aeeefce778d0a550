"""The files of a language: its texts, its forms and its glossary.

In: a language tag.  Out: mappings of text.  English is written in lists, `words/en/*.yaml`, for
the words are chosen there.  Each other language has a gettext catalogue, `words/<tag>/messages.po`,
whose contexts are the keys of the lists and whose msgids are the English texts.  A text that
counts has a key for each plural form of its language: `sheets[0]`, `sheets[1]`.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from importlib.resources import files
from importlib.resources.abc import Traversable

import yaml
from babel.messages.catalog import Catalog, Message
from babel.messages.plurals import get_plural
from babel.messages.pofile import PoFileError, read_po

ENGLISH = "en"
CATALOGUE = "messages.po"
FORMS = "forms.yaml"
TERMS = "terms.yaml"
COUNTED = ("one", "other")  # the two forms of an English text that counts
Forms = Mapping[str, Mapping[str, str]]
# The reader of libyaml where there is one: it is ten times as fast, and reads the same.
LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


class PhraseError(LookupError):
    """The pages ask for words that the language does not have."""


@dataclass(frozen=True)
class Texts:
    """The texts of one tag, and the expression that chooses the plural form of a number."""

    texts: Mapping[str, str] = field(default_factory=dict)
    plural: str = ""


@dataclass(frozen=True)
class English:
    """One English text as its list has it: two words of it where it counts things."""

    key: str
    text: str | tuple[str, str]
    file: str
    notes: tuple[str, ...] = ()


def words_folder() -> Traversable:
    """The folder that holds a folder of words for each language."""
    return files("patternpress.booklet") / "words"


def read_texts(tag: str) -> Texts:
    """The texts of one tag; none where it has no folder.  Raises PhraseError for a wrong file."""
    if tag == ENGLISH:
        texts: dict[str, str] = {}
        for each in english():
            texts |= _keyed(each.key, each.text)
        return Texts(texts, get_plural(ENGLISH).plural_expr)
    catalogue = read_catalogue(tag)
    if catalogue is None:
        return Texts()
    texts = {}
    for message in catalogue:
        # What nobody has translated stands in English, but never over the words of a general tag.
        if is_said(message):
            texts |= _keyed(str(message.context), message.string)
        elif message.id and "-" not in tag:
            texts |= _keyed(str(message.context), _english_forms(message, catalogue.num_plurals))
    return Texts(texts, catalogue.plural_expr)


def is_said(message: Message) -> bool:
    """Whether a message has its words, in every form, and nobody doubts them."""
    forms = message.string if isinstance(message.string, tuple | list) else (message.string,)
    return bool(message.id) and not message.fuzzy and all(forms)


def _english_forms(message: Message, count: int) -> str | tuple[str, ...]:
    if not isinstance(message.id, tuple | list):
        return str(message.id)
    return (str(message.id[0]), *(str(message.id[1]),) * (count - 1))


def _keyed(key: str, text: object) -> dict[str, str]:
    if isinstance(text, tuple | list):
        return {f"{key}[{index}]": str(each) for index, each in enumerate(text)}
    return {key: str(text)}


def read_catalogue(tag: str) -> Catalog | None:
    """The catalogue of a tag.  Raises PhraseError where the file cannot be read."""
    path = _file(tag, CATALOGUE)
    if path is None:
        return None
    try:
        return read_po(io.BytesIO(path.read_bytes()), locale=tag.replace("-", "_"),
                       abort_invalid=True)  # fmt: skip
    except (PoFileError, ValueError) as problem:
        raise PhraseError(f"{CATALOGUE} of {tag} cannot be read: {problem}") from problem


def english() -> Iterator[English]:
    """Every English text, list by list.  Raises PhraseError for a wrong list or a key twice."""
    folder = words_folder() / ENGLISH
    lists = (each for each in folder.iterdir() if each.name.endswith(".yaml"))
    seen: set[str] = set()
    for path in sorted(lists, key=lambda each: each.name):
        if path.name in (FORMS, TERMS):
            continue
        written = path.read_text(encoding="utf-8")
        raw = yaml.load(written, Loader=LOADER)
        notes = _notes(written)
        if not isinstance(raw, dict):
            raise PhraseError(f"{path.name} of {ENGLISH} must be a list of keys and texts")
        for key, text in raw.items():
            if key in seen:
                raise PhraseError(f"{path.name} of {ENGLISH} says again: {key}")
            seen.add(key)
            yield English(key, _text(key, text), f"{ENGLISH}/{path.name}", notes.get(key, ()))


def _text(key: str, text: object) -> str | tuple[str, str]:
    if isinstance(text, str):
        return text
    if isinstance(text, dict) and tuple(text) == COUNTED:
        return str(text["one"]), str(text["other"])
    raise PhraseError(f"“{key}” of {ENGLISH} must be a text, or one: and other: with a text each")


def _notes(written: str) -> dict[str, tuple[str, ...]]:
    """The comment right above each key."""
    found: dict[str, tuple[str, ...]] = {}
    notes: list[str] = []
    for line in written.splitlines():
        if line.startswith("#"):
            notes.append(line.removeprefix("#").strip())
            continue
        if notes and ":" in line:
            found[line.partition(":")[0]] = tuple(notes)
        notes = []
    return found


def read_terms(tag: str) -> Mapping[str, str]:
    """The glossary of one tag: each term as the texts have it, and as it is to be printed."""
    raw = _beside(tag, TERMS)
    if not all(isinstance(said, str) and said for said in raw.values()):
        raise PhraseError(f"{TERMS} of {tag} must be a flat list of terms and their words")
    return {str(term): str(said) for term, said in raw.items()}


def read_forms(tag: str) -> Forms:
    """The forms of one tag: for each, groups of words and what they become."""
    found: dict[str, Mapping[str, str]] = {}
    for form, bent in _beside(tag, FORMS).items():
        if not isinstance(bent, dict):
            raise PhraseError(f"{FORMS} of {tag} must be lists of words and their forms")
        found[form] = {str(known): str(text) for known, text in bent.items()}
    return found


def _beside(tag: str, name: str) -> dict[str, object]:
    """A file that may lie beside a language's texts; nothing where there is none."""
    path = _file(tag, name)
    if path is None:
        return {}
    raw = yaml.load(path.read_text(encoding="utf-8"), Loader=LOADER)
    if not isinstance(raw, dict):
        raise PhraseError(f"{name} of {tag} must be a list of words")
    return raw


def _file(tag: str, name: str) -> Traversable | None:
    """A file of a tag, if there is one; a tag is letters, digits and hyphens, never a path."""
    path = words_folder() / tag / name
    return path if tag.replace("-", "").isalnum() and path.is_file() else None

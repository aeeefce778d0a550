"""Find and read a theme.

In: a theme's name, or its folder.  Out: a `Theme`: where its templates are, and the values of
its `theme.yaml` as CSS custom properties.  Nothing here draws or presses.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import TypeAlias

import yaml

Table: TypeAlias = Mapping[str, str]

_PACKAGE = Path(__file__).resolve().parent.parent
_PLACES = (_PACKAGE / "themes", _PACKAGE.parent / "themes")  # installed; in a checkout
_VALUE = re.compile(r"[^;{}<>\\]+")  # nothing that could end a declaration or a style element
_KEY = re.compile(r"[a-z][a-z0-9-]*")


class ThemeError(ValueError):
    """A theme is missing, or something in its folder is wrong.  `hint` says how to mend it."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(f"{message} {hint}".strip())
        self.message = message
        self.hint = hint


@dataclass(frozen=True)
class Theme:
    """A look.  `letters` maps a size of letters ("normal") to the sizes that it overrides;
    `saving` has the colours of editions that save ink.

    `runs`: the keys of the parts of a booklet, a tuple for each stretch that starts a new page;
    `like`: the folder of the theme whose templates serve where `folder` has none.
    """

    name: str
    title: str
    folder: Path
    colours: Table
    fonts: Table
    sizes: Table
    letters: Mapping[str, Table]
    saving: Table = field(default_factory=dict)
    runs: tuple[tuple[str, ...], ...] = ()
    like: tuple[Path, ...] = ()

    @property
    def folders(self) -> tuple[Path, ...]:
        """Where its files are looked for, its own folder first."""
        return (self.folder, *self.like)

    def sizes_for(self, letters: str) -> Table:
        """Its sizes as one size of letters has them.  Raises KeyError for letters it lacks."""
        return {**self.sizes, **self.letters[letters]}


def themes_folder() -> Path:
    """Return the folder that holds our own themes, installed or in a checkout.

    Raises ThemeError if there is none, which means a broken installation.
    """
    for place in _PLACES:
        if place.is_dir():
            return place
    raise ThemeError("The folder of themes is missing.", "Install patternpress again.")


def load_theme(name: str) -> Theme:
    """Return one of our own themes by name, such as "quay".

    Raises ThemeError if there is no such theme; its hint lists those there are.
    """
    if name not in _there():
        there = ", ".join(_there())
        raise ThemeError(f"There is no theme called “{name}”.", f"There are: {there}.")
    return read_theme(themes_folder() / name)


def read_theme(folder: Path) -> Theme:
    """Read the theme in `folder`, which holds `theme.yaml`, `booklet.css` and the templates.

    A theme that is `like` one of ours takes from it whatever it does not have itself.  Raises
    ThemeError if `theme.yaml` cannot be read or has the wrong form.
    """
    return _read(folder, ())


def _read(folder: Path, before: tuple[str, ...]) -> Theme:
    raw = _raw(folder)
    name = str(raw.get("name", folder.name))
    like = raw.get("like")
    base = _like(str(like), (*before, name)) if like else None
    letters = raw.get("letters", {})
    if not isinstance(letters, dict) or not ("normal" in letters or base):
        raise ThemeError("theme.yaml has no letters called “normal”.", "Add letters: normal: …")
    sizes = {str(key): _table(key, letters[key]) for key in letters}
    if base:
        kept = {key: {**table, **sizes.get(key, {})} for key, table in base.letters.items()}
        sizes = {**sizes, **kept}

    def table(key: str) -> Table:
        inherited: Table = getattr(base, key) if base else {}
        return MappingProxyType({**inherited, **_table(key, raw.get(key, {}))})

    return Theme(
        name=name,
        title=str(raw.get("title", folder.name)),
        folder=folder.resolve(),
        colours=table("colours"),
        fonts=table("fonts"),
        sizes=table("sizes"),
        letters=MappingProxyType(sizes),
        saving=table("saving"),
        runs=_runs(raw.get("runs")) or (base.runs if base else ()),
        like=base.folders if base else (),
    )


def _raw(folder: Path) -> dict[str, object]:
    path = folder / "theme.yaml"
    try:
        raw = _parsed(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeError, yaml.YAMLError) as problem:
        raise ThemeError(f"{path.name} of the theme cannot be read: {problem}.") from problem
    if not isinstance(raw, dict):
        raise ThemeError(f"{path.name} must be a list of names with values.")
    return raw


@lru_cache(maxsize=16)
def _parsed(text: str) -> object:
    """What a text of YAML says; every check of a design asks for the theme of each edition."""
    # BaseLoader leaves every scalar as text: no sexagesimal numbers, no "no" for false.
    return yaml.load(text, Loader=yaml.BaseLoader)


def _like(name: str, before: tuple[str, ...]) -> Theme:
    """Read the theme that another one is like; a ring of themes would never end."""
    if name in before:
        raise ThemeError(f"The theme “{name}” is like itself.", "Take away one “like”.")
    if name not in _there():
        raise ThemeError(
            f"There is no theme called “{name}” to be like.", f"There are: {', '.join(_there())}."
        )
    return _read(themes_folder() / name, before)


def _there() -> list[str]:
    return sorted(folder.parent.name for folder in themes_folder().glob("*/theme.yaml"))


def _runs(raw: object) -> tuple[tuple[str, ...], ...]:
    """Read `runs`: a list of lines, each the keys of some parts."""
    if raw is None:
        return ()
    if not isinstance(raw, list) or not all(isinstance(line, str) for line in raw):
        raise ThemeError("“runs” in theme.yaml must be a list of lines, each the names of parts.")
    return tuple(tuple(line.split()) for line in raw)


def custom_properties(theme: Theme, letters: str, ink: str = "normal") -> Table:
    """Return the theme's values as CSS custom properties, for one size of letters and one `ink`.

    "colours.ink" becomes "--colour-ink".  Raises ThemeError for letters the theme does not have.
    """
    if letters not in theme.letters:
        there = ", ".join(theme.letters)
        raise ThemeError(f"The theme has no letters called “{letters}”.", f"It has: {there}.")
    colours = {**theme.colours, **(theme.saving if ink == "saving" else {})}
    return MappingProxyType(
        {
            **{f"--colour-{key}": value for key, value in colours.items()},
            **{f"--font-{key}": f"'{value}'" for key, value in theme.fonts.items()},
            **{f"--size-{key}": value for key, value in theme.sizes_for(letters).items()},
        }
    )


def _table(name: object, raw: object) -> Table:
    """Check one mapping of `theme.yaml`: plain words on the left, plain values on the right."""
    if not isinstance(raw, dict):
        raise ThemeError(f"“{name}” in theme.yaml must be a list of names with values.")
    for key, value in raw.items():
        if not (isinstance(key, str) and _KEY.fullmatch(key)):
            raise ThemeError(f"“{key}” under “{name}” in theme.yaml is not a name.", "Use a–z.")
        if not (isinstance(value, str) and _VALUE.fullmatch(value)) or "'" in value:
            raise ThemeError(f"“{key}” under “{name}” in theme.yaml has no usable value.")
    return MappingProxyType(dict(raw))

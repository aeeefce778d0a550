"""Find and read a theme.

In: a theme's name, or its folder.  Out: a `Theme`: where its templates are, and the values of
its `theme.yaml` as CSS custom properties.  Nothing here draws or presses.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
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
    """A look.  `letters` maps a size of letters ("normal") to the sizes that it overrides."""

    name: str
    title: str
    folder: Path
    colours: Table
    fonts: Table
    sizes: Table
    letters: Mapping[str, Table]


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
    home = themes_folder()
    there = sorted(folder.parent.name for folder in home.glob("*/theme.yaml"))
    if name not in there:
        raise ThemeError(f"There is no theme called “{name}”.", f"There are: {', '.join(there)}.")
    return read_theme(home / name)


def read_theme(folder: Path) -> Theme:
    """Read the theme in `folder`, which holds `theme.yaml`, `booklet.css` and the templates.

    Raises ThemeError if `theme.yaml` cannot be read or has the wrong form.
    """
    path = folder / "theme.yaml"
    try:
        # BaseLoader leaves every scalar as text: no sexagesimal numbers, no "no" for false.
        raw = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    except (OSError, UnicodeError, yaml.YAMLError) as problem:
        raise ThemeError(f"{path.name} of the theme cannot be read: {problem}.") from problem
    if not isinstance(raw, dict):
        raise ThemeError(f"{path.name} must be a list of names with values.")
    letters = raw.get("letters", {})
    if not isinstance(letters, dict) or "normal" not in letters:
        raise ThemeError(f"{path.name} has no letters called “normal”.", "Add letters: normal: …")
    return Theme(
        name=str(raw.get("name", folder.name)),
        title=str(raw.get("title", folder.name)),
        folder=folder.resolve(),
        colours=_table("colours", raw.get("colours", {})),
        fonts=_table("fonts", raw.get("fonts", {})),
        sizes=_table("sizes", raw.get("sizes", {})),
        letters=MappingProxyType({str(key): _table(key, letters[key]) for key in letters}),
    )


def custom_properties(theme: Theme, letters: str) -> Table:
    """Return the theme's values as CSS custom properties, for one size of letters.

    "colours.ink" becomes "--colour-ink".  Raises ThemeError for letters the theme does not have.
    """
    if letters not in theme.letters:
        there = ", ".join(theme.letters)
        raise ThemeError(f"The theme has no letters called “{letters}”.", f"It has: {there}.")
    sizes = {**theme.sizes, **theme.letters[letters]}
    return MappingProxyType(
        {
            **{f"--colour-{key}": value for key, value in theme.colours.items()},
            **{f"--font-{key}": f"'{value}'" for key, value in theme.fonts.items()},
            **{f"--size-{key}": value for key, value in sizes.items()},
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

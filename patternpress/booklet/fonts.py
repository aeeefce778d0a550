"""The fonts that every booklet is set in.

In: the two packages that carry them.  Out: `@font-face` rules with file addresses, and the folders
that the files lie in.  The press gives them to every section.  Fonts of the computer never get in.
A theme may bring further faces of its own, in its own folder, with its own `@font-face` rules.

Why these two.  Source Serif Pro for prose: low contrast and wide letters, which a grey 600 dpi
laser does not break up at 9-10 pt.  Source Sans Pro for headings, tables and drawings: figures of
one width, a true `frac` feature with U+2044, and the signs × ′ ″ → ☐.  Neither has ⌀ (use Ø).
Both come as static TrueType: a variable font would have to be cut to shape again in every section.
"""

from __future__ import annotations

import importlib.util
from dataclasses import dataclass
from pathlib import Path

PROSE = "Source Serif Pro"
PLAIN = "Source Sans Pro"


class FontsMissingError(Exception):
    """A font package is not installed; `package` is its name for `pip install`."""

    def __init__(self, package: str) -> None:
        super().__init__(f"the font package {package} is not installed")
        self.package = package


@dataclass(frozen=True)
class Face:
    """One font file: the package it lies in, and how a stylesheet asks for it."""

    package: str
    file: str
    family: str
    weight: int
    style: str = "normal"


FACES = (
    Face("font-source-sans-pro", "SourceSansPro-Regular.ttf", PLAIN, 400),
    Face("font-source-sans-pro", "SourceSansPro-It.ttf", PLAIN, 400, "italic"),
    Face("font-source-sans-pro", "SourceSansPro-Semibold.ttf", PLAIN, 600),
    Face("font-source-sans-pro", "SourceSansPro-Bold.ttf", PLAIN, 700),
    Face("font-source-serif-pro", "SourceSerifPro-Regular.ttf", PROSE, 400),
    Face("font-source-serif-pro", "SourceSerifPro-It.ttf", PROSE, 400, "italic"),
    Face("font-source-serif-pro", "SourceSerifPro-Semibold.ttf", PROSE, 600),
    Face("font-source-serif-pro", "SourceSerifPro-Bold.ttf", PROSE, 700),
)


def folder(package: str) -> Path:
    """Return the folder of font files in `package`, without running the package's code.

    Raises `FontsMissingError` if it is not installed.
    """
    found = importlib.util.find_spec(package.replace("-", "_"))
    if found is None or not found.submodule_search_locations:
        raise FontsMissingError(package)
    return Path(found.submodule_search_locations[0]) / "files"


def file_of(face: Face) -> Path:
    """Return where the file of `face` lies; raises `FontsMissingError`."""
    path = folder(face.package) / face.file
    if not path.is_file():
        raise FontsMissingError(face.package)
    return path


def font_css() -> str:
    """Return the `@font-face` rules of all faces, as one stylesheet; raises `FontsMissingError`."""
    return "\n".join(
        f"@font-face {{ font-family: '{face.family}'; font-weight: {face.weight};"
        f" font-style: {face.style}; src: url('{file_of(face).as_uri()}'); }}"
        for face in FACES
    )


def font_roots() -> tuple[Path, ...]:
    """Return the folders that hold the font files; raises `FontsMissingError`."""
    return tuple(folder(package) for package in dict.fromkeys(face.package for face in FACES))

"""What the author's page showed last of an edition, and the pages that it can show.

In: nothing.  Out: the records `Page` and `Seen`.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass

from patternpress.assembly.model import Model
from patternpress.booklet.content import Content
from patternpress.booklet.press import Pressed, Section


@dataclass(frozen=True)
class Page:
    """A page that can be shown: which page of which PDF; `id` changes when what it shows does."""

    id: str
    pdf: bytes
    number: int
    section: str
    width: float
    height: float
    old: bool = False
    soon: bool = False  # pressed by itself: what it shows is new, its place may still move


@dataclass(frozen=True)
class Seen:
    """One edition as it was last shown, and what is needed to tell what changed since.

    By the keys of sections: `keys`, their fingerprints; `sections`, with their page numbers filled
    in; `stood`, their pages.  `digests`: what the picture of each step shows.
    """

    model: Model
    content: Content
    keys: Mapping[str, str]
    numbers: Mapping[str, int]
    sections: Mapping[str, Section]
    stood: Mapping[str, Pressed]
    pages: tuple[Page, ...]
    digests: Mapping[int, str]


def pages_of(pressed: Pressed, section: str, *, soon: bool = False) -> tuple[Page, ...]:
    """Return the pages of what was pressed by itself, as pages of a section."""
    mark = hashlib.blake2b(pressed.pdf, digest_size=10).hexdigest()
    return tuple(
        Page(f"{mark}-{number}", pressed.pdf, number, section, width, height, soon=soon)
        for number, (width, height) in enumerate(pressed.sizes)
    )

"""Where pictures are drawn: what all pictures of one edition share, and what is drawn already.

In: a `Wording`.  Out: an `Atelier`.  A mapping keeps what has been drawn, by its content, so that
editions share pictures.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from patternpress.booklet.looks import picture_look
from patternpress.booklet.wording import Wording
from patternpress.drawing.framing import BESIDE, LARGE, Room
from patternpress.drawing.kept import Kept, named
from patternpress.drawing.picturestyle import WORDS, PictureStyle
from patternpress.drawing.scenes import (
    StepScene,
    called,
    scene_digest,
    step_scenes,
)
from patternpress.drawing.things import Bulks, bulks_of


@dataclass(frozen=True)
class Atelier:
    """What all pictures of one edition share: solids, style, and what is already drawn."""

    wording: Wording
    bulks: Bulks
    style: PictureStyle
    scenes: tuple[StepScene, ...]
    room: Room
    kept: Kept = field(default_factory=dict)

    @cached_property
    def digests(self) -> tuple[str, ...]:
        """A digest of each scene."""
        return tuple(scene_digest(each) for each in self.scenes)

    @property
    def look(self) -> str:
        """What tells pictures of one look from those of another, for their keys."""
        edition = self.wording.model.edition
        return f"{edition.letters}:{edition.ink}"

    def once(self, key: str, make: Callable[[], Any]) -> Any:
        """Return what was made under a key before, or make it."""
        return named(self.kept, f"picture:{key}", make)


def atelier(wording: Wording, kept: Kept | None = None) -> Atelier:
    """Return the place where an edition's pictures are drawn."""
    words = {key: str(wording.say(_key(key), **_HOLES)) for key in WORDS}
    edition = wording.model.edition
    style = picture_look(edition, words)
    bulks = bulks_of(wording.model.worked, kept)
    steps = step_scenes(wording.model, bulks, kept)
    scenes = tuple(called(each, wording.calls.one) for each in steps)
    room = LARGE if edition.letters == "large" else BESIDE
    return Atelier(wording, bulks, style, scenes, room, {} if kept is None else kept)


# Places for values stay places when the words are handed on.
_PLACES = ("count", "what", "scale", "letter", "name", "seen", "size", "deep", "by")
_HOLES = {name: f"{{{name}}}" for name in _PLACES}


def _key(word: str) -> str:
    return "drawn_" + word.replace(" ", "_")


def eye_key(eye: str) -> str:
    """Return the key of the words for where one stands."""
    return "eye_" + eye.replace(",", "").replace(" ", "_")

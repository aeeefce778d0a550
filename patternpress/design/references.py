"""Names in angle brackets, inside prose.

In: a text such as ``Sand <shelf> to <width of shelf>.``  Out: its pieces, plain stretches and
`Ref`s with their place in the text.  What a name stands for is decided by later rooms.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from patternpress.measure.nodes import PROPERTIES, Property


@dataclass(frozen=True, slots=True)
class Ref:
    """A name in angle brackets: `start` and `end` count characters of the text."""

    name: str
    start: int
    end: int

    @property
    def asked(self) -> str | Property:
        """The name, or the property of a thing that it asks for."""
        what, of, thing = self.name.partition(" of ")
        return Property(what, thing) if of and what in PROPERTIES else self.name


REFERENCE = re.compile(r"<([^<>]{1,120})>")
OPEN = re.compile(r"<(?![^<>]{1,120}>)(?=[A-Za-z])")


def split(text: str) -> tuple[str | Ref, ...]:
    """The plain stretches and references of a text, in order."""
    pieces: list[str | Ref] = []
    at = 0
    for found in REFERENCE.finditer(text):
        if found.start() > at:
            pieces.append(text[at : found.start()])
        name = " ".join(found[1].split())
        pieces.append(Ref(name, found.start(), found.end()))
        at = found.end()
    if at < len(text):
        pieces.append(text[at:])
    return tuple(pieces)


def unclosed(text: str) -> int | None:
    """Where an angle bracket opens a name and is never closed, or None."""
    found = OPEN.search(text)
    return found.start() if found else None


# A figure with a unit, a fraction, or a size with a times sign, as typed into a sentence.
TYPED = re.compile(
    r"(?<![\w/.])(?:\d+(?:[.,]\d+)?|\d+\s\d+/\d+|\d+/\d+)"
    r"(?:\s?(?:x|×)\s?\d+(?:[.,]\d+)?)*"
    r"\s?(?:mm|cm|metres?|inch(?:es)?|in(?![a-z ]\w)|″|\"|deg(?:rees)?|°)"
    r"(?!\w)"
)

"""The author's photographs as content: the cover's, and those of the steps.

In: a `Wording`.  Out: pictures described in the edition's language, and the bytes behind them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from markupsafe import Markup

from patternpress.booklet.content import NO_PICTURE, Figure
from patternpress.booklet.photographs import (
    COVER_ROOM,
    STEP_ROOM,
    Photograph,
    as_picture,
    read_photograph,
)
from patternpress.booklet.wording import Wording


@dataclass(frozen=True)
class Photographs:
    """Pictures of the cover and of each step by its number, and their bytes by address."""

    cover: Markup = NO_PICTURE
    steps: Mapping[int, tuple[Figure, ...]] = field(default_factory=dict)
    data: Mapping[str, bytes] = field(default_factory=dict)


def photographs(wording: Wording) -> Photographs:
    """Return all photographs of a design; raises PhotographError when one cannot be read."""
    book, folder = wording.model.worked.book, wording.model.reading.folder
    data: dict[str, bytes] = {}

    def shown(photograph: Photograph, words: Markup) -> Markup:
        data[photograph.address] = photograph.data
        return as_picture(photograph, words)

    cover = NO_PICTURE
    if book.cover and book.cover.picture:
        made = read_photograph(folder, book.cover.picture.value, COVER_ROOM)
        cover = shown(made, wording.prose(book.cover.shows))
    found: dict[int, tuple[Figure, ...]] = {}
    for number, step in enumerate((*book.steps, *book.finishing), 1):
        for each in step.picture:
            words = wording.prose(each.of)
            made = read_photograph(folder, each.file.value, STEP_ROOM)
            found[number] = (*found.get(number, ()), Figure(shown(made, words), words))
    return Photographs(cover, found, data)

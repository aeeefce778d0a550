"""Pictures of the steps that measure an opening: where to lay the rule.

In: an `Atelier`.  Out: the `Figure`s of each such step, by its number.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from functools import partial

from markupsafe import Markup

from patternpress.booklet.atelier import Atelier
from patternpress.booklet.content import Figure
from patternpress.booklet.fillcards import measured_along
from patternpress.design.records.parts import Opening
from patternpress.drawing.openingview import OpeningScene, opening_picture, opening_scene
from patternpress.drawing.scenes import solids_digest


def measured_figures(
    place: Atelier, only: Container[int] | None = None
) -> Iterator[tuple[int, tuple[Figure, ...]]]:
    """Yield the figures of each step that measures; `only`: the steps that are wanted, or all."""
    worked = place.wording.model.worked
    openings = {each.name.value: each for each in worked.book.openings}
    for number, step in enumerate(worked.usage.steps, 1):
        if only is not None and number not in only:
            continue
        named = [openings[each.value] for each in step.measure if each.value in openings]
        figures = [found for each in named if (found := _figure(place, each, number))]
        if figures:
            yield number, tuple(figures)


def _figure(place: Atelier, opening: Opening, number: int) -> Figure | None:
    wording = place.wording
    words = {
        axis: str(wording.say(f"card_{axis}").unescape())
        for axis in measured_along(opening, wording)
    }
    scene = opening_scene(wording.model, place.bulks, opening, number)
    if scene is None or not words:
        return None
    name = wording.name(opening.name.value)
    title = wording.say("picture_measure", number=number, opening=name).striptags()
    key = f"measure:{_digest(scene)}:{words}:{title}:{place.look}"
    picture = place.once(
        key, partial(opening_picture, scene, words, title, place.style, place.room)
    )
    if picture is None:
        return None
    return Figure(Markup(picture.svg), wording.say("caption_measure"))


def _digest(scene: OpeningScene) -> str:
    """Return what tells a scene from others: its solids, those in each opening by themselves."""
    groups = (scene.items, *scene.openings)
    solids = [solids_digest([(item.key, item.solid) for item in group]) for group in groups]
    return ":".join((scene.lies, *solids))

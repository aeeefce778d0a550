"""Pictures of the finished piece as content: the cover, the three views, all pieces apart.

In: an `Atelier`.  Out: `Finished`, titled and captioned.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass

from markupsafe import Markup

from patternpress.assembly.extent import overall
from patternpress.booklet.atelier import Atelier, eye_key
from patternpress.booklet.content import NO_PICTURE, Figure
from patternpress.drawing.finished import (
    best_eye,
    cover_picture,
    cover_scene,
    exploded_picture,
    exploded_scene,
    finished_items,
    fittings_apart,
)
from patternpress.drawing.flatscene import Scene
from patternpress.drawing.framing import Picture
from patternpress.drawing.rendering import Render
from patternpress.drawing.scenes import (
    solids_digest,
)
from patternpress.drawing.threeviews import three_views
from patternpress.measure.figures import show_length
from patternpress.measure.quantity import Kind, Quantity


@dataclass(frozen=True)
class Finished:
    """Pictures of the finished piece; empty where the design places no piece with sizes."""

    cover: Markup = NO_PICTURE
    views: tuple[Figure, ...] = ()
    apart: tuple[Figure, ...] = ()


def finished_pictures(place: Atelier) -> Finished:
    """Return the cover's picture, the three views and all pieces apart."""
    wording, style, model = place.wording, place.style, place.wording.model
    scenes = place.scenes
    items = finished_items(model, place.bulks)
    sizes = overall(model.assembly)
    if not items or not sizes:
        return Finished()
    name = wording.prose(model.worked.book.design)
    still = [(item.key, item.solid) for item in items]
    shown = cover_scene(model, scenes, place.bulks)
    front: tuple[str, Render] = place.once(f"eye:{solids_digest(shown)}", lambda: best_eye(shown))
    eye, seen_whole = front
    seen = {"title": name, "eye": wording.say(eye_key(eye))}

    def drawn(key: str, scene: Scene, make: Callable[[str], Picture], units: object = "") -> Markup:
        title = wording.say(key, **seen)
        kept = f"{key}:{solids_digest(scene)}:{eye}:{title}:{units}:{place.look}"
        picture: Picture = place.once(kept, lambda: make(title.striptags()))
        return Markup(picture.svg)

    figures = tuple(
        show_length(Quantity(each, Kind.LENGTH), model.edition.display) for each in sizes
    )
    wide, deep, high = figures
    views = drawn(
        "picture_views",
        still,
        lambda title: three_views(still, (wide, deep, high), title, style),
        model.edition.display,
    )
    parts: Render = place.once(
        f"apart:{eye}:{_work_digest(place)}",
        lambda: exploded_scene(model, scenes, place.bulks, eye),
    )
    fittings = fittings_apart(model, scenes, place.bulks, parts)
    apart = drawn(
        "picture_exploded",
        parts.scene,
        lambda title: exploded_picture(model, parts, fittings, title, style),
    )
    return Finished(
        drawn("picture_cover", shown, lambda title: cover_picture(seen_whole, title, style)),
        (Figure(views, wording.say("caption_views")),),
        (Figure(apart, wording.say("caption_exploded")),),
    )


def _work_digest(place: Atelier) -> str:
    """Return a digest of all that says how the finished work comes apart."""
    model = place.wording.model
    works = [
        (name, [(each.key, each.path, each.step) for each in pieces])
        for name, pieces in model.assembly.works.items()
    ]
    said = repr((place.digests, works, model.worked.usage.sub_of))
    return hashlib.sha256(said.encode()).hexdigest()

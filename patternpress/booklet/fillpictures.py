"""Pictures as content: drawn in the drawing room, titled and captioned here.

In: a `Wording`.  Out: `Figure`s of each step, of the cover, of all pieces apart and the three
views.  A mapping keeps what has been drawn, by its content, so that editions share pictures.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Callable, Iterator, MutableMapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from markupsafe import Markup

from patternpress.assembly.extent import overall
from patternpress.booklet.content import NO_PICTURE, Figure
from patternpress.booklet.wording import Wording
from patternpress.drawing.details import Detail, detail_of
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
from patternpress.drawing.framing import BESIDE, LARGE, Picture, Room
from patternpress.drawing.groups import Group
from patternpress.drawing.pictures import state_picture, step_picture
from patternpress.drawing.picturestyle import WORDS, PictureStyle, large_style
from patternpress.drawing.rendering import Render
from patternpress.drawing.scenes import (
    StepScene,
    scene_digest,
    solids_digest,
    step_scenes,
)
from patternpress.drawing.things import Bulks, bulks_of
from patternpress.drawing.threeviews import three_views
from patternpress.drawing.views import Choice, choose_views
from patternpress.measure.figures import show_length
from patternpress.measure.quantity import Kind, Quantity

Kept = MutableMapping[str, Any]


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

    def once(self, key: str, make: Callable[[], Any]) -> Any:
        """Return what was made under a key before, or make it."""
        name = f"picture:{key}"
        if name not in self.kept:
            self.kept[name] = make()
        return self.kept[name]


def atelier(wording: Wording, kept: Kept | None = None) -> Atelier:
    """Return the place where an edition's pictures are drawn."""
    words = {key: str(wording.say(_key(key), **_HOLES)) for key in WORDS}
    large = wording.model.edition.letters == "large"
    style = large_style(words) if large else PictureStyle(words=words)
    bulks = bulks_of(wording.model.worked)
    scenes = step_scenes(wording.model, bulks)
    room = LARGE if large else BESIDE
    return Atelier(wording, bulks, style, scenes, room, {} if kept is None else kept)


# Places for values stay places when the words are handed on.
_HOLES = {"count": "{count}", "what": "{what}", "scale": "{scale}"}


def _key(word: str) -> str:
    return "drawn_" + word.replace(" ", "_")


def step_figures(place: Atelier) -> dict[int, tuple[Figure, ...]]:
    """Return the figures of every step that joins something: on the way, then done."""
    scenes = place.scenes
    digests = place.digests
    choices: tuple[Choice, ...] = place.once(
        "views:" + "".join(digests), lambda: choose_views(scenes)
    )
    found: dict[int, tuple[Figure, ...]] = {}
    told: set[str] = set()
    lies: dict[str, str] = {}
    for scene, choice, digest in zip(scenes, choices, digests, strict=True):
        turned = lies.get(scene.work, scene.lies) != scene.lies
        lies[scene.work] = scene.lies
        shown = choice.scene
        language = place.wording.phrases.language
        key = f"{digest}:{choice.eye}:{turned}:{language}:{place.room}"
        found[scene.number] = _figures(place, shown, choice, turned, key, told)
    return found


def _figures(
    place: Atelier,
    scene: StepScene,
    choice: Choice,
    turned: bool,
    key: str,
    told: set[str],
) -> tuple[Figure, ...]:
    """Return one step's figures; `told` holds the captions that are said once in a booklet."""
    wording, style = place.wording, place.style
    named = [_named(group, wording) for group in scene.groups]
    things = wording.listed([*named, *_fittings_named(scene, wording)])
    eye = wording.say(eye_key(choice.eye))
    said = {"number": scene.number, "things": things, "eye": eye}
    title = wording.say("picture_coming", work=_work(scene, wording), **said)
    drawn: tuple[Picture, Detail | None] = place.once(
        f"{key}:{title}", lambda: _action(scene, choice, title.unescape(), place, turned)
    )
    action, detail = drawn
    words = [*_detail_words(detail, scene, wording), *_once("caption_action", told, wording)]
    if action.dotted:
        words += _once("caption_glue", told, wording)
    figures = [Figure(Markup(action.svg), Markup(" ").join(words))]
    if sum(len(group.things) for group in scene.groups) + len(scene.fittings) > 1:
        done = wording.say("picture_joined", **said)
        state: Picture = place.once(
            f"{key}:{done}",
            lambda: state_picture(scene, choice, done.unescape(), style, place.room, action.scale),
        )
        caption = Markup(" ").join(_once("caption_state", told, wording))
        figures.append(Figure(Markup(state.svg), caption))
    return tuple(figures)


def _action(
    scene: StepScene, choice: Choice, title: str, place: Atelier, turned: bool
) -> tuple[Picture, Detail | None]:
    detail = detail_of(choice)
    return step_picture(scene, choice, title, place.style, place.room, turned, detail), detail


def _once(key: str, told: set[str], wording: Wording) -> list[Markup]:
    """Return a caption the first time it is asked for."""
    if key in told:
        return []
    told.add(key)
    return [wording.say(key)]


def _detail_words(detail: Detail | None, scene: StepScene, wording: Wording) -> Iterator[Markup]:
    """Yield what there is to see in a picture's detail."""
    if detail is None:
        return
    group = next(g for g in scene.groups if detail.thing in g.keys)
    key = "caption_hidden" if detail.shares else "caption_larger"
    yield wording.say(key, thing=wording.thing(group.owner))


# ------------------------------------------------------------------ the finished piece


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
        kept = f"{key}:{solids_digest(scene)}:{eye}:{title}:{units}:{style.letter}"
        picture: Picture = place.once(kept, lambda: make(title.unescape()))
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


def eye_key(eye: str) -> str:
    """Return the key of the words for where one stands."""
    return "eye_" + eye.replace(",", "").replace(" ", "_")


def _named(group: Group, wording: Wording) -> Markup:
    """Return a group's name with its letter, and how many there are."""
    if len(group.names) == 1:
        return wording.thing(group.names[0])
    return wording.say("picture_several", count=len(group.names), what=wording.thing(group.owner))


def _fittings_named(scene: StepScene, wording: Wording) -> Iterator[Markup]:
    """Yield the names of fittings without sizes, those of one part together."""
    counts = Counter(each.owner for each in scene.fittings)
    for owner, count in counts.items():
        what = wording.thing(owner)
        yield what if count == 1 else wording.say("picture_several", count=count, what=what)


def _work(scene: StepScene, wording: Wording) -> Markup:
    """Return what the pieces come to: the piece that lies there alone, or the work."""
    if len(scene.old) == 1:
        return wording.say("picture_to_piece", piece=wording.thing(scene.old[0].piece))
    if scene.work:
        return wording.say("picture_to_sub", sub=scene.work)
    return wording.say("picture_work")

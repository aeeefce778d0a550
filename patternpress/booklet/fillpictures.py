"""Pictures of the steps as content: drawn in the drawing room, titled and captioned here.

In: an `Atelier`.  Out: the `Figure`s of each step, by its number.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Callable, Container, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial

from markupsafe import Markup

from patternpress.assembly.moving import Motion, motions_of
from patternpress.booklet.atelier import Atelier, eye_key
from patternpress.booklet.content import Figure
from patternpress.booklet.fillmeasured import measured_figures
from patternpress.booklet.wording import Wording
from patternpress.drawing.details import Detail, detail_of
from patternpress.drawing.faceviews import WIDE, face_pictures
from patternpress.drawing.framing import Picture
from patternpress.drawing.groups import Group
from patternpress.drawing.pictures import Staged, state_picture, step_picture
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.scenes import (
    StepScene,
)
from patternpress.drawing.steady import steady_scales
from patternpress.drawing.views import Choice, choose_views
from patternpress.drawing.workpieces import Workpiece, workpieces_of
from patternpress.measure.figures import Display, show_length
from patternpress.measure.figures import Figure as Shown
from patternpress.measure.quantity import Kind, Quantity


def step_figures(
    place: Atelier, only: Container[int] | None = None
) -> dict[int, tuple[Figure, ...]]:
    """Return the figures of every step that joins something: on the way, then done; and of
    every step that marks, cuts or shapes single pieces: these, face on; and of every step that
    measures: where to lay the rule.

    `only`: the numbers of the steps that are wanted; all where it is None.
    """
    scenes = place.scenes
    digests = place.digests
    choices: tuple[Choice, ...] = place.once(
        "views:" + "".join(digests), lambda: choose_views(scenes)
    )
    found: dict[int, tuple[Figure, ...]] = {}
    told: set[str] = set()
    lies: dict[str, str] = {}
    scales = steady_scales(choices, place.room)
    for scene, choice, digest, most in zip(scenes, choices, digests, scales, strict=True):
        turned = _lay_before(scene, lies, place.wording) != scene.lies
        lies[scene.work] = scene.lies
        if only is not None and scene.number not in only:
            continue
        language = place.wording.phrases.language
        key = f"{digest}:{choice.eye}:{turned}:{most}:{language}:{place.look}"
        shown = Staged(choice, turned, most=most)
        found[scene.number] = _figures(place, shown, key, told)
    found = {**dict(_worked_figures(place, only)), **found}
    for number, figures in measured_figures(place, only):
        found[number] = (*figures, *found.get(number, ()))
    return found


def _lay_before(scene: StepScene, lies: Mapping[str, str], wording: Wording) -> str:
    """How the work of a step lay, by works; what a work begins with, as its own last step left it.

    Where nothing was there before, as the step has it.
    """
    usage = wording.model.worked.usage
    start = usage.steps[scene.number - 1].start
    sub = usage.sub_of.get(start.value) if start is not None else None
    left = scene.lies if sub is None else lies.get(sub, scene.lies)
    return lies.get(scene.work, left)


def _worked_figures(
    place: Atelier, only: Container[int] | None
) -> Iterator[tuple[int, tuple[Figure, ...]]]:
    """Yield the figures of steps that work on single pieces and join nothing.

    What is cut after measuring is drawn as planned: the buyer's own may be a little different.
    """
    wording, model = place.wording, place.wording.model
    display = model.edition.display
    joined = {scene.number for scene in place.scenes}
    for number, step in enumerate(model.worked.usage.steps, 1):
        if number in joined or (only is not None and number not in only):
            continue
        pieces = workpieces_of(model, number, step)
        if not pieces:
            continue
        title = partial(_worked_title, number=number, wording=wording)
        key = f"{pieces!r}:{display}:{title(pieces)}:{place.look}"
        drawn: tuple[Picture, ...] = place.once(
            hashlib.sha256(key.encode()).hexdigest(),
            partial(_faces, pieces, display, title, place.style),
        )
        words = Markup(" ").join(_as_measured(pieces, wording))
        *first, last = (Figure(Markup(each.svg), letters=each.letters) for each in drawn)
        yield number, (*first, replace(last, caption=words))


def _as_measured(pieces: Sequence[Workpiece], wording: Wording) -> Iterator[Markup]:
    """Yield what is said of pieces that are cut after measuring: how true their faces are."""
    found = (wording.model.worked.part(name) for name in dict.fromkeys(p.part for p in pieces))
    parts = [part for part in found if part is not None and part.opening]
    if parts:
        yield wording.say("caption_as_measured")
    mirrored = [
        each.name.value
        for part in parts
        for each in part.part.pieces
        if each.stands and each.stands.value.startswith("mirrored")
    ]
    if mirrored:
        yield wording.say("caption_mirrored", things=wording.listed(map(wording.thing, mirrored)))


def _worked_title(pieces: Sequence[Workpiece], number: int, wording: Wording) -> str:
    names = wording.listed([wording.thing(n) for n in dict.fromkeys(p.name for p in pieces)])
    return wording.say("picture_worked", number=number, things=names).striptags()


def _faces(
    pieces: tuple[Workpiece, ...],
    display: Display,
    title: Callable[[Sequence[Workpiece]], str],
    style: PictureStyle,
) -> tuple[Picture, ...]:
    """Return the faces of a step with their figures, no wider than the text.

    A wider picture would be shrunk with its letters, so then the sentences alone give the figures
    of the second system.
    """

    def show(shown: Display, value: Fraction) -> Shown:
        return show_length(Quantity(value, Kind.LENGTH), shown)

    def made(shown: Display) -> tuple[Picture, ...]:
        hollow = partial(show, shown.bored), partial(show, shown.grooved)
        return face_pictures(pieces, partial(show, shown), title, style, hollow)

    drawn = made(display)
    if display.second is None or all(each.width <= WIDE for each in drawn):
        return drawn
    return made(replace(display, second=None))


def _figures(place: Atelier, shown: Staged, key: str, told: set[str]) -> tuple[Figure, ...]:
    """Return one step's figures; `told` holds the captions that are said once in a booklet."""
    wording, style = place.wording, place.style
    choice, scene = shown.choice, shown.choice.scene
    named = [_named(group, wording) for group in scene.groups]
    things = wording.listed([*named, *_fittings_named(scene, wording)])
    eye = wording.say(eye_key(choice.eye))
    said = {"number": scene.number, "things": things, "eye": eye}
    title = wording.say("picture_coming", work=_work(scene, wording), **said)
    drawn: tuple[Picture, Detail | None] = place.once(
        f"{key}:{title}", lambda: _action(shown, title.striptags(), place)
    )
    action, detail = drawn
    words = [*_detail_words(detail, scene, wording), *_once("caption_action", told, wording)]
    if action.dotted:
        words += _once("caption_glue", told, wording)
    figures = [Figure(Markup(action.svg), Markup(" ").join(words))]
    opening = _opening(scene, wording)
    if sum(len(group.things) for group in scene.groups) + len(scene.fittings) > 1 or opening:
        done = wording.say("picture_open" if opening else "picture_joined", **said)
        state: Picture = place.once(
            f"{key}:{done}:{opening!r}",
            lambda: state_picture(
                scene, choice, done.striptags(), style, place.room, action.scale, opening
            ),
        )
        words = [*_once("caption_state", told, wording), *_opening_words(opening, wording)]
        figures.append(Figure(Markup(state.svg), Markup(" ").join(words)))
    return tuple(figures)


def _action(shown: Staged, title: str, place: Atelier) -> tuple[Picture, Detail | None]:
    whole = replace(shown, detail=detail_of(shown.choice))
    return step_picture(whole, title, place.style, place.room), whole.detail


def _opening(scene: StepScene, wording: Wording) -> tuple[Motion, ...]:
    """Return what a step brings that opens."""
    motions = motions_of(wording.model.worked, wording.model.assembly)
    return tuple(each for each in motions if (each.work, each.step) == (scene.work, scene.number))


def _opening_words(motions: Sequence[Motion], wording: Wording) -> Iterator[Markup]:
    """Yield what is shown open, and how far."""
    told = [
        wording.say("opened_by", thing=wording.thing(each.thing), far=_far(each, wording))
        for each in motions
    ]
    if told:
        yield wording.say("caption_open", things=wording.listed(told))


def _far(motion: Motion, wording: Wording) -> Markup:
    return wording.degrees(motion.by.value) if motion.turns else wording.size(motion.by)


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
        return wording.say("picture_to_sub", sub=wording.name(scene.work))
    return wording.say("picture_work")

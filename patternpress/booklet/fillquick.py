"""The steps of a booklet filled again alone, with the pictures of a few: what a page shows soonest.

In: a `Model`, and the content that its booklet had before.  Out: that content with new steps.
Everything else in it is as old as it was.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import replace

from patternpress.assembly.plan import bench_plan
from patternpress.booklet.atelier import Atelier
from patternpress.booklet.content import Content, Figure, Step
from patternpress.booklet.crossrefs import referred
from patternpress.booklet.fillphotographs import photographs
from patternpress.booklet.fillpictures import step_figures
from patternpress.booklet.fillplan import early_steps
from patternpress.booklet.fillsteps import finishing, steps


def refilled(last: Content, place: Atelier, drawn: Container[int]) -> Content:
    """Return `last` with the steps of the place's edition, and pictures of those `drawn`.

    Captions that are said once in a booklet stay where they were.  Raises PhotographError as
    `content_of` does.
    """
    wording = place.wording
    early = early_steps(bench_plan(wording.model.worked))
    photos = photographs(wording).steps
    before = {step.number: step.figures for step in steps_of(last)}
    figures = step_figures(place, drawn)
    pictures = {
        number: (*_captioned(figures.get(number, ()), before.get(str(number), ())), *taken)
        for number in {*figures, *photos}
        if (taken := photos.get(number, ())) or number in figures
    }
    _, after = finishing(wording, pictures, early)
    made = replace(last, steps=(*steps(wording, pictures, early), *after))
    return referred(made, wording.phrases)


def changed_steps(last: Content, digests: Mapping[int, str], place: Atelier) -> frozenset[str]:
    """Return the numbers of steps whose words, or what their pictures show, are others now.

    `digests`: those of the pictures of `last`.
    """
    old = {step.number: replace(step, figures=()) for step in steps_of(last)}
    new = {step.number: replace(step, figures=()) for step in steps_of(refilled(last, place, ()))}
    shown = digests_of(place)
    drawn = {str(n) for n in {*digests, *shown} if digests.get(n) != shown.get(n)}
    return frozenset(number for number in new if number in drawn or new[number] != old.get(number))


def digests_of(place: Atelier) -> dict[int, str]:
    """Return the digest of what the picture of each step shows, by the step's number."""
    scenes = zip(place.scenes, place.digests, strict=True)
    return {scene.number: digest for scene, digest in scenes}


def steps_of(content: Content) -> Iterator[Step]:
    """Yield every step of a content, in order."""
    for group in content.steps:
        yield from group.steps


def _captioned(new: tuple[Figure, ...], old: tuple[Figure, ...]) -> tuple[Figure, ...]:
    """The new pictures with the old captions, where there are as many."""
    if len(old) < len(new):
        return new
    return tuple(replace(a, caption=b.caption) for a, b in zip(new, old, strict=False))

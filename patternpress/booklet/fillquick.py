"""The steps of a booklet filled again alone, with the pictures of a few; or its templates alone:
what a page shows soonest.

In: an `Atelier`, and the content that its booklet had before.  Out: that content with new steps, or
with new templates.  Everything else in it is as old as it was.
"""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import replace

from patternpress.assembly.plan import bench_plan
from patternpress.booklet.atelier import Atelier
from patternpress.booklet.content import Content, Figure, Step
from patternpress.booklet.crossrefs import referred
from patternpress.booklet.fillphotographs import photographs
from patternpress.booklet.fillpictures import step_figures
from patternpress.booklet.fillplan import early_steps
from patternpress.booklet.fillsteps import finishing, steps
from patternpress.booklet.filltemplates import printing, template_pages, templates
from patternpress.booklet.fillterms import explained
from patternpress.drawing.kept import Kept


def refilled(last: Content, place: Atelier) -> Content:
    """Return `last` with the steps of the place's edition, without pictures."""
    wording = place.wording
    early = early_steps(bench_plan(wording.model.worked))
    _, after = finishing(wording, early=early)
    made = replace(last, steps=(*steps(wording, early=early), *after))
    return referred(explained(made, wording), wording.phrases)


def templated(last: Content, place: Atelier, kept: Kept) -> Content:
    """Return `last` with the templates of the place's edition; `kept` holds those drawn already."""
    wording = place.wording
    drawn = template_pages(wording.model, wording, kept=kept)
    return replace(
        last, templates=templates(drawn, wording), printing=printing(wording, drawn, kept)
    )


def pictured(made: Content, last: Content, place: Atelier, drawn: Container[int]) -> Content:
    """Return `made` with pictures at the steps whose numbers are `drawn`.

    Captions that are said once in a booklet stay where they were in `last`.  Raises
    PhotographError as `content_of` does.
    """
    figures, photos = step_figures(place, drawn), photographs(place.wording).steps
    before = {step.number: step.figures for step in last.every_step}
    pictures = {
        str(number): (*_captioned(figures.get(number, ()), before.get(str(number), ())), *taken)
        for number in {*figures, *photos}
        if (taken := photos.get(number, ())) or number in figures
    }

    def shown(step: Step) -> Step:
        return replace(step, figures=pictures.get(step.number, ()))

    groups = (replace(group, steps=tuple(map(shown, group.steps))) for group in made.steps)
    return replace(made, steps=tuple(groups))


def changed_steps(
    last: Content, digests: Mapping[int, str], made: Content, place: Atelier
) -> frozenset[str]:
    """Return the numbers of steps of `made` whose words, or what their pictures show, are others
    than in `last`.

    `digests`: those of the pictures of `last`.
    """
    old, new = _words_of(last), _words_of(made)
    shown = digests_of(place)
    drawn = {str(n) for n in {*digests, *shown} if digests.get(n) != shown.get(n)}
    return frozenset(number for number in new if number in drawn or new[number] != old.get(number))


def _words_of(content: Content) -> dict[str, Step]:
    """The steps without their pictures; what is explained at one depends on the steps before."""
    return {step.number: replace(step, figures=(), terms=()) for step in content.every_step}


def digests_of(place: Atelier) -> dict[int, str]:
    """Return the digest of what the picture of each step shows, by the step's number."""
    scenes = zip(place.scenes, place.digests, strict=True)
    return {scene.number: digest for scene, digest in scenes}


def _captioned(new: tuple[Figure, ...], old: tuple[Figure, ...]) -> tuple[Figure, ...]:
    """The new pictures with the old captions, where there are as many."""
    if len(old) < len(new):
        return new
    return tuple(replace(a, caption=b.caption) for a, b in zip(new, old, strict=False))

"""One round of work after a change: from the text of a design to new pages, the urgent ones first.

In: a text, the editions that are looked at, and what the last round left.  Out: `News`, one after
another, each as soon as it is known: problems, figures, pages of one step, of one section, of the
whole booklet.  Between two pieces of news a round may be dropped for a newer text.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, MutableMapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from patternpress.assembly.model import Model
from patternpress.booklet.atelier import Atelier, atelier
from patternpress.booklet.build import PressError, page_style, press_content
from patternpress.booklet.compose import compose
from patternpress.booklet.content import Content, Plan, StepGroup
from patternpress.booklet.crossrefs import step_anchor
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fill import content_of
from patternpress.booklet.fillquick import (
    changed_steps,
    digests_of,
    pictured,
    refilled,
    templated,
)
from patternpress.booklet.onpaper import put_on
from patternpress.booklet.photographs import PhotographError
from patternpress.booklet.press import Pressed, Section, press_section, section_key
from patternpress.booklet.pressroom import Booklet, numbered, press_kept
from patternpress.booklet.themes import load_theme
from patternpress.booklet.wording import wording_of
from patternpress.closing.close import close
from patternpress.design.problem import Problem
from patternpress.design.read import Reading, read_text
from patternpress.desk import rooms
from patternpress.desk.preview.pagepictures import page_sizes
from patternpress.desk.report import Draw

Cache = MutableMapping[str, Any]


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
    """One edition as it was last shown, and what is needed to tell what changed since."""

    model: Model
    content: Content
    keys: dict[str, str]
    numbers: dict[str, int]
    anchors: dict[str, dict[str, int]]
    pages: tuple[Page, ...]
    digests: dict[int, str]


@dataclass(frozen=True)
class News:
    """Something that became known; what is None has not changed."""

    what: str
    problems: tuple[Problem, ...] | None = None
    draw: Draw | None = None  # what draws one of the problems
    reading: Reading | None = None
    model: Model | None = None
    edition: str = ""
    pages: tuple[Page, ...] | None = None
    seen: Seen | None = None
    fault: str = ""


def work(
    text: str, path: Path, editions: Sequence[str], seen: dict[str, Seen], cache: Cache
) -> Iterator[News]:
    """Yield what becomes known of `text`.  Nothing raises for what a design holds."""
    reading = read_text(text, path.name, path.parent, cache)
    known = rooms.edition_names(reading)
    shown = [each if each in known else known[0] for each in editions] if known else []
    checked = rooms.examine(reading, shown)
    problems = checked.problems
    yield News("problems", problems=problems, draw=rooms.drawer(checked), reading=reading)
    if reading.book is None or any(each.is_error for each in problems):
        return
    for edition in dict.fromkeys(shown):
        yield from _edition(reading, edition, seen.get(edition), cache)


def _edition(reading: Reading, edition: str, last: Seen | None, cache: Cache) -> Iterator[News]:
    model = close(reading, edition).model
    yield News("figures", model=model, edition=edition)
    try:
        theme = load_theme(model.edition.theme)
        fence = Fence((theme.folder,))
        place = atelier(wording_of(model), cache)
        pages = last.pages if last is not None else ()
        if last is not None and (soon := _one_page(place, last, fence)) is not None:
            pages = soon
            yield News("soon", edition=edition, pages=pages)
        ahead = _templates(place, last, fence, cache) if last is not None else None
        if ahead is not None:
            pages = _put(pages, ahead)
            yield News("section", edition=edition, pages=pages)
        content = content_of(model, cache)
        sections = compose(content, theme, page_style(model))
        if last is not None:
            done = section_key(ahead[0], fence) if ahead is not None else ""
            yield from _changed(sections, (pages, last, done), fence, cache, edition)
        guess = last.numbers if last is not None else None
        booklet = press_content(model, content, cache, sections, guess)
    except (PressError, PhotographError) as error:
        yield News("fault", edition=edition, fault=str(error) or "a photograph cannot be read")
        return
    pages = _whole(sections, booklet, fence)
    keys = {each.key: section_key(each, fence) for each in sections}
    anchors = {
        each.key: dict(press_kept(numbered(each, booklet.numbers), fence, cache).anchors)
        for each in sections
    }
    found = Seen(model, content, keys, dict(booklet.numbers), anchors, pages, digests_of(place))
    yield News("pages", edition=edition, pages=pages, seen=found)


def _changed(
    sections: Sequence[Section],
    before: tuple[tuple[Page, ...], Seen, str],
    fence: Fence,
    cache: Cache,
    edition: str,
) -> Iterator[News]:
    """The pages as they were, what changed marked as old; then each changed section, anew.

    `before`: also the key of a section that is shown anew already.
    """
    pages, last, done = before
    keys = {each.key: section_key(each, fence) for each in sections}
    stays = {key for key, now in keys.items() if now == done}
    new = [e for e in sections if e.key not in stays and last.keys.get(e.key) != keys[e.key]]
    changed = {each.key for each in new}
    pages = tuple(
        replace(p, old=p.section in changed or (p.soon and p.section not in stays)) for p in pages
    )
    yield News("old", edition=edition, pages=pages)
    for section in sorted(new, key=lambda each: len(each.html)):
        # Its page numbers are those of the last booklet, which are mostly still true.
        pressed = press_kept(numbered(section, last.numbers), fence, cache)
        pages = _in_place(pages, section, pressed, [each.key for each in sections])
        yield News("section", edition=edition, pages=pages)


def _templates(
    place: Atelier, last: Seen, fence: Fence, cache: Cache
) -> tuple[Section, Pressed] | None:
    """The section of the templates, where they became others; nothing where they did not, or
    share their pages with more.

    After a changed size they are what is soonest whole: no picture and no layout is in them.
    """
    model = place.wording.model
    content = templated(last.content, place, cache)
    if not content.templates or content.templates == last.content.templates:
        return None
    made = compose(content, load_theme(model.edition.theme), page_style(model), "templates")
    if len(made) != 1 or made[0].key not in last.keys or made[0].parts > 1:
        return None
    return made[0], press_kept(numbered(made[0], last.numbers), fence, cache)


def _put(pages: tuple[Page, ...], ahead: tuple[Section, Pressed]) -> tuple[Page, ...]:
    """The pages with those of a section that stands among them replaced."""
    section, pressed = ahead
    return _in_place(pages, section, pressed, list(dict.fromkeys(page.section for page in pages)))


def _one_page(place: Atelier, last: Seen, fence: Fence) -> tuple[Page, ...] | None:
    """The page of the first changed step, pressed from the steps that stood on it alone; nothing
    where no step changed.

    A whole section of steps takes a quarter of a build to press, and drawing all that a size
    moves a third; one page of it a fiftieth.
    """
    words = refilled(last.content, place)
    changed = changed_steps(last.content, last.digests, words, place)
    stood = _standing(last, changed)
    if stood is None:
        return None
    home, at, there = stood
    if not changed.issubset(step.number for step in last.content.every_step):
        return None  # another number of steps: none may stand where it stood
    drawn = {int(n) for n in there if n.isdecimal()}
    content = pictured(words, last.content, place, drawn)
    groups = tuple(
        StepGroup(group.heading, kept, group.words)
        for group in content.steps
        if (kept := tuple(step for step in group.steps if step.number in there))
    )
    # A plan would stand before the steps in their run of pages.
    alone = replace(content, steps=groups, plan=Plan())
    model = place.wording.model
    sections = compose(alone, load_theme(model.edition.theme), page_style(model), "steps")
    named = [f'id="{step_anchor(number)}"' for number in there]
    section = next((s for s in sections if any(each in s.html for each in named)), None)
    first = next((n for n, page in enumerate(last.pages) if page.section == home), None)
    if section is None or first is None:
        return None
    pressed = press_section(numbered(section, last.numbers), fence)
    made = _pages(put_on(pressed, section.paper), home, soon=True)
    spot = first + at - 1
    moved = last.digests != digests_of(place)  # then hardly a page stays as it is
    pages = tuple(replace(page, old=moved) for page in last.pages)
    return (*pages[:spot], replace(made[0], old=True), *pages[spot + 1 :])


def _standing(last: Seen, changed: frozenset[str]) -> tuple[str, int, frozenset[str]] | None:
    """The section and the page in it (from 1) of the first changed step, and all steps there."""
    places = {s.number: _place_of(step_anchor(s.number), last) for s in last.content.every_step}
    spot = next((spot for number, spot in places.items() if number in changed), ("", 0))
    if not spot[0]:
        return None
    return (*spot, frozenset(number for number in places if places[number] == spot))


def _place_of(anchor: str, last: Seen) -> tuple[str, int]:
    """The section that an anchor stands in, and its page there; nothing where it is nowhere."""
    found = ((key, each[anchor]) for key, each in last.anchors.items() if anchor in each)
    return next(found, ("", 0))


def _pages(pressed: Pressed, section: str, *, soon: bool = False) -> tuple[Page, ...]:
    mark = hashlib.blake2b(pressed.pdf, digest_size=10).hexdigest()
    return tuple(
        Page(f"{mark}-{number}", pressed.pdf, number, section, width, height, soon=soon)
        for number, (width, height) in enumerate(pressed.sizes)
    )


def _in_place(
    pages: tuple[Page, ...], section: Section, pressed: Pressed, order: Sequence[str]
) -> tuple[Page, ...]:
    """The pages with those of one section replaced, or put in where it has come to be."""
    place = {key: number for number, key in enumerate(order)}
    new = _pages(pressed, section.key, soon=True)
    mine = place[section.key]
    before = [p for p in pages if p.section != section.key and place.get(p.section, 0) < mine]
    after = [p for p in pages if p.section in place and place[p.section] > mine]
    return (*before, *new, *after)


def _whole(sections: Sequence[Section], booklet: Booklet, fence: Fence) -> tuple[Page, ...]:
    """The pages of the finished booklet; a page keeps its id while nothing on it changes."""
    sizes = page_sizes(booklet.pdf)
    starts = [(booklet.numbers[each.key] - 1, each) for each in sections]
    pages = []
    ends = [*(start for start, _ in starts[1:]), len(sizes)]
    for (start, section), end in zip(starts, ends, strict=True):
        mark = section_key(numbered(section, booklet.numbers), fence)[:20]
        for number in range(start, end):
            name = f"{mark}-{number - start}-{number}-{len(sizes)}"
            pages.append(Page(name, booklet.pdf, number, section.key, *sizes[number]))
    return tuple(pages)

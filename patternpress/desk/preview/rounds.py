"""One round of work after a change: from the text of a design to new pages, the urgent ones first.

In: a text, the editions that are looked at, and what the last round left.  Out: `News`, one after
another, each as soon as it is known: problems, figures, pages of one step, of one section, of the
whole booklet.  Between two pieces of news a round may be dropped for a newer text.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from patternpress.assembly.model import Model, is_known
from patternpress.booklet.atelier import Atelier, atelier
from patternpress.booklet.build import PressError, page_style, press_content
from patternpress.booklet.compose import compose
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fill import content_of
from patternpress.booklet.fillpictures import step_figures
from patternpress.booklet.fillquick import digests_of, templated
from patternpress.booklet.photographs import PhotographError
from patternpress.booklet.press import Pressed, Section, section_key
from patternpress.booklet.pressroom import Booklet, numbered, press_kept, unnumbered
from patternpress.booklet.themes import load_theme
from patternpress.booklet.wording import wording_of
from patternpress.closing.close import UnclosedError, close
from patternpress.design.problem import Problem
from patternpress.design.read import Reading, read_text
from patternpress.desk import rooms
from patternpress.desk.preview.aside import closing_aside, finished_aside
from patternpress.desk.preview.mate import Mate
from patternpress.desk.preview.onepage import one_page
from patternpress.desk.preview.pagepictures import page_sizes
from patternpress.desk.preview.seen import Page, Seen, pages_of
from patternpress.desk.preview.twohands import press_all
from patternpress.desk.report import Draw

__all__ = ["Cache", "News", "Page", "Seen", "work"]

Cache = MutableMapping[str, Any]


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
    text: str,
    path: Path,
    editions: Sequence[str],
    seen: dict[str, Seen],
    cache: Cache,
    mate: Mate | None = None,
) -> Iterator[News]:
    """Yield what becomes known of `text`.  Nothing raises for what a design holds.

    `mate`: who helps after a changed size; what becomes known is the same without.
    """
    reading = read_text(text, path.name, path.parent, cache)
    known = rooms.edition_names(reading)
    shown = [each if each in known else known[0] for each in editions] if known else []
    checked = rooms.examine(reading, shown, _closed_aside((text, path), reading, shown, mate))
    problems = checked.problems
    yield News("problems", problems=problems, draw=rooms.drawer(checked), reading=reading)
    if reading.book is None or any(each.is_error for each in problems):
        return
    for edition in dict.fromkeys(shown):
        yield from _edition((text, path), reading, edition, seen.get(edition), cache, mate)


def _closed_aside(
    of: tuple[str, Path], reading: Reading, editions: Sequence[str], mate: Mate | None
) -> Callable[[], Sequence[Problem] | None] | None:
    """Have the mate close editions while pieces are checked here, where both take time; returns
    what waits for his answer.
    """
    if mate is None or reading.book is None or is_known(reading, reading.book):
        return None
    return mate.answer if mate.begin(closing_aside, *of, tuple(editions)) else None


def _edition(
    of: tuple[str, Path],
    reading: Reading,
    edition: str,
    last: Seen | None,
    cache: Cache,
    mate: Mate | None,
) -> Iterator[News]:
    try:
        model = close(reading, edition).model
        yield News("figures", model=model, edition=edition)
        theme = load_theme(model.edition.theme)
        fence = Fence((theme.folder,))
        place = atelier(wording_of(model), cache)
        pages = last.pages if last is not None else ()
        done: dict[str, str] = {}
        aside = False
        if last is not None:
            moved = last.digests != digests_of(place)  # then hardly a page stays as it is
            aside = moved and mate is not None and mate.begin(finished_aside, *of, edition)
            for soon in one_page(place, last, fence):
                pages = soon.among(last.pages, old=moved)
                yield News("section" if soon.whole else "soon", edition=edition, pages=pages)
                if soon.whole:
                    done[soon.key] = soon.html
            ahead = _templates(place, last, fence, cache)
            if ahead is not None:
                pages = _put(pages, ahead)
                yield News("section", edition=edition, pages=pages)
                done[ahead[0].key] = numbered(ahead[0], last.numbers).html
        if mate is not None and aside:
            step_figures(place)  # by whoever is not drawing the finished piece
            cache.update(mate.answer() or {})
        content = content_of(model, cache)
        sections = compose(content, theme, page_style(model))
        if last is not None:
            yield from _changed(sections, (pages, last, done), fence, cache, edition, mate)
        guess = last.numbers if last is not None else None
        booklet = press_content(model, content, cache, sections, guess)
    except (PressError, PhotographError, UnclosedError) as error:
        yield News("fault", edition=edition, fault=str(error) or "a photograph cannot be read")
        return
    pages = _whole(sections, booklet, fence)
    keys = {each.key: section_key(each, fence) for each in sections}
    shown = {each.key: numbered(each, booklet.numbers) for each in sections}
    stood = {key: press_kept(each, fence, cache) for key, each in shown.items()}
    found = Seen(model, content, keys, booklet.numbers, shown, stood, pages, digests_of(place))
    yield News("pages", edition=edition, pages=pages, seen=found)


def _changed(
    sections: Sequence[Section],
    before: tuple[tuple[Page, ...], Seen, Mapping[str, str]],
    fence: Fence,
    cache: Cache,
    edition: str,
    mate: Mate | None,
) -> Iterator[News]:
    """The pages as they were, what changed marked as old; then each changed section, anew.

    `before`: also, by their keys, the HTML of sections that are shown anew already.
    """
    pages, last, done = before
    keys = {each.key: section_key(each, fence) for each in sections}
    stays = {e.key for e in sections if done.get(e.key) == numbered(e, last.numbers).html}
    new = [e for e in sections if e.key not in stays and last.keys.get(e.key) != keys[e.key]]
    changed = {each.key for each in new}
    pages = tuple(
        replace(p, old=p.section in changed or (p.soon and p.section not in stays)) for p in pages
    )
    yield News("old", edition=edition, pages=pages)
    # Their page numbers are those of the last booklet, which are mostly still true.
    shown = [numbered(each, last.numbers) for each in new]
    order = [each.key for each in sections]
    for section, pressed in press_all(shown, unnumbered(new), fence, cache, mate):
        pages = _in_place(pages, section, pressed, order)
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


def _in_place(
    pages: tuple[Page, ...], section: Section, pressed: Pressed, order: Sequence[str]
) -> tuple[Page, ...]:
    """The pages with those of one section replaced, or put in where it has come to be."""
    place = {key: number for number, key in enumerate(order)}
    new = pages_of(pressed, section.key, soon=True)
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

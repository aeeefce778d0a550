"""The page of the first changed step, pressed before all else; and with it its whole section,
where what moved can be told from that page and the next.

In: an `Atelier`, and what was shown last.  Out: `Ahead`: a few new pages for a section that stands.

A section of steps takes a quarter of a build to press, one page of it a fiftieth.  Steps follow
each other in the flow of pages, so what comes after a step is moved by nothing but where it ends:
where each step of a page stands as high and as long as before, all the rest of the section is as it
was; and where a page begins with the step that a page began with before, all from there on is.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from patternpress.booklet.atelier import Atelier
from patternpress.booklet.build import page_style
from patternpress.booklet.compose import compose
from patternpress.booklet.content import Content
from patternpress.booklet.crossrefs import step_anchor
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fillquick import changed_steps, digests_of, pictured, refilled
from patternpress.booklet.onpaper import put_on
from patternpress.booklet.press import Pressed, Section, draw_section, lay_out_section
from patternpress.booklet.pressroom import numbered
from patternpress.booklet.themes import load_theme
from patternpress.desk.preview.seen import Page, Seen, pages_of

_STEP = re.compile(r'<article [^>]*?\bid="([^"]+)"[^>]*\bdata-stands=.*?</article>', re.DOTALL)
_OPENS = re.compile(r'<section id="([^"]+)"[^>]*>')
FURTHER = 2  # pages after the changed one that are laid out to see where it ends


@dataclass(frozen=True)
class Ahead:
    """New pages of a section, for as many that stand from page `at` (from 1) on.

    `html` is the section with the new steps; `whole`: with these pages it is as it will be pressed.
    """

    key: str
    at: int
    pages: tuple[Page, ...]
    html: str
    whole: bool = False

    def among(self, pages: tuple[Page, ...], *, old: bool) -> tuple[Page, ...]:
        """Put them among the pages of a booklet; `old`: all the others are no longer true."""
        first = next(n for n, page in enumerate(pages) if page.section == self.key)
        spot = first + self.at - 1
        new = self.pages if self.whole else tuple(replace(p, old=True) for p in self.pages)
        before, after = pages[:spot], pages[spot + len(new) :]
        marked = [tuple(replace(p, old=old) for p in each) for each in (before, after)]
        return (*marked[0], *new, *marked[1])


@dataclass(frozen=True)
class _Steps:
    """A section of steps, cut apart: what stands before, each step by its anchor, what follows."""

    before: str
    steps: dict[str, str]
    after: str


def one_page(place: Atelier, last: Seen, fence: Fence) -> Iterator[Ahead]:
    """Yield the page of the first changed step, and its section if that can be told at once.

    Nothing where no step changed, where there is another number of them, or where they wear
    another look.  Only the pictures of that page are drawn.
    """
    words = refilled(last.content, place)
    changed = changed_steps(last.content, last.digests, words, place)
    if not changed.issubset(step.number for step in last.content.every_step):
        return  # another number of steps: none may stand where it stood
    anchors = {step_anchor(s.number): s.number for s in last.content.every_step}
    found = _first_changed([a for a, number in anchors.items() if number in changed], last)
    if found is None:
        return
    key, at = found
    old = last.sections[key]
    here = [a for a, page in last.stood[key].anchors.items() if a in anchors and page == at]
    drawn = {int(anchors[a]) for a in here if anchors[a] in changed and anchors[a].isdecimal()}
    made = pictured(words, last.content, place, drawn)
    model = place.wording.model
    (new,) = compose(made, load_theme(model.edition.theme), page_style(model), "steps")
    stood, came = _apart(old.html), _apart(numbered(new, last.numbers).html)
    if (
        stood is None
        or came is None
        or new.css != old.css
        or not {*here} <= {*stood.steps} & {*came.steps}
    ):
        return
    taken = {a: came.steps[a] for a in here if anchors[a] in changed}
    html = old.html
    for anchor, step in taken.items():
        html = html.replace(stood.steps[anchor], step, 1)
    put = replace(new, key=key, html=html, photographs={**old.photographs, **new.photographs})
    alone = {*taken} == {a for a, number in anchors.items() if number in changed}
    sure = alone and last.digests == digests_of(place) and _titles(words) == _titles(last.content)
    yield from _pressed(put, last.stood[key], (at, {*taken}), fence, sure=sure)


def _titles(content: Content) -> tuple[str, ...]:
    """The titles of the steps, which the bench plan in the same section shows as well."""
    return tuple(step.title for step in content.every_step)


def _first_changed(changed: Iterable[str], last: Seen) -> tuple[str, int] | None:
    """The section and the page in it of the first changed step."""
    for anchor in changed:
        for key, each in last.stood.items():
            if anchor in each.anchors:
                return key, each.anchors[anchor]
    return None


def _apart(html: str) -> _Steps | None:
    """A section cut into its steps; None where something else stands between them."""
    found = [*_STEP.finditer(html)]
    between = (html[a.end() : b.start()] for a, b in pairwise(found))
    if not found or any(each.strip() for each in between):
        return None
    steps = {each[1]: each[0] for each in found}
    return _Steps(html[: found[0].start()], steps, html[found[-1].end() :])


def _pressed(
    section: Section, stood: Pressed, changed: tuple[int, set[str]], fence: Fence, *, sure: bool
) -> Iterator[Ahead]:
    """The page alone; then, where nothing but it changed, as many as it takes to be sure.

    `changed`: the page, and the anchors of the steps that changed on it.
    """
    at, anchors = changed
    ahead, laid = None, None
    for end, more in ((at, False), *((at + n, True) for n in range(FURTHER + 1))):
        part = _cut(section, stood, (at, end), more=more)
        if part is None or end > stood.pages:
            break
        if laid is None or laid.section != part:
            laid = lay_out_section(part, fence)
        count = _settled(laid.pressed, stood, (at, end), anchors) if sure else 0
        if ahead is None or count > 1:  # a page that was drawn alone is the same with more after it
            drawn = put_on(draw_section(laid), section.paper)
            pages = pages_of(drawn, section.key, soon=True)
        if ahead is None:
            ahead = Ahead(section.key, at, pages[:1], section.html)
            yield ahead
        if count:
            yield replace(ahead, pages=pages[:count], whole=True)
        if count or not sure:
            break


def _cut(section: Section, stood: Pressed, span: tuple[int, int], *, more: bool) -> Section | None:
    """The section with nothing but the steps that began on pages `span`, first and last, and one
    `more`, which tells where they end.
    """
    apart = _apart(section.html)
    if apart is None:
        return None
    names = [*apart.steps]
    here = [n for n, a in enumerate(names) if span[0] <= stood.anchors.get(a, 0) <= span[1]]
    parts = [*_OPENS.finditer(apart.before)]
    if not here or not parts:
        return None
    kept = names[here[0] : here[-1] + 1 + more]
    opens, shell = parts[-1], apart.before[: parts[0].start()]
    headed = stood.anchors.get(opens[1]) == span[0]
    lead = apart.before[opens.start() :] if headed else opens[0]
    tail = apart.after if kept[-1] == names[-1] else "</section></body></html>"
    return replace(section, html="".join((shell, lead, *(apart.steps[a] for a in kept), tail)))


def _settled(pressed: Pressed, stood: Pressed, span: tuple[int, int], changed: set[str]) -> int:
    """How many of the new pages stand for as many old ones, all others being as they were; 0
    where that cannot be told.

    `span`: the first and the last of the pages whose steps were pressed.
    """
    at, end = span
    moved = {
        anchor: tuple((page + at - 1, *rest) for page, *rest in each)
        for anchor, each in pressed.places.items()
    }
    if not changed <= {*moved} <= {*stood.places}:
        return 0  # a theme sets its steps some other way than down the page
    if not _begins_alike(pressed, moved, stood, at):
        return 0
    stays = all(stood.places[anchor] == spots for anchor, spots in moved.items())
    if pressed.pages == end - at + 1 and (stays or end == stood.pages):
        return pressed.pages
    late = max(moved[anchor][-1][0] for anchor in changed)
    for anchor in (a for a in moved if a in pressed.tops & stood.tops):
        page = moved[anchor][0][0]
        if page > late and stood.places[anchor][0][0] == page:
            return int(page) - at
    return 0


def _begins_alike(
    pressed: Pressed, moved: Mapping[str, tuple[tuple[float, ...], ...]], stood: Pressed, at: int
) -> bool:
    """Whether the first page pressed begins as the page `at` did: with a step or a heading, and
    the first step as far down.
    """
    runs_on = any(each[0][0] < at <= each[-1][0] for each in stood.places.values())
    begun = {a for a, page in stood.anchors.items() if page == at and a in stood.tops}
    first = next(iter(moved))
    return (
        not runs_on
        and bool(begun & pressed.tops)
        and moved[first][0][:2] == stood.places[first][0][:2]
    )

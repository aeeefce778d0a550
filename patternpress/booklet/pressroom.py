"""Press a whole booklet: each section apart, as few times as will do, then joined.

In: the sections in order, the book's information, the words of the foot.  Out: a `Booklet`: one
PDF, the page number of every anchor, and every complaint.

Page numbers.  Sections that show no page numbers of other places are laid out first, then the
others in order, each with the numbers that are likely by then.  Where a number turns out otherwise,
the true one is written into the pages that stand; only where it is not as wide, the section is laid
out again.  Everything is drawn once all numbers are sure.  Steps are first laid out as they are,
then told where they stand (`standing`), so that those with room to grow do.  The rounds are the
same with a cache as without, so that a cache can never change a booklet; it only answers sooner.
The author's page, which is no booklet yet, begins with the numbers that it showed last.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from patternpress.booklet.feet import Foot, feet_section
from patternpress.booklet.fetch import Fence, digest
from patternpress.booklet.join import BookInfo, join, missing_anchors
from patternpress.booklet.onpaper import put_on
from patternpress.booklet.prepress import (
    anchors_in,
    anchors_wanted,
    fill_page_numbers,
    without_drawings,
)
from patternpress.booklet.press import (
    Laid,
    Pressed,
    Section,
    draw_section,
    lay_out_section,
    section_key,
    takes_numbers,
)
from patternpress.booklet.standing import STANDS, told, told_alike, told_later

ROUNDS = 5
# Characters of HTML on a page, drawings aside, in the demos (measured): only to guess a length.
ON_A_PAGE = 4300


@dataclass(frozen=True)
class Complaint:
    """Something that would be missing or wrong on the page; a build with complaints has failed.

    `section` is a key; `url` is set if an address was refused.
    """

    section: str
    text: str
    url: str = ""


@dataclass(frozen=True)
class Booklet:
    """A pressed booklet.  `numbers`: anchor or section key -> page, counted from 1; and the names
    of steps that were told where they stand, such as `step-9 roomy`, each with 1.
    """

    pdf: bytes
    pages: int
    numbers: Mapping[str, int]
    complaints: tuple[Complaint, ...] = ()


class _Stand(NamedTuple):
    """How far a section is: with the numbers it shows, its pages, and what they are drawn from.

    `laid` is None where the pages came from memory, or are only guessed.
    """

    section: Section
    pressed: Pressed
    laid: Laid | None = None
    guessed: bool = False


Cache = MutableMapping[str, object]


def press_book(
    sections: Sequence[Section],
    info: BookInfo,
    fence: Fence,
    *,
    foot: Foot | None = None,
    cache: Cache | None = None,
    guess: Mapping[str, int] | None = None,
) -> Booklet:
    """Return the booklet made of `sections`, in order.

    `cache`: any mapping that outlives the build; editions may share one.  `guess`: page numbers
    that are probably right; what is pressed is right even if they are not.  Raises `ValueError`
    for two sections with one key.
    """
    if len({section.key for section in sections}) != len(sections):
        raise ValueError("two sections have the same key")
    memory: Cache = {} if cache is None else cache
    pressed, numbers, settled = _press_until_settled(sections, fence, memory, guess or {})
    pairs = list(zip(sections, pressed, strict=True))
    complaints = [c for p in pressed for c in _complaints(p)]
    complaints += _lost(sections, pairs, numbers)
    if not settled:
        complaints.append(Complaint("", "the page numbers do not settle"))
    feet_pdf = b""
    if foot is not None and pressed:
        pages = [(p.key, width, height) for p in pressed for width, height in p.sizes]
        tops = frozenset().union(*(p.tops for p in pressed))
        strip = feet_section(foot, pages, sections[0].base, numbers, tops)
        feet = _draw(_laid(strip, fence, memory, tagged=False), strip, fence, memory)
        complaints += _complaints(feet)
        feet_pdf = feet.pdf
    total = sum(p.pages for p in pressed)
    return Booklet(join(pairs, info, feet_pdf), total, numbers, tuple(complaints))


def unnumbered(sections: Iterable[Section]) -> list[Section]:
    """Return those that are laid out first with stand-ins for page numbers, as they then are.

    Always with the same ones, so that no guess changes a booklet.
    """
    return [numbered(section, {}) for section in sections if STANDS in section.html]


def press_kept(section: Section, fence: Fence, memory: Cache) -> Pressed:
    """Return one section pressed, from memory where nothing it depends on has changed."""
    return _draw(_laid(section, fence, memory), section, fence, memory)


def numbered(section: Section, numbers: Mapping[str, int]) -> Section:
    """Return a section with the page numbers that it shows filled in, and its steps told."""
    return replace(section, html=told(fill_page_numbers(section.html, numbers), numbers))


def number_pages(pressed: Iterable[Pressed]) -> dict[str, int]:
    """Return the page of the book, counted from 1, of each section key and anchor."""
    numbers: dict[str, int] = {}
    before = 0
    for part in pressed:
        for anchor, page in ((part.key, 1), *part.anchors.items()):
            numbers.setdefault(anchor, before + page)
        before += part.pages
    return numbers


def _press_until_settled(
    sections: Sequence[Section], fence: Fence, memory: Cache, guess: Mapping[str, int]
) -> tuple[list[Pressed], dict[str, int], bool]:
    """Return the pages of every section, the page numbers, and whether they are sure."""
    stands = {section.key: _guessed(section) for section in sections}
    where: dict[str, int] = {}
    for section in unnumbered(sections):
        bare = _laid(section, fence, memory)
        where |= dict.fromkeys(bare.pressed.stands, 1)
        if not bare.pressed.stands:
            stands[section.key] = bare
    likely = {name: page for name, page in guess.items() if " " not in name}
    numbers = {**(likely or _numbers(stands)), **where}
    settled = False
    for _ in range(ROUNDS):
        anew = 0
        for section in sorted(sections, key=lambda each: bool(anchors_wanted(each.html))):
            filled = numbered(section, numbers)
            if not _holds(stands[section.key], filled):
                stands[section.key] = laid = _laid(filled, fence, memory)
                where |= {n: 1 for n in laid.pressed.stands if told_later(n)}
                anew += 1
            if not guess:
                numbers = {**_numbers(stands), **where}
        numbers = {**_numbers(stands), **where}
        if not anew:
            settled = True
            break
    pressed = [
        _draw(stands[section.key], numbered(section, numbers), fence, memory)
        for section in sections
    ]
    return pressed, numbers, settled


def _numbers(stands: Mapping[str, _Stand]) -> dict[str, int]:
    return number_pages(stand.pressed for stand in stands.values())


def _guessed(section: Section) -> _Stand:
    """A section before it is laid out: how long it will be, and what stands on which page."""
    html = without_drawings(section.html)
    anchors = {name: at // ON_A_PAGE + 1 for name, at in anchors_in(html).items()}
    sizes = ((0.0, 0.0),) * (len(html) // ON_A_PAGE + 1)
    return _Stand(section, Pressed(section.key, b"", sizes, anchors), guessed=True)


def _holds(stand: _Stand, filled: Section) -> bool:
    """Say whether a section stands as it should with the page numbers of `filled`."""
    if stand.guessed or not told_alike(stand.section.html, filled.html):
        return False  # not laid out yet, or before something was set sooner or tighter
    return stand.section == filled or bool(stand.laid and takes_numbers(stand.laid, filled))


def _laid(section: Section, fence: Fence, memory: Cache, *, tagged: bool = True) -> _Stand:
    """Return a section laid out, from memory where nothing it depends on has changed."""
    kept = memory.get(section_key(section, fence))
    if isinstance(kept, Pressed) and _fresh(kept):
        return _Stand(section, kept)
    laid = lay_out_section(section, fence, tagged=tagged)
    keep(laid.pressed, section, fence, memory)
    return _Stand(section, laid.pressed, laid)


def _draw(stand: _Stand, section: Section, fence: Fence, memory: Cache) -> Pressed:
    """Return the pages of a section that stands, with the page numbers of `section`."""
    kept = memory.get(section_key(section, fence))
    if isinstance(kept, Pressed) and kept.pdf and _fresh(kept):
        return put_on(kept, section.paper)
    laid = stand.laid or lay_out_section(section, fence)
    pressed = draw_section(laid, section)
    keep(pressed, section, fence, memory)
    return put_on(pressed, section.paper)


def keep(pressed: Pressed, section: Section, fence: Fence, memory: Cache) -> None:
    """Remember what came of a section, on the paper it was drawn on, unless something is wrong."""
    if not pressed.refusals and not pressed.complaints:
        memory[section_key(section, fence)] = pressed


def _fresh(kept: Pressed) -> bool:
    """Say whether every file that a pressed section was made from is still the same."""
    return all(
        path.is_file() and digest(path.read_bytes()) == mark for path, mark in kept.reads.items()
    )


def _complaints(pressed: Pressed) -> list[Complaint]:
    refused = [Complaint(pressed.key, r.reason, r.url) for r in pressed.refusals]
    return refused + [Complaint(pressed.key, text) for text in pressed.complaints]


def _lost(
    sections: Sequence[Section],
    pairs: Sequence[tuple[Section, Pressed]],
    numbers: Mapping[str, int],
) -> list[Complaint]:
    """Return a complaint for each place that is asked for and nowhere, or is there twice."""
    lost = [
        Complaint(section.key, f"no page number: there is no place called {anchor}")
        for section in sections
        for anchor in anchors_wanted(section.html)
        if anchor not in numbers
    ]
    seen = Counter(anchor for _, pressed in pairs for anchor in pressed.anchors)
    twice = [f"two places are called {anchor}" for anchor, times in seen.items() if times > 1]
    links = [f"a link leads nowhere: there is no place called {a}" for a in missing_anchors(pairs)]
    return lost + [Complaint("", text) for text in (*twice, *links)]

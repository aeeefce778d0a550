"""The running head and foot of every page: "Steps 4 to 6"; title, version, date, "page 3 of 24".

In: their words, the size and section of each page, and the page of each place.  Out: one page per
page of the booklet that carries nothing but its head and foot, and a way to print these over the
booklet.  They are the only thing on a page that changes whenever any other section grows; pressed
apart, they leave every section as it was.  A theme styles them as ordinary HTML:

    <div class="sheet sheet-plan"><p class="running">Steps 4 to 6</p><div class="foot">
      <span class="foot-left">…</span> <span class="foot-right">page 3 of 24</span></div></div>
"""

from __future__ import annotations

import io
from collections.abc import Collection, Iterator, Mapping, Sequence
from copy import copy
from dataclasses import dataclass
from html import escape
from itertools import groupby
from pathlib import Path

from markupsafe import Markup
from pikepdf import Array, Dictionary, Name, Pdf

from patternpress.booklet.press import Section

KEY = "running feet"
_CSS = """
html, body, .sheet { margin: 0; padding: 0 }
.sheet { position: relative; break-after: page; overflow: hidden }
.sheet:last-child { break-after: auto }
.running { position: absolute; left: 15mm; right: 15mm; top: 9mm; margin: 0; font-size: 8pt }
.foot { position: absolute; left: 15mm; right: 15mm; bottom: 9mm; display: flex;
  justify-content: space-between; font-size: 8pt }
"""


@dataclass(frozen=True)
class HeadMark:
    """A place that the running head may name: a part by its `title`, or a step by its number.

    `minor`: a part that no one leafs for, such as the contents; it gives way to the others.
    """

    anchor: str
    title: str
    step: str = ""
    minor: bool = False


@dataclass(frozen=True)
class HeadWords:
    """What the running head says of one step (`{number}`), of two, of more (`{first}`, `{last}`),

    and of a step that goes on from the page before.
    """

    one: str = "{number}"
    two: str = "{first}, {last}"
    more: str = "{first} – {last}"
    on: str = "{number}"


@dataclass(frozen=True)
class Foot:
    """The words of foot and head.  `{page}` and `{pages}` are filled in; what is not markup is

    escaped.  `css`: the theme's own; `marks`: what the head may name, in the order of the pages;
    `most`: how many letters it has room for.
    """

    left: str
    right: str
    css: tuple[str, ...] = ()
    marks: tuple[HeadMark, ...] = ()
    head: HeadWords = HeadWords()
    most: int = 100


def feet_section(
    foot: Foot,
    pages: Sequence[tuple[str, float, float]],
    base: Path,
    numbers: Mapping[str, int] | None = None,
    tops: Collection[str] = (),
) -> Section:
    """Return the section that holds all heads and feet.

    `pages`: for each page of the booklet the key of its section, its width and height in points;
    `numbers`: the page of each place, without which no head is set; `tops`: the places at the head
    of their page.
    """
    sizes = list(dict.fromkeys((width, height) for _, width, height in pages))
    rules = [
        f"@page s{n} {{ size: {w:.6g}pt {h:.6g}pt; margin: 0 }}"
        f" .s{n} {{ page: s{n}; width: {w:.6g}pt; height: {h:.6g}pt }}"
        for n, (w, h) in enumerate(sizes)
    ]
    sheets = "".join(
        f'<div class="sheet s{sizes.index((w, h))} sheet-{escape(key)}">'
        f"{_head(running_head(foot, number, numbers or {}, tops))}"
        f'<div class="foot"><span class="foot-left">{_words(foot.left, number, len(pages))}</span> '
        f'<span class="foot-right">{_words(foot.right, number, len(pages))}</span></div></div>'
        for number, (key, w, h) in enumerate(pages, start=1)
    )
    html = f'<!doctype html><html lang="en"><title>feet</title><body>{sheets}</body></html>'
    return Section(KEY, KEY, html, (_CSS, *foot.css, "\n".join(rules)), base, in_contents=False)


def running_head(
    foot: Foot, page: int, numbers: Mapping[str, int], tops: Collection[str] = ()
) -> str:
    """Return what the head of a page says: the parts and steps that are on it.

    What goes on from the page before comes first, unless the first that begins here stands at the
    head of the page (`tops`).  Where nothing begins, it is all there is.  Where there is no room
    for all, minor parts are left out first, then what only goes on; then what begins is named,
    from the first, as far as there is room.
    """
    known = [mark for mark in foot.marks if mark.anchor in numbers]
    here = [mark for mark in known if numbers[mark.anchor] == page]
    before = [mark for mark in known if numbers[mark.anchor] < page][-1:]
    if not here:
        return "".join(
            foot.head.on.format(number=last.step) if last.step else last.title for last in before
        )
    goes_on = () if here[0].anchor in tops else before
    major = [mark for mark in here if not mark.minor] or here
    fewer = [major[:count] for count in range(len(major), 0, -1)]
    sets = ([*goes_on, *here], [*goes_on, *major], here, *fewer)
    tries = [" · ".join(_named(foot, marks)) for marks in sets]
    said = [words for words in tries if words]
    return next((words for words in said if len(words) <= foot.most), "".join(said[-1:]))


def _named(foot: Foot, marks: Sequence[HeadMark]) -> Iterator[str]:
    """Name marks in order; steps together, and then without the title of their part."""
    for stepped, group in groupby(_untitled(marks), key=lambda mark: bool(mark.step)):
        several = list(group)
        first, last = several[0].step, several[-1].step
        if not stepped:
            yield from (mark.title for mark in several if mark.title)
        elif len(several) == 1:
            yield foot.head.one.format(number=first)
        else:
            words = foot.head.two if len(several) == 2 else foot.head.more
            yield words.format(first=first, last=last)


def _untitled(marks: Sequence[HeadMark]) -> Iterator[HeadMark]:
    """Leave out the title of a part whose first step begins on the same page."""
    for mark, after in zip(marks, (*marks[1:], None), strict=True):
        if mark.step or after is None or not after.step:
            yield mark


def _head(words: str) -> str:
    return f'<p class="running">{escape(words)}</p>' if words else ""


def _words(words: str, page: int, pages: int) -> str:
    return str(Markup.escape(words)).replace("{pages}", str(pages)).replace("{page}", str(page))


def stamp(book: Pdf, feet_pdf: bytes) -> None:
    """Print each foot over its page, as a footer artifact (ISO 32000-1, 14.8.2.2).

    Raises `ValueError` if there is not one foot for each page.
    """
    source = Pdf.open(io.BytesIO(feet_pdf))
    if len(source.pages) != len(book.pages):
        raise ValueError(f"{len(source.pages)} feet for {len(book.pages)} pages")
    keep = book.make_stream(b"q\n")
    for page, foot in zip(book.pages, source.pages, strict=True):
        form = book.copy_foreign(foot.as_form_xobject())
        # The pages of a section share one dictionary of resources; each foot is one page's own.
        resources = copy(page.obj.Resources)
        resources.XObject = copy(resources.XObject) if Name.XObject in resources else Dictionary()
        resources.XObject.Foot = form
        page.obj.Resources = resources
        marks = b"\nQ /Artifact << /Type /Pagination /Subtype /Footer >> BDC /Foot Do EMC\n"
        page.obj.Contents = Array([keep, page.obj.Contents, book.make_stream(marks)])

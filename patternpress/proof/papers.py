"""The file and its sheets: what any reader, printer or buyer may count on.

In: a `Booklet`.  Out: findings and counts.  Paper sizes: ISO 216 and ASME Y14.1; keys: ISO 32000-1.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from patternpress.proof.amounts import groups_of, plain
from patternpress.proof.drawings import measured_by
from patternpress.proof.findings import Counted, Judged, finding
from patternpress.proof.marks import Box, Page, Words, tag_of
from patternpress.proof.reading import Booklet
from patternpress.proof.rows import rows_of
from patternpress.proof.unitnames import names_in

CONTRACT = "1"
PAPERS = ((210.0, 297.0), (215.9, 279.4))  # A4 (ISO 216:2007), Letter (ASME Y14.1, ANSI A)
# A sheet in whole points is up to 0.1 mm out, which is neither here nor there.
SHEET_OUT = 0.15
SPARSE = 3  # marks: a page with fewer is hardly worth its paper


@cache
def page_said(language: str) -> re.Pattern[str]:
    """What finds “page 7” in the languages that have words; no other number is that of a page.

    A part may be called so as well: in the cutting list, “2 Seite 42 × 25 mm” are two sides.
    """
    units = names_in(language).known
    return re.compile(
        rf"(?<!\d )\b(?:page|seite)\s*(\d+)\b(?!\s*(?:×|(?:{units})(?!\w))|[.,/]\d)",
        re.IGNORECASE,
    )


def contract(booklet: Booklet) -> Iterator[Judged]:
    """Is the file one that says what its lines are, and is it as it was built?"""
    if booklet.info.get("PatternContract") != CONTRACT:
        yield finding("no-contract")
        return
    if booklet.info.get("PatternSeal") != booklet.seal:
        yield finding("seal-broken")
    yield Counted("pages that are as they were built", len(booklet.pages))


def sheets(booklet: Booklet) -> Iterator[Judged]:
    """Paper, boxes, and content that can be drawn."""
    first = booklet.pages[0] if booklet.pages else None
    for page in booklet.pages:
        for why in page.problems:
            yield finding("content-damaged", page.number, why=why)
        why = _wrong_sheet(page, first)
        if why:
            yield finding("page-size", page.number, width=page.width, height=page.height, why=why)
    if booklet.print_scaling != "/None":
        yield finding("print-scaling", found=booklet.print_scaling or "nothing")
    yield Counted("sheets of the right size, to be printed without scaling", len(booklet.pages))


def one_printer(booklet: Booklet) -> Iterator[Judged]:
    """Every page of a set for one printer says which: in the band at its head and in its foot.

    The figures are looked for, not the words, which are in any language.
    """
    measured = measured_by(booklet)
    if measured is None:
        yield finding("printer-unknown", said=booklet.info.get("PatternPrinter", ""))
        return
    wanted = " × ".join(f"{float(each):g}" for each in measured) + " mm"
    for page in booklet.pages:
        text = " ".join(row.text for row in rows_of(page.words))
        said = sum(
            tuple(each.mm for each in group) == measured
            for group in groups_of(text, booklet.language)
        )
        if said < 2:
            yield finding("printer-unsaid", page.number, wanted=wanted)
    yield Counted("pages that say for which printer they are", len(booklet.pages))


def _wrong_sheet(page: Page, first: Page | None) -> str:
    known = any(
        abs(page.width - width) <= SHEET_OUT and abs(page.height - height) <= SHEET_OUT
        for width, height in PAPERS
    )
    if not known:
        return "neither A4 nor Letter"
    if first and (abs(page.width - first.width) > 0.01 or abs(page.height - first.height) > 0.01):
        return "not that of the other pages"
    whole = page.boxes["MediaBox"]
    for name, box in page.boxes.items():
        if any(abs(one - two) > 0.01 for one, two in zip(box, whole, strict=True)):
            return f"cut down by its {name}"
    return ""


def blank_pages(booklet: Booklet) -> Iterator[Judged]:
    """Pages that carry nothing but ornament."""
    for page in booklet.pages:
        tags = [each.tags for each in page.lines] + [each.tags for each in page.words]
        marks = [each for each in tags if tag_of(each, "Artifact") is None]
        if not marks and not page.images:
            yield finding("page-blank", page.number)


def numbers(booklet: Booklet) -> Iterator[Judged]:
    """The foot of each page but the cover says its number and how many there are."""
    total = len(booklet.pages)
    for page in booklet.pages[1:]:
        foot = plain(" ".join(row.text for row in rows_of(_foot(page))))
        found = re.search(r"(\d+)\D+(\d+)$", foot)
        if not found or (int(found[1]), int(found[2])) != (page.number, total):
            said = found[0] if found else foot
            yield finding("page-number", page.number, said=said, number=page.number, pages=total)
    yield Counted("page numbers", max(0, total - 1))


def _foot(page: Page) -> Iterator[Words]:
    for words in page.words:
        tag = tag_of(words.tags, "Artifact")
        if tag is not None and tag.facts.get("Subtype") == "Footer":
            yield words


def fonts(booklet: Booklet) -> Iterator[Judged]:
    """Every letter's shape is in the file, and what it means."""
    for name in sorted({font.name for font in booklet.fonts if not font.embedded}):
        yield finding("font-missing", font=name)
    for page in booklet.pages:
        for words in page.words:
            if "\ufffd" in words.text:
                yield finding("letters-unreadable", page.number, text=words.text)
    yield Counted("fonts in the file", len(booklet.fonts))


def descriptions(booklet: Booklet) -> Iterator[Judged]:
    """Every picture is described, for those who cannot see it."""
    figures = [each for each in booklet.elements if each.kind == "Figure"]
    if not booklet.tagged or not booklet.elements:
        yield finding("not-tagged")
    for each in figures:
        if len(each.described.split()) < 2:
            yield finding("figure-undescribed", each.page)
    yield Counted("described pictures", len(figures))


def links(booklet: Booklet) -> Iterator[Judged]:
    """Links lead to places of the booklet and nowhere else; nothing happens by itself."""
    for link in booklet.links:
        if link.kind in ("outside", "action"):
            yield finding("link-outside", link.page, target=link.target)
        elif link.kind == "nowhere":
            yield finding("link-lost", link.page, target=link.target or "no place")
    for what in booklet.actions:
        yield finding("action-found", what=what)
    yield Counted("links", len(booklet.links))


def references(booklet: Booklet) -> Iterator[Judged]:
    """The contents, and “page 7” wherever it is said, name pages that are there."""
    count = 0
    for number, title, on in _entries(booklet):
        count += 1
        there = booklet.pages[number - 1].text if 1 <= number <= len(booklet.pages) else ""
        if _squeezed(title) not in _squeezed(there):
            yield finding("contents-wrong", on, number=number, title=title)
    total = len(booklet.pages)
    for page in booklet.pages[1:]:
        words = [each.text for each in page.words if tag_of(each.tags, "Artifact") is None]
        for said in page_said(booklet.language).findall(plain(" ".join(words))):
            if not 1 <= int(said) <= total:
                yield finding("page-unknown", page.number, said=said, pages=total)
    yield Counted("entries of the contents", count)
    yield from _pages_said(booklet)


def _pages_said(booklet: Booklet) -> Iterator[Judged]:
    """A link that says a page leads to that page."""
    count = 0
    for link in booklet.links:
        text = plain(" ".join(_words_in(booklet.pages[link.page - 1], link.box)))
        for said in page_said(booklet.language).findall(text) if link.leads_to else ():
            count += 1
            if int(said) != link.leads_to:
                yield finding("page-wrong", link.page, text=text, number=link.leads_to)
    yield Counted("pages named in the text", count)


def _words_in(page: Page, box: Box) -> Iterator[str]:
    left, low, right, high = box
    for words in page.words:
        x, y = words.at
        if left - 0.3 <= x <= right and low <= y <= high:
            yield words.text


def _entries(booklet: Booklet) -> Iterator[tuple[int, str, int]]:
    """Yield page number and title of each line of the contents, and the page it stands on.

    The number follows its title; what stands before a title is the number of a step.
    """
    title, ended = "", True
    for each in booklet.elements:
        if each.page not in booklet.sections.get("contents", ()):
            continue
        number = each.text.strip()
        if each.kind == "Link":  # one for each line that a title, or a sentence, runs over
            title, ended = each.text if ended else f"{title} {each.text}", False
        elif title and number.isdigit() and not ended:
            ended = True
            if not page_said(booklet.language).search(plain(title)):
                yield int(number), title, each.page
            title = ""


def _squeezed(text: str) -> str:
    return "".join(plain(text).split())


def imprint(booklet: Booklet) -> Iterator[Judged]:
    """Licence and version are printed where a buyer looks for them."""
    last = _squeezed(booklet.text_of("imprint"))
    licence = booklet.info.get("Subject", "")
    if licence and _squeezed(licence) not in last:
        yield finding("licence-missing", booklet.places.get("imprint", 0))
    version = booklet.info.get("PatternVersion", "")
    if _squeezed(version) not in last:
        yield finding("version-missing", version=version, where="on the last pages")
    for page in booklet.pages[1:]:
        foot = plain(" ".join(row.text for row in rows_of(_foot(page))))
        if not re.search(rf"(?<![\w.]){re.escape(version)}(?![\w.]\w)", foot):
            where = "at the foot of the page"
            yield finding("version-missing", page.number, version=version, where=where)


def unsaid(booklet: Booklet) -> Iterator[Judged]:
    """What a buyer may miss; warnings, for the author may mean it so."""
    if not booklet.info.get("Subject"):
        yield finding("licence-unsaid")
    for page in booklet.pages[1:]:
        words = [each for each in page.words if tag_of(each.tags, "Artifact") is None]
        pictures = any(tag_of(each.tags, "Figure") for each in page.lines) or page.images
        if 0 < len(words) < SPARSE and not pictures:
            yield finding("page-sparse", page.number)

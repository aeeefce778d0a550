"""Build an edition: the booklet and the lists beside it.

In: a sound `Reading`, the name of an edition, a folder.  Out: files, each written whole or not
at all: ``<design>-<edition>.pdf``, ``-cutting-list.txt`` and ``.csv``, ``-cutting-layouts.txt``,
``-bench-plan.txt`` where there are steps, and ``-shop-text.txt``.
"""

from __future__ import annotations

import contextlib
import gc
from collections.abc import Iterator, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

from markupsafe import Markup

from patternpress.assembly.facts import digest, digest_of
from patternpress.assembly.model import Model
from patternpress.assembly.plan import bench_plan
from patternpress.booklet.compose import A4, LETTER, PageStyle, compose, running_foot
from patternpress.booklet.content import Content
from patternpress.booklet.cutfiles import cut_files
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fill import FIRST_DAY, content_of, corrected_content
from patternpress.booklet.join import BookInfo
from patternpress.booklet.laidtext import layouts_text
from patternpress.booklet.lists import as_columns, as_csv, as_text
from patternpress.booklet.photographs import PhotographError
from patternpress.booklet.plantext import bench_text
from patternpress.booklet.press import Section
from patternpress.booklet.pressroom import Booklet, press_book
from patternpress.booklet.shoptext import fractions_whole, shop_text
from patternpress.booklet.themes import ThemeError, load_theme
from patternpress.booklet.typeset import typeset_text
from patternpress.booklet.wording import wording_of
from patternpress.booklet.writing import write_whole
from patternpress.closing.close import close
from patternpress.closing.facts import closed_facts
from patternpress.cutting.layouts import Layout, layouts
from patternpress.design.read import Reading
from patternpress.measure.inches import MM_PER_INCH
from patternpress.measure.printers import Correction

Cache = MutableMapping[str, Any]
_SWEEP_AFTER = 50_000  # objects made
PAPERS = {"A4": A4, "Letter": LETTER, "A4 and Letter": A4}


class PressError(Exception):
    """The pages could not be pressed as they are: what the press complained of, one a line."""


@contextlib.contextmanager
def few_sweeps() -> Iterator[None]:
    """Let Python look for rings of dead objects seldom while the block runs.

    A build makes hundreds of thousands of objects that live until it ends; sweeping them again
    and again took a tenth of its time, and frees next to nothing (measured).
    """
    before = gc.get_threshold()
    gc.set_threshold(max(before[0], _SWEEP_AFTER) if before[0] else 0, *before[1:])
    try:
        yield
    finally:
        gc.set_threshold(*before)


@dataclass(frozen=True)
class Made:
    """One edition, made but not yet written: file names, what goes into them, and its facts."""

    files: tuple[tuple[str, bytes], ...]
    pages: int
    facts: Mapping[str, Any]

    @property
    def pdf(self) -> bytes:
        """The booklet."""
        return self.files[0][1]


def page_style(model: Model) -> PageStyle:
    """Paper and letters of an edition."""
    base = PAPERS.get(model.edition.paper, A4)
    letters = "large" if model.edition.letters == "large" else "normal"
    return PageStyle(Fraction(base.width), Fraction(base.height), letters, model.edition.ink)


def sections_of(model: Model) -> tuple[Section, ...]:
    """The composed sections of an edition."""
    return compose(content_of(model), load_theme(model.edition.theme), page_style(model))


def press_model(model: Model, *, cache: Cache | None = None, unproved: bool = False) -> Booklet:
    """The booklet of a model.  Raises PressError when the press complains.

    `unproved`: its last pages say that nobody measured it.
    """
    with few_sweeps():
        content = _content(model, cache, layouts(model, cache), unproved)
        return _pressed(model, content, cache, _Job(unproved))


def press_content(
    model: Model,
    content: Content,
    cache: Cache | None = None,
    sections: tuple[Section, ...] | None = None,
    guess: Mapping[str, int] | None = None,
) -> Booklet:
    """The booklet of a content that is filled already, and perhaps composed into `sections`.

    `guess`: see `press_book`.

    Raises PressError as `press_model` does.
    """
    with few_sweeps():
        return _pressed(model, content, cache, _Job(sections=sections, guess=guess))


def _content(model: Model, cache: Cache | None, laid: Sequence[Layout], unproved: bool) -> Content:
    try:
        content = content_of(model, cache, laid)
    except PhotographError as error:
        raise PressError(f"a photograph: {error.reason}") from None
    return _owning_up(content, model) if unproved else content


def _owning_up(content: Content, model: Model) -> Content:
    """The content with a word on its last pages that nobody measured the booklet."""
    said = wording_of(model).say("unproved")
    statements = (said, *content.imprint.statements)
    return replace(content, imprint=replace(content.imprint, statements=statements))


@dataclass(frozen=True)
class _Job:
    """What is asked of the press: all sections, or `only` that of a key; `sections` where they
    are composed already; page numbers to begin with.
    """

    unproved: bool = False
    only: str = ""
    printer: str = ""
    identifier: str = ""
    sections: tuple[Section, ...] | None = None
    guess: Mapping[str, int] | None = None


def _pressed(model: Model, content: Content, cache: Cache | None, job: _Job) -> Booklet:
    """Press the sections of some content that the job asks for."""
    style = page_style(model)
    try:
        theme = load_theme(model.edition.theme)
        sections = compose(content, theme, style) if job.sections is None else job.sections
    except ThemeError as error:
        raise PressError(str(error)) from None
    book = model.worked.book
    info = BookInfo(
        title=typeset_text(content.cover.title),
        author=str(book.author.called.value) if book.author else "",
        language=model.edition.language,
        version=content.cover.version,
        date=book.date.value if book.date else FIRST_DAY,
        licence=" ".join(Markup(each).striptags() for each in content.imprint.licence),
        keywords=(str(content.cover.edition),),
        identifier=job.identifier or digest(model),
        edition=model.edition.name,
        rounding=_rounding(model),
        brackets=_brackets(model),
        unproved=job.unproved,
        printer=job.printer,
    )
    booklet = press_book(
        tuple(each for each in sections if job.only in ("", each.key)),
        info,
        Fence((theme.folder,)),
        foot=running_foot(content, theme, style),
        cache=cache,
        guess=job.guess,
    )
    if booklet.complaints:
        raise PressError("\n".join(f"{each.section}: {each.text}" for each in booklet.complaints))
    return booklet


def _rounding(model: Model) -> str:
    edition = model.edition
    return f"{edition.mm_step} mm, 1/{edition.denominator} in"


def _brackets(model: Model) -> str:
    edition = model.edition
    if edition.second_step is None:
        return ""
    second = edition.display.second
    return (
        f"{edition.second_step / MM_PER_INCH if second == 'in' else edition.second_step} {second}"
    )


def make_edition(
    reading: Reading,
    edition: str,
    *,
    cache: Cache | None = None,
    unproved: bool = False,
) -> Made:
    """Make one edition of a sound design in memory.

    `cache`: a mapping that the editions of a design share, so that what is alike in them is
    drawn and pressed once.  `unproved`: see `press_model`.  Raises KeyError for an unknown
    edition, UnclosedError when its figures cannot add up, PressError when the pages cannot be
    pressed.
    """
    name = f"{_stem(reading)}-{edition}"
    with few_sweeps():
        closed = close(reading, edition)
        model, known = closed.model, closed_facts(closed)
        laid = layouts(model, cache)
        content = _content(model, cache, laid, unproved)
        booklet = _pressed(model, content, cache, _Job(unproved, identifier=digest_of(known)))
    return Made(
        (
            (f"{name}.pdf", booklet.pdf),
            *((f"{name}-{end}", text.encode()) for end, text in _texts(model, content, laid)),
        ),
        booklet.pages,
        known,
    )


def _texts(model: Model, content: Content, laid: Sequence[Layout]) -> Iterator[tuple[str, str]]:
    """The lists that lie beside the booklet, by the ends of their files' names."""
    wording = wording_of(model)
    yield "cutting-list.txt", fractions_whole(as_text(wording))
    yield "cutting-list-columns.txt", as_columns(wording)
    # Spreadsheets take a file for UTF-8 only where this sign stands first; else × and ° are lost.
    yield "cutting-list.csv", "\ufeff" + as_csv(wording)
    cuts = layouts_text(content.cover.title, laid, wording)
    yield "cutting-layouts.txt", fractions_whole(cuts)
    planned = bench_text(content.cover.title, bench_plan(model.worked), content.plan, wording)
    if planned:
        yield "bench-plan.txt", fractions_whole(planned)
    yield "shop-text.txt", fractions_whole(shop_text(content, wording.phrases))


def make_corrected(
    reading: Reading, edition: str, correction: Correction, *, unproved: bool = False
) -> Made:
    """Make the templates of an edition for one printer, and nothing else, in memory.

    They stretch what that printer shrinks; file name, title, foot and a band on every page say so.
    Raises as `make_edition` does, and PressError for a design without templates.
    """
    closed = close(reading, edition)
    model, known = closed.model, closed_facts(closed)
    measured = f"{float(correction.across):g}x{float(correction.up):g}"
    content = corrected_content(model, correction)
    if not content.templates:
        raise PressError("no part has a template")
    with few_sweeps():
        booklet = _pressed(
            model, content, None, _Job(unproved, "templates", measured, digest_of(known))
        )
    name = f"{_stem(reading)}-{edition}-templates-for-printer-{measured}.pdf"
    return Made(((name, booklet.pdf),), booklet.pages, known)


def build_edition(
    reading: Reading, edition: str, out: Path, *, cache: Cache | None = None
) -> tuple[Path, ...]:
    """Make one edition and write its files; returns their paths.  `cache`: see `make_edition`."""
    made = make_edition(reading, edition, cache=cache)
    return tuple(write_whole(out / name, data) for name, data in made.files)


def build_corrected(
    reading: Reading, edition: str, out: Path, correction: Correction
) -> tuple[Path, ...]:
    """Make the templates of one edition for one printer; returns the path of their file."""
    made = make_corrected(reading, edition, correction)
    return tuple(write_whole(out / name, data) for name, data in made.files)


def build_cut_files(
    reading: Reading, edition: str, out: Path, kerf: Fraction = Fraction(0)
) -> tuple[Path, ...]:
    """Write an edition's files for cutters into a folder of their own; returns their paths.

    Raises PressError if the kerf, in mm, leaves nothing of a part.
    """
    folder = out / f"{_stem(reading)}-{edition}"
    try:
        files = tuple(cut_files(close(reading, edition).model, kerf))
    except ValueError as error:
        raise PressError(str(error)) from None
    return tuple(write_whole(folder / name, data) for name, data in files)


def _stem(reading: Reading) -> str:
    return Path(reading.sources[0][0]).stem

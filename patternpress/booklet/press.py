"""Press one section: from HTML to pages.

In: a `Section` (HTML, stylesheets) and a `Fence`.  Out: a `Pressed`: its PDF, the size of each
page, where each anchor stands, what files were read, and every complaint of the engine.  The same
section always gives the same bytes: no clock, no random order, no fonts of the computer.
A section that shows page numbers is laid out (`Laid`) before they are known, and drawn with them
later (`shownumbers`).  Pressing a whole booklet is in `pressroom`; putting sections together is in
`join`.
"""

from __future__ import annotations

import atexit
import contextlib
import gc
import hashlib
import logging
import os
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path

import weasyprint
from weasyprint.text.fonts import FontConfiguration

from patternpress.booklet.fetch import Fence, FencedFetcher, Refusal
from patternpress.booklet.fonts import font_css, font_roots
from patternpress.booklet.hyphens import mend_lists_for
from patternpress.booklet.inktags import keeping_tags
from patternpress.booklet.lineends import whole_lines
from patternpress.booklet.prepress import lift_drawings, own_spaces, send_links_abroad
from patternpress.booklet.shownumbers import numbers_fit, show_numbers
from patternpress.booklet.sooner import sooner
from patternpress.booklet.standing import filled, places, stands, tops
from patternpress.booklet.tightening import tightens

ENGINE = f"WeasyPrint {weasyprint.__version__}"
VARIANT = "pdf/ua-1"
_PT_PER_PX = 0.75
_NO_FONTS = (
    '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd"><fontconfig/>'
)


@dataclass(frozen=True)
class Section:
    """A stretch of the booklet that is pressed by itself.

    `key` names it in links and in page numbers (its first page); `html` is a whole document with
    `lang`; `css` are the texts of stylesheets; addresses are read from the folder `base`;
    `photographs` are JPEGs by their addresses, which are fingerprints of them.  Where a section
    holds several `parts`, each has a top heading and a line in the outline; `names` says what a
    place is called when a link leads to it.  `paper`: width and height, in points, of what its
    pages are put on once they are drawn (`onpaper`); None: as they are.  The two families
    of `fonts` are always there.
    """

    key: str
    title: str
    html: str
    css: tuple[str, ...]
    base: Path
    in_contents: bool = True
    photographs: Mapping[str, bytes] = field(default_factory=dict)
    parts: int = 1
    names: Mapping[str, str] = field(default_factory=dict)
    paper: tuple[float, float] | None = None


@dataclass(frozen=True)
class Pressed:
    """The pages of one section; `pdf` is empty if it was only laid out, to count its pages.

    `sizes`: width and height of each page in points; `anchors`: id -> page within the section,
    counted from 1; `tops`: those at the head of their page; `reads`: file -> fingerprint;
    `stands`, `places`: see `standing`.
    """

    key: str
    pdf: bytes
    sizes: tuple[tuple[float, float], ...]
    anchors: Mapping[str, int]
    refusals: tuple[Refusal, ...] = ()
    complaints: tuple[str, ...] = ()
    reads: Mapping[Path, str] = field(default_factory=dict)
    stands: tuple[str, ...] = ()
    tops: frozenset[str] = frozenset()
    places: Mapping[str, tuple[tuple[float, ...], ...]] = field(default_factory=dict)

    @property
    def pages(self) -> int:
        """How many pages the section has."""
        return len(self.sizes)


@dataclass(frozen=True)
class Laid:
    """A section laid out and not drawn yet.

    `pressed` lacks its PDF; the `document` is the engine's, with every box in its place;
    `variant` is the kind of PDF that it is drawn as.
    """

    section: Section
    pressed: Pressed
    document: weasyprint.Document
    variant: str | None
    fetcher: FencedFetcher
    look: _Look
    said: tuple[str, ...]


def press_section(section: Section, fence: Fence, *, tagged: bool = True) -> Pressed:
    """Return the pages of `section`, drawn.

    `tagged`: with the structure that a screen reader follows; False for mere ornament.  Raises
    `FontsMissingError` if the booklet's fonts are not installed.
    """
    return draw_section(lay_out_section(section, fence, tagged=tagged))


def lay_out_section(section: Section, fence: Fence, *, tagged: bool = True) -> Laid:
    """Return `section` with everything in its place, not drawn: three quarters of the time.

    `tagged` and what is raised: see `press_section`.
    """
    html, drawings = lift_drawings(send_links_abroad(section.html))
    html = own_spaces(html)
    fetcher = FencedFetcher(fence, drawings, section.photographs)
    look = _look(section.css, section.base, fence)
    variant = VARIANT if tagged else None
    with quiet_engine() as said, keeping_tags(), whole_lines():
        mend_lists_for(section.html)
        page = weasyprint.HTML(string=html, base_url=str(section.base), url_fetcher=fetcher)
        document = page.render(font_config=look.fonts, stylesheets=look.sheets, pdf_variant=variant)
    for sheet in document.pages:  # one link for each <a>, not one more for each box within
        sheet.links[:] = [link for link in sheet.links if link[-1].link]
    anchors: dict[str, int] = {}
    for number, sheet in enumerate(document.pages, start=1):
        for anchor in sheet.anchors:
            anchors.setdefault(anchor, number)
    sizes = tuple((p.width * _PT_PER_PX, p.height * _PT_PER_PX) for p in document.pages)
    # What is set sooner may save the page: only after that is anything set tighter.
    earlier = tuple(sooner(document.pages))
    tighter = () if earlier else tightens(document.pages, filled(document.pages))
    told = (*stands(document.pages), *earlier, *tighter)
    first = frozenset(tops(document.pages))
    where = places(document.pages)
    pressed = Pressed(section.key, b"", sizes, anchors, stands=told, tops=first, places=where)
    laid = Laid(section, pressed, document, variant, fetcher, look, tuple(said))
    return replace(laid, pressed=_answered(laid, b""))


def draw_section(laid: Laid, shown: Section | None = None) -> Pressed:
    """Return the pages of a section that was laid out; to be drawn once.

    `shown`: the section with other page numbers, where `takes_numbers` says that they fit.
    """
    with quiet_engine() as said, keeping_tags():
        if shown is not None:
            show_numbers(laid.document, shown.html)
        pdf = laid.document.write_pdf(pdf_variant=laid.variant)
    return _answered(laid, pdf, said)


def takes_numbers(laid: Laid, shown: Section) -> bool:
    """Say whether a section can show the page numbers of `shown` as it is laid out."""
    return numbers_fit(laid.document, shown.html)


def _answered(laid: Laid, pdf: bytes, said: Sequence[str] = ()) -> Pressed:
    """What came of a section so far, with the `pdf` and everything `said` while it was drawn."""
    refused = tuple(dict.fromkeys((*laid.look.refusals, *laid.fetcher.refusals)))
    heard = dict.fromkeys((*laid.look.complaints, *laid.said, *said))
    return replace(
        laid.pressed,
        pdf=pdf,
        refusals=refused,
        complaints=tuple(t for t in heard if not any(r.url in t for r in refused)),
        reads={**laid.look.reads, **laid.fetcher.reads},
    )


def section_key(section: Section, fence: Fence) -> str:
    """Return the fingerprint of everything that decides how `section` is pressed, but files."""
    settings = (ENGINE, font_css(), str(section.base), repr(fence))
    parts = (*settings, section.key, section.html, *section.css)
    mixed = hashlib.blake2b(digest_size=20)
    for part in parts:
        data = part.encode()
        mixed.update(len(data).to_bytes(8, "big") + data)
    return mixed.hexdigest()


@dataclass(frozen=True)
class _Look:
    """Stylesheets that were read, their fonts, and all that came of reading them."""

    fonts: FontConfiguration
    sheets: tuple[weasyprint.CSS, ...]
    refusals: tuple[Refusal, ...]
    complaints: tuple[str, ...]
    reads: Mapping[Path, str]


def _look(css: tuple[str, ...], base: Path, fence: Fence) -> _Look:
    """The look of a section.  Reading one takes as long as laying out a page, and the sections
    of a booklet share theirs; but a look that came with files is read afresh, for they change.
    """
    kept = _kept_look(css, base, fence)
    return _read_look(css, base, fence) if kept.reads else kept


@lru_cache(maxsize=8)
def _kept_look(css: tuple[str, ...], base: Path, fence: Fence) -> _Look:
    return _read_look(css, base, fence)


@atexit.register
def _forget_looks() -> None:
    """The engine keeps fonts in a folder until their last user is gone; Python, as it ends, does
    not tell what it still holds that it is gone, and 2 MB stayed behind after every build.
    """
    _kept_look.cache_clear()
    gc.collect()


def _read_look(css: tuple[str, ...], base: Path, fence: Fence) -> _Look:
    fetcher = FencedFetcher(fence, {})
    # Always, and past the fence: an engine without a single font does not complain, it crashes.
    faces = FencedFetcher(Fence(font_roots()), {})
    with quiet_engine() as said:
        fonts = FontConfiguration()
        weasyprint.CSS(string=font_css(), font_config=fonts, url_fetcher=faces)
        sheets = tuple(
            weasyprint.CSS(string=text, base_url=str(base), font_config=fonts, url_fetcher=fetcher)
            for text in css
        )
    return _Look(fonts, sheets, tuple(fetcher.refusals), tuple(said), dict(fetcher.reads))


@contextlib.contextmanager
def quiet_engine() -> Iterator[list[str]]:
    """Shut the computer's fonts and clock out, and listen to what the engine says.

    Yields the list of its warnings and errors, which grows while the block runs.  The two
    variables are read by the engine's C libraries and by fontTools; they are put back afterwards.
    """
    said: list[str] = []
    ear = _Ear(said)
    logger = logging.getLogger("weasyprint")
    with tempfile.TemporaryDirectory(prefix="press-") as folder:
        config = Path(folder) / "fonts.conf"
        config.write_text(_NO_FONTS, encoding="utf-8")
        before = {name: os.environ.get(name) for name in ("FONTCONFIG_FILE", "SOURCE_DATE_EPOCH")}
        os.environ.update(FONTCONFIG_FILE=str(config), SOURCE_DATE_EPOCH="0")
        logger.addHandler(ear)
        try:
            yield said
        finally:
            logger.removeHandler(ear)
            for name, value in before.items():
                if value is None:
                    del os.environ[name]
                else:
                    os.environ[name] = value


class _Ear(logging.Handler):
    """Writes down what the engine says, warnings and worse."""

    def __init__(self, said: list[str]) -> None:
        super().__init__(logging.WARNING)
        self._said = said

    def emit(self, record: logging.LogRecord) -> None:
        self._said.append(record.getMessage())

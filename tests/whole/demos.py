"""The demo designs, built once a session for all tests and all workers.

In: nothing; `designs/` is looked through when tests are collected.  Out: `Demo`s, the editions of
every design in it, and what was built of each: the PDF's path, the facts, the lists.
"""

from __future__ import annotations

import fcntl
import json
import re
import traceback
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2

from patternpress.assembly.model import edition_names
from patternpress.booklet.build import Cache, build_edition
from patternpress.booklet.themes import Theme, load_theme
from patternpress.closing.close import close
from patternpress.closing.facts import closed_facts
from patternpress.design.read import Reading, read_design
from patternpress.design.records.book import Book
from patternpress.design.span import Said

DESIGNS = Path(__file__).parents[2] / "designs"
SMALLER = DESIGNS / "smaller"
MM = 25.4 / 72  # one point in mm (ISO 32000-1, 8.3.2.3)
Place = tuple[int, float]  # a page, counted from 1, and how high up it, in points


THREE = ("metric", "inch", "both")  # the editions that are pressed in both themes


@dataclass(frozen=True)
class Demo:
    """One edition of a design of `designs/`, in the theme it asks for or in another."""

    design: Path
    edition: str
    theme: str = ""

    def __str__(self) -> str:
        name = f"{self.design.stem}-{self.edition}"
        return f"{name}-{self.theme}" if self.theme else name


def demos() -> list[Demo]:
    """Every edition of every file that holds a design rather than what designs share.

    Of translations, which differ from another edition in language alone, one of each language:
    `make booklet` builds and proves the others, `test_translations.py` looks for what they lack.
    """
    found: list[Demo] = []
    spoken: set[str] = set()
    for path in designs():
        book = read_design(path).book
        for name in edition_names(book) if book else ("unreadable",):
            language = translations(book).get(name, "") if book else ""
            if language not in spoken:
                found.append(Demo(path, name))
            spoken |= {language} - {""}
    return found


def smaller() -> list[Demo]:
    """The last edition of each smaller design; that of the cupboard is German."""
    found = []
    for path in sorted(SMALLER.glob("*.yaml")):
        book = read_design(path).book
        found.append(Demo(path, edition_names(book)[-1] if book else "unreadable"))
    return found


def thin_demos() -> list[Demo]:
    """Three editions of each design in the theme `rod`, which none of them asks for."""
    return [replace(each, theme="rod") for each in demos() if each.edition in THREE]


def designs() -> list[Path]:
    """Every file that holds a design."""
    every = sorted(DESIGNS.glob("*.yaml"))
    return [each for each in every if re.search(r"^design:", each.read_text("utf-8"), re.MULTILINE)]


def translations(book: Book) -> dict[str, str]:
    """The editions that say no more than whom they are like and their language."""
    found = {}
    for each in book.editions:
        name = each.name
        alone = replace(each, name=name, like=None, language=None)
        if each.language is not None and alone == type(each)(name=name):
            found[name.value] = each.language.value
    return found


@dataclass(frozen=True)
class Built:
    """A demo that lies built in a folder; what is read out of it is read once a process."""

    demo: Demo
    folder: Path

    @property
    def pdf(self) -> Path:
        """The booklet."""
        return self.folder / f"{self.demo.design.stem}-{self.demo.edition}.pdf"

    @property
    def theme(self) -> Theme:
        """The theme it is pressed in."""
        return load_theme(self._look[0])

    @property
    def letters(self) -> str:
        """The size of its letters: "normal" or "large"."""
        return self._look[1]

    @property
    def _look(self) -> list[str]:
        return (self.folder / "look").read_text("utf-8").split()

    @property
    def kept_free(self) -> tuple[float, float]:
        """What the theme keeps free for its running head and foot, in mm."""
        sizes = self.theme.sizes_for(self.letters)
        head, foot = (float(sizes[key].removesuffix("mm")) for key in ("head", "foot"))
        return head, foot

    @property
    def facts(self) -> dict[str, Any]:
        """The facts of the edition."""
        return read_facts(self.folder / f"{self.demo}.json")

    @property
    def texts(self) -> tuple[str, ...]:
        """The text of each page, as a reader would copy it."""
        return read_texts(self.pdf)

    @property
    def places(self) -> dict[str, int]:
        """The page of each named place, counted from 1."""
        return read_places(self.pdf)

    @property
    def tops(self) -> dict[str, Place]:
        """The page of each named place, counted from 1, and how high up it, in points."""
        return read_tops(self.pdf)

    def span(self, section: str) -> tuple[Place, Place]:
        """Where a section starts and ends: page and height up that page, in points."""
        tops = self.tops
        starts = sorted((tops[name] for name in SECTIONS if name in tops), key=_down)
        at = starts.index(tops[section])
        end = starts[at + 1] if at + 1 < len(starts) else (len(self.texts), 0.0)
        return tops[section], end

    def pages_of(self, section: str) -> range:
        """The pages of a section, counted from 1; sections may share one."""
        return self._pages(*self.span(section))

    def _pages(self, start: Place, end: Place) -> range:
        (first, _), (last, top) = start, end
        return range(first, last if last > first and top > self.head else last + 1)

    @property
    def head(self) -> float:
        """Above this height up a page, in points, nothing stands before what begins there."""
        paper = 279.4 if self.facts["edition"]["paper"] == "Letter" else 297.0
        return ((paper + LIVE) / 2 - AIR - self.kept_free[0]) / MM

    def text_of(self, section: str) -> str:
        """The text of a section, cut out of the pages that it shares."""
        return self.text_between(*self.span(section))

    def text_between(self, start: Place, end: Place) -> str:
        """The text from one place to another, heads and feet of the pages left out."""
        (first, top), (last, bottom) = start, end
        foot = self.head - (LIVE - AIR - self.kept_free[0] - FOOT) / MM
        return "\n".join(
            cut_text(
                self.pdf, page, bottom if page == last else foot, top if page == first else 1e4
            )
            for page in self._pages(start, end)
        )


SECTIONS = (
    "cover", "contents", "make", "cautions", "finishing", "needs", "print", "cutting", "layouts",
    "templates",
    "plan", "steps", "imprint",
)  # fmt: skip
LIVE = 259.4  # mm, what A4 and Letter have in common when 10 mm are kept clear
FOOT = 7.0  # mm, the running foot
AIR = 8.0  # mm below the running head: air above a heading


def _down(place: Place) -> Place:
    return place[0], -place[1]


def built(demo: Demo, shared: Path) -> Built:
    """Build a demo into a folder of its own, or find it built there by another worker."""
    folder = shared / "demos" / str(demo)
    folder.mkdir(parents=True, exist_ok=True)
    with (folder / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (folder / "done").exists():
            failure = _build(demo, folder)
            (folder / "done").write_text(failure, encoding="utf-8")
    failure = (folder / "done").read_text(encoding="utf-8")
    if failure:
        raise AssertionError(failure)
    return Built(demo, folder)


def _build(demo: Demo, folder: Path) -> str:
    """Build a demo; returns why it failed, so that each test need not fail by itself at length."""
    try:
        reading, kept = read_once(demo.design)
        reading = in_theme(reading, demo.theme) if demo.theme else reading
        build_edition(reading, demo.edition, folder, cache=kept)
    except Exception:
        return traceback.format_exc()
    closed = close(reading, demo.edition)
    text = json.dumps(closed_facts(closed))
    (folder / f"{demo}.json").write_text(text, encoding="utf-8")
    look = closed.model.edition
    (folder / "look").write_text(f"{look.theme} {look.letters}", encoding="utf-8")
    return ""


def in_theme(reading: Reading, theme: str) -> Reading:
    """A design all of whose editions ask for a theme."""
    book = reading.book
    assert book is not None
    editions = tuple(replace(each, theme=Said(theme)) for each in book.editions)
    return replace(reading, book=replace(book, editions=editions), kept={})


@cache
def read_once(design: Path) -> tuple[Reading, Cache]:
    """A design, read once a process, and what its editions have in common.

    That a cache changes nothing is `test_same.py`'s to show: it builds in a fresh process.
    """
    return read_design(design), {}


@cache
def read_facts(path: Path) -> dict[str, Any]:
    """The facts in a file."""
    found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return found


@cache
def read_texts(path: Path) -> tuple[str, ...]:
    """The text of each page, with line ends and no-break spaces made plain."""
    pdf = pypdfium2.PdfDocument(path)
    pages = (pdf[number].get_textpage().get_text_bounded() for number in range(len(pdf)))
    return tuple(re.sub("[\u00a0\u202f]", " ", text.replace("\r\n", "\n")) for text in pages)


@cache
def cut_text(path: Path, page: int, bottom: float, top: float) -> str:
    """The text of a stretch of a page, its foot left out, with plain line ends and spaces."""
    text = pypdfium2.PdfDocument(path)[page - 1].get_textpage()
    found = text.get_text_bounded(bottom=bottom, top=min(top + 1, 1000.0))
    return re.sub("[\u00a0\u202f]", " ", found.replace("\r\n", "\n"))


@cache
def read_tops(path: Path) -> dict[str, Place]:
    """The page of each named place, counted from 1, and how high up it, in points."""
    with pikepdf.open(path) as pdf:
        numbers = {page.obj.objgen: n for n, page in enumerate(pdf.pages, 1)}
        names = pdf.Root.Names.Dests.Names.as_list()
        return {
            str(n): (numbers[d[0].objgen], float(d[3]))
            for n, d in zip(names[::2], names[1::2], strict=True)
        }


@cache
def read_places(path: Path) -> dict[str, int]:
    """The page of each named place, counted from 1."""
    with pikepdf.open(path) as pdf:
        numbers = {page.obj.objgen: n for n, page in enumerate(pdf.pages, 1)}
        names = pdf.Root.Names.Dests.Names.as_list()
        return {str(n): numbers[d[0].objgen] for n, d in zip(names[::2], names[1::2], strict=True)}

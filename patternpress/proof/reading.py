"""Read a booklet: its pages and what it says of itself.

In: the bytes of a PDF.  Out: a `Booklet`.  Nothing is judged here, and nothing is taken from
anywhere but the file.  Raises `UnreadableError` for what is no PDF that can be opened.
"""

from __future__ import annotations

import hashlib
import io
import json
import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, Object, Pdf

from patternpress.proof.interpreter import run_content
from patternpress.proof.lettering import Font
from patternpress.proof.marks import Box, Page
from patternpress.proof.state import MM, Run, State
from patternpress.proof.structure import Element, elements_of

_BOXES = ("MediaBox", "CropBox", "BleedBox", "TrimBox", "ArtBox")


class UnreadableError(Exception):
    """The file cannot be opened as a PDF."""


@dataclass(frozen=True)
class Link:
    """A link of a page: where it leads, and how ("place", "outside", "action", "nowhere").

    `box`: where it lies on its page, in mm; `leads_to`: the page that it leads to, or 0.
    """

    page: int
    kind: str
    target: str
    box: Box = (0.0, 0.0, 0.0, 0.0)
    leads_to: int = 0


@dataclass(frozen=True, eq=False)
class Booklet:
    """A PDF as read.

    `places`: named place -> page counted from 1; `elements`: the structure tree in reading order;
    `raw`: keys of the catalogue that matter in printing, as they are written.
    """

    pages: tuple[Page, ...]
    info: Mapping[str, str]
    identifier: str
    places: Mapping[str, int]
    links: tuple[Link, ...]
    elements: tuple[Element, ...]
    fonts: tuple[Font, ...]
    language: str
    tagged: bool
    print_scaling: str
    actions: tuple[str, ...]
    seal: str

    @cached_property
    def sections(self) -> dict[str, range]:
        """The pages of each section: from its place to where the next begins."""
        return self.stretches(SECTIONS)

    def stretches(self, names: Collection[str]) -> dict[str, range]:
        """The pages from each of these places to the next of them.

        A part that begins in the middle of a page shares it with the one before.
        """
        starts = sorted((page, name) for name, page in self.places.items() if name in names)
        found = {}
        for page, name in starts:
            # Of parts that begin on one page, the file does not say which comes first.
            later = [(other, after) for other, after in starts if other > page]
            end = min((other for other, _ in later), default=len(self.pages) + 1)
            if later and not any(after in self.openers for other, after in later if other == end):
                end += 1
            found[name] = range(page, end)
        return found

    @cached_property
    def openers(self) -> frozenset[str]:
        """The parts that open a run of pages of their own, as the file says."""
        try:
            return frozenset(map(str, json.loads(self.info.get("PatternFigures", "{}"))))
        except (ValueError, TypeError):
            return frozenset()

    def section_of(self, page: int) -> str:
        """The section that a page belongs to, or nothing."""
        return next((name for name, pages in self.sections.items() if page in pages), "")

    def text_of(self, section: str) -> str:
        """All words of a section."""
        pages = self.sections.get(section, range(0))
        return " ".join(self.pages[number - 1].text for number in pages)


# The keys of sections, which are also named places in the file.
SECTIONS = (
    "cover", "contents", "make", "print", "cautions", "needs", "cutting", "layouts", "templates",
    "plan", "steps", "finishing", "imprint",
)  # fmt: skip


def read(data: bytes) -> Booklet:
    """Return the booklet in a PDF; raises `UnreadableError`."""
    try:
        with Pdf.open(io.BytesIO(data)) as pdf:
            return _booklet(pdf)
    except (pikepdf.PdfError, AttributeError, KeyError, TypeError, ValueError, IndexError) as error:
        raise UnreadableError(str(error).splitlines()[0] if str(error) else "") from None


def _booklet(pdf: Pdf) -> Booklet:
    fonts: dict[Any, Font] = {}
    pages = tuple(_page(number, page, fonts) for number, page in enumerate(pdf.pages, 1))
    numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages, 1)}
    places = dict(_places(pdf, numbers))
    root = pdf.Root
    return Booklet(
        pages=pages,
        info={str(key).lstrip("/"): str(value) for key, value in pdf.docinfo.items()},
        identifier=_identifier(root),
        places=places,
        links=tuple(_links(pdf, numbers, places)),
        elements=elements_of(root, numbers, pages),
        fonts=tuple(fonts.values()),
        language=str(root.get(Name.Lang, "")),
        tagged=bool(root.get(Name.MarkInfo, Dictionary()).get(Name.Marked, False)),
        print_scaling=_print_scaling(root),
        actions=tuple(_actions(root)),
        seal=_seal(pdf),
    )


def _page(number: int, page: pikepdf.Page, fonts: dict[Any, Font]) -> Page:
    unit = float(page.obj.get(Name.UserUnit, 1)) * MM
    boxes = {name: _box(found, unit) for name in _BOXES if (found := _inherited(page.obj, name))}
    left, low, right, high = boxes.get("MediaBox", (0.0, 0.0, 0.0, 0.0))
    resources = page.obj.get(Name.Resources, Dictionary())
    run = Run(State((unit, 0, 0, unit, -left, -low)), resources, fonts)
    run_content(page, run)
    turn = int(page.obj.get(Name.Rotate, 0))
    if turn:
        run.problems.append(f"turned by {turn} degrees")
    return Page(
        number=number,
        width=right - left,
        height=high - low,
        boxes=boxes,
        lines=tuple(run.lines),
        words=tuple(run.words),
        images=run.images,
        problems=tuple(dict.fromkeys(run.problems)),
    )


def _inherited(node: Object, name: str) -> Object | None:
    """Return an entry of a page or of a node above it (ISO 32000-1, 7.7.3.4)."""
    for _ in range(50):
        if f"/{name}" in node:
            found: Object = node[f"/{name}"]
            return found
        if Name.Parent not in node:
            break
        node = node.Parent
    return None


def _box(found: Object, unit: float) -> Box:
    a, b, c, d = (float(each) * unit for each in found.as_list())
    return (min(a, c), min(b, d), max(a, c), max(b, d))


def _identifier(root: Object) -> str:
    metadata = root.get(Name.Metadata)
    data = metadata.read_bytes() if isinstance(metadata, pikepdf.Stream) else b""
    found = re.search(rb"<dc:identifier>([^<]*)</dc:identifier>", data)
    return found[1].decode("utf-8", "replace") if found else ""


def _print_scaling(root: Object) -> str:
    """Return the name as written: a reader that takes /None_ for /None would hide a fault."""
    shown = root.get(Name.ViewerPreferences, Dictionary()).get(Name.PrintScaling)
    return shown.unparse().decode("latin-1") if shown is not None else ""


def _places(pdf: Pdf, numbers: Mapping[Any, int]) -> Iterator[tuple[str, int]]:
    names = pdf.Root.get(Name.Names, Dictionary()).get(Name.Dests)
    for name, place in _name_pairs(names, 0) if names is not None else ():
        where = place.D if isinstance(place, Dictionary) else place
        number = numbers.get(where[0].objgen)
        if number is not None:
            yield str(name), number


def _name_pairs(node: Object, depth: int) -> Iterator[tuple[Object, Object]]:
    pairs = node.get(Name.Names, Array()).as_list()
    yield from zip(pairs[::2], pairs[1::2], strict=False)
    if depth < 20:
        for kid in node.get(Name.Kids, Array()).as_list():
            yield from _name_pairs(kid, depth + 1)


def _links(pdf: Pdf, numbers: Mapping[Any, int], places: Mapping[str, int]) -> Iterator[Link]:
    for number, page in enumerate(pdf.pages, 1):
        for note in page.obj.get(Name.Annots, Array()).as_list():
            action = note.get(Name.A, Dictionary())
            if Name.URI in action:
                yield Link(number, "outside", str(action.URI))
            elif Name.S in action and Name.GoTo != action.S:
                yield Link(number, "action", str(action.S).lstrip("/"))
            elif Name.AA in note or note.get(Name.Subtype) not in (Name.Link, None):
                yield Link(number, "action", str(note.get(Name.Subtype, "")).lstrip("/"))
            else:
                place = note.get(Name.Dest, action.get(Name.D))
                yield replace(_inner_link(number, place, numbers, places), box=_rect(page, note))


def _inner_link(
    page: int, place: Object | None, numbers: Mapping[Any, int], places: Mapping[str, int]
) -> Link:
    if isinstance(place, Array):
        target = numbers.get(place[0].objgen)
        return Link(page, "page" if target else "nowhere", str(target or ""), leads_to=target or 0)
    name = str(place) if place is not None else ""
    kind = "place" if name in places else "nowhere"
    return Link(page, kind, name, leads_to=places.get(name, 0))


def _rect(page: pikepdf.Page, note: Object) -> Box:
    """Where a link lies, in mm from the lower left corner of its page."""
    left, low, _, _ = _box(page.mediabox, MM)
    a, b, c, d = _box(note.get(Name.Rect, Array([0, 0, 0, 0])), MM)
    return (a - left, b - low, c - left, d - low)


def _actions(root: Object) -> Iterator[str]:
    for name in ("OpenAction", "AA", "AcroForm"):
        if f"/{name}" in root:
            yield name
    names = root.get(Name.Names, Dictionary())
    for name in ("JavaScript", "EmbeddedFiles"):
        if f"/{name}" in names:
            yield name


def _seal(pdf: Pdf) -> str:
    """Return the hash of all that pages paint, as the contract has it."""
    mixed = hashlib.sha256()
    for page in pdf.pages:
        contents = page.obj.get(Name.Contents, Array())
        streams = contents.as_list() if isinstance(contents, Array) else [contents]
        forms = page.obj.get(Name.Resources, Dictionary()).get(Name.XObject, Dictionary())
        for _, form in sorted(forms.items()):
            if form.get(Name.Subtype) == Name.Form:
                streams.append(form)
        for stream in streams:
            mixed.update(stream.read_bytes() + b"\n")
        mixed.update(b"page\n")
    return mixed.hexdigest()

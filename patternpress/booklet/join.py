"""Join pressed sections into one booklet.

In: sections with their pages, the pages' feet, and what the booklet says of itself (`BookInfo`).
Out: the bytes of one PDF: pages in order, links and outline across sections, one structure tree,
fonts that two sections share kept once, and a print dialog that opens with "actual size".
"""

from __future__ import annotations

import datetime
import hashlib
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape

from pikepdf import Array, Dictionary, Name, Object, ObjectStreamMode, Pdf, String

from patternpress.booklet import feet, outline, tagtree
from patternpress.booklet.prepress import BOOK
from patternpress.booklet.press import ENGINE, Pressed, Section
from patternpress.booklet.saidfigures import as_record

# pikepdf's Name.None_ writes /None_, which viewers take for "scale as you like".
NO_SCALING = Name("/None")
MAKER = "patternpress"
CONTRACT = "1"  # with the proof; a change that older proofs would misread needs the next number


@dataclass(frozen=True)
class BookInfo:
    """What the booklet says of itself.  `identifier`: a hash of the facts it was made from.

    `edition` by its name; `rounding`: the finest steps of printed figures, such as
    "1/10 mm, 1/64 in"; `brackets`: the step of those in brackets, where it is coarser;
    `unproved`: nobody measured the finished file; `printer`: what the 100 mm bars measure on the
    one printer that it is for, as 99.2x99.5.
    """

    title: str
    author: str
    language: str
    version: str
    date: datetime.date
    licence: str = ""
    keywords: tuple[str, ...] = ()
    identifier: str = ""
    edition: str = ""
    rounding: str = ""
    brackets: str = ""
    unproved: bool = False
    printer: str = ""


Place = tuple[int, float, float]  # page of the book, counted from 0; x and y in points


def join(
    sections: Sequence[tuple[Section, Pressed]], info: BookInfo, feet_pdf: bytes = b""
) -> bytes:
    """Return the joined booklet.

    `feet_pdf`: one page per page of the booklet, printed over it as an artifact; or nothing.
    Links to anchors that are nowhere are taken out: see `missing_anchors`.
    """
    book = Pdf.new()
    tree = tagtree.plant(book)
    parents: tagtree.Pairs = []
    next_key = 0
    places: dict[str, Place] = {}
    chapters: list[outline.Chapter] = []
    for number, (section, pressed) in enumerate(sections):
        source = Pdf.open(io.BytesIO(pressed.pdf))
        first_page, first_key = len(book.pages), next_key
        for anchor, place in _anchors(source, first_page).items():
            places.setdefault(anchor, place)
        places.setdefault(section.key, _top(source, first_page))
        if section.in_contents:
            chapters += outline.chapters(section.title, section.parts, source, first_page)
        tagtree.mend_tables(source, str(number))
        next_key = tagtree.renumber(source, first_key)
        book.pages.extend(source.pages)
        parents += tagtree.graft(book, tree, source, first_key)
    tagtree.close(book, tree, parents, next_key)
    _tie_links(book, places, _titles(sections))
    _name_places(book, places)
    outline.write(book, chapters)
    _share_fonts(book)
    if feet_pdf:
        feet.stamp(book, feet_pdf)
    _describe(book, info, as_record(section for section, _ in sections))
    return _write(book)


def missing_anchors(sections: Sequence[tuple[Section, Pressed]]) -> tuple[str, ...]:
    """Return the anchors that links ask for and no section has, each once."""
    there = {section.key for section, _ in sections}
    there.update(anchor for _, pressed in sections for anchor in pressed.anchors)
    asked = (
        _target(link)
        for _, pressed in sections
        for link in _links(Pdf.open(io.BytesIO(pressed.pdf)))
    )
    return tuple(dict.fromkeys(a for a in asked if a is not None and a not in there))


def _anchors(source: Pdf, first_page: int) -> dict[str, Place]:
    """Return where each named place of a section will be in the book."""
    pages = outline.page_numbers(source)
    return {
        name: (first_page + pages[dest[0].objgen], float(dest[2]), float(dest[3]))
        for name, dest in outline.named_places(source)
    }


def _top(source: Pdf, first_page: int) -> Place:
    return (first_page, 0.0, float(source.pages[0].mediabox[3]))


def _titles(sections: Sequence[tuple[Section, Pressed]]) -> dict[str, str]:
    """Return what each anchor is called: its own name, or the title of its section."""
    titles: dict[str, str] = {}
    for section, pressed in sections:
        for anchor in (section.key, *pressed.anchors):
            titles.setdefault(anchor, section.names.get(anchor, section.title))
    return titles


def _links(pdf: Pdf) -> Iterator[Object]:
    for page in pdf.pages:
        for annotation in page.obj.get(Name.Annots, Array()).as_list():
            if annotation.get(Name.Subtype) == Name.Link:
                yield annotation


def _target(link: Object) -> str | None:
    """Return the anchor that a link asks for, or None if it leads out of the booklet."""
    address = str(link.A.get(Name.URI, "")) if Name.A in link else ""
    return address.removeprefix(BOOK) if address.startswith(BOOK) else None


def _tie_links(book: Pdf, places: Mapping[str, Place], titles: Mapping[str, str]) -> None:
    """Turn `book:` addresses into links to named places, described by the section's title."""
    for link in _links(book):
        anchor = _target(link)
        if anchor is None:
            continue
        del link.A
        if anchor in places:
            link.Dest = String(anchor)
            link.Contents = String(titles.get(anchor, anchor))


def _name_places(book: Pdf, places: Mapping[str, Place]) -> None:
    """Write the name tree of places; its names must be in rising order of their bytes."""
    names = Array()
    for anchor in sorted(places, key=lambda name: bytes(String(name))):
        page, x, y = places[anchor]
        names.append(String(anchor))
        names.append(Array([book.pages[page].obj, Name.XYZ, round(x, 3), round(y, 3), 0]))
    dests = book.make_indirect(Dictionary(Names=names))
    book.Root.Names = Dictionary(Dests=dests)


def _share_fonts(book: Pdf) -> None:
    """Keep one copy of font files that are the same to the byte."""
    kept: dict[bytes, Object] = {}
    for descriptor in book.objects:
        if not isinstance(descriptor, Dictionary):
            continue
        for file in (Name.FontFile2, Name.FontFile3):
            if file in descriptor:
                stream = descriptor[file]
                mark = hashlib.sha256(stream.read_raw_bytes()).digest()
                descriptor[file] = kept.setdefault(mark, stream)


def _describe(book: Pdf, info: BookInfo, figures: str) -> None:
    """Write title, author, dates, language and how a viewer should show and print it."""
    root = book.Root
    root.Lang = String(info.language)
    root.ViewerPreferences = Dictionary(DisplayDocTitle=True, PrintScaling=NO_SCALING)
    root.PageMode = Name.UseOutlines
    stamp = f"D:{info.date:%Y%m%d}000000Z"
    about = {
        "Title": info.title,
        "Author": info.author,
        "Subject": info.licence,
        "Keywords": ", ".join(info.keywords),
        "Creator": f"{MAKER}, version {info.version} of the design",
        "Producer": ENGINE,
        "CreationDate": stamp,
        "ModDate": stamp,
        **_for_the_proof(book, info, figures),
    }
    book.trailer.Info = book.make_indirect(
        Dictionary({f"/{name}": String(value) for name, value in about.items() if value})
    )
    metadata = book.make_stream(_xmp(info).encode())
    metadata.Type, metadata.Subtype = Name.Metadata, Name.XML
    root.Metadata = metadata


def _for_the_proof(book: Pdf, info: BookInfo, figures: str) -> dict[str, str]:
    """Return the entries that the proof asks for: see DEVELOPERS.md."""
    return {
        "PatternBrackets": info.brackets,
        "PatternContract": CONTRACT,
        "PatternEdition": info.edition,
        "PatternFacts": info.identifier,
        "PatternFigures": figures,
        "PatternPrinter": info.printer,
        "PatternProof": "unproved" if info.unproved else "proved",
        "PatternRounding": info.rounding,
        "PatternSeal": seal(book),
        "PatternVersion": info.version,
    }


def seal(book: Pdf) -> str:
    """Return the SHA-256 of what all pages paint: their content, and that of forms they draw."""
    mixed = hashlib.sha256()
    for page in book.pages:
        contents = page.obj.Contents
        streams = contents.as_list() if isinstance(contents, Array) else [contents]
        forms = page.obj.get(Name.Resources, Dictionary()).get(Name.XObject, Dictionary())
        drawn = [form for _, form in sorted(forms.items()) if form.get(Name.Subtype) == Name.Form]
        for stream in (*streams, *drawn):
            mixed.update(stream.read_bytes() + b"\n")
        mixed.update(b"page\n")
    return mixed.hexdigest()


def _xmp(info: BookInfo) -> str:
    """Return the XMP packet (ISO 16684-1) with the PDF/UA-1 mark (ISO 14289-1, 5)."""

    def alt(name: str, value: str) -> str:
        text = f'<rdf:li xml:lang="x-default">{escape(value)}</rdf:li>'
        return f"<{name}><rdf:Alt>{text}</rdf:Alt></{name}>" if value else ""

    date = f"{info.date:%Y-%m-%d}T00:00:00Z"
    return f"""<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/"
 xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
{alt("dc:title", info.title)}{alt("dc:rights", info.licence)}
<dc:creator><rdf:Seq><rdf:li>{escape(info.author)}</rdf:li></rdf:Seq></dc:creator>
<dc:language><rdf:Bag><rdf:li>{escape(info.language)}</rdf:li></rdf:Bag></dc:language>
<dc:identifier>{escape(info.identifier)}</dc:identifier>
<pdf:Keywords>{escape(", ".join(info.keywords))}</pdf:Keywords>
<pdf:Producer>{escape(ENGINE)}</pdf:Producer>
<xmp:CreatorTool>{MAKER}</xmp:CreatorTool>
<xmp:CreateDate>{date}</xmp:CreateDate><xmp:ModifyDate>{date}</xmp:ModifyDate>
<pdfuaid:part>1</pdfuaid:part>
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="r"?>"""


def _write(book: Pdf) -> bytes:
    book.remove_unreferenced_resources()
    out = io.BytesIO()
    book.save(
        out,
        min_version="1.7",
        deterministic_id=True,
        object_stream_mode=ObjectStreamMode.generate,
        fix_metadata_version=False,
    )
    return out.getvalue()

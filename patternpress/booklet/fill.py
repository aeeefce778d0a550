"""Fill the content of a booklet from the model.

In: a `Model`.  Out: `Content`, worded and formatted for its edition; a theme does the rest.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from babel.dates import format_date
from markupsafe import Markup, escape

from patternpress.assembly.extent import overall
from patternpress.assembly.model import Model
from patternpress.assembly.placing import assemble
from patternpress.assembly.plan import Plan, bench_plan
from patternpress.assembly.worked import work
from patternpress.booklet import content as c
from patternpress.booklet.atelier import atelier
from patternpress.booklet.crossrefs import referred
from patternpress.booklet.fillcutting import cutting
from patternpress.booklet.fillfinished import finished_pictures
from patternpress.booklet.filllabels import labels
from patternpress.booklet.filllayouts import laid_stocks
from patternpress.booklet.fillneeds import needs
from patternpress.booklet.fillphotographs import photographs
from patternpress.booklet.fillpictures import step_figures
from patternpress.booklet.fillplan import bench_page, early_steps, time_facts
from patternpress.booklet.fillstart import start_facts
from patternpress.booklet.fillsteps import finishing, steps
from patternpress.booklet.filltemplates import printing, template_pages, templates
from patternpress.booklet.fillterms import explained
from patternpress.booklet.usual import caution_groups, cutting_cautions
from patternpress.booklet.wording import NOTHING, Wording, wording_of
from patternpress.closing.scaling import ratio_words
from patternpress.cutting.layouts import Layout, layouts
from patternpress.design.records.book import Book
from patternpress.drawing.kept import Kept
from patternpress.measure.printers import Correction
from patternpress.measure.quantity import Kind, Quantity

FIRST_DAY = datetime.date(2000, 1, 1)  # where a design gives no date: a day, never a clock

Sizes = tuple[Fraction, ...]  # width, depth and height in mm, or nothing


def content_of(
    model: Model, kept: Kept | None = None, laid: Sequence[Layout] | None = None
) -> c.Content:
    """The whole content of one edition's booklet; `kept` holds pictures that are drawn already.

    Raises PhotographError when a photograph has gone since the design was checked.
    """
    wording = wording_of(model)
    book = model.worked.book
    plan = bench_plan(model.worked)
    laid = layouts(model, kept) if laid is None else laid
    place = atelier(wording, kept)
    photos = photographs(wording)
    drawn = step_figures(place)
    pictures = {
        number: (*drawn.get(number, ()), *photos.steps.get(number, ()))
        for number in {*drawn, *photos.steps}
    }
    whole = finished_pictures(place)
    early = early_steps(plan)
    finish, after = finishing(wording, pictures, early)
    sizes = overall(model.assembly)
    sheets_drawn = template_pages(model, wording, kept=kept)
    made = c.Content(
        cover=replace(_cover(book, sizes, wording), picture=photos.cover or whole.cover),
        imprint=_imprint(book, wording),
        making=replace(_making(book, sizes, plan, wording), figures=whole.views),
        printing=printing(wording, sheets_drawn, kept),
        cautions=caution_groups(wording),
        needs=needs(wording, laid),
        apart=whole.apart,
        cutting_cautions=cutting_cautions(wording),
        cutting=cutting(wording),
        layouts=laid_stocks(laid, wording, kept),
        labels=labels(wording),
        templates=templates(sheets_drawn, wording),
        plan=bench_page(plan, wording, kept),
        steps=(*steps(wording, pictures, early), *after),
        finishing=finish,
        language=model.edition.language,
        photographs=photos.data,
    )
    return referred(explained(made, wording), wording.phrases)


def corrected_content(model: Model, correction: Correction) -> c.Content:
    """The content of a set of templates for one printer: its title says so, and all pages do."""
    wording = wording_of(model)
    book = model.worked.book
    cover = _cover(book, overall(model.assembly), wording)
    measured = {"across": f"{float(correction.across):g}", "up": f"{float(correction.up):g}"}
    title = wording.say("corrected_title", title=cover.title, **measured)
    return c.Content(
        cover=replace(cover, title=str(title.unescape())),
        imprint=_imprint(book, wording),
        templates=templates(template_pages(model, wording, correction), wording),
        language=model.edition.language,
    )


def edition_words(wording: Wording) -> Markup:
    """The edition at a glance: Metric · A4."""
    edition = wording.model.edition
    units = wording.say(f"edition_{edition.units}")
    paper = wording.listed(Markup(escape(each)) for each in edition.paper.split(" and "))
    told = wording.say("edition_words", units=units, paper=paper)
    return told if edition.designed_at is None else told + f" · {_ratio(edition.scale, wording)}"


def date_words(book: Book, language: str) -> str:
    """The date of the design in the language's long form."""
    if book.date is None:
        return ""
    day = book.date.value
    return format_date(day, format="long", locale="en_GB" if language == "en" else language)


def _scale(wording: Wording) -> Markup:
    scale = wording.model.edition.scale
    if scale == 1:
        return wording.say("scale_full")
    return wording.say("scale_words", ratio=ratio_words(scale))


def _size(sizes: Sizes, wording: Wording) -> Markup:
    return wording.size(*_lengths(sizes))


def _lengths(sizes: Sizes) -> list[Quantity]:
    return [Quantity(each, Kind.LENGTH) for each in sizes]


def _level(book: Book, wording: Wording) -> Markup:
    return wording.say("level_" + book.level.value.replace(" ", "_")) if book.level else NOTHING


def _cover(book: Book, sizes: Sizes, wording: Wording) -> c.Cover:
    cover = book.cover
    return c.Cover(
        title=wording.prose(book.design).striptags(),
        author=Markup(escape(book.author.called.value)) if book.author else NOTHING,
        version=book.version.value if book.version else "1",
        date=date_words(book, wording.model.edition.language),
        subtitle=wording.prose(cover.subtitle) if cover else NOTHING,
        series=wording.prose(book.series),
        words=wording.prose(cover.words) if cover else NOTHING,
        level=_level(book, wording),
        scale=_scale(wording),
        finished_size=_size(sizes, wording),
        edition=edition_words(wording),
    )


def _making(book: Book, sizes: Sizes, plan: Plan, wording: Wording) -> c.Making:
    facts = [c.Fact(wording.say("fact_finished"), _size(sizes, wording))]
    if wording.model.edition.scale != 1:
        facts.append(c.Fact(wording.say("fact_full"), _full_size(sizes, wording)))
    pieces = sum(part.quantity for part in wording.model.worked.parts if part.form != "bought")
    facts += _scaled(wording)
    if wording.model.edition.display.second is not None:
        rounded = wording.model.edition.second_rounded
        words = wording.say("brackets_rounded" if rounded else "brackets_closed")
        facts.append(c.Fact(wording.say("fact_brackets"), words))
    facts.append(c.Fact(wording.say("fact_pieces"), str(pieces)))
    facts.append(c.Fact(wording.say("fact_level"), _level(book, wording)))
    facts += [*time_facts(plan, wording), *start_facts(wording)]
    return c.Making(
        prose=wording.paragraphs(book.about),
        facts=tuple(fact for fact in facts if fact.value),
    )


def _full_size(sizes: Sizes, wording: Wording) -> Markup:
    """The finished size at full scale: of the design as it is written, where it has another scale.

    An edition's own size, enlarged, has the thickness of stock that is only the nearest sold.
    """
    model = wording.model
    own, written = model.edition.designed_at, model.reading.book
    if own is None or written is None:
        return wording.enlarged(_lengths(sizes), 1 / model.edition.scale)
    true = overall(assemble(work(written, model.reading.names)))
    return wording.enlarged(_lengths(true), 1 / own)


def _scaled(wording: Wording) -> Iterator[c.Fact]:
    """What a buyer is told of a piece that was designed at another scale."""
    edition = wording.model.edition
    if edition.designed_at is None:
        return
    scale, own = (
        wording.say("at_full_size" if each == 1 else "at_ratio", ratio=ratio_words(each))
        for each in (edition.scale, edition.designed_at)
    )
    told = [wording.say("scaled_words", scale=scale, own=own)]
    if edition.as_bought:
        names = wording.listed(wording.thing(each) for each in edition.as_bought)
        told.append(wording.say("scaled_fittings", fittings=names))
    yield c.Fact(wording.say("fact_scaled"), Markup(" ").join(told))


def _ratio(scale: Fraction, wording: Wording) -> str:
    if scale == 1:
        return str(wording.say("scale_full").unescape())
    return ratio_words(scale)


def _imprint(book: Book, wording: Wording) -> c.Imprint:
    author = book.author
    contact = [each.value for each in (author.contact, author.address) if each] if author else []
    changes = tuple(
        c.Change(each.name.value, "", wording.prose(each.what)) for each in book.changes
    )
    return c.Imprint(
        author=Markup(escape(author.called.value)) if author else NOTHING,
        version=book.version.value if book.version else "1",
        date=date_words(book, wording.model.edition.language),
        contact=tuple(Markup(escape(each)) for each in contact),
        licence=wording.paragraphs(book.licence),
        statements=(
            *(wording.say("not_a_toy"),) * (wording.model.edition.scale != 1),
            wording.say("follow_makers"),
            *wording.paragraphs(book.imprint),
        ),
        changes=changes,
    )


__all__ = ["content_of", "template_pages"]

"""Fill the content of a booklet from the model.

In: a `Model`.  Out: `Content`, worded and formatted for its edition; a theme does the rest.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from babel.dates import format_date
from markupsafe import Markup, escape

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.extent import overall
from patternpress.assembly.model import Model
from patternpress.assembly.plan import Plan, bench_plan
from patternpress.booklet import content as c
from patternpress.booklet.atelier import Kept, atelier
from patternpress.booklet.fillcutting import cutting, end_notes
from patternpress.booklet.fillfinished import finished_pictures
from patternpress.booklet.filllayouts import laid_stocks
from patternpress.booklet.fillneeds import needs
from patternpress.booklet.fillphotographs import photographs
from patternpress.booklet.fillpictures import step_figures
from patternpress.booklet.fillplan import bench_page, early_steps, time_facts
from patternpress.booklet.fillstart import start_facts
from patternpress.booklet.fillsteps import finishing, steps
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.usual import caution_groups
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.cutting.layouts import Layout, layouts
from patternpress.design.records.book import Book
from patternpress.drawing.bars import lying_bar, upright_bar
from patternpress.drawing.fromparts import template_parts
from patternpress.drawing.sheets import TemplatePage, sheets
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.svg import svg_page
from patternpress.measure.quantity import Kind, Quantity

FIRST_DAY = datetime.date(2000, 1, 1)  # where a design gives no date: a day, never a clock
BAR_ROOM = 110.0  # mm
TEMPLATE_AREA = (Fraction(190), Fraction(236))

Sizes = tuple[Fraction, ...]  # width, depth and height in mm, or nothing


def content_of(
    model: Model, kept: Kept | None = None, laid: Sequence[Layout] | None = None
) -> c.Content:
    """The whole content of one edition's booklet; `kept` holds pictures that are drawn already.

    Raises PhotographError when a photograph has gone since the design was checked.
    """
    wording = Wording(model, read_phrases(model.edition.language))
    book = model.worked.book
    plan = bench_plan(model.worked)
    laid = layouts(model) if laid is None else laid
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
    return c.Content(
        cover=replace(_cover(book, sizes, wording), picture=photos.cover or whole.cover),
        imprint=_imprint(book, wording),
        making=replace(_making(book, sizes, plan, wording), figures=whole.views),
        printing=_printing(model, wording),
        cautions=caution_groups(wording),
        needs=needs(wording, laid),
        apart=whole.apart,
        cutting=cutting(wording),
        layouts=laid_stocks(laid, wording),
        templates=_templates(model, wording),
        plan=bench_page(plan, wording),
        steps=(*steps(wording, pictures, early), *after),
        finishing=finish,
        language=model.edition.language,
        photographs=photos.data,
    )


def edition_words(wording: Wording) -> Markup:
    """The edition at a glance: Metric · A4."""
    edition = wording.model.edition
    units = wording.say(f"edition_{edition.units}")
    return wording.say("edition_words", units=units, paper=edition.paper)


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
    return wording.say("scale_words", ratio=f"{scale.numerator}:{scale.denominator}")


def _size(sizes: Sizes, wording: Wording, times: Fraction = Fraction(1)) -> Markup:
    return wording.size(*(Quantity(each * times, Kind.LENGTH) for each in sizes))


def _level(book: Book, wording: Wording) -> Markup:
    return wording.say("level_" + book.level.value.replace(" ", "_")) if book.level else NOTHING


def _cover(book: Book, sizes: Sizes, wording: Wording) -> c.Cover:
    cover = book.cover
    return c.Cover(
        title=str(wording.prose(book.design).unescape()),
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
    scale = wording.model.edition.scale
    if scale != 1:
        facts.append(c.Fact(wording.say("fact_full"), _size(sizes, wording, 1 / scale)))
    pieces = sum(part.quantity for part in wording.model.worked.parts if part.form != "bought")
    facts.append(c.Fact(wording.say("fact_pieces"), str(pieces)))
    facts.append(c.Fact(wording.say("fact_level"), _level(book, wording)))
    facts += [*time_facts(plan, wording), *start_facts(wording)]
    return c.Making(
        prose=wording.paragraphs(book.about),
        facts=tuple(fact for fact in facts if fact.value),
    )


def _printing(model: Model, wording: Wording) -> c.Printing:
    style = DrawingStyle()
    bars = []
    for upright, block in ((False, lying_bar(style, advised=False)), (True, upright_bar(style))):
        title = wording.say("bar_title").unescape()
        # The last figures stand past the end of the bar.
        size = (block.width, BAR_ROOM) if upright else (BAR_ROOM, block.height)
        picture = svg_page(size, [block.ink], title, style.typeface)
        length = wording.say("bar_length")
        bars.append(c.Bar(length, Markup(picture), upright))
    use = wording.say("template_use")
    return c.Printing(papers=wording.say("papers_any"), bars=tuple(bars), notes=(use,))


def template_pages(model: Model, wording: Wording) -> tuple[TemplatePage, ...]:
    """The pages of templates as drawn."""

    def notes(part: CutPart) -> tuple[str, ...]:
        return tuple(str(each.striptags()) for each in end_notes(part, wording))

    parts = tuple(template_parts(model.worked, model.edition, notes))
    return sheets(parts, TEMPLATE_AREA, DrawingStyle()) if parts else ()


def _templates(model: Model, wording: Wording) -> tuple[c.TemplatePage, ...]:
    pages = template_pages(model, wording)
    total = len(pages)
    return tuple(
        c.TemplatePage(
            heading=wording.say("templates_page", number=number, total=total),
            picture=Markup(page.svg),
            letters=", ".join(page.letters),
        )
        for number, page in enumerate(pages, 1)
    )


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
        edition=edition_words(wording),
    )


__all__ = ["content_of", "template_pages"]

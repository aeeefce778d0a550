"""What a buyer must know before starting, as facts of the first page.

In: a `Wording`.  Out: where it can be made, who it is not for, who answers questions, what the
licence allows.  What follows from the design is said without the author; their words come after.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from babel import Locale
from markupsafe import Markup, escape

from patternpress.assembly.calls import missing_names
from patternpress.assembly.checks.lists import used_things
from patternpress.assembly.prosework import all_prose
from patternpress.assembly.smallparts import small_pieces
from patternpress.booklet.content import Fact
from patternpress.booklet.stockwords import sold_sheet
from patternpress.booklet.wording import Wording
from patternpress.design.records.goods import Stock

SMALL_TABLE = Fraction(400)  # mm; a sheet up to this finds room on any table


def start_facts(wording: Wording) -> Iterator[Fact]:
    """The facts, each with a value; what has nothing to say is left out."""
    book = wording.model.worked.book
    yield from _theirs(wording)
    yield Fact(wording.say("fact_workspace"), _joined(_workspace(wording)))
    hangs = wording.model.worked.book.hangs
    if hangs is not None and hangs.value == "yes":
        yield Fact(wording.say("fact_hangs"), wording.say("hangs_words"))
    yield Fact(wording.say("fact_not_for"), _joined(_not_for(wording)))
    if book.author and book.author.contact:
        yield Fact(wording.say("fact_questions"), Markup(escape(book.author.contact.value)))
    if book.licence:
        yield Fact(wording.say("fact_licence"), wording.prose(book.licence))


def _theirs(wording: Wording) -> Iterator[Fact]:
    """That some texts stand in the author's main language, and how they are marked."""
    language, own = wording.model.edition.language, wording.own_language
    worked = wording.model.worked
    texts = all_prose(replace(worked.book, sizes=()))
    lacking = any(each.within(language) is None for each in texts)
    if language != own and (lacking or any(missing_names(worked.book, worked.names, language))):
        named = Locale.parse(own, sep="-").get_display_name(language.replace("-", "_"))
        yield Fact(wording.say("fact_language"), wording.say("theirs_words", language=named))


def _joined(sentences: Iterator[Markup]) -> Markup:
    return Markup(" ").join(each for each in sentences if each)


def _workspace(wording: Wording) -> Iterator[Markup]:
    worked = wording.model.worked
    used = used_things(worked)
    largest = max(_sheets(wording), key=lambda found: found[0], default=None)
    if largest is None or largest[0] <= SMALL_TABLE:
        yield wording.say("workspace_table_small")
    else:
        yield wording.say("workspace_table", sold=sold_sheet(largest[1], wording))
    if any(part.holes for part in worked.book.parts):
        yield wording.say("workspace_drill")
    kinds = {m.kind.value for m in worked.book.materials if m.kind and m.name.value in used}
    if "finish" in kinds:
        yield wording.say("workspace_air")
    yield wording.prose(worked.book.workspace)


def _sheets(wording: Wording) -> Iterator[tuple[Fraction, Stock]]:
    """Each sheet that is cut from: its longer side in mm."""
    worked = wording.model.worked
    for stock in worked.book.stock:
        sides = [found.value for each in stock.sold or () if (found := worked.solver.value(each))]
        if stock.sheet is not None and sides and any(p.stock is stock for p in worked.parts):
            yield max(sides), stock


def _not_for(wording: Wording) -> Iterator[Markup]:
    if wording.model.edition.scale != 1:  # of a thing in use, the screws are driven home
        small = small_pieces(wording.model.worked)
        if small:
            yield wording.say("not_for_children", count=small)
        yield wording.say("not_for_play")
    yield wording.prose(wording.model.worked.book.not_for)

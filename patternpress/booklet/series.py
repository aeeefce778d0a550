"""What several designs need together, as plain text.

In: a model of each design.  Out: text in the language and units of the first: tools, materials
and bits once each, how much stock all pieces take when they are cut from the same boards, what
that costs, and the layouts with their cuts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from markupsafe import Markup, escape

from patternpress.assembly.checks.lists import used_materials
from patternpress.assembly.model import Model
from patternpress.booklet.contentneeds import Bit, MaterialGroup, Needs
from patternpress.booklet.contentneeds import Material as Row
from patternpress.booklet.fillbits import bits
from patternpress.booklet.fillneeds import costs_words, stock_row, tools, used_up
from patternpress.booklet.laidtext import layouts_text
from patternpress.booklet.shoptext import fractions_whole, needs_text, plain_words
from patternpress.booklet.wording import Wording, wording_of
from patternpress.cutting.costs import Costs, costs_of
from patternpress.cutting.layouts import Layout, lay_out
from patternpress.cutting.together import Shared, shared

Thing = TypeVar("Thing")


@dataclass(frozen=True)
class Together:
    """The stock of all designs, and the layouts of what is cut."""

    goods: tuple[Shared, ...]
    layouts: tuple[Layout, ...]


def together(models: Sequence[Model]) -> Together:
    """Put the stock of all designs together and lay all pieces out."""
    goods = shared(models)
    return Together(goods, tuple(lay_out(each.job) for each in goods if each.job is not None))


def series_text(models: Sequence[Model]) -> str:
    """The whole text.  Raises IndexError where there is no design."""
    wordings = [wording_of(model) for model in models]
    first, found = wordings[0], together(models)
    titles = [_title(each) for each in wordings]
    named = plain_words(first.listed([escape(each) for each in titles]))
    passages = [plain_words(first.say("series_title", titles=named))]
    if len(titles) > 1:
        numbered = [f"{number}  {title}" for number, title in enumerate(titles, 1)]
        passages.append("\n".join([*numbered, plain_words(first.say("series_letters"))]))
    passages += needs_text(_needs(wordings, found), first.phrases)
    passages.append(layouts_text(named, found.layouts, first).rstrip("\n"))
    return fractions_whole("\n\n".join(passages) + "\n")


def _title(wording: Wording) -> str:
    return plain_words(wording.prose(wording.model.worked.book.design))


def _needs(wordings: Sequence[Wording], found: Together) -> Needs:
    """Everything once; what differs in quantity or purpose is joined."""
    first = wordings[0]
    rows = _once((row for each in wordings for row in used_up(each)), _name_of, _more)
    wood = tuple(_stock_rows(found, first))
    return Needs(
        tools=_once((tool for each in wordings for tool in tools(each)), lambda tool: tool.name),
        materials=(MaterialGroup("", wood), MaterialGroup("", rows)),
        bits=_once((bit for each in wordings for bit in bits(each)), lambda bit: bit.size, _also),
        costs=tuple(costs_words(_costs(wordings, found), first)),
    )


def _name_of(row: Row) -> str:
    return row.name


def _more(one: Row, other: Row) -> Row:
    """One material of two designs: both quantities, unless they are alike."""
    said = [each for each in (one.quantity, other.quantity) if each]
    told = Markup(" + ").join(said) if one.quantity != other.quantity else one.quantity
    return replace(one, quantity=told)


def _also(one: Bit, other: Bit) -> Bit:
    """One bit for the holes of two designs."""
    return replace(one, purpose=Markup("; ").join([one.purpose, other.purpose]))


def _first(one: Thing, _: Thing) -> Thing:
    return one


def _once(
    things: Iterable[Thing],
    key: Callable[[Thing], str],
    join: Callable[[Thing, Thing], Thing] = _first,
) -> tuple[Thing, ...]:
    found: dict[str, Thing] = {}
    for each in things:
        known = found.get(key(each))
        found[key(each)] = each if known is None else join(known, each)
    return tuple(found.values())


def _stock_rows(found: Together, wording: Wording) -> Iterator[Row]:
    """What wood and which fittings, how much, for which parts."""
    laid = {id(each.job.stock): each for each in found.layouts}
    for goods in found.goods:
        yield stock_row(goods.stock, goods.parts, laid.get(id(goods.stock)), wording)


def _costs(wordings: Sequence[Wording], found: Together) -> Costs:
    goods = [(each.stock, sum(part.quantity for part in each.parts)) for each in found.goods]
    used = (each for wording in wordings for each in used_materials(wording.model.worked))
    materials = _once(used, lambda material: material.name.value)
    return costs_of(goods, found.layouts, materials)

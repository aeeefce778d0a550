"""The editions of a design, each with everything filled in.

In: a Book.  Out: `Published` records, one an edition, and problems of editions that start from
each other.  A design that names no editions has three: metric, inch and both.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from patternpress.design.kinds import figures, form, naming, work
from patternpress.design.problem import Problem, near_name
from patternpress.design.records.book import Book, Edition
from patternpress.design.records.goods import Stock
from patternpress.design.span import Said
from patternpress.measure import nodes as node
from patternpress.measure.digits import Ends
from patternpress.measure.errors import MeasureError
from patternpress.measure.figures import Display, show_length
from patternpress.measure.formula import Formula, Name, evaluate
from patternpress.measure.inches import MM_PER_INCH
from patternpress.measure.quantity import Kind, Quantity, millimetres
from patternpress.measure.units import in_inches

System = Literal["mm", "in"]
USUAL = (("metric", "mm", "A4"), ("inch", "in", "Letter"), ("both", "both", "A4"))
FINEST = Fraction(1, 10**6)  # mm; a step that is no multiple of it would print for ever
FIELDS = ("units", "stock", "paper", "scale", "language", "letters", "ink", "theme", "labels")


@dataclass(frozen=True)
class Published:
    """One edition: what it shows, on which paper, in which language."""

    name: str
    units: str  # "mm", "in" or "both"
    own: System
    paper: str
    language: str
    letters: str
    ink: str
    theme: str
    mm_step: Fraction
    denominator: int
    scale: Fraction
    stock: System  # the system that its buyers' shops sell by
    beside: tuple[tuple[Fraction, Fraction], ...] = ()  # closed figures of the second system
    ranges: tuple[tuple[Ends, Ends], ...] = ()
    bores: tuple[tuple[Fraction, Fraction], ...] = ()  # and of how wide holes are
    unnamed: tuple[Fraction, ...] = ()  # thicknesses, mm, that no fraction of an inch stands for
    labels: bool = False  # a label for every piece
    coarser: tuple[tuple[Fraction, Fraction, System], ...] = ()  # from, step (mm), of a system
    designed_at: Fraction | None = None  # at another scale: the design's own
    restock: tuple[Stock, ...] = ()  # and the stock that is sold for it
    as_bought: tuple[str, ...] = ()  # and the fittings that are the same at both
    second_rounded: bool = False  # the second system's figures could not be closed
    second_step: Fraction | None = None  # the coarsest that they were closed to, mm, where coarser

    @property
    def display(self) -> Display:
        """How lengths are shown; in both units, the design's own system comes first."""
        first: System = self.own if self.units == "both" else ("in" if self.units == "in" else "mm")
        second: System | None = ("in" if first == "mm" else "mm") if self.units == "both" else None
        locale = {"en": "en-GB"}.get(self.language, self.language)
        return Display(
            first,
            second,
            self.mm_step,
            self.denominator,
            locale,
            self.beside,
            self.ranges,
            self.bores,
            self.unnamed,
        )


def edition_names(book: Book) -> tuple[str, ...]:
    """The names of a design's editions, in order."""
    said = tuple(each.name.value for each in book.editions)
    return said or tuple(name for name, _, _ in USUAL)


def published(book: Book, name: str) -> Published:
    """One edition with everything filled in; KeyError when there is none of that name."""
    chain = list(_chain(book, name))

    def said(field: str) -> Any:
        values = (getattr(each, field) for each in chain)
        return next((value for value in values if value is not None), None)

    usual = {usual_name: (units, paper) for usual_name, units, paper in USUAL}.get(name)
    own: System = "in" if book.units and book.units.value == "in" else "mm"
    words = {field: value.value for field in FIELDS if (value := said(field))}
    scale = said("scale") or book.scale
    units = str(words.get("units", usual[0] if usual else own))
    sold = words.get("stock", units if units != "both" else own)
    return Published(
        name=name,
        units=units,
        own=own,
        paper=str(words.get("paper", usual[1] if usual else "A4")),
        language=str(words.get("language", book.languages[0].value if book.languages else "en")),
        letters=str(words.get("letters", "normal")),
        ink=str(words.get("ink", "normal")),
        theme=str(words.get("theme", "quay")),
        mm_step=_step(said("mm_step"), Fraction(1, 10)),
        denominator=_denominator(said("fraction")),
        scale=scale.value if scale else Fraction(1),
        coarser=tuple(_coarser(chain)),
        stock="in" if sold == "in" else "mm",
        labels=words.get("labels") == "yes",
    )


def _coarser(chain: list[Edition]) -> Iterator[tuple[Fraction, Fraction, System]]:
    """The coarser steps of the first edition in a chain that has any: from where on, the step."""
    for each in next((edition.coarser for edition in chain if edition.coarser), ()):
        over, step = _length(each.over), _length(each.step)
        if over is not None and step is not None:
            yield over, step, system_of(each.step)


def system_of(said: Said[Formula]) -> System:
    """The system that a typed length is in."""
    low = said.value.low
    unit = low.unit if isinstance(low, node.Literal) else None
    return "in" if unit is not None and in_inches(unit) else "mm"


def _chain(book: Book, name: str) -> Iterator[Edition]:
    """An edition and those it starts from."""
    by_name = {each.name.value: each for each in book.editions}
    if not by_name and name in {usual for usual, _, _ in USUAL}:
        return
    seen: set[str] = set()
    each = by_name[name]
    while True:
        yield each
        seen.add(each.name.value)
        if each.like is None or each.like.value in seen or each.like.value not in by_name:
            return
        each = by_name[each.like.value]


def _length(said: Said[Formula] | None) -> Fraction | None:
    if said is None:
        return None
    try:
        found = evaluate(said.value, _nothing).low
    except MeasureError:
        return None
    return found.value if found.kind is Kind.LENGTH and found.value > 0 else None


def _nothing(name: Name) -> Quantity:
    raise KeyError(name)


def _step(said: Said[Formula] | None, usual: Fraction) -> Fraction:
    return _length(said) or usual


def _denominator(said: Said[Formula] | None) -> int:
    length = _length(said)
    inches = length / MM_PER_INCH if length else Fraction(1, 64)
    return inches.denominator if inches.numerator == 1 else 64


def check_editions(book: Book) -> Iterator[Problem]:
    """Editions that start from nothing or from themselves, and steps that cannot be kept."""
    names = {each.name.value: each for each in book.editions}
    languages = [each.value for each in book.languages] or ["en"]
    yield from _languages(book)
    yield from _steps(book)
    for each in book.editions:
        name = each.name.value
        if not re.fullmatch(r"[\w][\w -]{0,60}", name):
            yield Problem(work.FileNameUnsafe, each.name.span, {"name": name})
        if each.like is not None:
            yield from _like(each, each.like, names)
        if each.language is not None and each.language.value not in languages:
            words = ", ".join(languages)
            facts = {"text": each.language.value, "name": "language", "words": words}
            yield Problem(form.NotAWord, each.language.span, facts)
        step = _length(each.mm_step)
        if each.mm_step is not None and step is not None and step % FINEST:
            yield Problem(figures.StepNotDecimal, each.mm_step.span, {"text": each.mm_step.text})
        for said in (each.mm_step, each.fraction):
            yield from _no_length(said)
        if each.fraction and (length := _length(each.fraction)):
            inches = length / MM_PER_INCH
            if inches.numerator != 1 or inches.denominator not in (1, 2, 4, 8, 16, 32, 64):
                facts = {"text": each.fraction.text, "name": "fraction"}
                facts["words"] = "1/64 in, 1/32 in, 1/16 in, 1/8 in, 1/4 in, 1/2 in"
                yield Problem(form.NotAWord, each.fraction.span, facts)


def _no_length(said: Said[Formula] | None) -> Iterator[Problem]:
    if said is not None and _length(said) is None:
        facts = {"text": said.text, "found": "something else", "wanted": "a length"}
        yield Problem(figures.WrongKind, said.span, facts)


def _steps(book: Book) -> Iterator[Problem]:
    """Coarser steps that are no lengths, or that the finest step does not go into."""
    coarse = [each for edition in book.editions for each in edition.coarser]
    steps = [each.step for each in book.sizes] + [each.step for each in book.parts]
    own = [each for each in steps if each is not None]
    for said in (*(each.over for each in coarse), *(each.step for each in coarse), *own):
        yield from _no_length(said)
    for said in (*(each.step for each in coarse), *own):
        step = _length(said)
        finest = MM_PER_INCH / 64 if system_of(said) == "in" else Fraction(1, 10)
        if step is not None and step % finest:
            yield Problem(figures.StepNotWhole, said.span, {"text": said.text})


def _languages(book: Book) -> Iterator[Problem]:
    """Languages whose decimal signs nobody knows."""
    for each in book.languages:
        try:
            show_length(millimetres(1), Display(locale=each.value))
        except MeasureError:
            yield Problem(naming.LanguageUnknown, each.span, {"text": each.value})


def _like(edition: Edition, like: Said[str], names: dict[str, Edition]) -> Iterator[Problem]:
    facts = {"edition": edition.name.value, "like": like.value}
    if like.value not in names:
        facts |= {"wrong": "is not there", "near": near_name(like.value, names)}
        yield Problem(work.EditionUnknown, like.span, facts)
        return
    seen = {edition.name.value}
    each = names[like.value]
    while each.name.value not in seen:
        seen.add(each.name.value)
        if each.like is None or each.like.value not in names:
            return
        each = names[each.like.value]
    if each is edition:
        facts["wrong"] = "leads back to it"
        yield Problem(work.EditionUnknown, like.span, facts)

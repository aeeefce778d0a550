"""Does every sentence refer to what exists, with no figure typed?

In: a `Worked` design.  Out: problems of references and typed figures in the author's prose.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from patternpress.assembly.calls import missing_names
from patternpress.assembly.editions import edition_names, published
from patternpress.assembly.prosework import all_prose
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import editions, naming
from patternpress.design.problem import Problem, near_name
from patternpress.design.reads import Prose
from patternpress.design.references import TYPED, Ref, split, unclosed
from patternpress.design.span import Said, Span
from patternpress.measure.errors import MeasureError
from patternpress.measure.nodes import Property
from patternpress.measure.quantity import Kind
from patternpress.measure.quantity import length as length_of

REFERABLE = (
    "part", "piece", "sub-assembly", "size", "mark", "opening", "hole", "groove", "stock",
    "tool", "material",
    "answer",
)  # fmt: skip
# In a sentence: common practice in plain writing of instructions, no source.
MOST_WORDS = 20
_SENTENCE = re.compile(r"\S.*?(?:[.!?](?=\s|$)|$)", re.DOTALL)
MEASURABLE = ("part", "piece", "opening", "hole", "stock")


def check_prose(worked: Worked) -> Iterator[Problem]:
    """Every problem in the author's own words."""
    keep = [each.value for each in worked.book.keep_words]
    names = goods_prose(worked)
    steps = (*worked.book.steps, *worked.book.finishing, *worked.book.cautions)
    acted_on = {id(prose) for each in steps for prose in all_prose(each)}
    for prose in all_prose(worked.book):
        for language, said in prose.by_language:
            yield from _references(worked, prose, said)
            if id(prose) in acted_on:
                yield from _long_sentences(prose, said)
            if language == prose.by_language[0][0] and id(prose) not in names:
                yield from _figures(worked, prose, said, keep)
        yield from _languages(worked, prose)


def goods_prose(worked: Worked) -> set[int]:
    """Prose that names what a shop sells, where a figure is a name and is not converted."""
    goods = (*worked.book.stock, *worked.book.tools, *worked.book.materials)
    return {id(prose) for each in goods for prose in all_prose(each)}


def _span(prose: Prose, said: Said[str], start: int, end: int) -> Span:
    """The place of a stretch; only single-language prose keeps its source for that."""
    if prose.source is None or len(prose.by_language) > 1:
        return said.span
    wanted = said.value[start:end]
    at = prose.source.text.find(wanted)
    before = said.value[:start].count(wanted)
    for _ in range(before):
        at = prose.source.text.find(wanted, at + 1)
    return prose.source.locate(at, at + len(wanted)) if at >= 0 else said.span


def _long_sentences(prose: Prose, said: Said[str]) -> Iterator[Problem]:
    """Sentences that are not read at a glance; a name in angle brackets counts as its words."""
    for found in _SENTENCE.finditer(said.value):
        count = len(found[0].split())
        if count > MOST_WORDS:
            span = _span(prose, said, found.start(), found.end())
            yield Problem(
                naming.SentenceTooLong, span, {"count": str(count), "most": str(MOST_WORDS)}
            )


def _references(worked: Worked, prose: Prose, said: Said[str]) -> Iterator[Problem]:
    for piece in split(said.value):
        if isinstance(piece, Ref) and not known(worked, piece):
            of = piece.asked.of if isinstance(piece.asked, Property) else ""
            near = near_name(of or piece.name, [n.name for n in worked.names.of_kind(*REFERABLE)])
            if of and near:
                near = f"{piece.name.removesuffix(of)}{near}"
            span = _span(prose, said, piece.start, piece.end)
            yield Problem(naming.UnknownReference, span, {"name": piece.name, "near": near})
    at = unclosed(said.value)
    if at is not None:
        span = _span(prose, said, at, min(len(said.value), at + 12))
        yield Problem(naming.ReferenceNotClosed, span)


def known(worked: Worked, ref: Ref) -> bool:
    """Whether a reference names something that can be printed."""
    asked = ref.asked
    if not isinstance(asked, Property):
        return worked.names.find(asked, *REFERABLE) is not None
    if worked.names.find(asked.of, *MEASURABLE) is None:
        return False
    try:
        worked.solver.lookup(asked)
    except KeyError:
        return False
    except MeasureError:
        return True  # told already, where it is worked out
    return True


def _figures(worked: Worked, prose: Prose, said: Said[str], keep: list[str]) -> Iterator[Problem]:
    text = re.sub(r"<[^<>]*>", lambda found: " " * len(found[0]), said.value)
    for word in keep:
        text = text.replace(word, " " * len(word))
    for found in TYPED.finditer(text):
        figure = found[0].strip()
        span = _span(prose, said, found.start(), found.start() + len(figure))
        facts = {"figure": figure, "how": _how_to_name(worked, figure)}
        yield Problem(naming.FigureInProse, span, facts)


def _how_to_name(worked: Worked, figure: str) -> str:
    """What to write in place of a figure: the design's own, or one that is named first."""
    same = _same(worked, figure)
    if not same:
        return "Name it under `sizes`, and write that name in angle brackets in its place."
    return (
        f"Write <{same}> in its place, if it is that; else name it under `sizes`, and write that."
    )


def _same(worked: Worked, figure: str) -> str:
    """A size of the design with just that figure, which may be so by chance; else nothing."""
    try:
        wanted: Fraction | None = length_of(figure)
    except MeasureError:
        wanted = None
    for size in worked.book.sizes:
        found = worked.solver.size(size)
        if found and found.kind is Kind.LENGTH and found.value == wanted:
            return size.name.value
    for part in worked.parts:
        for axis, word in (("wide", "width"), ("deep", "depth"), ("high", "height")):
            if axis in part.extents and part.extents[axis].value == wanted:
                return f"{word} of {part.name}"
    return ""


def check_translations(worked: Worked) -> Iterator[Problem]:
    """Editions in another language than the main one, and all that is said or named in that alone.

    Where a text is said in several languages but not in all, it is told at its own place.
    """
    book = worked.book
    languages = [each.value for each in book.languages]
    printed = replace(book, sizes=())  # what an author notes beside a size is not printed
    for name in edition_names(book):
        language = published(book, name).language
        if language not in languages[1:]:
            continue
        span = next(each.name.span for each in book.editions if each.name.value == name)
        facts = {"edition": name, "language": language, "main": languages[0]}
        alone = [p.main for p in all_prose(printed) if len(p.by_language) == 1]
        texts = ", ".join(f"“{each.value.strip()[:30]}” ({each.span})" for each in alone)
        if alone:
            yield Problem(editions.EditionTextsMissing, span, {**facts, "texts": texts})
        unnamed = [each.name for each in missing_names(book, worked.names, language)]
        if unnamed:
            told = {"names": ", ".join(f"“{each}”" for each in unnamed), "first": unnamed[0]}
            yield Problem(editions.EditionNamesMissing, span, facts | told)


def _languages(worked: Worked, prose: Prose) -> Iterator[Problem]:
    wanted = [each.value for each in worked.book.languages][1:]
    if len(prose.by_language) < 2:
        return
    for language in wanted:
        if prose.within(language) is None:
            words = prose.main.value[:40]
            facts = {"name": words, "language": language}
            yield Problem(naming.TextMissing, prose.main.span, facts)

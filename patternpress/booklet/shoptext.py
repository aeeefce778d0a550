"""What an author pastes under a film or into a shop, as plain text.

In: the `Content` of an edition.  Out: text for any typeface and any box on a web page: what it is,
its facts, tools, materials, cutting list and the steps as titles of chapters.  It is made of the
same content as the booklet, so the two cannot disagree.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from markupsafe import Markup

from patternpress.booklet.content import Content, CutGroup
from patternpress.booklet.contentneeds import Material, Needs
from patternpress.booklet.phrases import Phrases

# The fraction slash joins figures only where a font knows how; anywhere else a plain one reads
# better.  Spaces that must not break would stay unbreakable in whatever the text is pasted into.
_PLAIN = str.maketrans(
    {"\N{FRACTION SLASH}": "/", "\N{NO-BREAK SPACE}": " ", "\N{NARROW NO-BREAK SPACE}": " "}
)
_MIXED = re.compile(r"(?<=\d) (?=\d+/\d)")


def plain_words(text: str) -> str:
    """Words of a page without markup: ``1<span>1⁄4</span> in`` becomes ``1 1/4 in``."""
    bare = text.striptags() if isinstance(text, Markup) else " ".join(text.split())
    return bare.translate(_PLAIN)


def fractions_whole(text: str) -> str:
    """The text with whole numbers and their fractions held together.

    In a narrow column “1 63/64” might otherwise break, and be read as 63/64.
    """
    return _MIXED.sub("\N{NO-BREAK SPACE}", text)


def shop_text(content: Content, phrases: Phrases) -> str:
    """The whole text; paragraphs apart, one thing a line, no line broken by hand."""
    return "\n\n".join(each for each in _passages(content, phrases) if each) + "\n"


def _passages(content: Content, phrases: Phrases) -> Iterator[str]:
    cover, making = content.cover, content.making
    title = [cover.title, plain_words(cover.subtitle)]
    yield "\n".join(each for each in title if each)
    yield plain_words(cover.words)
    yield from map(plain_words, making.prose)
    yield "\n".join(told_of(fact.label, fact.value, phrases) for fact in making.facts)
    yield from needs_text(content.needs, phrases)
    if content.cutting:
        yield "\n".join([_heading(phrases, "cutting"), *_cutting(content.cutting, phrases)])
    yield _chapters(content, phrases)
    yield _credit(content, phrases)


def told_of(what: str, words: str, phrases: Phrases) -> str:
    """What something is, behind its name and a colon as the language sets it."""
    return plain_words(phrases.say("outcome", found=plain_words(what), remedy=plain_words(words)))


def _heading(phrases: Phrases, key: str) -> str:
    return plain_words(phrases.say(key)).upper()


def needs_text(needs: Needs, phrases: Phrases) -> Iterator[str]:
    """Tools with bits, and materials with what they cost: a passage each."""
    if needs.tools:
        named = [_noted(each.name, each.note) for each in needs.tools]
        bits = [
            _noted(phrases.say("shop_bit", size=each.size), each.alternative) for each in needs.bits
        ]
        yield "\n".join([_heading(phrases, "tools"), *named, *bits])
    lines = [_material(each, phrases) for group in needs.materials for each in group.materials]
    if lines:
        sums = map(plain_words, needs.costs)
        yield "\n".join([_heading(phrases, "shop_materials"), *lines, *sums])


def _noted(name: str, note: str) -> str:
    return f"{plain_words(name)} ({plain_words(note)})" if note else plain_words(name)


def _material(each: Material, phrases: Phrases) -> str:
    size, quantity = plain_words(each.size), plain_words(each.quantity)
    told = ", ".join(part for part in (size, quantity) if part)
    name = _noted(each.name, each.note)
    return told_of(name, told, phrases) if told else name


def count_words(count: int, phrases: Phrases) -> str:
    """So many of one part: “2 off”."""
    return plain_words(phrases.counted("shop_count", count, count=count))


def _cutting(groups: tuple[CutGroup, ...], phrases: Phrases) -> Iterator[str]:
    times = plain_words(phrases.say("times")).center(3)
    for group in groups:
        yield told_of(group.stock, "", phrases)
        for row in group.rows:
            sizes = [plain_words(s) for s in (row.length, row.width, row.thickness) if s]
            count = count_words(row.quantity, phrases)
            line = f"{row.letter}  {plain_words(row.name)}, {count}"
            yield f"{line}, {times.join(sizes)}" if sizes else line


def _chapters(content: Content, phrases: Phrases) -> str:
    steps = content.every_step
    titles = [
        plain_words(phrases.say("contents_step", number=step.number, title=step.title))
        for step in steps
    ]
    return "\n".join([_heading(phrases, "steps"), *titles]) if titles else ""


def _credit(content: Content, phrases: Phrases) -> str:
    cover = content.cover
    key = "version_date" if cover.date else "version_only"
    version = plain_words(phrases.say(key, version=cover.version, date=cover.date))
    return ". ".join(each for each in (plain_words(cover.author), version) if each)

"""The author's prose as markup: a little CommonMark, and names in angle brackets filled in.

In: a text such as ``Sand <shelf> *lightly*.`` and what a name stands for.  Out: markup that is
safe to print.  Emphasis, strong emphasis, lists and links are read (by markdown-it-py); HTML,
headings, pictures and code are not: they stay the signs they are.  A link is printed as its words
with the address behind them, since paper cannot be clicked.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import cache

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup, escape

from patternpress.design.references import Ref, split

Fill = Callable[[Ref], Markup]
_FIRST = 0xE000  # a character of the private use area stands for each name while the text is read
_LAST = 0xF8FF
_PRIVATE = re.compile(f"[{chr(_FIRST)}-{chr(_LAST)}]")
_RULES = ("list", "emphasis", "link", "escape", "newline", "smartquotes")
_TAGS = {
    "em": "em",
    "strong": "strong",
    "bullet_list": "ul",
    "ordered_list": "ol",
    "list_item": "li",
}


def inline(text: str, fill: Fill) -> Markup:
    """Return one stretch of prose, without lists."""
    source, names = _without_names(text)
    (token,) = _reader().parseInline(source) or [Token("inline", "", 0)]
    return _filled(_set(token.children or ()), names, fill)


def blocks(text: str, fill: Fill) -> tuple[Markup, ...]:
    """Return prose a paragraph or list each; a list is a whole `<ul>` or `<ol>`."""
    source, names = _without_names(text)
    found: list[Markup] = []
    depth = 0
    for token in _reader().parse(source):
        if depth == 0 and token.nesting >= 0:
            found.append(Markup())
        depth += token.nesting
        found[-1] += _block(token)
    return tuple(_filled(each, names, fill) for each in found if each.strip())


def is_list(block: str) -> bool:
    """Say whether a block is a list, which stands by itself and not in a paragraph."""
    return block.startswith(("<ul", "<ol"))


@cache
def _reader() -> MarkdownIt:
    quotes = {"typographer": True, "quotes": "“”‘’", "html": False}
    return MarkdownIt("zero", quotes).enable(list(_RULES))


def _without_names(text: str) -> tuple[str, list[Ref]]:
    """Put one private character in the place of each name: no sign in a name means anything."""
    names: list[Ref] = []
    parts: list[str] = []
    for piece in split(text):
        if isinstance(piece, Ref):
            parts.append(chr(_FIRST + len(names)))
            names.append(piece)
        else:
            parts.append(_PRIVATE.sub("", piece))
    return "".join(parts), names


def _filled(marked: Markup, names: Sequence[Ref], fill: Fill) -> Markup:
    """Put back what the names stand for."""
    return Markup(_PRIVATE.sub(lambda found: fill(names[ord(found[0]) - _FIRST]), str(marked)))


def _block(token: Token) -> Markup:
    kind, _, end = token.type.rpartition("_")
    if token.type == "inline":
        return _set(token.children or ())
    if kind in _TAGS:
        return Markup(f"<{'/' if end == 'close' else ''}{_TAGS[kind]}>")
    return Markup()


def _set(tokens: Sequence[Token]) -> Markup:
    return Markup().join(_pieces(tokens))


def _pieces(tokens: Sequence[Token]) -> Iterator[Markup]:
    address = said = ""
    for token in tokens:
        kind, _, end = token.type.rpartition("_")
        if token.type in ("softbreak", "hardbreak"):
            yield Markup("\n" if token.type == "softbreak" else "<br>")
        elif kind == "link" and end == "open":
            address, said = str(token.attrs.get("href", "")), ""
        elif kind == "link":
            if address.removeprefix("mailto:") != said:
                yield Markup(" ({})").format(address)
            address = ""
        elif kind in _TAGS:
            yield Markup(f"<{'/' if end == 'close' else ''}{_TAGS[kind]}>")
        else:
            said += token.content
            yield escape(token.content)

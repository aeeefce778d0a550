"""What is done to a section's HTML before it is pressed.

In: the HTML that a theme's templates made.  Out: HTML that can be pressed apart from the other
sections.  Only three things in a section reach outside it or weigh it down, and each has its mend:

- page numbers of other places: written as `page_of("anchor")`, filled in once pages are counted;
- links to other places: turned into `book:` addresses, turned back when the sections are joined;
- inline drawings: lifted out and shown by `<img>`, which prints the same marks (byte for byte) but
  spares the engine from working out the style of every line of every drawing.

And one fault of the engine is got round: how it breaks lines before a space that never breaks.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from html import escape, unescape

from patternpress.booklet.fetch import DRAWING

BOOK = "book:"
PAGE_NUMBER = "page-number"
NUMBER_UNKNOWN = 10  # two digits: the likeliest width
_PAGE_OF = re.compile(r'<span data-page-of="([^"]+)"></span>')
_SHOWN = re.compile(f'<span class="{PAGE_NUMBER}">([^<]*)</span>')
_LINK = re.compile(r"""(<a\b[^>]*?\shref=)(["'])#([^"']+)\2""")
_ID = re.compile(r'\sid="([^"]+)"')
_SVG = re.compile(r"<svg\b.*?</svg>", re.DOTALL)
# With the word or figure before it: in some faces a space that stands alone is not copied.
_LAST_SPACE = re.compile(
    r"([^\s<>&;]+(?:&nbsp;|[\u00a0\u202f]))(?=<(?:span|a|b|i|em|strong|small)\b)"
)
_SVG_TAG = re.compile(r"<(/?)svg\b[^>]*?(/?)>")
_TITLE = re.compile(r"<title\b[^>]*>(.*?)</title>", re.DOTALL)
_KEPT = re.compile(r"""\s(?:id|class|style)=(?:"[^"]*"|'[^']*')""")
_XMLNS = 'xmlns="http://www.w3.org/2000/svg"'


def page_of(anchor: str) -> str:
    """Return the markup that will show the page number on which `anchor` stands.

    `anchor` is the `id` of an element of any section, or a section's key (its first page).
    """
    return f'<span data-page-of="{escape(anchor)}"></span>'


def anchors_wanted(html: str) -> tuple[str, ...]:
    """Return the anchors whose page numbers `html` shows, each once, in order."""
    return tuple(dict.fromkeys(unescape(name) for name in _PAGE_OF.findall(html)))


def fill_page_numbers(html: str, numbers: Mapping[str, int]) -> str:
    """Return `html` with every `page_of` filled in; unknown anchors show a stand-in."""

    def number(found: re.Match[str]) -> str:
        page = numbers.get(unescape(found[1]), NUMBER_UNKNOWN)
        return f'<span class="{PAGE_NUMBER}">{page}</span>'

    return _PAGE_OF.sub(number, html)


def numbers_shown(html: str) -> tuple[str, ...]:
    """Return the page numbers that `fill_page_numbers` filled in, in order."""
    return tuple(_SHOWN.findall(html))


def anchors_in(html: str) -> dict[str, int]:
    """Return where in `html` each `id` stands, in characters."""
    return {unescape(found[1]): found.start() for found in _ID.finditer(html)}


def without_drawings(html: str) -> str:
    """Return `html` without its inline drawings, which weigh nothing on a page."""
    return _SVG.sub("", html)


def send_links_abroad(html: str) -> str:
    """Return `html` with each `href="#x"` of an `<a>` as `book:x`.

    The engine drops a link whose target is not in the same document; an outside address it keeps.
    """
    return _LINK.sub(rf"\1\2{BOOK}\3\2", html)


def own_spaces(html: str) -> str:
    """Return `html` in which a word with a space that never breaks, before an inline element, is
    one as well.

    Where words end with such a space and what follows finds no room on their line, the engine
    breaks them after the first word: “Round / over the top left edge by 1 mm”.  Drawings are not
    to be in `html` any more.
    """
    return _LAST_SPACE.sub(r"<span>\1</span>", html)


def lift_drawings(html: str) -> tuple[str, dict[str, str]]:
    """Return `html` with `<img>` for each outermost inline `<svg>`, and address -> SVG.

    Class, style and id move to the `<img>`; the drawing's `<title>` becomes its `alt`.  Equal
    drawings share one address.  A stylesheet must ask for `.drawing` or `img`, never for `svg`.
    """
    drawings: dict[str, str] = {}
    out: list[str] = []
    done = start = depth = 0
    for tag in _SVG_TAG.finditer(html):
        closing, empty = tag.groups()
        if depth == 0 and not closing:
            start = tag.start()
        if not empty:
            depth += -1 if closing else 1
        if depth == 0:
            svg = html[start : tag.end()]
            address = DRAWING + hashlib.blake2b(svg.encode(), digest_size=12).hexdigest()
            drawings[address] = svg if _XMLNS in svg else svg.replace("<svg", f"<svg {_XMLNS}", 1)
            out += [html[done:start], _image(svg, address)]
            done = tag.end()
    out.append(html[done:])
    return "".join(out), drawings


def _image(svg: str, address: str) -> str:
    """Return the `<img>` that stands for `svg`."""
    opening = svg[: svg.index(">")]
    title = _TITLE.search(svg)
    words = escape(unescape(title[1]).strip()) if title else ""
    kept = "".join(_KEPT.findall(opening))
    return f'<img src="{address}" alt="{words}"{kept}>'

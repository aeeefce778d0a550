"""Lines that end with a space: a fault of the engine is got round.

In: nothing; for as long as `whole_lines` lasts, the engine fills lines by the function here.  Out:
lines as full as they can be.  Where the words before an inline element find room on their line
but the space after them does not, the engine takes them for one word too long for the line and
breaks them after the first: “Scrap / board, steel rule, masking tape.” and then a link.  A space at
the end of a line takes no room (CSS Text 3, 4.1.2), so they fit.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from math import inf
from typing import Any

from weasyprint.layout import inline

_KEPT = ("pre", "nowrap", "pre-wrap")  # values of `white-space`: nothing breaks, or spaces count


@contextlib.contextmanager
def whole_lines() -> Iterator[None]:
    """Let the engine keep words on a line on which only the space after them has no room."""
    before = inline.split_first_line

    def split(text: str, style: Any, context: Any, width: Any, *rest: Any, **more: Any) -> Any:
        found = before(text, style, context, width, *rest, **more)
        words = text.rstrip(" ")
        if words == text or style["white_space"] in _KEPT:
            return found
        if found[2] != len(words.partition(" ")[0].encode()) + 1:  # not after the first word
            return found
        fits = before(words, style, context, width, *rest, **more)[2] is None
        return before(text, style, context, inf, *rest, **more) if fits else found

    inline.split_first_line = split
    try:
        yield
    finally:
        inline.split_first_line = before

"""The figures that the words of a section say, before they are pressed.

In: a section's HTML.  Out: its numbers, each with how often it is said.  They go into the finished
file, so that whoever measures it can tell whether a figure was lost or changed on its way to paper.
Drawings are left out: their figures are held against what is drawn.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterable, Mapping
from html import unescape

from patternpress.booklet.press import Section

_LEFT_OUT = re.compile(r"<(svg|head|style|title)\b.*?</\1>|<span data-page-of.*?</span>", re.DOTALL)
_TAG = re.compile(r"<[^>]*>")
_NUMBER = re.compile(r"\d+/\d+|\d+(?:[.,]\d+)*")


def said_figures(html: str) -> Mapping[str, int]:
    """Return each number in the words of a section, a fraction as 1/4, and how often it stands."""
    text = unescape(_TAG.sub(" ", _LEFT_OUT.sub(" ", html))).replace("⁄", "/")
    return Counter(_NUMBER.findall(text))


def as_record(sections: Iterable[Section]) -> str:
    """Return the figures of all sections by their keys, as JSON in a fixed order."""
    said = {section.key: dict(sorted(said_figures(section.html).items())) for section in sections}
    return json.dumps(said, separators=(",", ":"), ensure_ascii=False)

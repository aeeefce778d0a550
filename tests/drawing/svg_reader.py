"""Read a picture's SVG back: its lines and its words, as a reader's eye would meet them."""

import re
from typing import Any

import shapely

from patternpress.drawing.lettering import figure_width, words
from tests.drawing.demo_pictures import STYLE

_CAPITAL = 0.66  # height of a capital of the type, as a share of its size (from memory)
_PATH = re.compile(r"<path ([^>]*?)/?>")
_TEXT = re.compile(r"<text([^>]*)>(.*?)</text>", re.DOTALL)
_SPAN = re.compile(r"<tspan ([^>]*)>([^<]*)</tspan>")


def _said(attributes: str, name: str) -> str:
    found = re.search(rf'(?<![\w-]){name}="([^"]*)"', attributes)
    return found[1] if found else ""


def lines_of(svg: str) -> list[Any]:
    """Every stroked line of a picture; what is only filled is left out."""
    found = []
    for attributes in _PATH.findall(svg):
        if not _said(attributes, "stroke-width"):
            continue
        for part in _said(attributes, "d").split("M")[1:]:
            closed = part.endswith("Z")
            places = [tuple(map(float, each.split())) for each in part.rstrip("Z").split("L")]
            places += places[:1] if closed else []
            found.append(shapely.LineString(places))
    return found


def words_of(svg: str) -> list[tuple[str, Any, float]]:
    """Every run of words: its text, its box from the base line to the capitals, its height, mm."""
    found = []
    for attributes, inner in _TEXT.findall(svg):
        if "rotate" in attributes:
            continue
        weight = int(_said(attributes, "font-weight") or 400)
        for span, text in _SPAN.findall(inner):
            high = _CAPITAL * float(_said(span, "font-size"))
            lettering = STYLE.set_in(high, weight, "font-style" in attributes)
            x, y = float(_said(span, "x")), float(_said(span, "y"))
            wide = figure_width(words(text), lettering)
            found.append((text, shapely.box(x, y - high, x + wide, y), high))
    return found

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


def _places(part: str) -> list[tuple[float, float]]:
    """The corners of a path without its M; of a curve its control points too."""
    figures = [float(each) for each in re.split("[LC ]", part.rstrip("Z"))]
    return list(zip(figures[::2], figures[1::2], strict=True))


def lines_of(svg: str, dashed: str = "") -> list[Any]:
    """Every stroked line of a picture, or those of one pattern of dashes; what is only filled is
    left out.
    """
    found = []
    for attributes in _PATH.findall(svg):
        if not _said(attributes, "stroke-width"):
            continue
        if dashed and _said(attributes, "stroke-dasharray") != dashed:
            continue
        for part in _said(attributes, "d").split("M")[1:]:
            closed = part.endswith("Z")
            places = _places(part)
            places += places[:1] if closed else []
            found.append(shapely.LineString(places))
    return found


def dots_of(svg: str) -> list[Any]:
    """The middles of all small black dots, in which leaders end."""
    found = []
    for attributes in _PATH.findall(svg):
        if _said(attributes, "fill") != "#000":
            continue
        for part in _said(attributes, "d").split("M")[1:]:
            shape = shapely.Polygon(_places(part))
            low_x, low_y, high_x, high_y = shape.bounds
            # As wide as high, and round: not an arrowhead.
            if abs((high_x - low_x) - (high_y - low_y)) < 0.02 and len(_places(part)) > 8:
                found.append(shape.centroid)
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

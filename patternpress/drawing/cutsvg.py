"""Write a part for a cutter as SVG.

In: `CutLines`.  Out: SVG text in mm, three groups with the ids cut (lay, for a far face), mark and
text: in the first the holes, then the outline.  Curves are cubics true to 0.005 mm.
"""

from __future__ import annotations

from svgwrite.base import Title
from svgwrite.container import SVG, Group
from svgwrite.path import Path
from svgwrite.text import Text

from patternpress.assembly.shape import Outline
from patternpress.drawing.cutlines import CutLines, Line
from patternpress.drawing.ink import Extent, Track, outline_track, straight, track_extent
from patternpress.drawing.numbers import number
from patternpress.drawing.svg import NAMESPACE, path_data

_ROUND = 5.0  # mm kept clear round the part
_HAIR = "0.1"  # mm: cutters take the middle of a line
_LETTERS = 3.0  # mm, font size
COLOURS = {"cut": "#ff0000", "lay": "#808080", "mark": "#0000ff", "text": "#008000"}


def cut_svg(lines: CutLines) -> str:
    """Return the SVG of one part, with room round it."""
    tracks = {
        "lay" if lines.lay else "cut": [_track(line) for line in (*lines.cuts, *lines.lay)],
        "mark": [*map(_track, lines.marks), *(straight(*edge) for edge in lines.strokes)],
    }
    box = track_extent([track for each in tracks.values() for track in each]).grown(_ROUND)
    page = SVG(debug=False)
    page.elements.clear()
    page["xmlns"] = NAMESPACE
    page["width"], page["height"] = f"{number(box.width)}mm", f"{number(box.height)}mm"
    page["viewBox"] = f"0 0 {number(box.width)} {number(box.height)}"
    page.elements.append(Title(lines.title))
    for layer, found in tracks.items():
        page.elements.append(_layer(layer, found, box))
    page.elements.append(_text(lines, box))
    return str(page.tostring()) + "\n"


def _layer(name: str, tracks: list[Track], box: Extent) -> Group:
    group = Group(debug=False, id=name, fill="none", stroke=COLOURS[name])
    group["stroke-width"] = _HAIR
    for track in tracks:
        data = path_data(track, -box.left, -box.bottom, box.height)
        group.elements.append(Path(d=data, debug=False))
    return group


def _text(lines: CutLines, box: Extent) -> Group:
    group = Group(debug=False, id="text", fill=COLOURS["text"])
    text = Text(lines.said, debug=False)
    text["x"] = number(lines.at[0] - box.left)
    text["y"] = number(box.height - (lines.at[1] - box.bottom))
    text["font-size"], text["text-anchor"] = number(_LETTERS), "middle"
    text["font-family"] = "sans-serif"
    group.elements.append(text)
    return group


def _track(line: Line) -> Track:
    return outline_track(line) if isinstance(line, Outline) else straight(*line, closed=True)

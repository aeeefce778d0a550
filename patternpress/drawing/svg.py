"""Write ink as SVG.

In: ink in mm, y upwards, on a page of a size.  Out: SVG text in mm, y downwards: the only
place where the page is turned over.  The contract (see `contract`): only g, path, text,
tspan and one title; paths only of M, L, C and Z; styles as attributes; tags as `data-` attributes.
"""

from collections.abc import Iterable, Sequence
from itertools import groupby

from svgwrite.base import Title
from svgwrite.container import SVG, Group
from svgwrite.path import Path
from svgwrite.text import Text as SvgText
from svgwrite.text import TSpan

from patternpress.drawing.curves import Straight
from patternpress.drawing.ink import Ink, Solid, Stroke, Tagged, Tone, Track, Words, shifted
from patternpress.drawing.lettering import Typeface, runs
from patternpress.drawing.lines import Pen
from patternpress.drawing.numbers import HOLE, filled, number
from patternpress.drawing.tags import Tag

NAMESPACE = "http://www.w3.org/2000/svg"
BLACK = "#000"
_MOVE, _LINE, _CURVE = (
    letter + " ".join([HOLE] * count) for letter, count in (("M", 2), ("L", 2), ("C", 6))
)


def svg_page(
    size: tuple[float, float],
    groups: Iterable[Sequence[Ink] | Tagged],
    title: str,
    typeface: Typeface,
    rounded: bool = False,
) -> str:
    """Return an SVG of `size` mm, one group for each sequence of ink, with a title.

    `rounded`: lines end and turn round, as in pictures, where many of them meet in a corner.
    """
    width, height = size
    page = SVG(debug=False)
    page.elements.clear()  # svgwrite's empty <defs>, which the contract leaves out
    page["xmlns"] = NAMESPACE
    page["width"], page["height"] = f"{number(width)}mm", f"{number(height)}mm"
    page["viewBox"] = f"0 0 {number(width)} {number(height)}"
    page["font-family"] = typeface.family
    page.elements.append(Title(title))
    for inks in groups:
        ink = inks.ink if isinstance(inks, Tagged) else inks
        group = _group(ink, height, rounded)
        _tag(group, inks.tag if isinstance(inks, Tagged) else None)
        page.elements.append(group)
    return str(page.tostring())


def _group(inks: Sequence[Ink], height: float, rounded: bool) -> Group:
    group = Group(debug=False, fill="none", stroke=BLACK)
    ends = ("round", "round") if rounded else ("miter", "butt")
    group["stroke-linejoin"], group["stroke-linecap"] = ends
    for (kind, look, tag), same in groupby(inks, key=_kind):
        if kind is Words:
            for ink in same:
                if isinstance(ink, Words):
                    group.elements.append(_text(ink, height))
            continue
        tracks = (t for ink in same if not isinstance(ink, Words) for t in ink.tracks)
        path = Path(d=_data(tracks, height), debug=False)
        _tag(path, tag)
        if isinstance(look, Pen):
            path["stroke-width"] = number(look.width)
            if look.dashes:
                # Round ends would close the gaps of short dashes.
                path["stroke-linecap"] = "butt"
                path["stroke-dasharray"] = " ".join(number(dash) for dash in look.dashes)
        else:
            path["fill"], path["stroke"] = BLACK if look is None else _grey(look), "none"
        group.elements.append(path)
    return group


def _kind(ink: Ink) -> tuple[type[Ink], Pen | float | None, Tag | None]:
    if isinstance(ink, Stroke):
        return Stroke, ink.pen, ink.tag
    return type(ink), ink.grey if isinstance(ink, Tone) else None, None


def _tag(element: Group | Path | SvgText, tag: Tag | None) -> None:
    for key, value in tag.attributes() if tag else ():
        element[key] = value


def _grey(share: float) -> str:
    level = round(255 * share)
    return f"#{level:02x}{level:02x}{level:02x}"


def path_data(track: Track, across: float, up: float, height: float) -> str:
    """Return a track, moved, as path data on a page of a height, mm."""
    (moved,) = shifted((Solid((track,)),), across, up)
    return "" if isinstance(moved, Words) else _data(moved.tracks, height)


def _data(tracks: Iterable[Track], height: float) -> str:
    """Return tracks as path data; their numbers are written all together."""
    parts: list[str] = []
    values: list[float] = []
    for track in tracks:
        parts.append(_MOVE)
        values += (track.start[0], height - track.start[1])
        for piece in track.pieces:
            if isinstance(piece, Straight):
                parts.append(_LINE)
            else:
                parts.append(_CURVE)
                values += (piece.x1, height - piece.y1, piece.x2, height - piece.y2)
            values += (piece.x, height - piece.y)
        if track.closed:
            parts.append("Z")
    return filled("".join(parts), values)


def _text(words: Words, height: float) -> SvgText:
    x, y = words.start[0], height - words.start[1]
    text = SvgText("", debug=False, fill=BLACK, stroke="none")
    _tag(text, words.tag)
    if words.upright:
        text["transform"] = f"rotate(-90 {number(x)} {number(y)})"
    if words.lettering.weight != 400:
        text["font-weight"] = str(words.lettering.weight)
    if words.lettering.italic:
        text["font-style"] = "italic"
    for run in runs(words.figure, words.lettering):
        span = TSpan(run.text, debug=False)
        span["x"], span["y"] = number(x + run.across), number(y - run.up)
        span["font-size"] = number(run.size)
        text.elements.append(span)
    return text

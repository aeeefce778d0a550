"""Write ink as SVG.

In: ink in mm, y upwards, on a page of a size.  Out: SVG text in mm, y downwards: the only
place where the page is turned over.  The contract (see `contract`): only g, path, text,
tspan and one title; paths only of M, L, C and Z; styles as attributes.
"""

from collections.abc import Iterable, Sequence
from itertools import groupby

from svgwrite.base import Title
from svgwrite.container import SVG, Group
from svgwrite.path import Path
from svgwrite.text import Text as SvgText
from svgwrite.text import TSpan

from patternpress.drawing.curves import Piece, Straight
from patternpress.drawing.ink import Ink, Solid, Stroke, Tone, Track, Words, shifted
from patternpress.drawing.lettering import Typeface, runs
from patternpress.drawing.lines import Pen
from patternpress.drawing.numbers import number, place

NAMESPACE = "http://www.w3.org/2000/svg"
BLACK = "#000"


def svg_page(
    size: tuple[float, float],
    groups: Iterable[Sequence[Ink]],
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
        page.elements.append(_group(inks, height, rounded))
    return str(page.tostring())


def _group(inks: Sequence[Ink], height: float, rounded: bool) -> Group:
    group = Group(debug=False, fill="none", stroke=BLACK)
    ends = ("round", "round") if rounded else ("miter", "butt")
    group["stroke-linejoin"], group["stroke-linecap"] = ends
    for (kind, look), same in groupby(inks, key=_kind):
        if kind is Words:
            for ink in same:
                if isinstance(ink, Words):
                    group.elements.append(_text(ink, height))
            continue
        tracks = [t for ink in same if not isinstance(ink, Words) for t in ink.tracks]
        path = Path(d="".join(_data(track, height) for track in tracks), debug=False)
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


def _kind(ink: Ink) -> tuple[type[Ink], Pen | float | None]:
    if isinstance(ink, Stroke):
        return Stroke, ink.pen
    return type(ink), ink.grey if isinstance(ink, Tone) else None


def _grey(share: float) -> str:
    level = round(255 * share)
    return f"#{level:02x}{level:02x}{level:02x}"


def path_data(track: Track, across: float, up: float, height: float) -> str:
    """Return a track, moved, as path data on a page of a height, mm."""
    (moved,) = shifted((Solid((track,)),), across, up)
    return "" if isinstance(moved, Words) else _data(moved.tracks[0], height)


def _data(track: Track, height: float) -> str:
    parts = [f"M{place(track.start[0], height - track.start[1])}"]
    parts += [_piece(piece, height) for piece in track.pieces]
    return "".join(parts) + ("Z" if track.closed else "")


def _piece(piece: Piece, height: float) -> str:
    if isinstance(piece, Straight):
        return f"L{place(piece.x, height - piece.y)}"
    handles = f"{place(piece.x1, height - piece.y1)} {place(piece.x2, height - piece.y2)}"
    return f"C{handles} {place(piece.x, height - piece.y)}"


def _text(words: Words, height: float) -> SvgText:
    x, y = words.start[0], height - words.start[1]
    text = SvgText("", debug=False, fill=BLACK, stroke="none")
    if words.upright:
        text["transform"] = f"rotate(-90 {place(x, y)})"
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

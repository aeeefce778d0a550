"""The tones of a page: letters, rules and areas, each against what it stands on.

In: the marks of a page, and the page drawn without its letters.  Out: complaints in words, none for
a sound page.  `test_tones.py` holds every demo booklet against these, and shows each a wrong page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

import numpy
from numpy.typing import NDArray

from tests.whole.demos import MM
from tests.whole.pagechecks import WORDS
from tests.whole.pageink import SCALE, Ink
from tests.whole.plumbed import Mark, Page

LEAST_TEXT, LEAST_LINE = 4.5, 3.0  # contrast, WCAG 2.1, 1.4.3 and 1.4.11
DARKEST_TINT = 0xE0  # of 255, of what words stand on
DARKEST_FACE = 0xBD  # of 255, of the shaded faces of a drawing
THIN = 1.0  # mm: what is filled and no wider is a rule
DARK = 0x80  # of 255: what is darker counts as black
WIDE_TINT = 1.5  # mm: an area of one tone that is narrower is a line
MAP = 13.0  # mm: a sheet in the map of sheets
MOST_BLACK, MOST_ON_SHEETS = 6.0, 3.0  # mm, the side of a square that is all black


def contrast(one: str, other: str = "#ffffff") -> float:
    """Contrast of two colours (WCAG 2.1, relative luminance)."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def named(colour: Sequence[float] | None) -> str:
    """A colour of a PDF, grey or RGB, as #rrggbb; none given is black."""
    parts = tuple(colour or (0.0,))
    return "#" + "".join(f"{round(float(p) * 255):02x}" for p in (parts * 3)[:3])


def too_faint(chars: Sequence[Mark], bare: Ink) -> Iterator[str]:
    """Letters that a grey printer would break up on what is under them."""
    looks = [(named(each["non_stroking_color"]), _under(each, bare)) for each in chars]
    for (colour, ground), letters in groupby(zip(looks, chars, strict=True), key=lambda e: e[0]):
        said = "".join(each["text"] for _, each in letters).strip()
        if said and contrast(colour, ground) < LEAST_TEXT:
            yield f"{colour} on {ground}: “{said[:20]}”"


def _under(char: Mark, bare: Ink) -> str:
    """What a letter stands on: the middle tone of its box, as a grey."""
    left, top = (max(int(char[side] * SCALE), 0) for side in ("x0", "top"))
    right, low = (int(numpy.ceil(char[side] * SCALE)) for side in ("x1", "bottom"))
    box = bare[top : max(low, top + 1), left : max(right, left + 1)].ravel()
    middle = box.size // 2
    tone = int(numpy.partition(box, middle)[middle]) if box.size else 255
    return f"#{tone:02x}{tone:02x}{tone:02x}"


def faint_rules(page: Page) -> Iterator[str]:
    """Rules and boxes, and lines of drawings, that hardly stand out from the paper."""
    for each in (*page.rects, *page.lines, *page.curves):
        colours = [named(each["stroking_color"])] if each["stroke"] else []
        if each["fill"] and each["tag"] == "Artifact":
            # A border is a larger area, of which all but the rule is cut off.
            colour = named(each["non_stroking_color"])
            thin = min(each["width"], each["height"]) * MM < THIN
            # The white of the paper hides what is under it and draws nothing.
            drawn = thin and colour != "#ffffff"
            colours += [colour] if drawn or int(colour[1:3], 16) < DARKEST_TINT else []
        for colour in colours:
            if contrast(colour) < LEAST_LINE:
                yield f"a rule of {colour}, {each['top'] * MM:.0f} mm from the top"


def dark_tints(page: Page, bare: Ink) -> Iterator[str]:
    """Areas that are neither black nor light; the faces of drawings may be a little darker.

    Taken from the page as it is drawn: what is cut off an area is not told in its marks.
    """
    least = numpy.full(bare.shape, DARKEST_TINT)
    for each in (*page.rects, *page.lines, *page.curves):
        if each["tag"] not in WORDS:
            left, top, right, low = (int(each[k] * SCALE) for k in ("x0", "top", "x1", "bottom"))
            least[max(top, 0) : low + 1, max(left, 0) : right + 1] = DARKEST_FACE
    if _holds_square((bare >= DARK) & (bare < least - 1), WIDE_TINT):
        yield f"a dark tint, wider than {WIDE_TINT} mm"


def too_black(full: Ink, most: float) -> bool:
    """Whether a page has a square, wider than so many mm, that is all black."""
    return _holds_square(full < DARK, most)


def _holds_square(mask: NDArray[numpy.bool_], most: float) -> bool:
    """Whether a square wider than so many mm is all of what is looked for.

    Each pixel is joined with its neighbours, twice as many each time, along and then across.
    """
    side = int(most / MM * SCALE) + 1
    for axis in (0, 1):
        held = 1
        while held < side:
            more = min(held, side - held)
            low, high = (slice(None, -more), slice(more, None))
            mask = mask[low] & mask[high] if axis == 0 else mask[:, low] & mask[:, high]
            held += more
    return bool(mask.any())


def adorned(page: Page, full: Ink) -> Iterator[str]:
    """What a template sheet has besides lines and letters: tints, colours, pictures, black."""
    for each in (*page.rects, *page.lines, *page.curves):
        if max(each["width"], each["height"]) * MM < MAP and not each["stroke"]:
            continue  # the grey of this sheet in the map of a template of several
        colours = [each[k] for k, d in FILLS if each[d]]
        for colour in {*map(named, colours)} - {"#ffffff"}:
            if contrast(colour) < contrast("#222222"):
                yield f"{colour}, {each['top'] * MM:.0f} mm from the top"
    if page.images:
        yield "a photograph"
    if too_black(full, MOST_ON_SHEETS):
        yield "a black area"


FILLS = (("non_stroking_color", "fill"), ("stroking_color", "stroke"))

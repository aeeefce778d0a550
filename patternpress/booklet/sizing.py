"""About how large things come out on a page, so that a theme may choose where to put them.

In: a picture, or texts.  Out: millimetres.  Nothing printed depends on these being exact: a theme
asks them only which of two arrangements is likely to take less room.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from markupsafe import Markup

from patternpress.drawing.lettering import source_sans

_POINT = 25.4 / 72
_LETTER = 0.46  # mean width of a letter of Source Sans Pro in running English, em (measured)


def width_of(picture: str) -> float:
    """Return the width of a picture in mm, or 0 if it does not say."""
    return _side(picture, "width")


def height_of(picture: str) -> float:
    """Return the height of a picture in mm, or 0 if it does not say."""
    return _side(picture, "height")


def _side(picture: str, side: str) -> float:
    opening = picture.lstrip().partition(">")[0]
    found = re.search(rf'\s{side}="([0-9.]+)mm"', opening)
    found = found or re.search(rf"\b{side}:\s*([0-9.]+)mm", opening)
    return float(found[1]) if found and opening.startswith(("<svg", "<img")) else 0.0


def figure_of(size: str) -> float:
    """Return the figure of a size such as "64mm", "10pt", "60%" or "1.36"; its unit is known.

    Raises ValueError if the size does not start with a figure.
    """
    found = re.match(r"\s*([0-9.]+)", size)
    if found is None:
        raise ValueError(f"“{size}” is no size")
    return float(found[1])


def height_of_words(
    texts: Iterable[str], width: float, points: float = 10, lead: float = 1.4, gap: float = 1
) -> float:
    """Return about how high texts stand in a column, in mm.

    `width` of the column and `gap` between two texts in mm; `points`: size of the letters.
    """
    line = max(width / (points * _POINT * _LETTER), 1)
    height = 0.0
    for text in texts:
        letters = len(Markup(text).striptags())
        if letters:
            height += math.ceil(letters / line) * points * lead * _POINT + gap
    return height


def balanced_width(text: str, width: float, points: float) -> float:
    """Return the least width in mm at which a text has no more lines than it has at `width`.

    So its lines come out of nearly one length, and no last word stands alone.  `points`: size of
    the letters, which are those of the prose.
    """
    size, face = points * _POINT, source_sans()
    words = [face.width(word, 400) * size for word in Markup(text).striptags().split()]
    space = face.width(" ", 400) * size
    most = _lines(words, space, width)
    if most < 2:
        return width
    room = sum(words) / most
    while room < width and _lines(words, space, room) > most:
        room += 0.5
    return min(room + 1.0, width)  # a little air: kerning is not reckoned with


def _lines(words: Iterable[float], space: float, width: float) -> int:
    """How many lines some words take, filled one after the other."""
    lines, left = 0, -1.0
    for word in words:
        if left < word + space:
            lines, left = lines + 1, width + space
        left -= word + space
    return lines

"""How an edition's drawings look: usual, in large print, or saving ink.

In: a `Published` edition.  Out: the styles of its pictures and of its flat drawings; templates
alone look the same in every edition, since a pencil follows their lines.
"""

from __future__ import annotations

from collections.abc import Mapping

from patternpress.assembly.editions import Published
from patternpress.drawing.picturestyle import PictureStyle, large, sparing
from patternpress.drawing.style import DrawingStyle, heavy_lines, sparing_areas


def picture_look(edition: Published, words: Mapping[str, str]) -> PictureStyle:
    """Return the style of an edition's pictures, with the words of its language."""
    style = PictureStyle(words=words)
    style = sparing(style) if edition.ink == "saving" else style
    return large(style) if edition.letters == "large" else style


def flat_look(edition: Published) -> DrawingStyle:
    """Return the style of an edition's cutting layouts and of its bench plan."""
    style = DrawingStyle()
    style = sparing_areas(style) if edition.ink == "saving" else style
    return heavy_lines(style) if edition.letters == "large" else style

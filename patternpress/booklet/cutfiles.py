"""Files for laser and knife cutters.

In: a model.  Out: an SVG and a DXF for each part that is cut from sheet, or has a template: file
names and their contents.  A handed part has one of each for both hands, and a part with work on its
far face one more, as it lies once it is turned over.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.calls import calls_of
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.hands import shapes_of_hands
from patternpress.assembly.model import Model
from patternpress.assembly.shape import Shape
from patternpress.drawing.cutdxf import cut_dxf
from patternpress.drawing.cutlines import CutLines, cut_lines, far_lines
from patternpress.drawing.cutsvg import cut_svg

FOLDER = "templates"


def cut_files(model: Model, kerf: Fraction = Fraction(0)) -> Iterator[tuple[str, bytes]]:
    """Yield file names and contents; with a kerf in mm the lines lie half of it in the waste.

    Raises ValueError if the kerf leaves nothing of a part.
    """
    calls = calls_of(model.worked.book, model.edition.language)
    for part in model.worked.parts:
        shape = model.worked.shapes.get(part.name)
        if shape is None or not _is_wanted(part, model):
            continue
        for hand, each in _hands(part, shape, model):
            title = " ".join(word for word in (part.letter, calls.one(part.name), hand) if word)
            yield from _both(cut_lines(each, title, kerf))
            far = far_lines(each, f"{title} far face")
            if far is not None:
                yield from _both(far)


def _both(lines: CutLines) -> Iterator[tuple[str, bytes]]:
    name = f"{FOLDER}/{_file_name(lines.title)}"
    yield f"{name}.svg", cut_svg(lines).encode()
    yield f"{name}.dxf", cut_dxf(lines).encode()


def _is_wanted(part: CutPart, model: Model) -> bool:
    if part.name in model.worked.templates:
        return True
    return part.form == "sheet" and not part.opening


def _hands(part: CutPart, shape: Shape, model: Model) -> Iterator[tuple[str, Shape]]:
    shapes = shapes_of_hands(part, shape, model.worked, faced=False)
    yield from zip(("left", "right") if len(shapes) > 1 else ("",), shapes, strict=True)


def _file_name(title: str) -> str:
    """A title as a file name that every system takes: plain letters, figures and hyphens."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode()
    return re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-") or "part"

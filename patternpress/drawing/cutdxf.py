"""Write a part for a cutter as DXF.

In: `CutLines`.  Out: DXF text (R2010, millimetres) with the layers cut, mark and text, or for a far
face lay, mark and text: holes before the outline.  Circles are circles, arcs bulges of one closed
polyline; only free curves are straight pieces, true to 0.002 mm.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator

from ezdxf import units
from ezdxf._options import options
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Modelspace

from patternpress.assembly.flattening import flattened
from patternpress.assembly.outlines import legs, turn_of
from patternpress.assembly.shape import Arc, Curve, Outline
from patternpress.drawing.cutlines import FLAT, CutLines, Line, whole_circle

# The colour numbers of the format: red, grey, blue, green.
COLOURS = {"cut": 1, "lay": 8, "mark": 5, "text": 3}
_LETTERS = 3.0  # mm

# x, y and bulge: the tangent of a quarter of the angle that the arc to the next corner turns.
_Corner = tuple[float, float, float]


def cut_dxf(lines: CutLines) -> str:
    """Return the DXF of one part, its blank's lower left corner at the origin.

    The same part gives the same text: no times, no chance names.
    """
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        return _written(lines)
    finally:
        options.write_fixed_meta_data_for_testing = before


def _written(lines: CutLines) -> str:
    document = new("R2010", units=units.MM)
    for name, colour in COLOURS.items():
        if name != ("cut" if lines.lay else "lay"):
            document.layers.add(name, color=colour)
    space = document.modelspace()
    for line in lines.cuts:
        _add(space, line, "cut")
    for line in lines.lay:
        _add(space, line, "lay")
    for line in lines.marks:
        _add(space, line, "mark")
    for start, to in lines.strokes:
        space.add_line(start, to, dxfattribs={"layer": "mark"})
    text = space.add_text(lines.said, height=_LETTERS, dxfattribs={"layer": "text"})
    text.set_placement(lines.at, align=TextEntityAlignment.MIDDLE_CENTER)
    out = io.StringIO()
    document.write(out)
    return out.getvalue()


def _add(space: Modelspace, line: Line, layer: str) -> None:
    attributes = {"layer": layer}
    circle = whole_circle(line)
    if circle is not None:
        x, y, radius = (float(each) for each in circle)
        space.add_circle((x, y), radius, dxfattribs=attributes)
        return
    corners = [*_corners(line)] if isinstance(line, Outline) else [(x, y, 0.0) for x, y in line]
    space.add_lwpolyline(corners, format="xyb", close=True, dxfattribs=attributes)


def _corners(outline: Outline) -> Iterator[_Corner]:
    for start, segment in legs(outline):
        if isinstance(segment, Arc):
            bulge = math.tan(turn_of(start, segment) / 4)
            yield float(start.x), float(start.y), bulge
        elif isinstance(segment, Curve):
            stretch = flattened(Outline(start, (segment,)), FLAT)
            yield from ((x, y, 0.0) for x, y in stretch)
        else:
            yield float(start.x), float(start.y), 0.0

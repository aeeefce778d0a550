"""The mouths of holes that are drilled at an angle: on the face they are longer than wide.

In: a `Worked` design, its `Assembly` and the shapes of its parts.  Out: the shapes with each such
hole as it shows on the face, and for each part the ways of its bores, for the walls behind.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from patternpress.assembly.bores import Bores, mouth, off_square
from patternpress.assembly.leaning import SIDES, SQUARE, Leaning, leaning_holes
from patternpress.assembly.placing import Assembly
from patternpress.assembly.shape import Shape
from patternpress.assembly.sizes import AXES
from patternpress.assembly.specs import NEAR_FACE
from patternpress.assembly.worked import Worked

_STEEPEST = 80.0  # degrees; a drill does not start any flatter, and checks tell from 45 on


def with_mouths(
    worked: Worked, assembly: Assembly, shapes: Mapping[str, Shape]
) -> dict[str, Shape]:
    """Return the shapes, the round holes that leaning pieces go into with their real mouths.

    A hole of diameter d whose axis is a off square meets the face in an ellipse: d across, and
    d / cos a the way that it leans.
    """
    found = dict(shapes)
    for each in _leaning(worked, assembly):
        part, shape = worked.part(each.part), found.get(each.part)
        if part is None or shape is None or AXES[each.axis] != part.thin:
            continue  # into an edge: no template shows it
        holes = tuple(
            replace(hole, outline=mouth(hole, shape.view, _floats(each)))
            if hole.name in each.hole.names and hole.diameter is not None
            else hole
            for hole in shape.holes
        )
        found[each.part] = replace(shape, holes=holes)
    return found


def bores_of(worked: Worked, assembly: Assembly) -> dict[str, Bores]:
    """Return for each part the ways of its holes that lean, those into edges too."""
    found: dict[str, dict[str, tuple[float, float, float]]] = {}
    for each in _leaning(worked, assembly):
        found.setdefault(each.part, {}).update(dict.fromkeys(each.hole.names, _floats(each)))
    return {part: tuple(ways.items()) for part, ways in found.items()}


def far_mouths(worked: Worked, assembly: Assembly) -> dict[tuple[str, str], str]:
    """Return the side that the drill starts on, by part and hole, where that is not the face that
    the template shows.
    """
    found = {}
    for each in _leaning(worked, assembly):
        part, shape = worked.part(each.part), worked.shapes.get(each.part)
        side = SIDES[each.axis][each.out[each.axis] > 0]
        flat = part is not None and AXES[each.axis] == part.thin
        if flat and shape is not None and side != NEAR_FACE[shape.view]:
            found[each.part, each.hole.name.value] = side
    return found


def _leaning(worked: Worked, assembly: Assembly) -> Iterator[Leaning]:
    for each in leaning_holes(worked, assembly):
        if SQUARE < off_square(each.axis, _floats(each)) < _STEEPEST:
            yield each


def _floats(each: Leaning) -> tuple[float, float, float]:
    x, y, z = (float(length) for length in each.out)
    return x, y, z


__all__ = ["bores_of", "far_mouths", "with_mouths"]

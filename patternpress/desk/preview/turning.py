"""The model as the page's script turns it: the same solids as in the printed pictures.

In: a `Model`.  Out: plain numbers for JSON: for each piece its facets, the step that brings it, and
how far it moves when everything is drawn apart.  Millimetres, x to the right, y to the back, z up.
"""

from __future__ import annotations

from typing import Any

from patternpress.assembly.model import Model
from patternpress.drawing.exploded import exploded
from patternpress.drawing.finished import finished_items
from patternpress.drawing.scenes import step_scenes
from patternpress.drawing.things import bulks_of

APART = 0.14  # of the piece's size, between neighbours
DIGITS = 3


def turning_model(model: Model) -> dict[str, Any]:
    """Return every placed piece with sizes, ready for JSON."""
    bulks = bulks_of(model.worked)
    scenes = step_scenes(model, bulks)
    shifts = exploded(model, scenes, APART)
    pieces = []
    for item in finished_items(model, bulks):
        solid = item.solid
        pieces.append(
            {
                "key": item.key,
                "piece": item.piece,
                "letter": item.letter,
                "step": item.step,
                "apart": [round(each, DIGITS) for each in shifts.get(item.key, (0.0, 0.0, 0.0))],
                "points": [[round(each, DIGITS) for each in point] for point in solid.points],
                "facets": [
                    {
                        "loops": [list(loop) for loop in facet.loops],
                        "normal": [round(each, 4) for each in facet.normal],
                        "smooth": facet.smooth,
                    }
                    for facet in solid.facets
                ],
            }
        )
    titles = [
        {"number": number, "title": step.step.main.value, "line": step.span.line}
        for number, step in enumerate(model.worked.usage.steps, 1)
    ]
    return {"pieces": pieces, "steps": titles}

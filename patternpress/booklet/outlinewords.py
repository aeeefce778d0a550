"""What the lists say of pieces that are more than the rectangle of their size.

In: a `CutPart` and a `Wording`.  Out: sentences in the cutting list: round, curved, three-sided,
cut to its template; and under a cutting layout, whose cuts end at the rectangle, what is still to
do to which letters.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup, escape

from patternpress.assembly.cutparts import CutPart, by_letter
from patternpress.assembly.outlines import area, bounding_box
from patternpress.assembly.shape import Arc, Line, Outline
from patternpress.booklet.cutfirst import steps_words
from patternpress.booklet.wording import Wording


def outline_notes(part: CutPart, wording: Wording) -> Iterator[Markup]:
    """A sentence where the outline is not the rectangle of the size.

    Straight ends cut at an angle have a sentence of their own, with the angle.
    """
    shape = wording.model.worked.shapes.get(part.name)
    key = _key(shape.outline) if shape is not None else ""
    if not key or (key == "shape_straight" and part.part.ends):
        return
    told = part.name in wording.model.worked.templates
    yield wording.say("note_shaped" if told else "note_shape", shape=wording.say(key))


def still_to_cut(parts: Sequence[CutPart], wording: Wording) -> Iterator[Markup]:
    """What a layout leaves to do: outlines by the template, and ends by the cutting list."""
    worked = wording.model.worked
    shaped = [p for p in parts if p.name in worked.templates and _more_than_square(p, wording)]
    ended = [p for p in parts if p.part.ends and p not in shaped]
    steps = {p.name: worked.usage.step_where("cut", p.name) for p in shaped}
    now = [p for p in shaped if steps[p.name] is None]
    for key, found in (("lay_outlines", now), ("lay_ends", ended)):
        if found:
            yield wording.say(key, letters=_letters(found, wording))
    for step in sorted({step for step in steps.values() if step is not None}):
        late = [p for p in shaped if steps[p.name] == step]
        where = steps_words([step], wording)
        yield wording.say("lay_outlines_later", letters=_letters(late, wording), step=where)


def _letters(parts: Sequence[CutPart], wording: Wording) -> Markup:
    letters = dict.fromkeys(p.letter for p in parts)
    return wording.listed(Markup(escape(each)) for each in sorted(letters, key=by_letter))


def _more_than_square(part: CutPart, wording: Wording) -> bool:
    shape = wording.model.worked.shapes.get(part.name)
    return bool(shape is not None and _key(shape.outline))


def _key(outline: Outline) -> str:
    """What an outline is called; nothing for the rectangle."""
    arcs = [each for each in outline.segments if isinstance(each, Arc)]
    if len(arcs) == len(outline.segments) and len({each.centre for each in arcs}) == 1:
        return "shape_round"
    if not all(isinstance(each, Line) for each in outline.segments):
        return "shape_curved"
    box = bounding_box(outline)
    if abs(area(outline)) == (box.right - box.left) * (box.top - box.bottom):
        return ""
    return "shape_triangle" if len(outline.segments) == 3 else "shape_straight"

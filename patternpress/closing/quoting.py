"""Every figure that an edition prints.

In: a design with its figures worked out and its pieces placed, and the survey of its lengths.
Out: `Quoted` figures by a key that stays the same when lengths move.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.extent import overall
from patternpress.assembly.fitted import taken_off
from patternpress.assembly.marking import derived_lines
from patternpress.assembly.placing import Assembly
from patternpress.assembly.sizes import AXES
from patternpress.assembly.worked import Worked
from patternpress.closing.lengths import Survey
from patternpress.closing.walking import CALLED, Spot, said_at
from patternpress.design.span import NOWHERE, Said, Span
from patternpress.measure.formula import Formula
from patternpress.measure.quantity import Kind

Key = tuple[str | int, ...]


@dataclass(frozen=True)
class Quoted:
    """One printed figure in mm: what it is called, where it is said, by how much it may move.

    `group` is size, part, opening, place, mark or overall; `part` and `axis` for a part's size;
    `step` where the author wants one of its own.
    """

    key: Key
    words: str
    mm: Fraction
    group: str
    span: Span = NOWHERE
    tolerance: Fraction | None = None
    part: str = ""
    axis: str = ""
    step: Said[Formula] | None = None


def quoted(worked: Worked, assembly: Assembly, survey: Survey) -> dict[Key, Quoted]:
    """All printed figures, in the order of the book: sizes, parts, the rest, what follows."""
    found = [
        *_sizes(worked, survey),
        *_parts(worked),
        *_taken_off(worked),
        *_spots(worked, survey),
        *_marks(worked, assembly),
        *_overall(worked, assembly),
    ]
    return {each.key: each for each in found}


def _said(spot: Spot, worked: Worked, group: str, tolerance: Fraction | None) -> Iterator[Quoted]:
    measure = worked.solver.measure(said_at(worked.book, spot.way))
    if measure is None or measure.low.kind is not Kind.LENGTH:
        return
    ends = [measure.low] if measure.high is None else [measure.low, measure.high]
    for number, end in enumerate(ends):
        words = spot.words if len(ends) == 1 else f"{spot.words}, {('least', 'most')[number]}"
        key = (*spot.way, number)
        yield Quoted(key, words, end.value, group, spot.said.span, tolerance)


def _sizes(worked: Worked, survey: Survey) -> Iterator[Quoted]:
    for number, size in enumerate(worked.book.sizes):
        spot = survey.spots.get(("sizes", number, "is_"))
        if spot is not None:
            found = worked.solver.value(size.tolerance) if size.tolerance else None
            for each in _said(spot, worked, "size", found.value if found else None):
                yield replace(each, step=size.step)


def _parts(worked: Worked) -> Iterator[Quoted]:
    for part in worked.parts:
        said = worked.solver.value(part.part.tolerance) if part.part.tolerance else None
        tolerance = said.value if said else None
        for axis in (each for each in AXES if each in part.extents):  # a fitting may say none
            least, most = part.smallest[axis].value, part.extents[axis].value
            at = getattr(part.part, axis) or part.part.name
            fitted = axis in part.waits
            for name, end in (("least", least), ("most", most))[0 if fitted else 1 :]:
                words = f"{CALLED[axis]} of {part.name}" + (f", {name}" if fitted else "")
                key = ("part", part.name, axis, name)
                of = (part.name, axis, None if fitted else part.part.step)
                yield Quoted(key, words, end, "part", at.span, tolerance, *of)


def _taken_off(worked: Worked) -> Iterator[Quoted]:
    """What is taken off a measured opening for each part that waits for it."""
    for part in worked.parts:
        for axis in (each for each in part.waits if each in part.planned):
            for name, mm in zip(("least", "most"), taken_off(part, axis), strict=True):
                words = f"taken off the {CALLED[axis]} for {part.name}, {name}"
                key = ("off", part.name, axis, name)
                yield Quoted(key, words, mm, "part", part.part.name.span)


def _spots(worked: Worked, survey: Survey) -> Iterator[Quoted]:
    for spot in survey.spots.values():
        # A part's own three sizes are told above; those of its grooves and holes are not.
        own = spot.section == "parts" and spot.way[2:] in [(each,) for each in CALLED]
        if spot.section in ("sizes", "stock", "overall") or spot.drawn or own:
            continue
        group = {"openings": "opening", "marks": "mark"}.get(spot.section, "place")
        yield from _said(spot, worked, group, None)


def _marks(worked: Worked, assembly: Assembly) -> Iterator[Quoted]:
    spans = {each.name.value: each.name.span for each in worked.book.marks}
    for line in derived_lines(worked, assembly):
        words = f"{line.mark} from {line.side} of {line.piece}"
        yield Quoted(("line", line.mark, line.piece), words, line.far, "mark", spans[line.mark])


def _overall(worked: Worked, assembly: Assembly) -> Iterator[Quoted]:
    for axis, size in zip(AXES, overall(assembly), strict=False):
        words = f"finished {CALLED[axis]}"
        yield Quoted(("overall", axis), words, size, "overall")

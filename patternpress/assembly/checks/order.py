"""Is the order of work possible?

In: a `Worked` design.  Out: problems of pieces, cutting, measuring and marking that come too
early, too late, twice or never.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.usage import MAIN, Use
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import work as kinds
from patternpress.design.kinds.parts import QuantityDisagrees
from patternpress.design.names import in_copy
from patternpress.design.phrases import Target
from patternpress.design.problem import Problem
from patternpress.design.span import Said, Span


def check_pieces(worked: Worked) -> Iterator[Problem]:
    """Parts and pieces that no step uses, or that two steps use."""
    usage = worked.usage
    seen: dict[str, Use] = {}
    for use in usage.uses:
        row = use.joined.row if use.joined else None
        named = use.brings if use.kind != "part" or row is not None else ()
        twice = next((name for name in named if name in seen), "")
        if twice and not (use.joined is None and seen[twice].builds == use.builds):
            facts = {"piece": twice, "step": str(seen[twice].step)}
            yield Problem(kinds.PieceUsedTwice, use.span, facts)
        seen = {**dict.fromkeys(named, use), **seen}
        several = len(usage.pieces.get(use.name, ())) > 1
        if use.kind == "part" and several and row is None:
            pieces = ", ".join(usage.pieces[use.name])
            yield Problem(kinds.WhichPiece, use.span, {"part": use.name, "pieces": pieces})
        if row is not None and row.of is not None and row.of.value > len(use.brings):
            facts = {"of": row.of.text, "piece": use.brings[0], "left": str(len(use.brings))}
            yield Problem(kinds.RowTooLong, row.of.span, facts)
    for part in worked.book.parts:
        yield from _unused(worked, part.name)


def _unused(worked: Worked, part: Said[str]) -> Iterator[Problem]:
    pieces = worked.usage.pieces[part.value]
    idle = [piece for piece in pieces if worked.usage.first_use(piece) is None]
    if len(idle) == len(pieces):
        if not any(u.name == part.value for u in worked.usage.uses):
            yield Problem(kinds.PartNeverUsed, part.span, {"part": part.value})
        return
    for piece in idle:
        named = worked.names.find(piece, "piece")
        span = named.span if named else part.span
        yield Problem(kinds.PieceNeverUsed, span, {"piece": piece})


def check_quantities(worked: Worked) -> Iterator[Problem]:
    """Quantities that the steps do not bear out."""
    from_steps = worked.usage.used
    for part in worked.book.parts:
        used = from_steps(part.name.value)
        if part.quantity and used and part.quantity.value != used:
            facts = {
                "part": f"“{part.name.value}”",
                "said": str(part.quantity.value),
                "used": str(used),
            }
            yield Problem(QuantityDisagrees, part.quantity.span, facts)


def check_fitted(worked: Worked) -> Iterator[Problem]:
    """Fitted parts: cut once, after the measure, before the use."""
    usage = worked.usage
    for part in worked.parts:
        cut = usage.step_where("cut", part.name)
        first = _first_step(worked, part.name)
        if part.opening:
            yield from _fitted(worked, part.name, part.opening, cut)
        if cut is not None and first is not None and first < cut:
            facts = {"part": part.name, "step": str(first), "later": str(cut)}
            yield Problem(kinds.UsedBeforeCut, _use_span(worked, part.name), facts)
    yield from _cut_twice(worked)


def _fitted(worked: Worked, part: str, opening: str, cut: int | None) -> Iterator[Problem]:
    found = worked.part(part)
    span = found.part.name.span if found else worked.book.span
    if cut is None:
        yield Problem(kinds.PartNeverCut, span, {"part": part, "opening": f"“{opening}”"})
        return
    measured = worked.usage.step_where("measure", opening)
    if measured is not None and cut < measured:
        facts = {"part": part, "step": str(cut), "opening": f"“{opening}”"}
        said = next(s for s in worked.usage.steps[cut - 1].cut if s.value == part)
        yield Problem(kinds.CutBeforeMeasured, said.span, facts)


def _cut_twice(worked: Worked) -> Iterator[Problem]:
    seen: dict[str, int] = {}
    for number, step in enumerate(worked.usage.steps, 1):
        for said in step.cut:
            if said.value in seen:
                facts = {"part": said.value, "step": str(seen[said.value])}
                yield Problem(kinds.CutTwice, said.span, facts)
            seen.setdefault(said.value, number)


def check_openings(worked: Worked) -> Iterator[Problem]:
    """Openings never measured, or measured before they exist."""
    for opening in worked.book.openings:
        name = opening.name.value
        if not opening.between:
            yield Problem(kinds.OpeningUnbounded, opening.name.span, {"opening": f"“{name}”"})
        measured = worked.usage.step_where("measure", name)
        if measured is None:
            yield Problem(kinds.NeverMeasured, opening.name.span, {"opening": f"“{name}”"})
            continue
        said = next(s for s in worked.usage.steps[measured - 1].measure if s.value == name)
        for target in (each for group in opening.between for each in group):
            use = worked.usage.first_use(target.thing)
            if use is not None and use.step > measured:
                facts = {"opening": f"“{name}”", "step": str(measured)}
                facts |= {"piece": target.thing, "later": str(use.step)}
                yield Problem(kinds.MeasuredTooEarly, said.span, facts)


def check_marks(worked: Worked) -> Iterator[Problem]:
    """Marks never drawn, drawn after they are needed, or rubbed out before."""
    needed = {name: (use.step, span) for name, use, span in marks_needed(worked)}
    for mark in worked.book.marks:
        name = mark.name.value
        drawn = worked.usage.step_where("mark", name)
        use = needed.get(name)
        if drawn is None:
            yield Problem(kinds.MarkNeverDrawn, mark.name.span, {"mark": name})
            continue
        if use and use[0] < drawn:
            facts = {"mark": name, "step": str(use[0]), "later": str(drawn)}
            yield Problem(kinds.MarkUsedTooEarly, use[1], facts)
        gone = worked.usage.step_where("rub_out", name)
        if gone is not None and (gone < drawn or (use and gone < use[0])):
            said = next(s for s in worked.usage.steps[gone - 1].rub_out if s.value == name)
            later, word = (drawn, "drawn") if gone < drawn else (use[0] if use else drawn, "needed")
            facts = {"mark": name, "step": str(gone), "needed": word, "later": str(later)}
            yield Problem(kinds.RubbedOutTooEarly, said.span, facts)


def marks_needed(worked: Worked) -> Iterator[tuple[str, Use, Span]]:
    """Each mark that a join speaks of: its first use, and where it is spoken of."""
    seen: set[str] = set()
    for use in worked.usage.uses:
        for _, place in use.joined.places if use.joined else ():
            if place.target.kind == "mark" and place.target.thing not in seen:
                seen.add(place.target.thing)
                yield place.target.thing, use, place.target.span


def check_joins(worked: Worked) -> Iterator[Problem]:
    """Pieces joined to what is not there yet, to themselves, or twice on one side."""
    there: dict[str, set[str]] = {MAIN: set()}
    for use in worked.usage.uses:
        work = there.setdefault(use.builds, set())
        if use.joined is not None:
            if not work:
                span = worked.usage.steps[use.step - 1].step.main.span
                yield Problem(kinds.NothingToJoinTo, span, {"step": str(use.step)})
                # Told once: what the piece is joined to counts as there.
                work |= {"", *(place.target.thing for _, place in use.joined.places)}
            yield from _joined(worked, use, there)
        work.update(_arrives(worked, use, there))


def _arrives(worked: Worked, use: Use, there: dict[str, set[str]]) -> set[str]:
    """What is in the work once a use is done: a sub-assembly brings its pieces along."""
    usage = worked.usage
    if use.kind == "part":
        return {use.name, *use.brings}
    sub = usage.sub_of.get(use.name)
    inner = there.get(sub, set()) if sub else set()
    own = usage.part_of.get(use.name)
    single = own is not None and len(usage.pieces[own]) == 1
    if _is_copy(worked, use.name):  # a piece in it may be one of several that are called alike
        inner = {in_copy(each, use.name) for each in inner}
    return {use.name, *inner, *({sub} if sub else ()), *({own} if single and own else ())}


def _is_copy(worked: Worked, name: str) -> bool:
    """Whether a thing is a copy of a sub-assembly, whose pieces are called after it."""
    return any(copy == name for _, copy in worked.usage.in_copies.values())


def _joined(worked: Worked, use: Use, there: dict[str, set[str]]) -> Iterator[Problem]:
    assert use.joined is not None
    said: dict[str, Span] = {}
    for free in use.joined.turns_in:
        yield from _there(worked, use, free, there)
    for sides, place in use.joined.places:
        for side in sides.value:
            # One key may hold a side against several pieces; two keys may not share a side.
            if said.get(side, sides.span) != sides.span:
                facts = {"side": side, "piece": use.name}
                yield Problem(kinds.SideTwice, sides.span, facts)
            said.setdefault(side, sides.span)
        held = place.target
        if held.kind not in ("piece", "part", "sub-assembly", "hole"):
            continue
        yield from _there(worked, use, held, there)


def _there(worked: Worked, use: Use, held: Target, there: dict[str, set[str]]) -> Iterator[Problem]:
    """What a join names, when it is the piece itself or not there yet."""
    if held.thing == use.name:
        yield Problem(kinds.JoinedToItself, held.span, {"piece": use.name})
    elif held.thing not in there[use.builds]:
        copies = [
            copy
            for piece, copy in worked.usage.in_copies.values()
            if piece == held.thing and copy in there[use.builds]
        ]
        facts = {"piece": use.name, "other": held.thing}
        if copies:
            facts |= {"copies": " and ".join(f"“{each}”" for each in copies)}
            facts |= {"example": in_copy(held.thing, copies[0])}
            yield Problem(kinds.OfWhichCopy, held.span, facts)
            return
        facts |= {"when": _when(worked, held.thing)}
        yield Problem(kinds.NotThereYet, held.span, facts)


def _when(worked: Worked, thing: str) -> str:
    use = worked.usage.first_use(thing)
    if use is None:
        use = next((u for u in worked.usage.uses if u.name == thing), None)
    if use is None:
        return "no step brings"
    if use.builds:
        return f"belongs to “{use.builds}”, in step {use.step}"
    return f"comes in step {use.step}, after it"


def check_sub_assemblies(worked: Worked) -> Iterator[Problem]:
    """Sub-assemblies that are never built, or built and left over."""
    built = {step.builds.value for step in worked.usage.steps if step.builds}
    joined = {worked.usage.sub_of.get(u.name, u.name) for u in worked.usage.uses}
    mains = any(not step.builds and (step.join or step.start) for step in worked.usage.steps)
    for sub in worked.book.sub_assemblies:
        name = sub.name.value
        twin = sub.mirror_of or sub.same_as
        if name not in built and not twin:
            yield Problem(kinds.NeverBuilt, sub.name.span, {"sub": name})
        elif name not in joined and not twin and mains:
            yield Problem(kinds.NeverJoined, sub.name.span, {"sub": name})


def _first_step(worked: Worked, part: str) -> int | None:
    pieces = worked.usage.pieces[part]
    uses = [use for piece in pieces if (use := worked.usage.first_use(piece))]
    return min((use.step for use in uses), default=None)


def _use_span(worked: Worked, part: str) -> Span:
    pieces = worked.usage.pieces[part]
    uses = [use for piece in pieces if (use := worked.usage.first_use(piece))]
    return min(uses, key=lambda use: use.step).span

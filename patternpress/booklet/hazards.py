"""The usual hazards of the work, and where each is met.

In: a `Wording`.  Out: for each hazard, whether it is met while parts are cut out, and at which
steps.  A hazard is told from what a step does and from the names of its tools, in the author's
language; the words of its caution are in the words folders under the hazard's key.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.prosework import all_prose
from patternpress.assembly.smallparts import small_parts
from patternpress.assembly.worked import Worked
from patternpress.booklet.content import Signal
from patternpress.booklet.filluses import uses
from patternpress.booklet.wording import Wording
from patternpress.design.records.work import Step
from patternpress.design.references import Ref, split


@dataclass(frozen=True)
class Hazard:
    """What can hurt.  `group`: the heading in front; `at`: whether a step, counted from 1, has it;
    `cutting`: whether it is met while parts are cut out, before the first step; `gear`: what to
    wear against it, a key of the words.
    """

    key: str
    signal: Signal
    group: str
    at: Callable[[Step, int, Wording], bool]
    cutting: Callable[[Wording], bool] = lambda _: False
    gear: str = ""


def met(hazard: Hazard, wording: Wording) -> bool:
    """Whether a hazard is met anywhere."""
    numbered = enumerate(wording.model.worked.usage.steps, 1)
    return hazard.cutting(wording) or any(hazard.at(s, number, wording) for number, s in numbered)


def cut_out(worked: Worked) -> list[CutPart]:
    """The parts that are cut before the first step: all that no step cuts."""
    later = {said.value for step in worked.usage.steps for said in step.cut}
    return [each for each in worked.parts if each.name not in later and not each.stock.bought]


def cutting_tools(worked: Worked) -> set[str]:
    """What the parts are cut out with, before the first step."""
    return {each.stock.cut_with.value for each in cut_out(worked) if each.stock.cut_with}


def _named(words: tuple[str, ...], names: set[str]) -> bool:
    return any(word in name.lower() for word in words for name in names)


def _with(key: str) -> Callable[[Step, int, Wording], bool]:
    """Whether a step uses a tool whose name has one of some words in it."""

    def at(step: Step, _: int, wording: Wording) -> bool:
        return _named(wording.meant(key), set(uses(step, wording)))

    return at


def _cut_with(key: str) -> Callable[[Wording], bool]:
    """Whether parts are cut out with a tool whose name has one of some words in it."""
    return lambda wording: _named(wording.meant(key), cutting_tools(wording.model.worked))


def _hand_saws(names: set[str], wording: Wording) -> bool:
    """Whether there is a saw among tools that no motor drives."""
    driven = wording.meant("tool_power_saw")
    by_hand = {each for each in names if not _named(driven, {each})}
    return _named(wording.meant("tool_saw"), by_hand)


def _saws(step: Step, _: int, wording: Wording) -> bool:
    return _hand_saws(set(uses(step, wording)), wording)


def _cut_by_saw(wording: Wording) -> bool:
    return _hand_saws(cutting_tools(wording.model.worked), wording)


def _sanded(wording: Wording) -> bool:
    """Sides are sanded to their lines, whatever cuts them."""
    return bool(cut_out(wording.model.worked))


def _undrilled(wording: Wording) -> bool:
    """Holes that no step drills are made as the parts are cut."""
    worked = wording.model.worked
    holes = any(part.part.holes for part in cut_out(worked))
    return holes and not any(_does(step, "drill") for step in worked.usage.steps)


def _small_cut(wording: Wording) -> bool:
    worked = wording.model.worked
    return any(part in cut_out(worked) for part in small_parts(worked))


def _does(step: Step, *verbs: str) -> bool:
    return any(each.verb in verbs for each in (*step.treat, *step.afterwards))


def _drills(step: Step, number: int, wording: Wording) -> bool:
    """Whether a step drills, by what it does, its tools, or its own sentences.

    A hole that is sawn out has a starting hole drilled.
    """
    told = _named(wording.meant("work_drill"), _told((*step.say, *step.also_say)))
    return _does(step, "drill") or told or _with("tool_drill")(step, number, wording)


def saws_inside(step: Step, wording: Wording) -> bool:
    """Whether all that a step saws are holes: its saw is named at no other work."""
    saws = wording.meant("tool_saw")
    with_ = [each.with_.value for each in (*step.treat, *step.afterwards)
             if each.verb == "drill" and each.with_ is not None]  # fmt: skip
    inside = {name for name in with_ if _named(saws, {name})}
    parts = (wording.model.worked.part(said.value) for said in step.cut)
    cut = {p.stock.cut_with.value for p in parts if p is not None and p.stock.cut_with}
    others = ({each.value for each in step.uses} | cut) - inside
    return bool(inside) and not _hand_saws(others, wording)


def _dusty(step: Step, number: int, wording: Wording) -> bool:
    """Whether a step sands or saws, by what it does, its tools, or the author's words."""
    if _does(step, "sand", "sand flush", "sand off", "round over", "ease", "chamfer"):
        return True
    if any(_with(each)(step, number, wording) for each in ("tool_saw", "tool_router", "work_dust")):
        return True
    return _named(wording.meant("work_dust"), _told(step))


def _told(record: object) -> set[str]:
    """The author's words in a record."""
    return {prose.main.value for prose in all_prose(record)}


def _glues(step: Step, _: int, wording: Wording) -> bool:
    """Whether a step glues with what takes its time; instant glue has a warning of its own."""
    instant = wording.meant("glue_instant")
    return any(not _named(instant, {each}) for each in _glues_of(step, wording))


def _bonds_skin(step: Step, _: int, wording: Wording) -> bool:
    return _named(wording.meant("glue_instant"), _glues_of(step, wording))


def _glues_of(step: Step, wording: Wording) -> set[str]:
    book = wording.model.worked.book
    glues = {each.name.value for each in book.materials if each.kind and each.kind.value == "glue"}
    waited = {step.wait.for_.value} if step.wait and step.wait.for_ else set()
    return glues & (waited | set(uses(step, wording)))


def _finishes(*verbs: str) -> Callable[[Step, int, Wording], bool]:
    """Whether a step puts on a finish of these kinds."""
    return lambda step, _, __: _does(step, *verbs)


def _oils(step: Step, _: int, wording: Wording) -> bool:
    """Whether a step oils with what no warning of the author's speaks of."""
    oils = {
        each.with_.value if each.with_ else ""
        for each in (*step.treat, *step.afterwards)
        if each.verb == "oil"
    }
    return bool(oils - set(_warned_of(wording.model.worked)))


def _warned_of(worked: Worked) -> Iterator[str]:
    """What the author's own warnings speak of."""
    for said in worked.book.cautions:
        if said.word is not None and said.word.value == "warning":
            texts = (prose.main.value for prose in all_prose(said))
            yield from (r.name for text in texts for r in split(text) if isinstance(r, Ref))


def _first_small(_: Step, number: int, wording: Wording) -> bool:
    """Small pieces lie about from the step that brings the first of them."""
    worked = wording.model.worked
    small = {part.name for part in small_parts(worked)}
    owner = worked.usage.part_of
    brought = (u.step for u in worked.usage.uses if {owner.get(e, e) for e in u.brings} & small)
    return number == min(brought, default=0)


HAZARDS = (
    Hazard("blade", Signal.WARNING, "group_usual", _with("tool_blade"), _cut_with("tool_blade")),
    Hazard("saw", Signal.WARNING, "group_usual", _saws, _cut_by_saw),
    Hazard(
        "power_saw",
        Signal.WARNING,
        "group_usual",
        _with("tool_power_saw"),
        _cut_with("tool_power_saw"),
        "gear_eyes",
    ),
    Hazard("router", Signal.WARNING, "group_usual", _with("tool_router"), gear="gear_eyes"),
    Hazard("drill", Signal.WARNING, "group_usual", _drills, _undrilled, "gear_eyes"),
    Hazard("dust", Signal.WARNING, "group_usual", _dusty, _sanded, "gear_mask"),
    Hazard("glue", Signal.CAUTION, "group_chemical", _glues),
    Hazard("instant", Signal.WARNING, "group_chemical", _bonds_skin, gear="gear_eyes"),
    Hazard(
        "colour", Signal.CAUTION, "group_chemical", _finishes("dye", "paint"), gear="gear_gloves"
    ),
    Hazard("varnish", Signal.CAUTION, "group_chemical", _finishes("varnish"), gear="gear_gloves"),
    Hazard("wax", Signal.CAUTION, "group_chemical", _finishes("wax")),
    Hazard("finish", Signal.WARNING, "group_chemical", _oils),
    Hazard("small", Signal.WARNING, "group_about", _first_small, _small_cut),
)

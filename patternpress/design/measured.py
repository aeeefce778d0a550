"""What the measure room could not do, as a problem of the design.

In: a `MeasureError` and the text that it is about.  Out: the kind of problem and the facts that
its words need.  The measure room keeps bare facts; here they become a maker's words.
"""

from __future__ import annotations

from collections.abc import Callable

from patternpress.design.kinds import figures
from patternpress.design.problem import Kind
from patternpress.measure.errors import MeasureError

Facts = dict[str, str]

KIND_WORDS = {
    "length": "a length",
    "area": "an area",
    "angle": "an angle",
    "number": "a plain number",
    "time": "a time",
    "mass": "a weight",
    "volume": "a volume",
}
_DONE = {
    "add": "added",
    "subtract": "taken from each other",
    "multiply": "multiplied",
    "divide": "divided",
    "compare": "compared",
    "range": "the ends of one range",
}
_REASONS = {
    "negative-root": "there is no square root of less than nothing",
    "no-tangent": "a right angle has no tangent",
    "out-of-range": "a sine or cosine lies between -1 and 1",
}


def kind_of(error: MeasureError) -> type[Kind]:
    """The kind of problem behind an error."""
    if error.code == "mixed-kinds" and error.facts.get("doing") not in _DONE:
        return figures.WrongForFunction
    if error.code == "bad-number" and "or" in error.facts:
        return figures.TwoReadings
    return figures.BY_CODE.get(error.code, figures.BadNumber)


def facts_of(error: MeasureError, text: str) -> Facts:
    """The facts of a problem; `text` is the whole figure as the author wrote it."""
    marked = text[error.start : error.end] or text
    facts = {"text": marked, **error.facts}
    worded = _WORDED.get(error.code)
    return facts | worded(facts, text) if worded else facts


def _readings(facts: Facts, text: str) -> Facts:
    """The ways in which a figure may be meant; a comma may divide figures inside brackets."""
    names = ["write", "or"] + (["apart"] if "(" in text else [])
    offered = [f"“{facts[name]}”" for name in names if name in facts]
    return {"readings": " or ".join(offered)}


def _mixed(facts: Facts, _: str) -> Facts:
    doing, left, right = (facts[name] for name in ("doing", "left", "right"))
    if doing not in _DONE:
        wanted = "a plain number or an area" if doing == "sqrt" else KIND_WORDS[right]
        return {"function": doing, "wanted": wanted, "found": KIND_WORDS[left]}
    return {"left": KIND_WORDS[left], "right": KIND_WORDS[right], "done": _DONE[doing]}


def _gap(facts: Facts, _: str) -> Facts:
    if facts.get("after"):
        return {"place": f"after “{facts['after']}”"}
    return {"place": f"before “{facts['found']}”" if facts.get("found") else "at the end"}


def _bracket(facts: Facts, text: str) -> Facts:
    if "function" in facts:
        return {"place": f"after “{facts['function']}”"}
    opened = text[int(facts["opened"]) :]
    return {"place": f"to close “{opened[:30].rstrip()}{'…' if len(opened) > 30 else ''}”"}


def _unit(facts: Facts, _: str) -> Facts:
    return {"near": facts["write"]} if "write" in facts else {}


def _name(facts: Facts, _: str) -> Facts:
    if "left" in facts:
        return {"near": f"{facts['left']} - {facts['right']}"}
    return {}


def _reason(code: str) -> Callable[[Facts, str], Facts]:
    return lambda facts, text: {"reason": _REASONS[code]}


_WORDED: dict[str, Callable[[Facts, str], Facts]] = {
    "bad-number": _readings,
    "decimal-comma": _readings,
    "misplaced-word": lambda facts, text: {"found": facts.get("found") or text},
    "missing-bracket": _bracket,
    "missing-operand": _gap,
    "mixed-kinds": _mixed,
    "too-deep": lambda facts, text: {"counted": "brackets or minus signs inside each other"},
    "too-long": lambda facts, text: {"counted": "characters"},
    "unclear-division": _readings,
    "unknown-name": _name,
    "unknown-unit": _unit,
    **{code: _reason(code) for code in _REASONS},
}


def name_reason(error: MeasureError) -> str:
    """Why a text may not be a name, in a maker's words."""
    reasons = {
        "unit": "it would be read as a unit",
        "form": "names start with a letter and hold letters, figures, spaces and hyphens",
        "reserved-word": "the word “{word}” has a meaning in sums",
    }
    why = error.facts.get("why", "form")
    return reasons.get(why, reasons["form"]).format_map(
        {"word": error.facts.get("word", error.facts.get("text", ""))}
    )

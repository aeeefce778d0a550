"""Words for shapes that cannot be cut.

In: a `ShapeError` with its code and facts.  Out: a sentence for a maker, lengths in mm.
"""

from __future__ import annotations

from fractions import Fraction

from patternpress.assembly.shape import ShapeError

WORDS: dict[str, str] = {
    "angle-too-steep": "the angle of {degrees} degrees at its {face} end is too steep to cut",
    "angled-and-curved": "its {face} edge is angled and curved at once",
    "angles-meet": "its angled ends meet before they reach the edge",
    "arc-points-in-line": "the three points of an arc lie in one line, near {x}, {y}",
    "blank-without-size": "its blank has no size",
    "corner-on-curve": "the corner {corner} lies on a curved edge",
    "corners-overlap": "what is cut off at the ends of its {edge} edge overlaps by {over}",
    "crosses-itself": "its outline crosses itself near {x}, {y}",
    "curve-outside-edge": "the curve runs past the end of its {face} edge",
    "curve-too-deep": "the curve of its {face} edge is {rise} deep; at most {most} fits",
    "face-not-here": "it has no {face} edge in its outline",
    "groove-outside": "a groove lies {over} outside it",
    "groove-without-size": "a groove has no width",
    "hole-breaks-edge": "the hole “{hole}” breaks through the edge by {over}",
    "hole-outside": "the hole “{hole}” lies outside it",
    "hole-without-size": "the hole “{hole}” has no size",
    "holes-meet": "the holes “{hole}” and “{other}” run into each other",
    "longest-not-beside": "its {face} end cannot be longest at {longest}, which is not beside it",
    "mark-cut-away": "the mark “{mark}” lies where it is cut away",
    "mark-outside": "the mark “{mark}” lies {over} outside it",
    "no-area": "its outline encloses nothing",
    "notch-not-square": "a notch needs a square corner, and this one is not square",
    "outside-blank": "its outline reaches {over} outside its two sizes",
    "path-and-corners": "it has an outline, and corners or edges as well; one of the two is enough",
    "path-too-short": "its outline has too few stretches to enclose anything",
    "radius-too-small": "the radius {radius} is too small for its arc; at least {least} is needed",
    "slot-wider-than-long": "the slot “{hole}” is {over} wider than long",
    "step-goes-nowhere": "a stretch of its outline ends where it begins, at {x}, {y}",
    "window-corners-overlap": "the corners of the window “{hole}” overlap by {over}",
}


def fault_words(error: ShapeError) -> str:
    """The sentence for a fault."""
    facts = {name: _shown(fact, name) for name, fact in error.facts.items()}
    words = WORDS.get(error.code, error.code.replace("-", " "))
    for name, fact in facts.items():
        words = words.replace("{" + name + "}", fact)
    return words


def _shown(fact: Fraction | str, name: str) -> str:
    if not isinstance(fact, Fraction):
        return str(fact)
    figure = f"{float(fact):.3f}".rstrip("0").rstrip(".")
    return figure if name == "degrees" else f"{figure} mm"

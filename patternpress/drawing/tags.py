"""What ink is, said in the finished file to whoever measures it.

In: nothing; records only.  Out: `Tag`s, the writer's half of the contract with the proof (see
"What the writer leaves for the proof" in DEVELOPERS.md).  `svg` writes a tag as `data-`
attributes, which the press turns into marked content (ISO 32000-1, 14.6); nothing is drawn for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.drawing.numbers import number


@dataclass(frozen=True, slots=True)
class Tag:
    """A name such as Template, and facts such as Part: B; both are letters alone."""

    name: str
    facts: tuple[tuple[str, str], ...] = ()

    def attributes(self) -> Iterator[tuple[str, str]]:
        """Yield the SVG attributes that carry the tag to the press."""
        yield "data-tag", self.name
        for key, value in self.facts:
            yield f"data-{key.lower()}", value


def template(
    letter: str,
    name: str,
    hand: str,
    scale: Fraction,
    lies: bool = False,
    window: tuple[float, float, float, float] | None = None,
) -> Tag:
    """Return the tag round everything that belongs to one drawn part.

    `hand` is "left", "right" or nothing; the scale is told as 1:n; it `lies` if it is turned a
    quarter; `window`: left, bottom, right and top of what is shown of the part, mm.
    """
    facts = [
        ("Part", letter),
        ("Name", name),
        ("Hand", hand),
        ("Scale", f"{scale.numerator}:{scale.denominator}"),
        ("Turned", "yes" if lies else ""),
        ("Window", " ".join(map(number, window)) if window else ""),
    ]
    return Tag("Template", tuple(fact for fact in facts if fact[1]))


def drawn(kind: str, name: str = "") -> Tag:
    """Return the tag of lines that stand for an outline, hole, groove or mark of the part."""
    return Tag("Drawn", (("As", kind), ("Name", name)))


def said(of: str) -> Tag:
    """Return the tag of words that are written at a drawing.

    `of`: the width `across`, the height `up`, the `number` to make, or the part's `letter`.
    """
    return Tag("Said", (("Of", of),))


def bar(along: str) -> Tag:
    """Return the tag round one bar to check the print with, `across` the page or `up` it."""
    return Tag("Bar", (("Along", along),))

"""What ink is, said in the finished file to whoever measures it.

In: nothing; records only.  Out: `Tag`s, the writer's half of the contract with the proof (see
"What the writer leaves for the proof" in DEVELOPERS.md).  `svg` writes a tag as `data-`
attributes, which the press turns into marked content (ISO 32000-1, 14.6); nothing is drawn for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
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
    sheet: tuple[int, int] | None = None,
) -> Tag:
    """Return the tag round everything that belongs to one drawn part.

    `hand` is "left", "right" or nothing; the scale is told as 1:n; it `lies` if it is turned a
    quarter; `window`: left, bottom, right and top of what is shown of the part, mm;
    `sheet`: which of how many, of one that is to be joined.
    """
    facts = [
        ("Part", letter),
        ("Name", name),
        ("Hand", hand),
        ("Scale", f"{scale.numerator}:{scale.denominator}"),
        ("Turned", "yes" if lies else ""),
        ("Window", " ".join(map(number, window)) if window else ""),
        ("Sheet", f"{sheet[0]} {sheet[1]}" if sheet else ""),
    ]
    return _with("Template", *facts)


def template_words(letter: str, name: str, hand: str) -> Tag:
    """Return the tag round words of a template on several sheets that stand by themselves."""
    facts = (("Part", letter), ("Name", name), ("Hand", hand), ("Words", "alone"))
    return _with("Template", *facts)


def drawn(kind: str, name: str = "") -> Tag:
    """Return the tag of lines that stand for an outline, hole, groove or mark of the part."""
    return Tag("Drawn", (("As", kind), ("Name", name)))


def said(of: str) -> Tag:
    """Return the tag of words that are written at a drawing.

    `of`: the width `across`, the height `up`, the `number` to make, the part's `letter`, or which
    `sheet` it is.
    """
    return Tag("Said", (("Of", of),))


def diagonal(letter: str, hand: str) -> Tag:
    """Return the tag of the words that give the diagonals of a template's joined sheets."""
    return _with("Said", ("Of", "diagonal"), ("Part", letter), ("Hand", hand))


def seam(letter: str, of: str, over: bool, places: Iterable[tuple[float, float]]) -> Tag:
    """Return the tag of what one sheet shows at a seam: the `line`, the `crosses` or the `half`
    of a diamond, or the words that are its `letter`.

    `over`: the sheet is cut at the line and laid over its neighbour.  `places`: where the middles
    of the crosses lie on the part, mm.
    """
    at = " ".join(number(each) for place in places for each in place)
    return Tag(
        "Seam", (("Letter", letter), ("Of", of), ("Over", "yes" if over else "no"), ("At", at))
    )


def corner(place: tuple[float, float]) -> Tag:
    """Return the tag of a point to measure the joined sheets from; `place`: on the part, mm."""
    return Tag("Corner", (("At", " ".join(map(number, place))),))


def sheet_map(letter: str, hand: str, sheet: tuple[int, int]) -> Tag:
    """Return the tag round the map that shows how a template's sheets lie; this one is grey."""
    return _with("Map", ("Part", letter), ("Hand", hand), ("Sheet", f"{sheet[0]} {sheet[1]}"))


def square() -> Tag:
    """Return the tag round the square beside a bar."""
    return Tag("Square")


def bar(along: str) -> Tag:
    """Return the tag round one bar to check the print with, `across` the page or `up` it."""
    return Tag("Bar", (("Along", along),))


def _with(kind: str, *facts: tuple[str, str]) -> Tag:
    """A tag with those of its facts that say anything."""
    return Tag(kind, tuple(fact for fact in facts if fact[1]))

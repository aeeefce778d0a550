"""Small designs for tests: only what a test is about has to be said.

In: the sections of a design as YAML text.  Out: what comes of them, worked out.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from patternpress.assembly.model import check
from patternpress.assembly.worked import Worked, work
from patternpress.design.problem import Problem
from patternpress.design.read import read_text
from patternpress.measure.quantity import Kind, Quantity

STOCK = """
  board: {sheet: 2 mm}
  batten: {strip: 4 x 6 mm}
  square batten: {strip: 5 mm}
  dowel: {rod: 3 mm}
  pin: {bought: a brass pin}
"""
PARTS = "\n  base: {stock: board, wide: 40 mm, deep: 30 mm}\n"
STEPS = "\n  - step: Cut it out\n    start: base\n"


def design(**sections: str) -> str:
    """The text of a design; sections that are not given are those of a plain tray."""
    said = {"stock": STOCK, "parts": PARTS, "steps": STEPS} | sections
    return "design: Tray\n" + "".join(
        f"{name.replace('_', ' ')}: {text.rstrip()}\n" for name, text in said.items()
    )


def problems(text: str) -> tuple[Problem, ...]:
    """Every error, but for where pieces go; warnings of what is unused would only distract."""
    found = check(read_text(text, "tray.yaml", Path()), places=False)
    return tuple(each for each in found if each.is_error)


def worked(text: str) -> Worked:
    """A design worked out; an assertion fails where it cannot even be read."""
    reading = read_text(text, "tray.yaml", Path())
    assert [each.code for each in reading.problems] == []
    assert reading.book is not None
    return work(reading.book, reading.names)


def size(of: Worked, name: str) -> Quantity:
    """A named size of the design."""
    found = next(each for each in of.book.sizes if each.name.value == name)
    quantity = of.solver.size(found)
    assert quantity is not None, [each.what for each in of.solver.problems]
    return quantity


def extents(of: Worked, name: str) -> tuple[Fraction, ...]:
    """A part's largest sizes in mm: wide, deep and high."""
    part = of.part(name)
    assert part is not None, [each.what for each in (*of.problems, *of.solver.problems)]
    return tuple(part.extents[axis].value for axis in ("wide", "deep", "high"))


def mm(*values: object) -> tuple[Fraction, ...]:
    """Exact lengths, from texts such as `35/64` or whole numbers."""
    return tuple(Fraction(str(value)) for value in values)


__all__ = ["Kind", "Quantity", "design", "extents", "mm", "problems", "size", "worked"]

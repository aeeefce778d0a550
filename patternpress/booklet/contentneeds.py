"""What the pages of tools and materials print.

In: nothing; these are records, part of `content.Content`.  Out: `Needs`.  Text may be markup
(`markupsafe.Markup`).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Tool:
    """One tool, with what it is for."""

    name: str
    note: str = ""


@dataclass(frozen=True)
class Material:
    """One thing to buy.  `quantity`: "2 sheets"; `size`: "3 × 75 × 300 mm"; `letters`: "A, B"."""

    name: str
    quantity: str = ""
    size: str = ""
    letters: str = ""
    note: str = ""
    sold_as: tuple[str, ...] = ()


@dataclass(frozen=True)
class MaterialGroup:
    """Materials bought together ("Wood", "Fittings", "Glue and finish")."""

    heading: str
    materials: tuple[Material, ...]


@dataclass(frozen=True)
class Bit:
    """One drill or bit: its size, what may serve instead, and the holes it is for."""

    size: str
    purpose: str
    alternative: str = ""


@dataclass(frozen=True)
class Needs:
    """Tools, materials and bits, in the order in which they are printed; what all of it costs."""

    tools: tuple[Tool, ...] = ()
    materials: tuple[MaterialGroup, ...] = ()
    bits: tuple[Bit, ...] = ()
    costs: tuple[str, ...] = ()

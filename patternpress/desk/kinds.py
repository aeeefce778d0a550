"""All kinds of problems, family by family.

In: nothing.  Out: the classes whose docstrings are the pages of ``patternpress explain``.
"""

from __future__ import annotations

import inspect
from functools import cache
from types import ModuleType

from patternpress.design.kinds import (
    covered,
    editions,
    figures,
    files,
    fit,
    form,
    naming,
    parts,
    photographs,
    placing,
    plan,
    thickness,
    work,
)
from patternpress.design.problem import Kind

# In the order in which an author meets them.
FAMILIES: tuple[tuple[str, ModuleType], ...] = (
    ("Files", files),
    ("The form of the file", form),
    ("Names and phrases", naming),
    ("Figures and sums", figures),
    ("Parts and stock", parts),
    ("Where pieces go", placing),
    ("How pieces fit", fit),
    ("Boards thinner and thicker than their label", thickness),
    ("What can still be reached", covered),
    ("The order of work", work),
    ("The time it takes", plan),
    ("Editions", editions),
    ("Photographs", photographs),
)


@cache
def families() -> tuple[tuple[str, tuple[type[Kind], ...]], ...]:
    """Each family's heading and its kinds, in the order written."""
    return tuple((title, tuple(_kinds_in(module))) for title, module in FAMILIES)


def _kinds_in(module: ModuleType) -> list[type[Kind]]:
    return [
        each
        for each in vars(module).values()
        if inspect.isclass(each) and issubclass(each, Kind) and each.__module__ == module.__name__
    ]


@cache
def by_code() -> dict[str, type[Kind]]:
    """Every kind under its code."""
    return {kind.code(): kind for _, kinds in families() for kind in kinds}

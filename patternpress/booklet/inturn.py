"""Rows of pictures and the sentences about them, in turn.

In: the pictures of a step that works on single pieces, each with the letters of its pieces, and
the step's sentences, which name pieces with their letters: "the left side (B)".  Out: stretches:
some rows, then the sentences from the first that speaks of what is in them.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from markupsafe import Markup

from patternpress.booklet.content import Figure

_LETTERS = re.compile(r"\(([A-Z]{1,2})\)")


class InTurn(NamedTuple):
    """Rows of pictures, the sentences under them, and how many sentences went before."""

    figures: tuple[Figure, ...]
    actions: tuple[str, ...]
    before: int


def in_turn(figures: Sequence[Figure], actions: Sequence[str]) -> tuple[InTurn, ...]:
    """Return the stretches of a step.  Rows keep their order, sentences theirs; a row comes at the
    latest with the last sentence.  All is one stretch where pictures are not told by letters.
    """
    if not all(each.letters for each in figures):
        return (InTurn(tuple(figures), tuple(actions), 0),)
    left = list(figures)
    starts: list[tuple[int, list[Figure]]] = []
    for number, action in enumerate(actions):
        named = set(_LETTERS.findall(Markup(action).striptags()))
        upto = max(
            (at for at, row in enumerate(left, 1) if named.intersection(row.letters)), default=0
        )
        if upto or not number:
            starts.append((number, left[:upto]))
            del left[:upto]
    starts = starts or [(0, [])]
    starts[-1][1].extend(left)
    ends = [number for number, _ in starts[1:]] + [len(actions)]
    return tuple(
        InTurn(tuple(rows), tuple(actions[start:end]), start)
        for (start, rows), end in zip(starts, ends, strict=True)
    )

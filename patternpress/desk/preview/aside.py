"""What the mate does aside, so that it is known when a round comes to it.

In: the text of a design, as the round read it.  Out: problems that closing finds; pieces of memory,
by the names under which they will be looked for.

Nothing depends on him: what he does not answer is done as ever.  He reads the text and closes its
figures himself, for to send a model takes as long as a quarter of that.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

from patternpress.booklet.atelier import atelier
from patternpress.booklet.fillfinished import finished_pictures
from patternpress.booklet.wording import wording_of
from patternpress.closing.close import close
from patternpress.cutting.layouts import layouts
from patternpress.design.problem import Problem
from patternpress.design.read import Reading, read_text
from patternpress.desk import rooms
from patternpress.desk.preview.keeping import Recent

_SENT = ("picture:", "layout:")  # the rest, solids above all, is sooner made than sent
_MEMORY = Recent(100)  # of what was read and closed


def closing_aside(text: str, path: Path, editions: Sequence[str]) -> tuple[Problem, ...]:
    """What keeps these editions from adding up, or from being laid out."""
    return rooms.closing_problems(_reading(text, path), editions)


def finished_aside(text: str, path: Path, edition: str) -> Mapping[str, Any]:
    """The cutting layouts and the pictures of the finished piece, as `content_of` will ask."""
    model = close(_reading(text, path), edition).model
    memory: dict[str, Any] = {}
    layouts(model, memory)
    finished_pictures(atelier(wording_of(model), memory))
    return {name: each for name, each in memory.items() if name.startswith(_SENT)}


@lru_cache(maxsize=1)
def _reading(text: str, path: Path) -> Reading:
    """The text, read once for all that is asked of it."""
    return read_text(text, path.name, path.parent, _MEMORY)

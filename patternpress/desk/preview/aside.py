"""What the mate draws aside, so that it is in memory when a round comes to it.

In: a model.  Out: pieces of memory, by the names under which they will be looked for.

Nothing depends on them: memory only answers sooner, and what is not there is made as ever.
Closing figures aside was tried and gained nothing: sending a design there and back took as long.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from patternpress.assembly.model import Model
from patternpress.booklet.atelier import atelier
from patternpress.booklet.fillfinished import finished_pictures
from patternpress.booklet.wording import wording_of
from patternpress.cutting.layouts import layouts

_SENT = ("picture:", "layout:")  # the rest, solids above all, is sooner made than sent


def finished_aside(model: Model) -> Mapping[str, Any]:
    """The cutting layouts and the pictures of the finished piece, as `content_of` will ask."""
    memory: dict[str, Any] = {}
    layouts(model, memory)
    finished_pictures(atelier(wording_of(model), memory))
    return {name: each for name, each in memory.items() if name.startswith(_SENT)}

"""What has been worked out already, so that nothing is worked out twice.

In: a mapping that outlives one booklet or None, what a result depends on, and how to make it.
Out: the result.  Keys are digests of the content itself, so a mapping can never make a booklet
another one; it only answers sooner.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, MutableMapping
from typing import Any, TypeVar

Kept = MutableMapping[str, Any]
_Made = TypeVar("_Made")


def once(kept: Kept | None, kind: str, content: object, make: Callable[[], _Made]) -> _Made:
    """Return what was made of the same content before, or make it.

    `content` is known by its repr, which must hold all that the result depends on.
    """
    if kept is None:
        return make()
    return named(kept, f"{kind}:{hashlib.sha256(repr(content).encode()).hexdigest()}", make)


def named(kept: Kept, name: str, make: Callable[[], _Made]) -> _Made:
    """Return what was made under a name before, or make it."""
    if name not in kept:
        kept[name] = make()
    found: _Made = kept[name]
    return found

"""Things that are kept for a while: what was used longest ago goes first.

In: a limit.  Out: a mapping that never holds more, so that a long day's work stays in bounds.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterator, MutableMapping
from typing import Any


class Recent(MutableMapping[str, Any]):
    """A mapping of at most `most` entries; reading or writing one makes it the newest."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[str, Any] = OrderedDict()

    def __getitem__(self, key: str) -> Any:
        value = self._kept[key]
        self._kept.move_to_end(key)
        return value

    def __setitem__(self, key: str, value: Any) -> None:
        self._kept[key] = value
        self._kept.move_to_end(key)
        while len(self._kept) > self._most:
            self._kept.popitem(last=False)

    def __delitem__(self, key: str) -> None:
        del self._kept[key]

    def __iter__(self) -> Iterator[str]:
        return iter(tuple(self._kept))

    def __len__(self) -> int:
        return len(self._kept)

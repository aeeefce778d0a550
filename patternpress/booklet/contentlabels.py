"""What the page of labels prints.

In: nothing; these are records, part of `content.Content`.  Out: `Label`s.  Text may be markup
(`markupsafe.Markup`).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Label:
    """One label.  `count`: "1 of 2", or "× 40" where one label serves many; `note`: what waits."""

    letter: str
    name: str
    count: str = ""
    size: str = ""
    stock: str = ""
    note: str = ""

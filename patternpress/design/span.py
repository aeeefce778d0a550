"""Places in a design file.

In: nothing.  Out: `Span`, a stretch of one file in lines and columns, and `Said`, a value
together with where the author wrote it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Generic, TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A stretch of a file: lines and columns count from 1, the end column is exclusive."""

    file: str
    line: int
    column: int
    end_line: int
    end_column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


NOWHERE = Span("", 0, 0, 0, 0)


@dataclass(frozen=True, slots=True)
class Said(Generic[T]):
    """A value as the author said it; two sayings are equal when their values are."""

    value: T
    span: Span = field(compare=False, default=NOWHERE)
    text: str = field(compare=False, default="")

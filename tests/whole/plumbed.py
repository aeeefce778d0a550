"""The marks of a finished booklet as pdfplumber reads them, read once a session.

In: a booklet that lies built.  Out: a `Page` each, plain data that all workers share: to read them
takes as long as to press them.  Sizes are points, from the top left.
"""

from __future__ import annotations

import fcntl
import io
import pickle
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import pdfplumber

Mark = Mapping[str, Any]
KEPT = {
    "text", "size", "fontname", "upright", "x0", "x1", "top", "bottom", "width", "height",
    "object_type", "fill", "stroke", "linewidth", "stroking_color", "non_stroking_color", "tag",
    "mcid",
}  # fmt: skip


@dataclass(frozen=True)
class Page:
    """What is printed on a page; `page_number` counts from 1."""

    page_number: int
    width: float
    height: float
    chars: tuple[Mark, ...]
    rects: tuple[Mark, ...]
    lines: tuple[Mark, ...]
    curves: tuple[Mark, ...]
    images: tuple[Mark, ...]


def plumbed(pdf: Path) -> tuple[Page, ...]:
    """The pages of a PDF; what was read lies beside it."""
    return _plumbed(pdf, pdf.stat().st_mtime_ns)


@lru_cache(maxsize=2)
def _plumbed(pdf: Path, _changed: int) -> tuple[Page, ...]:
    kept = pdf.with_suffix(".marks")
    with kept.open("ab+") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        file.seek(0)
        data = file.read()
        if data:
            found: tuple[Page, ...] = pickle.loads(data)
            return found
        pages = read(pdf.read_bytes())
        file.write(pickle.dumps(pages))
    return pages


def read(pdf: bytes) -> tuple[Page, ...]:
    """The pages of a PDF in memory."""
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        return tuple(_page(each) for each in opened.pages)


def _page(page: Any) -> Page:
    def marks(kind: str) -> tuple[Mark, ...]:
        return tuple({k: v for k, v in each.items() if k in KEPT} for each in getattr(page, kind))

    return Page(
        page.page_number,
        float(page.width),
        float(page.height),
        *(marks(kind) for kind in ("chars", "rects", "lines", "curves", "images")),
    )

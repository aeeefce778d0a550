"""Making booklets and proving them, apart from all else that the desk does.

In: a reading of a sound design, and an edition.  Out: files.  This module brings in the PDF
engine, which takes half a second and needs libraries of the system; so only the command that
builds loads it, and the others work without.
"""

from __future__ import annotations

from collections.abc import MutableMapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from patternpress.booklet.build import (
    Made,
    PressError,
    build_cut_files,
    make_corrected,
    make_edition,
)
from patternpress.booklet.writing import write_whole
from patternpress.design.read import Reading
from patternpress.measure.printers import Correction
from patternpress.proof.findings import Report, fresh
from patternpress.proof.page import as_page
from patternpress.proof.prove import prove

__all__ = [
    "Built",
    "PressError",
    "UnsoundError",
    "build_corrected",
    "build_cut_files",
    "build_edition",
]


class UnsoundError(Exception):
    """A booklet that its proof refused; `report` says why.  Nothing of it was written."""

    def __init__(self, report: Report) -> None:
        super().__init__(report.file)
        self.report = report


@dataclass(frozen=True)
class Built:
    """The files of an edition, and its proof unless that was not wanted."""

    files: tuple[Path, ...]
    report: Report | None


def build_edition(
    reading: Reading,
    edition: str,
    out: Path,
    *,
    cache: MutableMapping[str, Any] | None = None,
    unproved: bool = False,
) -> Built:
    """Make one edition, measure the finished file, and write it with a page that tells of it.

    Raises PressError when the pages cannot be pressed, UnsoundError when the proof refuses them.
    """
    made = make_edition(reading, edition, cache=cache, unproved=unproved)
    return _proved(made, out, unproved)


def build_corrected(
    reading: Reading, edition: str, out: Path, correction: Correction, *, unproved: bool = False
) -> Built:
    """Make the templates of one edition for one printer, measure them as it prints, write them.

    Raises as `build_edition` does.
    """
    return _proved(make_corrected(reading, edition, correction, unproved=unproved), out, unproved)


def _proved(made: Made, out: Path, unproved: bool) -> Built:
    files, report = made.files, None
    if not unproved:
        name = files[0][0]
        report = prove(made.pdf, made.facts, file=name)
        if not report.sound:
            raise UnsoundError(fresh(report))
        page = (f"{name.removesuffix('.pdf')}-proof.html", as_page(report).encode())
        files = (*files, page)
    return Built(tuple(write_whole(out / name, data) for name, data in files), report)

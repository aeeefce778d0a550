"""One edition made as a command asked for it: its booklet, or templates for one printer, or also
files for cutters.

In: an order, and the name of an edition.  Out: what became of it, in plain words where it failed.
Orders and outcomes are plain records, so that another process can do the work (see `hands.py`).
"""

from __future__ import annotations

import importlib
from collections.abc import MutableMapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from patternpress.design.read import Reading
from patternpress.desk.excerpt import visible
from patternpress.measure.printers import Correction
from patternpress.proof.telling import as_text, headline

NO_ENGINE = (
    "the PDF engine needs the libraries Pango and HarfBuzz; on Debian or Ubuntu type "
    "`sudo apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0`."
)


@dataclass(frozen=True)
class Order:
    """What is to be made of each edition of a sound design, and the folder that it goes into."""

    reading: Reading
    out: Path
    measured: Correction | None = None  # only the templates, for this printer
    kerf: Fraction | None = None  # mm; also files for cutters
    unproved: bool = False


@dataclass(frozen=True)
class Outcome:
    """The files of an edition and a line on its proof; or why there are none."""

    edition: str
    files: tuple[Path, ...] = ()
    headline: str = ""
    complaint: str = ""  # in words for the author; empty where all went well


def make(order: Order, edition: str, cache: MutableMapping[str, Any]) -> Outcome:
    """Make an edition; `cache` keeps what it has in common with others of the order."""
    try:
        # Loaded only now: the PDF engine takes half a second, and needs libraries of the system.
        press = importlib.import_module("patternpress.desk.pressing")
    except OSError:  # how the PDF engine says that one of them is missing
        return Outcome(edition, complaint=NO_ENGINE)
    try:
        built = _built(press, order, edition, cache)
        files = built.files
        if order.kerf is not None:
            cut = press.build_cut_files(order.reading, edition, order.out, order.kerf)
            files = (*files, *cut)
    except press.UnsoundError as error:
        told = "\n".join(visible(line) for line in as_text(error.report).split("\n")).rstrip()
        return Outcome(edition, complaint=f"the {edition} edition was not written.\n{told}")
    except press.PressError as error:
        told = "; ".join(visible(line) for line in str(error).splitlines())
        return Outcome(edition, complaint=f"the {edition} edition was not made: {told}")
    return Outcome(edition, files, "" if built.report is None else headline(built.report))


def _built(press: Any, order: Order, edition: str, cache: MutableMapping[str, Any]) -> Any:
    reading, out, unproved = order.reading, order.out, order.unproved
    if order.measured is None:
        return press.build_edition(reading, edition, out, cache=cache, unproved=unproved)
    return press.build_corrected(reading, edition, out, order.measured, unproved=unproved)

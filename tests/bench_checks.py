"""How fast a design of three hundred pieces is placed and checked, beside its whole booklet."""

from __future__ import annotations

import time
from pathlib import Path

from patternpress.assembly.model import check
from patternpress.booklet.build import make_edition
from patternpress.design.read import read_text
from tests.assembly.hundreds import type_case
from tests.bench_rows import Row, best, seconds

EDITION = "both"


def hundreds() -> list[Row]:
    """Placing and checking 300 pieces, as a share of the build of their booklet.

    The booklet is built once: it takes about a minute, most of it for pictures.
    """
    reading = read_text(type_case(), "type-case.yaml", Path())
    taken = best({"check": lambda: check(reading)})["check"]
    build = seconds(lambda: make_edition(reading, EDITION), time.process_time)
    return [
        Row("placing and checking 300 pieces, to their booklet", taken / build, goal=0.1),
        Row("placing and checking 300 pieces", taken, "s"),
        Row("the booklet of 300 pieces", build, "s"),
    ]

"""How fast a design of three hundred pieces is placed and checked, beside its whole booklet."""

from __future__ import annotations

from pathlib import Path

from patternpress.assembly.model import check
from patternpress.booklet.build import make_edition
from patternpress.design.read import read_text
from tests.assembly.hundreds import type_case
from tests.bench_rows import Row, best

EDITION = "both"


def hundreds() -> list[Row]:
    """Placing and checking 300 pieces, as a share of the build of their booklet."""
    reading = read_text(type_case(), "type-case.yaml", Path())
    found = best(
        {
            "check": lambda: check(reading),
            "build": lambda: make_edition(reading, EDITION),
        },
        rounds=1,
    )
    return [
        Row("placing and checking 300 pieces, to their booklet", found["check"] / found["build"],
            goal=0.1),
        Row("placing and checking 300 pieces", found["check"], "s"),
    ]  # fmt: skip

"""How fast a design of three hundred pieces is placed and checked, beside its whole booklet; and
what is asked of things that open, beside the booklet of a cupboard that is full of them.
"""

from __future__ import annotations

from pathlib import Path

from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.checks.opening import check_opening
from patternpress.assembly.model import check
from patternpress.assembly.placing import Assembly, assemble
from patternpress.assembly.worked import Worked, work
from patternpress.booklet.build import Made, make_edition
from patternpress.design.read import read_text
from patternpress.proof.prove import prove
from tests.assembly.furnished import furnished
from tests.assembly.hundreds import type_case
from tests.bench_rows import Row, best, clocked

EDITION = "both"


def hundreds(demo: Made) -> list[Row]:
    """Placing and checking 300 pieces, as a share of the build of their booklet; its proof.

    The booklet is built and proved once: that is long enough.  `demo`: a booklet of a demo design,
    whose proof says what a page of a small one takes.
    """
    reading = read_text(type_case(), "type-case.yaml", Path())
    # Once: what a check finds is remembered, and a second one would only be told of it.
    taken = clocked(lambda: check(reading))
    made: list[Made] = []
    build = clocked(lambda: made.append(make_edition(reading, EDITION)))
    proof = clocked(lambda: prove(made[0].pdf, made[0].facts))
    small = best({"proof": lambda: prove(demo.pdf, demo.facts)})["proof"]
    growth = (proof / made[0].pages) / (small / demo.pages)
    return [
        Row("placing and checking 300 pieces, to their booklet", taken / build, goal=0.1),
        Row("placing and checking 300 pieces", taken, "s"),
        Row("the booklet of 300 pieces", build, "s"),
        Row("a proof of 300 pieces, to their booklet", proof / build, goal=0.25),
        Row("a proof of 300 pieces, pages", made[0].pages, "pages"),
        Row("a page of that proof, to a page of a demo's", growth),
    ]


# Two doors, a lid and a drawer: cupboards that have all of these, of the first hundred.
OPENS = ("right door", "lid:", "mm to the front")


def opens() -> list[Row]:
    """Whether all that opens goes as far as is said, as a share of the build of the booklet."""
    texts = [text for text in map(furnished, range(100)) if all(each in text for each in OPENS)]
    reading = read_text(texts[0], "cupboard.yaml", Path())
    assert reading.book is not None
    worked = work(reading.book, reading.names)
    placed = assemble(worked)
    taken = best({"opens": lambda: _asked(worked, placed)})["opens"]
    made = best({"build": lambda: make_edition(reading, "metric")}, rounds=1)["build"]
    return [
        Row("all that opens of a cupboard, to its booklet", taken / made, goal=0.05),
        Row("all that opens of a cupboard", taken, "s"),
    ]


def _asked(worked: Worked, placed: Assembly) -> None:
    """Ask it anew, but for the solids, which every check shares."""
    bulks = bulks_of(worked, placed)
    placed.kept.clear()
    placed.kept["bulks"] = bulks
    assert list(check_opening(worked, placed)) == []

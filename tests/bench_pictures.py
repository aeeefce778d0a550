"""How fast pictures are drawn: those of whole booklets, and lines alone."""

from __future__ import annotations

import math
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from patternpress.assembly.model import Model
from patternpress.booklet.atelier import atelier
from patternpress.booklet.build import few_sweeps, make_edition
from patternpress.booklet.fillfinished import finished_pictures
from patternpress.booklet.fillpictures import step_figures
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from patternpress.closing.close import close
from patternpress.design.read import read_design
from patternpress.desk.pressing import build_edition
from patternpress.desk.rooms import check
from tests.bench_rows import Row, best
from tests.drawing.picture_times import COUNTS, picture_times
from tests.whole.demos import demos, smaller

PICTURES = 0.25  # the most that all pictures of a booklet may take of its build


def drawn_again(model: Model) -> Callable[[], None]:
    """Return the drawing of all pictures of a model: solids, scenes, views, lines and labels."""
    wording = Wording(model, read_phrases(model.edition.language))

    def work() -> None:
        with few_sweeps():
            place = atelier(wording)
            step_figures(place)
            finished_pictures(place)

    return work


def shares() -> list[Row]:
    """All pictures of a booklet against its build, for one edition of every demo design.

    Its build is what the command does: it reads, checks, makes and proves.  Their share of the
    making alone, of pages from a design that is known to be sound, is told beside it.
    """
    found: list[Row] = []
    for demo in {each.design: each for each in reversed([*demos(), *smaller()])}.values():
        reading = read_design(demo.design)
        model = close(reading, demo.edition).model
        taken = best(
            {
                "pictures": drawn_again(model),
                "making": lambda d=demo: make_edition(read_design(d.design), d.edition),  # type: ignore[misc]
                "build": lambda d=demo: _built(d.design, d.edition),  # type: ignore[misc]
            },
            rounds=1,
        )
        name, pictures = demo.design.stem, taken["pictures"]
        found += [
            Row(f"all pictures of {name}, to its build", pictures / taken["build"], goal=PICTURES),
            Row(f"the same, to the making of {name} alone", pictures / taken["making"]),
        ]
    return found


def _built(design: Path, edition: str) -> None:
    reading = read_design(design)
    check(reading, [edition])
    with tempfile.TemporaryDirectory() as out:
        build_edition(reading, edition, Path(out))


def hidden_lines() -> list[Row]:
    """Lines of scattered boxes: times, and how they grow."""
    taken = picture_times(clock=time.process_time)["lines"]
    growth = math.log(taken[300] / taken[60]) / math.log(300 / 60)
    return [
        *(Row(f"the lines of {count} boxes", 1000 * taken[count], "ms") for count in COUNTS),
        Row("growth of these, as a power of the boxes (60 to 300)", growth, "power", 1.5),
    ]

"""What a theme costs a buyer and an author: ink, pages, and the time of a build.

In: nothing; the demo designs are pressed in both themes.  Out: rows for the bench.  Ink is the mean
darkness of a page as pdfium draws it, in hundredths of black.
"""

from __future__ import annotations

import time
from dataclasses import replace
from pathlib import Path

import pypdfium2

from patternpress.assembly.model import edition_names
from patternpress.booklet.build import press_model
from patternpress.closing.close import close
from patternpress.design.read import read_design
from tests.bench_rows import Row, seconds

DESIGNS = ("keepers-desk", "net-tote", "signal-shelf")
FOLDER = Path(__file__).parents[1] / "designs"


def themes() -> list[Row]:
    """Ink, pages and time of each theme over all demo designs, and the second to the first."""
    found = {theme: _over_all(theme) for theme in ("quay", "rod")}
    rows = []
    for theme, (pages, dark, took) in found.items():
        rows += [
            Row(f"{theme}: pages of the demos", pages, "pages"),
            Row(f"{theme}: ink of a page", 100 * dark / pages, "% black"),
            Row(f"{theme}: pressing the demos", took, "s"),
        ]
    (many, ink, took), (few, less, spent) = found["quay"], found["rod"]
    return [
        *rows,
        Row("rod, its pages to those of quay", few / many, goal=2 / 3),
        Row("rod, its ink to that of quay", less / ink),
        Row("rod, its pressing to that of quay", spent / took),
    ]


def _over_all(theme: str) -> tuple[int, float, float]:
    """Pages, darkness in whole black pages, and seconds of work."""
    pages, dark, took = 0, 0.0, 0.0
    for name in DESIGNS:
        reading = read_design(FOLDER / f"{name}.yaml")
        assert reading.book is not None
        model = close(reading, edition_names(reading.book)[0]).model
        model = replace(model, edition=replace(model.edition, theme=theme))
        made: list[bytes] = []
        took += seconds(
            lambda model=model, made=made: made.append(press_model(model).pdf), time.process_time
        )
        pdf = pypdfium2.PdfDocument(made[0])
        pages += len(pdf)
        drawn = (pdf[n].render(scale=0.5, grayscale=True).to_numpy() for n in range(len(pdf)))
        dark += sum(float(1 - page.mean() / 255) for page in drawn)
    return pages, dark, took

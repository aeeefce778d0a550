"""Pictures of every page, for those who judge them.

In: a folder.  Out: in it, the three editions of each demo design in both themes as PDF, and a
folder of PNGs of each: `net-tote-inch-rod/page-07.png`.  `--grey` shows what a grey printer gets.

    python -m tests.whole.pages FOLDER [--dpi 600] [--grey]
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pypdfium2

from tests.whole.demos import THREE, Demo, built, demos

THEMES = ("quay", "rod")


def looks() -> list[Demo]:
    """Three editions of each design in each theme."""
    three = [each for each in demos() if each.edition in THREE]
    return [replace(each, theme=theme) for each in three for theme in THEMES]


def draw(pdf: Path, folder: Path, dpi: float, grey: bool) -> Iterator[Path]:
    """Draw each page of a PDF into a folder, and tell its picture."""
    folder.mkdir(parents=True, exist_ok=True)
    with pypdfium2.PdfDocument(pdf) as opened:
        for number, page in enumerate(opened, 1):
            path = folder / f"page-{number:02}.png"
            page.render(scale=dpi / 72, grayscale=grey).to_pil().save(path)
            yield path


def main(words: list[str] | None = None) -> None:
    """Build and draw what the command line asks for."""
    told = argparse.ArgumentParser(prog="python -m tests.whole.pages", description=__doc__)
    told.add_argument("folder", type=Path)
    told.add_argument("--dpi", type=float, default=100.0)
    told.add_argument("--grey", action="store_true")
    asked = told.parse_args(words)
    for demo in looks():
        pdf = built(demo, asked.folder).pdf
        count = len([*draw(pdf, asked.folder / str(demo), asked.dpi, asked.grey)])
        print(f"{demo}: {count} pages")


if __name__ == "__main__":
    main()

"""What editions save by sharing what they have in common, and what each theme prints.

In: the demo designs.  Out: rows.  Nine editions of one design (three unit systems, each on A4, on
Letter and in a lean theme) are made together and one by one; every demo in both themes is weighed.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import partial
from pathlib import Path

import pypdfium2

from patternpress.booklet.build import make_edition, press_model
from patternpress.closing.close import close
from patternpress.design.read import Reading, read_design, read_text
from tests.bench_rows import Row, clocked
from tests.whole.demos import demos

ROOT = Path(__file__).parents[1]
DESIGN = ROOT / "designs" / "keepers-desk.yaml"
UNITS = ("mm", "in", "both")
LOOKS = {
    "A4": "paper: A4",
    "Letter": "paper: Letter",
    "lean": "paper: A4, theme: rod",
}
RICH, LEAN = "quay", "rod"
# At least a third fewer pages, or half the ink.
PAGES, INK = 2 / 3, 1 / 2


def nine() -> tuple[str, ...]:
    """The names of the nine editions."""
    return tuple(f"{units} {look}" for units in UNITS for look in LOOKS)


def nine_editions() -> Reading:
    """The design with nine editions in place of its own."""
    text = DESIGN.read_text(encoding="utf-8")
    lines = "".join(
        f"  {units} {look}: {{units: {units}, {rest}}}\n"
        for units in UNITS
        for look, rest in LOOKS.items()
    )
    said, count = re.subn(r"(?m)^editions:\n(?:  .*\n)+", f"editions:\n{lines}", text)
    if count != 1:
        raise ValueError("the demo has no list of editions")
    return read_text(said, DESIGN.name, DESIGN.parent)


def editions() -> list[Row]:
    """Nine editions of one reading that share a cache, against nine separate builds.

    A separate build reads the design anew, as a command does.  Once each: it is long enough.
    """

    def together() -> None:
        reading, cache = nine_editions(), dict[str, object]()
        for name in nine():
            make_edition(reading, name, cache=cache)

    def apart() -> None:
        for name in nine():
            make_edition(nine_editions(), name)

    share = clocked(together) / clocked(apart)
    return [Row("nine editions together, to nine by themselves", share, goal=0.5)]


def themes() -> list[Row]:
    """Pages and ink of every demo in both themes, and how long they take."""
    pages, inks, taken = ({RICH: 0.0, LEAN: 0.0} for _ in range(3))
    for design in sorted({each.design for each in demos()}):
        for theme in pages:
            made: list[bytes] = []
            taken[theme] += clocked(partial(_press_into, made, design, theme))
            document = pypdfium2.PdfDocument(made[0])
            pages[theme] += len(document)
            inks[theme] += ink(document)
    saved = min(pages[LEAN] / pages[RICH] / PAGES, inks[LEAN] / inks[RICH] / INK)
    return [
        *(Row(f"pages of all demos, {each}", pages[each], "pages") for each in pages),
        *(Row(f"ink of all demos, {each}, as black pages", inks[each], "pages") for each in inks),
        *(Row(f"darkness of a page, {each}", inks[each] / pages[each], "share") for each in inks),
        Row("lean theme: pages to 2/3 or ink to 1/2 of the rich one", saved, goal=1),
        *(Row(f"a build of all demos, {each}", taken[each], "s") for each in taken),
        Row("a build of all demos, lean theme to rich", taken[LEAN] / taken[RICH]),
    ]


def ink(document: pypdfium2.PdfDocument) -> float:
    """How much of a booklet is black: the darkness of its pages, in pages."""
    pages = (document[n].render(scale=0.5, grayscale=True).to_numpy() for n in range(len(document)))
    return sum(float(1 - page.mean() / 255) for page in pages)


def _press_into(made: list[bytes], design: Path, theme: str) -> None:
    made.append(_pressed(design, theme))


def _pressed(design: Path, theme: str) -> bytes:
    """The first edition of a design in a theme, from its file to its pages."""
    reading = read_design(design)
    first = next(each.edition for each in demos() if each.design == design)
    model = close(reading, first).model
    return press_model(replace(model, edition=replace(model.edition, theme=theme))).pdf

"""What editions save by sharing what they have in common.

In: a demo design.  Out: a row.  Nine editions of it (three unit systems, each on A4, on Letter and
in a lean theme) are made together and one by one.
"""

from __future__ import annotations

import re
from pathlib import Path

from patternpress.booklet.build import make_edition
from patternpress.design.read import Reading, read_text
from tests.bench_rows import Row, clocked

ROOT = Path(__file__).parents[1]
DESIGN = ROOT / "designs" / "keepers-desk.yaml"
UNITS = ("mm", "in", "both")
LOOKS = {
    "A4": "paper: A4",
    "Letter": "paper: Letter",
    "lean": "paper: A4, theme: rod",
}


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

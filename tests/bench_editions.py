"""What editions save by sharing what they have in common, and by being made side by side.

In: a demo design.  Out: two rows.  Nine editions of it (three unit systems, each on A4, on Letter
and in a lean theme) are made together and one by one.
"""

from __future__ import annotations

import re
import tempfile
import time
from pathlib import Path

from patternpress.design.read import Reading, read_text
from patternpress.desk.hands import hands_for, make_all
from patternpress.desk.making import Order
from tests.bench_rows import Row, seconds

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
    """Nine editions ordered together, against nine orders of one, which read the design anew.

    The first row is what a user waits for: as many hands as `build` takes, their beginning
    included.  The second is the work that is saved, by one hand.  The clock is that on the wall,
    since several processes work; once each: it is long enough.
    """
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder)

        def together(hands: int) -> None:
            _all_made(Order(nine_editions(), out), nine(), hands)

        def apart() -> None:
            for name in nine():
                _all_made(Order(nine_editions(), out), (name,), 1)

        alone = seconds(apart, time.perf_counter)
        side_by_side = seconds(lambda: together(hands_for(len(nine()), None)), time.perf_counter)
        by_one = seconds(lambda: together(1), time.perf_counter)
    return [
        Row("nine editions together, to nine by themselves", side_by_side / alone, goal=0.5),
        Row("the same, by one hand", by_one / alone),
    ]


def _all_made(order: Order, names: tuple[str, ...], hands: int) -> None:
    complaints = [made.complaint for made in make_all(order, names, hands, str) if made.complaint]
    if complaints:
        raise ValueError(complaints[0])

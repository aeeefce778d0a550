"""The example of the makers' reference is true: plain rounding fails, closing holds."""

from __future__ import annotations

import re
from pathlib import Path

from patternpress.assembly.facts import facts
from patternpress.assembly.model import work_out
from patternpress.closing.close import close
from patternpress.closing.facts import closed_facts
from patternpress.design.read import read_text
from tests.closing.walker import printed, read
from tests.desk.test_readme import EXAMPLES, README

SECTION = README.split("## Figures that add up\n")[1].split("\n## ")[0]
ROWS = [
    [cell.strip() for cell in line.strip("|").split("|")]
    for line in re.findall(r"^\|.*\|$", SECTION, re.MULTILINE)[2:]
]


def test_the_example_of_the_page_fails_plainly_and_holds_closed() -> None:
    text = EXAMPLES[0].replace("width: 30 mm", "width: 28 mm")
    reading = read_text(text, "candle-box.yaml", Path())
    plain, closed = facts(work_out(reading, "inch")), closed_facts(close(reading, "inch"))
    width, floor, boards, total = ROWS
    for column, told in ((2, plain), (3, closed)):
        assert read(told["sizes"]["width"]["printed"]) == read(width[column])
        assert printed(told, "floor", "wide") == read(floor[column])
        assert 2 * printed(told, "end", "wide") == read(boards[column])
        assert read(floor[column]) + read(boards[column]) == read(total[column])
    assert read(total[2]) != read(width[2])
    assert read(total[3]) == read(width[3])

"""Whatever a file holds, reading and checking end with a book or with problems at a place."""

import re
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from patternpress.assembly.model import check
from patternpress.design.read import read_design, read_text

DESIGNS = Path(__file__).parents[2] / "designs"
DEMOS = tuple(path.read_text("utf-8") for path in sorted(DESIGNS.glob("*.yaml")))
QUICK = settings(max_examples=60, suppress_health_check=list(HealthCheck))

# What YAML counts as ends of lines.
BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")

# Scraps that have a meaning somewhere in a design, or in YAML, or in neither.
SCRAPS = (
    "design: X", "sizes:", "parts:", "stock:", "steps:", "  - step: x", "    start: base", "base",
    "width", "{", "}", "[", "]", ": ", "- ", "&a ", "*a", "|", ">", "!x", "%", "'", '"', "#", "\n",
    "\n  ", "\n    ", "\t", "<", ">", "0 mm", "-5 mm", "5", "1/0 mm", "half of", "1 to 2 mm",
    "5 % of x", "\x85", "\u2028", "⅟", "²", "𝄞", "?", "~", "null", "sheet: 2 mm", "wide: 4 mm",
    '"\\UFFFFFFFF"', '"\\ud800"', '"\\0"', "sqrt(2)", "thickness of board", "against base",
    "left:", "join: {base: {left: on base}}", "deep", "999999999999999999999999999999 mm", "—",
)  # fmt: skip


def assert_told(text: str) -> None:
    """Nothing is raised; every problem stands in a line of a file and has whole words."""
    reading = read_text(text, "hostile.yaml", DESIGNS)
    problems = check(reading, places=False)
    assert reading.book is not None or problems
    # A problem at the end of a file may stand in the empty line after its last one.
    most = {file: len(BREAK.split(source)) + 1 for file, source in reading.sources}
    for each in problems:
        assert 1 <= each.span.line <= most[each.span.file]
        assert each.span.column >= 1
        assert (each.span.line, each.span.column) <= (each.span.end_line, each.span.end_column)
        assert each.what
        assert each.why
        assert each.mend


@QUICK
@given(st.binary(max_size=400))
def test_random_bytes(tmp_path_factory: object, data: bytes) -> None:
    path = tmp_path_factory.mktemp("bytes") / "hostile.yaml"  # type: ignore[attr-defined]
    path.write_bytes(data)
    reading = read_design(path)
    assert reading.book is not None or check(reading)


@QUICK
@given(st.text(max_size=400))
def test_random_text(text: str) -> None:
    assert_told(text)


@QUICK
@given(st.lists(st.sampled_from(SCRAPS), max_size=60).map("".join))
def test_random_scraps_of_designs(text: str) -> None:
    assert_told(text)


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """A demo design with a few stretches or lines replaced, taken out, doubled or exchanged."""
    text = draw(st.sampled_from(DEMOS))
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        stop = min(len(text), start + draw(st.sampled_from([0, 1, 3, 20])))
        lines = text.split("\n")
        one = draw(st.integers(0, len(lines) - 1))
        other = draw(st.integers(0, len(lines) - 1))
        way = draw(st.sampled_from(["scrap", "out", "double", "exchange"]))
        if way == "scrap":
            text = text[:start] + draw(st.sampled_from(SCRAPS)) + text[stop:]
            continue
        if way == "out":
            del lines[one]
        elif way == "double":
            lines.insert(other, lines[one])
        elif ":" in lines[one] and ":" in lines[other]:
            name, _, _ = lines[one].partition(":")
            _, _, value = lines[other].partition(":")
            lines[one] = f"{name}:{value}"
        text = "\n".join(lines)
    return text


@QUICK
@given(mutated())
def test_random_changes_of_the_demos(text: str) -> None:
    assert_told(text)

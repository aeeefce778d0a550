"""The makers' reference tells the truth: its examples are read, its tables are the records'."""

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from patternpress.assembly.model import check
from patternpress.design import phrases
from patternpress.design.names import index
from patternpress.design.read import read_design, read_text
from patternpress.design.reads import Reader
from patternpress.design.reference import RECORDS, rewritten
from patternpress.design.schema import json_schema
from patternpress.design.source import Scalar
from patternpress.design.span import Span
from patternpress.design.table import fields_of
from patternpress.desk.commands.new import starter
from patternpress.desk.report import as_text

DESIGNS = Path(__file__).parents[2] / "designs"
README = (DESIGNS / "README.md").read_text("utf-8")
EXAMPLES = re.findall(r"^```yaml\n(.*?)^```", README, re.DOTALL | re.MULTILINE)
PLACES = README.split("<!-- places -->")[1].split("<!-- end of places -->")[0]


def problems_of(example: str) -> list[str]:
    """What is wrong with the first example when another one is laid over it."""
    reading = read_text(laid_over_the_first(example), "example.yaml", DESIGNS)
    assert reading.problems == (), as_text(reading.problems, reading.sources, colour=False)
    return [f"{each.code}: {each.what}" for each in check(reading) if each.is_error]


def laid_over_the_first(example: str) -> str:
    """The first example of the reference with another one laid over it, as text."""
    whole = yaml.load(EXAMPLES[0], Loader=yaml.BaseLoader)
    if example != EXAMPLES[0]:
        for name, added in yaml.load(example, Loader=yaml.BaseLoader).items():
            whole[name] = _laid_over(whole.get(name), added)
    return yaml.dump(whole, sort_keys=False, allow_unicode=True, width=1000)


def _laid_over(old: Any, new: Any) -> Any:
    if isinstance(old, dict) and isinstance(new, dict):
        return {**old, **new}
    if isinstance(old, list) and isinstance(new, list):
        return [*old, *new]
    return new


def test_the_first_example_is_what_new_writes() -> None:
    written = starter("candle-box").split("\n")
    bare = [line for line in written if line.strip() and not line.lstrip().startswith("#")]
    assert EXAMPLES[0].split("\n")[:-1] == bare


def test_the_first_example_has_no_problem_at_all() -> None:
    assert check(read_text(EXAMPLES[0], "box.yaml", DESIGNS)) == ()


@pytest.mark.parametrize("number", range(1, len(EXAMPLES)))
def test_every_further_example_fits_the_first(number: int) -> None:
    assert problems_of(EXAMPLES[number]) == []


def rows(table: str) -> list[list[str]]:
    """The cells of a Markdown table's rows, without its head."""
    lines = [line for line in table.strip().split("\n") if line.startswith("|")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


@pytest.mark.parametrize("row", rows(PLACES), ids=lambda row: row[0])
def test_every_place_in_the_table_is_understood(row: list[str]) -> None:
    desk, shelf = (read_design(DESIGNS / f"{d}.yaml") for d in ("keepers-desk", "signal-shelf"))
    reader = Reader(names=index((*desk.names.given, *shelf.names.given)))
    example = row[1].strip("`")
    (found, *_) = phrases.places(Scalar(example, Span("row", 1, 1, 1, 1)), reader)
    assert reader.problems == []
    assert found.how.split(" ")[0] == {"centred on": "centred", "along": "at"}.get(
        row[0], row[0].split(" ")[0].rstrip(",")
    )


def test_every_way_of_placing_is_in_the_table() -> None:
    explained = " ".join(row[0] for row in rows(PLACES))
    assert [how for how, _ in phrases.PLACING if how.split(" ")[0] not in explained] == []


def test_the_tables_are_up_to_date() -> None:
    # Written anew by: python -m patternpress.design.reference designs/README.md
    assert rewritten(README) == README


def test_every_record_has_a_table() -> None:
    shown = re.findall(r"<!-- table: (\w+) -->", README)
    assert shown == [record.__name__ for record in RECORDS]
    assert set(shown) == set(json_schema()["$defs"])


def test_every_link_leads_to_a_heading() -> None:
    headings = {
        re.sub(r"[^\w -]", "", line.lstrip("# ").lower()).strip().replace(" ", "-")
        for line in README.split("\n")
        if line.startswith("#")
    }
    assert set(re.findall(r"\]\(#([^)]+)\)", README)) - headings == set()


def test_the_report_in_the_page_is_what_is_printed() -> None:
    text = EXAMPLES[0].replace("    stock: lime board", "    stock: lime bord", 1)
    reading = read_text(text, "candle-box.yaml", DESIGNS)
    printed = as_text(reading.problems, reading.sources, colour=False)
    assert re.findall(r"^```text\n(.*?)^```", README, re.DOTALL | re.MULTILINE) == [printed]


def test_every_field_of_a_design_has_a_meaning_and_an_example() -> None:
    for record in RECORDS:
        for row in fields_of(record):
            assert row.means, (record, row.name)
            assert row.reads.example not in ("", "…"), (record, row.name)

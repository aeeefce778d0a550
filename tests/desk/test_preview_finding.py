"""What stands on a page is led back to its lines in the file, and to none that only look alike."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from patternpress.closing.close import close
from patternpress.design.read import read_text
from patternpress.desk.commands.new import starter
from patternpress.desk.preview.finding import Sources, sources_of, spots_on
from patternpress.desk.preview.pagepictures import Box, Figured, Line

AT = Box(0.1, 0.2, 0.3, 0.02)


@cache
def sources(edition: str = "metric") -> Sources:
    reading = read_text(starter("box"), "box.yaml", Path())
    return sources_of(close(reading, edition).model, "box.yaml")


def spots(text: str, figure: str, edition: str = "metric") -> list[dict[str, Any]]:
    """The spots of a line in which a figure is looked at."""
    behind = text.partition(figure or text)[2]
    figures = (Figured(figure, behind, AT),) if figure else ()
    return spots_on([Line(text, AT, figures)], sources(edition))


def labels(text: str, figure: str, edition: str = "metric") -> list[str]:
    return [
        each["label"]
        for spot in spots(text, figure, edition)
        if spot["kind"] == "figure"
        for each in spot["choices"]
    ]


def test_inches_are_found_by_their_name_in_the_language() -> None:
    model = close(read_text(starter("box"), "box.yaml", Path()), "inch").model
    french = replace(model, edition=replace(model.edition, language="fr"))
    there = sources_of(french, "box.yaml")
    depth = next(each.words for each in there.figures if each.row.name == "depth")
    figure, _, unit = depth.partition(" po")
    assert (unit, figure.split("/")[-1].isdecimal()) == ("", True)
    line = Line(depth, AT, (Figured(figure, " po", AT),))
    (spot,) = [each for each in spots_on([line], there) if each["kind"] == "figure"]
    assert "sizes, depth" in [each["label"] for each in spot["choices"]]
    english = Line(depth, AT, (Figured(figure, " points", AT),))
    assert spots_on([english], there) == []


@pytest.mark.parametrize(
    ("text", "figure", "first"),
    [
        ("30 × 14 × 21 mm", "14", "sizes, depth"),
        ("D 1 floor 26 × 10 × 2 mm left to right", "26", "parts, floor, wide"),
        ("D 1 floor 26 × 10 × 2 mm left to right", "10", "parts, floor, deep"),
        ("C 2 end 12 × 10 × 2 mm up and down", "10", "parts, end, deep"),
        ("30 minutes until the wood glue can be handled.", "30", "materials, wood glue, handle"),
        ("lime board, 2 mm thick, sold as 100 × 600 mm", "600", "stock, lime board, sold"),
        ("21 m", "21", "parts, back board, high"),  # turned letters come apart
    ],
)
def test_a_figure_comes_from_what_its_line_names(text: str, figure: str, first: str) -> None:
    assert labels(text, figure)[0] == first


@pytest.mark.parametrize(
    ("text", "figure"),
    [
        ("Box · Metric · A4 · version 1.0 page 2 of 10", "2"),  # the number of a page
        ("2 Draw the floor line on the front of the back", "2"),  # of a sentence
        ("2 times: 2 × C, at 10 mm", "2"),
        ("Across, 100 mm and 4 in.", "4"),  # four millimetres are in the design, not four inches
        ("1230 mm", "1230"),
    ],
)
def test_what_only_looks_like_a_figure_of_the_design_is_left_alone(text: str, figure: str) -> None:
    assert labels(text, figure) == []


def test_a_sum_offers_the_sizes_behind_it() -> None:
    found = labels("D 1 floor 26 × 10 × 2 mm", "26")
    assert found == ["parts, floor, wide", "sizes, width"]


def test_inches_are_led_back_too() -> None:
    rows = {each.row.label: each.words for each in sources("inch").figures}
    figure = rows["sizes, width"].removesuffix(" in")
    assert "sizes, width" in labels(f"{figure} in wide", figure, "inch")


def test_words_of_two_lines_make_one_spot() -> None:
    below = Box(0.1, 0.222, 0.2, 0.02)
    lines = [Line("Glue the ends and", AT, ()), Line("the floor to the back", below, ())]
    (spot,) = spots_on(lines, sources())
    assert spot["kind"] == "words"
    assert spot["choices"][0]["text"] == "Glue the ends and the floor to the back"
    assert (spot["y"], round(spot["high"], 3)) == (0.2, 0.042)


def test_words_of_the_booklet_itself_are_not_the_authors() -> None:
    assert spots("Wood dust is harmful to breathe in.", "") == []
    assert spots("Hold", "") == []

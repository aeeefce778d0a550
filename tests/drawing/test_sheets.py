"""Pages of templates: the contract holds, everything is on the paper, and sizes are true."""

import math
import re
import xml.etree.ElementTree as ET
from fractions import Fraction

import pytest

from patternpress.drawing.bars import lying_bar, upright_bar
from patternpress.drawing.contract import check_template
from patternpress.drawing.sheets import LIVE_AREA, TemplatePage, sheets
from patternpress.drawing.style import DrawingStyle
from tests.drawing import samples

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def pages() -> tuple[TemplatePage, ...]:
    return sheets(samples.ALL)


def subpaths(svg: str, width: str) -> list[list[tuple[str, list[float]]]]:
    """The subpaths drawn with a line width, each as commands with their numbers."""
    found = []
    for path in ET.fromstring(svg).iter(f"{SVG}path"):
        if path.get("stroke-width") != width:
            continue
        for part in re.findall(r"M[^M]*", path.get("d", "")):
            commands = re.findall(r"([MLCZ])([^MLCZ]*)", part)
            found.append([(name, [float(n) for n in rest.split()]) for name, rest in commands])
    return found


def test_every_page_keeps_the_contract(pages: tuple[TemplatePage, ...]) -> None:
    for page in pages:
        assert check_template(page.svg) == []


def test_every_template_is_drawn_once(pages: tuple[TemplatePage, ...]) -> None:
    for part in samples.ALL:
        # The two hands of one part may lie on two pages.
        drawn = 1 if part.hand is None else 2
        sheets_with_it = [page for page in pages if part.letter in page.letters]
        assert 1 <= len(sheets_with_it) <= drawn
    outlines = [outline for page in pages for outline in subpaths(page.svg, "0.5")]
    assert len(outlines) == sum(1 if part.hand is None else 2 for part in samples.ALL)


def test_everything_lies_on_the_paper(pages: tuple[TemplatePage, ...]) -> None:
    for page in pages:
        for path in ET.fromstring(page.svg).iter(f"{SVG}path"):
            numbers = [float(n) for n in re.findall(r"-?[\d.]+", path.get("d", ""))]
            assert 0 <= min(numbers[0::2]) <= max(numbers[0::2]) <= 190
            assert 0 <= min(numbers[1::2]) <= max(numbers[1::2]) <= 240


def test_the_same_parts_give_the_same_bytes() -> None:
    assert sheets(samples.ALL) == sheets(samples.ALL)


def test_a_disc_is_round_as_written() -> None:
    (page,) = sheets([samples.DISC])
    (outline,) = subpaths(page.svg, "0.5")
    places = []
    here = complex(*outline[0][1])
    for name, numbers in outline[1:]:
        if name != "C":
            continue
        p1, p2, p3 = (complex(*numbers[i : i + 2]) for i in (0, 2, 4))
        for index in range(1, 200):
            t = index / 200
            r = 1 - t
            places.append(r**3 * here + 3 * r * r * t * p1 + 3 * r * t * t * p2 + t**3 * p3)
        here = p3
    left, right = min(p.real for p in places), max(p.real for p in places)
    centre = complex(
        (left + right) / 2, (min(p.imag for p in places) + max(p.imag for p in places)) / 2
    )
    assert right - left == pytest.approx(100, abs=0.01)
    assert max(abs(abs(place - centre) - 50) for place in places) <= 0.006


def test_a_template_is_full_size_as_written() -> None:
    (page,) = sheets([samples.STRIP])
    (outline,) = subpaths(page.svg, "0.5")
    across = [numbers[0] for _, numbers in outline if numbers]
    up = [numbers[1] for _, numbers in outline if numbers]
    assert max(across) - min(across) == pytest.approx(60, abs=1e-4)
    assert max(up) - min(up) == pytest.approx(3, abs=1e-4)


def test_the_bars_are_a_hundred_millimetres_and_four_inches_both_ways() -> None:
    (page,) = sheets([samples.STRIP])
    lines = [
        (commands[0][1], commands[1][1])
        for commands in subpaths(page.svg, "0.25")
        if len(commands) == 2
    ]
    lengths = [(round(abs(b[0] - a[0]), 4), round(abs(b[1] - a[1]), 4)) for a, b in lines]
    assert (101.6, 0.0) in lengths
    assert (0.0, 101.6) in lengths
    # The ticks of whole inches and of 0 and 100 mm are the longest; measure between them.
    below = sorted(
        {round(a[0], 3) for a, b in lines if math.isclose(b[1] - a[1], 2.4, abs_tol=1e-3)}
    )
    assert below[-1] - below[0] == pytest.approx(101.6, abs=1e-3)
    above = sorted(
        {round(a[0], 3) for a, b in lines if math.isclose(a[1] - b[1], 2.4, abs_tol=1e-3)}
    )
    assert above[-1] - above[0] == pytest.approx(100, abs=1e-3)
    assert len(above) == 11


def test_a_part_longer_than_the_page_is_wide_is_turned_not_reduced() -> None:
    (page,) = sheets([samples.LONG])
    assert page.scale_words == "full size"
    (outline,) = subpaths(page.svg, "0.5")
    up = [numbers[1] for _, numbers in outline if numbers]
    assert max(up) - min(up) == pytest.approx(200, abs=1e-4)


def test_a_part_larger_than_the_page_is_reduced_on_a_page_of_its_own() -> None:
    pages = sheets([samples.HUGE, samples.STRIP])
    assert [(page.letters, page.scale_words) for page in pages] == [
        (("F",), "full size"),
        (("L",), "not full size – drawn at 1:2"),
    ]
    assert pages[1].svg.count("not full size") >= 2  # in the label and in the title


def test_the_title_names_the_parts() -> None:
    (page,) = sheets([samples.STRIP, samples.DRAWER_PART])
    title = ET.fromstring(page.svg).findtext(f"{SVG}title")
    assert title is not None
    assert "E Drawer back, full size; " in title or "; E Drawer back, full size" in title
    assert "F Rail" in title


def test_small_parts_share_a_page() -> None:
    many = [samples.part(letter, f"Block {letter}", 12, 8, quantity=2) for letter in "ABCDEFGHJKMN"]
    pages = sheets(many)
    assert len(pages) <= 2
    assert [letter for page in pages for letter in page.letters] == list("ABCDEFGHJKMN")


def test_a_page_too_small_for_anything_is_refused() -> None:
    with pytest.raises(ValueError, match="no room for part F"):
        sheets([samples.STRIP], (Fraction(40), Fraction(40)))
    assert sheets([]) == ()


def test_the_bars_fit_the_least_page() -> None:
    style = DrawingStyle()
    assert lying_bar(style).width + upright_bar(style).width <= LIVE_AREA[0]

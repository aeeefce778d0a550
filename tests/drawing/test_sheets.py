"""Pages of templates: the contract holds, everything is on the paper, and sizes are true."""

import itertools
import math
import re
import xml.etree.ElementTree as ET
from fractions import Fraction

import pytest

from patternpress.drawing.contract import check_template
from patternpress.drawing.sheets import SheetFigure, TemplatePage, sheets
from tests.drawing import samples

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def pages() -> tuple[TemplatePage, ...]:
    return sheets(samples.ALL)


def subpaths(page: TemplatePage, width: str) -> list[list[tuple[str, list[float]]]]:
    """The subpaths of a page's templates drawn with a line width, as commands with numbers."""
    svgs = [figure.svg for figure in page.figures]
    return [each for svg in svgs for each in subpaths_of(svg, width)]


def outlines(page: TemplatePage) -> list[list[tuple[str, list[float]]]]:
    """The outlines of a page's templates; the key's sample of their pen is no template."""
    svgs = [figure.svg for figure in page.figures if figure.letter]
    return [each for svg in svgs for each in subpaths_of(svg, "0.5")]


def subpaths_of(svg: str, width: str) -> list[list[tuple[str, list[float]]]]:
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
        for figure in page.figures:
            assert check_template(figure.svg) == []


def test_every_template_is_drawn_once(pages: tuple[TemplatePage, ...]) -> None:
    for part in samples.ALL:
        # The two hands of one part may lie on two pages.
        drawn = 1 if part.hand is None else 2
        sheets_with_it = [page for page in pages if part.letter in page.letters]
        assert 1 <= len(sheets_with_it) <= drawn
    drawn_outlines = [outline for page in pages for outline in outlines(page)]
    assert len(drawn_outlines) == sum(1 if part.hand is None else 2 for part in samples.ALL)


def test_everything_lies_on_the_paper_and_no_two_drawings_overlap(
    pages: tuple[TemplatePage, ...],
) -> None:
    for page in pages:
        spots = [spot(figure) for figure in page.figures]
        for left, top, right, bottom in spots:
            assert -0.5 <= left < right <= 190.5
            assert -0.5 <= top < bottom <= 240.5
        for one, two in itertools.combinations(spots, 2):
            beside = min(one[2], two[2]) - max(one[0], two[0])
            over = min(one[3], two[3]) - max(one[1], two[1])
            assert beside <= 1.01 or over <= 1.01, (one, two)  # each has half a mm round it
        for figure in page.figures:
            width, height = size(figure)
            for path in ET.fromstring(figure.svg).iter(f"{SVG}path"):
                numbers = [float(n) for n in re.findall(r"-?[\d.]+", path.get("d", ""))]
                assert 0 <= min(numbers[0::2]) <= max(numbers[0::2]) <= width
                assert 0 <= min(numbers[1::2]) <= max(numbers[1::2]) <= height


def size(figure: SheetFigure) -> tuple[float, float]:
    root = ET.fromstring(figure.svg)
    return tuple(float(root.get(side, "").removesuffix("mm")) for side in ("width", "height"))  # type: ignore[return-value]


def spot(figure: SheetFigure) -> tuple[float, float, float, float]:
    width, height = size(figure)
    return figure.left, figure.top, figure.left + width, figure.top + height


def test_the_same_parts_give_the_same_bytes() -> None:
    assert sheets(samples.ALL) == sheets(samples.ALL)


def test_a_disc_is_round_as_written() -> None:
    (page,) = sheets([samples.DISC])
    (outline,) = outlines(page)
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
    (outline,) = outlines(page)
    across = [numbers[0] for _, numbers in outline if numbers]
    up = [numbers[1] for _, numbers in outline if numbers]
    assert max(across) - min(across) == pytest.approx(60, abs=1e-4)
    assert max(up) - min(up) == pytest.approx(3, abs=1e-4)


def test_the_bars_are_a_hundred_millimetres_and_four_inches_both_ways() -> None:
    (page,) = sheets([samples.STRIP])
    lines = [
        (commands[0][1], commands[1][1])
        for commands in subpaths(page, "0.25")
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
    (outline,) = outlines(page)
    up = [numbers[1] for _, numbers in outline if numbers]
    assert max(up) - min(up) == pytest.approx(200, abs=1e-4)


def test_a_part_larger_than_the_page_is_reduced_on_a_page_of_its_own() -> None:
    pages = sheets([samples.HUGE, samples.STRIP])
    assert [(page.letters, page.scale_words) for page in pages] == [
        (("F",), "full size"),
        (("L",), "not full size – drawn at 1:5"),
    ]
    (figure,) = (figure for figure in pages[1].figures if figure.letter)
    assert figure.svg.count("not full size") >= 2  # in the label and in the title
    bands = [figure for figure in pages[1].figures if "NOT FULL SIZE" in figure.svg]
    assert len(bands) == 1
    assert bands[0].top <= 0
    assert not any("NOT FULL SIZE" in figure.svg for figure in pages[0].figures)


def test_each_title_names_its_part_and_its_scale() -> None:
    (page,) = sheets([samples.STRIP, samples.DRAWER_PART])
    titles = {
        figure.letter: ET.fromstring(figure.svg).findtext(f"{SVG}title") for figure in page.figures
    }
    assert titles["E"] == "Template E Drawer back, full size."
    assert titles["F"] == "Template F Rail, full size."
    handed = [
        ET.fromstring(figure.svg).findtext(f"{SVG}title")
        for page in sheets([samples.RAMP])
        for figure in page.figures
        if figure.letter
    ]
    assert handed == [
        "Template K Ramp cheek, right hand, full size.",
        "Template K Ramp cheek, left hand, full size.",
    ]


def test_small_parts_share_a_page() -> None:
    many = [samples.part(letter, f"Block {letter}", 12, 8, quantity=2) for letter in "ABCDEFGHJKMN"]
    pages = sheets(many)
    assert len(pages) <= 2
    letters = [letter for page in pages for letter in page.letters]
    assert sorted(letters) == list("ABCDEFGHJKMN")


def test_a_page_too_small_for_anything_is_refused() -> None:
    with pytest.raises(ValueError, match="no room for part F"):
        sheets([samples.STRIP], (Fraction(40), Fraction(40)))
    assert sheets([]) == ()

"""A page of templates pressed to PDF and read back by a library that wrote none of it."""

import importlib.util
import re
from collections.abc import Sequence
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest
from weasyprint import HTML

from patternpress.booklet.typeset import typeset
from patternpress.drawing.ink import Words
from patternpress.drawing.sheets import sheets
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.svg import svg_page
from patternpress.measure.figures import Display, markup, show_length
from patternpress.measure.quantity import millimetres
from tests.drawing import samples

POINT = 25.4 / 72


def pressed(body: str) -> pdfplumber.page.Page:
    """The one page of some HTML, in the booklets' own face."""
    spec = importlib.util.find_spec("font_source_sans_pro")
    assert spec is not None
    assert spec.origin is not None
    font = Path(spec.origin).parent / "files" / "SourceSansPro-Regular.ttf"
    style = (
        f"@font-face{{font-family:'Source Sans Pro';src:url('{font.as_uri()}')}}"
        "@page{size:190mm 250mm;margin:0} body{margin:0;font-family:'Source Sans Pro'}"
        "svg{display:block} .stack{font-feature-settings:'frac'}"
    )
    document = HTML(string=f"<style>{style}</style><body>{body}</body>").write_pdf()
    return pdfplumber.open(BytesIO(document)).pages[0]


@pytest.fixture(scope="module")
def page() -> pdfplumber.page.Page:
    (sheet,) = sheets([samples.STRIP, samples.DRAWER_PART])
    return pressed("".join(figure.svg for figure in sheet.figures if figure.letter))


def outlines(page: pdfplumber.page.Page) -> list[tuple[float, float]]:
    """Width and height in mm of everything drawn with the outline's pen."""
    found: Sequence[dict[str, float]] = [*page.rects, *page.curves, *page.lines]
    return [
        (shape["width"] * POINT, shape["height"] * POINT)
        for shape in found
        if shape["linewidth"] * POINT == pytest.approx(0.5, abs=0.01)
    ]


def test_templates_are_full_size_on_paper(page: pdfplumber.page.Page) -> None:
    sizes = sorted(outlines(page))
    assert sizes == [
        (pytest.approx(6, abs=0.002), pytest.approx(4, abs=0.002)),
        (pytest.approx(60, abs=0.002), pytest.approx(3, abs=0.002)),
    ]


def test_fractions_are_copied_in_reading_order(page: pdfplumber.page.Page) -> None:
    # The engine sets letter by letter and writes no spaces; readers put them back from the gaps.
    letters = "".join(char["text"] for char in page.chars if not char["text"].isspace())
    assert "60mm(223⁄64in)" in letters
    assert "4mm(5⁄32in)" in letters


@pytest.mark.parametrize(
    ("locale", "metric", "both"),
    [
        ("en-GB", "−3.5 mm", "−9.5 mm (−3⁄8 in)"),
        ("de", "−3,5 mm", "−9,5 mm (−3⁄8 in)"),
        ("fr", "−3,5 mm", "−9,5 mm (−3⁄8 po)"),
    ],
)
def test_a_minus_is_copied_with_its_figure(locale: str, metric: str, both: str) -> None:
    """U+2212, not a hyphen: of a figure of the model, of prose, and of a drawing."""
    shown = Display("mm", "in", locale=locale)
    figures = [
        markup(show_length(millimetres(Fraction(-7, 2)), Display(locale=locale))),
        markup(show_length(millimetres(Fraction(-381, 40)), shown)),
        typeset("-2 mm, -1 3/8 in", locale),
    ]
    drawn = show_length(millimetres(Fraction(-381, 40)), shown)
    letters = Words(drawn, (2.0, 2.0), DrawingStyle().set_in(2.5))
    svg = svg_page((80.0, 8.0), [[letters]], "a size", DrawingStyle().typeface)
    page = pressed("".join(f"<p>{each}</p>" for each in figures) + svg)
    lines = [re.sub(r"\s", " ", each) for each in page.extract_text().splitlines()]
    assert lines[:3] == [metric, both, "−2 mm, −1 3⁄8 in"]
    assert "".join(lines[3:]).replace(" ", "") == both.replace(" ", "")


def test_a_whole_number_stands_clear_of_its_fraction(page: pdfplumber.page.Page) -> None:
    letters = [char for char in page.chars if not char["text"].isspace()]
    text = "".join(char["text"] for char in letters)
    at = text.index("223⁄64")
    whole, numerator, second = letters[at : at + 3]
    assert (whole["text"], numerator["text"]) == ("2", "2")
    gap = (numerator["x0"] - whole["x1"]) * POINT
    assert gap > 0.4  # a reader's eye and a copying program both see a space
    assert (second["x0"] - numerator["x1"]) * POINT < 0.1


def test_the_title_is_not_printed(page: pdfplumber.page.Page) -> None:
    assert "Cutting templates" not in "".join(char["text"] for char in page.chars)

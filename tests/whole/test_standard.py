"""Every demo booklet in the theme it asks for, and each design in both themes, held against the
page standard of themes/README.md.  The measuring is in `pagechecks.py`."""

from __future__ import annotations

import io
import os
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import pdfplumber
import pypdfium2
import pytest

from patternpress.booklet.build import press_model
from patternpress.booklet.themes import load_theme
from patternpress.closing.close import close
from patternpress.proof.prove import prove
from patternpress.proof.telling import as_text
from tests.whole import pagechecks as checks
from tests.whole.demos import MM, SECTIONS, Demo, built, demos, read_once, read_tops
from tests.whole.test_caution_order import in_order

THEMES = ("quay", "rod")
DESIGNS = sorted({demo.design for demo in demos()})
FIRST = {design: next(d.edition for d in demos() if d.design == design) for design in DESIGNS}
LIGHTER = 2 / 3  # of the pages, or half of the ink


@dataclass(frozen=True)
class Printed:
    """The first edition of a design in one theme: its PDF, its pages and where things stand."""

    path: Path
    theme: str
    pages: tuple[Any, ...]
    head: float
    foot: float

    @property
    def tops(self) -> dict[str, tuple[int, float]]:
        """Page and mm from the top of the frame of each named place."""
        found = {}
        for name, (page, up) in read_tops(self.path).items():
            top, _ = checks.frame(self.pages[page - 1], self.head, self.foot)
            found[name] = (page, float(self.pages[page - 1].height) * MM - up * MM - top)
        return found


@pytest.fixture(scope="module", params=[(d, t) for d in DESIGNS for t in THEMES], ids=str)
def printed(request: pytest.FixtureRequest, shared: Path) -> Printed:
    return print_in(*request.param, shared)


@cache
def print_in(design: Path, theme: str, shared: Path) -> Printed:
    """Press a design's first edition in a theme."""
    reading, kept = read_once(design)
    model = close(reading, FIRST[design]).model
    path = shared / f"{design.stem}-{theme}-{os.getpid()}.pdf"  # no other worker writes this one
    if model.edition.theme == theme:
        pdf = built(Demo(design, FIRST[design]), shared).pdf.read_bytes()
    else:
        model = replace(model, edition=replace(model.edition, theme=theme))
        pdf = press_model(model, cache=kept).pdf
    path.write_bytes(pdf)
    sizes = load_theme(theme).sizes
    head, foot = (float(sizes[key].removesuffix("mm")) for key in ("head", "foot"))
    pages = tuple(pdfplumber.open(io.BytesIO(pdf)).pages)
    return Printed(path, theme, pages, head, foot)


def test_a_booklet_is_sound_in_either_theme(printed: Printed) -> None:
    report = prove(printed.path.read_bytes(), file=printed.path.name)
    assert report.sound, as_text(report)


def test_no_letter_is_too_small(printed: Printed) -> None:
    found = {p.page_number: [*checks.too_small(p.chars)] for p in printed.pages}
    assert {n: told for n, told in found.items() if told} == {}


def test_no_line_is_too_long(printed: Printed) -> None:
    drawn = template_pages(printed)
    found = {p.page_number: [*checks.too_long(within(printed, p))] for p in printed.pages}
    assert {n: told for n, told in found.items() if told and n not in drawn} == {}


def test_nothing_is_outside_the_live_area(printed: Printed) -> None:
    found = {p.page_number: [*checks.outside(p)] for p in printed.pages}
    assert {n: told for n, told in found.items() if told} == {}


def test_cautions_are_in_their_order_in_either_theme(printed: Printed) -> None:
    """The first editions are in English."""
    assert in_order(printed.path, "en") == []


def test_no_word_is_faint(printed: Printed) -> None:
    found = {p.page_number: [*checks.too_faint(p.chars)] for p in printed.pages}
    assert {n: told for n, told in found.items() if told} == {}


def test_no_heading_stands_alone(printed: Printed) -> None:
    base = float(load_theme(printed.theme).letters["normal"]["base"].removesuffix("pt"))
    drawn = template_pages(printed)
    for page in printed.pages[1:]:
        if page.page_number not in drawn:
            alone = [*checks.heading_alone(page, base, printed.head, printed.foot)]
            assert alone == [], page.page_number


def test_steps_that_fit_a_page_are_not_torn_and_start_where_there_is_room(printed: Printed) -> None:
    ends = [checks.filled(page, printed.head, printed.foot) for page in printed.pages]
    steps = [*steps_of(printed)]
    assert len(steps) > 8
    assert [*checks.torn(steps, ends)] == []
    assert [*checks.room_left(steps, ends)] == []


def test_no_page_is_mostly_empty_unless_a_run_ends_on_it(printed: Printed) -> None:
    runs = [run[0] for run in load_theme(printed.theme).runs]
    ending = {printed.tops[key][0] - 1 for key in runs if key in printed.tops}
    ending |= {len(printed.pages)} | set(template_pages(printed))
    for page in printed.pages:
        if page.page_number not in ending:
            share = checks.filled(page, printed.head, printed.foot)
            assert share >= checks.LEAST_FILL, page.page_number


def test_the_cutting_list_repeats_its_head_and_leaves_no_row_alone(printed: Printed) -> None:
    first = printed.tops["cutting"][0]
    last = printed.tops["templates"][0]
    for page in printed.pages[first - 1 : last - 1]:
        boxes = rows_of(page)
        assert len(boxes) != 1, f"one row on page {page.page_number}"
        if boxes:
            assert "Length × width × thickness" in page.extract_text(), page.page_number


def test_the_bench_plan_is_whole(printed: Printed) -> None:
    """Its pictures stand on one page, the first of its section."""
    page, _ = printed.tops["plan"]
    texts = ["".join(c["text"] for c in each.chars) for each in printed.pages]
    holders = [
        n for n, text in enumerate(texts, 1) if "hoursintothesitting" in text.replace(" ", "")
    ]
    assert holders == [page]


@pytest.mark.parametrize("design", DESIGNS, ids=lambda path: path.stem)
def test_rod_saves_pages_or_ink(design: Path, shared: Path) -> None:
    rich, lean = (print_in(design, theme, shared).path for theme in THEMES)
    pages = [len(pypdfium2.PdfDocument(path)) for path in (rich, lean)]
    inks = [ink(path) for path in (rich, lean)]
    # The template sheets are the same in both themes: seven of 31 in the net tote.
    assert pages[1] <= pages[0] * 0.75, "each design saves"
    assert inks[1] < inks[0]


def test_rod_saves_a_third_of_the_pages_or_half_the_ink_over_all_designs(shared: Path) -> None:
    paths = {theme: [print_in(d, theme, shared).path for d in DESIGNS] for theme in THEMES}
    pages = {t: sum(len(pypdfium2.PdfDocument(p)) for p in paths[t]) for t in THEMES}
    inks = {t: sum(map(ink, paths[t])) for t in THEMES}
    assert pages["rod"] <= pages["quay"] * LIGHTER or inks["rod"] <= inks["quay"] / 2


@pytest.mark.parametrize("theme", THEMES)
def test_the_colours_of_a_theme_stand_out(theme: str) -> None:
    colours = load_theme(theme).colours
    for name in ("ink", "text", "quiet"):
        assert checks.contrast(colours[name], colours["paper"]) >= checks.LEAST_TEXT, name
    assert checks.contrast(colours["rule"], colours["paper"]) >= checks.LEAST_LINE
    assert checks.contrast(colours["text"], colours["tint"]) >= checks.LEAST_TEXT


def ink(path: Path) -> float:
    """How much of a booklet is black: the darkness of its pages, in pages."""
    pdf = pypdfium2.PdfDocument(path)
    pages = (pdf[n].render(scale=0.5, grayscale=True).to_numpy() for n in range(len(pdf)))
    return sum(float(1 - page.mean() / 255) for page in pages)


def within(printed: Printed, page: Any) -> list[dict[str, Any]]:
    """The letters of a page between its running head and foot."""
    top, end = checks.frame(page, printed.head, printed.foot)
    return [c for c in page.chars if top - 1 < c["top"] * MM and c["bottom"] * MM < end + 0.5]


def template_pages(printed: Printed) -> range:
    """The pages of templates; every theme gives them a run of their own."""
    tops = {name: place for name, place in printed.tops.items() if name in SECTIONS}
    first = tops["templates"][0]
    return range(first, min(page for page, _ in tops.values() if page > first))


def steps_of(printed: Printed) -> Iterator[checks.Step]:
    """Where the steps start, and where the last one ends."""
    tops = printed.tops
    found = [n for name, n in ((n, n.removeprefix("step-")) for n in tops) if name != n]
    for number in sorted((n for n in found if n.isdigit()), key=int):
        page, down = tops[f"step-{number}"]
        top, end = checks.frame(printed.pages[page - 1], printed.head, printed.foot)
        yield checks.Step(int(number), page, max(down, 0.0) / (end - top))


def rows_of(page: Any) -> list[float]:
    """The rows of the cutting list on a page: where a tick box begins a line of them."""
    sides = [
        r for r in page.rects if 2.5 < r["width"] * MM < 3.6 and abs(r["width"] - r["height"]) < 1
    ]
    return sorted({round(r["top"]) for r in sides if r["x0"] > float(page.width) * 0.7})

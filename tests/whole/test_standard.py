"""Every demo booklet in the theme it asks for, and three editions of each in the other, held
against the page standard of themes/README.md.  The measuring is in `pagechecks.py`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import pypdfium2
import pytest

from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.themes import load_theme
from patternpress.proof.prove import prove
from patternpress.proof.telling import as_text
from tests.whole import pagechecks as checks
from tests.whole import pagetones as tones
from tests.whole.demos import MM, SECTIONS, Built, Demo, built, demos, read_tops, thin_demos
from tests.whole.plumbed import Mark, Page, plumbed
from tests.whole.test_caution_order import in_order

THEMES = ("quay", "rod")
DESIGNS = sorted({demo.design for demo in demos()})
LIGHTER = 2 / 3  # of the pages, or half of the ink


@dataclass(frozen=True)
class Printed:
    """An edition of a design in a theme: its pages and where things stand on them."""

    booklet: Built
    pages: tuple[Page, ...]

    @property
    def large(self) -> bool:
        """Whether it is in large print, where steps are torn between their lines."""
        return self.booklet.letters == "large"

    def frame(self, page: Page) -> tuple[float, float]:
        """The top and bottom of what lies between running head and foot, in mm from the top."""
        return checks.frame(page, *self.booklet.kept_free)

    def filled(self, page: Page) -> float:
        """The share of a page's height, from the top, that holds something."""
        return checks.filled(page, *self.booklet.kept_free)

    @property
    def tops(self) -> dict[str, tuple[int, float]]:
        """Page and mm from the top of the frame of each named place."""
        found = {}
        for name, (page, up) in read_tops(self.booklet.pdf).items():
            top, _ = self.frame(self.pages[page - 1])
            found[name] = (page, self.pages[page - 1].height * MM - up * MM - top)
        return found


@pytest.fixture
def printed(looked: Built) -> Printed:
    return Printed(looked, plumbed(looked.pdf))


def told(found: Mapping[int, Sequence[str]]) -> dict[int, Sequence[str]]:
    """The pages that something is told of."""
    return {number: each for number, each in found.items() if each}


@pytest.mark.parametrize("looked", thin_demos(), indirect=True, ids=str)
def test_a_booklet_is_sound_in_the_other_theme(looked: Built) -> None:
    """In the theme that it asks for, each is proved in `test_sound.py`."""
    report = prove(looked.pdf.read_bytes(), looked.facts, file=looked.pdf.name)
    assert report.sound, as_text(report)


def test_no_letter_is_too_small(printed: Printed) -> None:
    assert told({p.page_number: [*checks.too_small(p.chars)] for p in printed.pages}) == {}


def test_no_line_is_too_long(printed: Printed) -> None:
    drawn = template_pages(printed)
    found = {p.page_number: [*checks.too_long(within(printed, p))] for p in printed.pages}
    assert told({n: each for n, each in found.items() if n not in drawn}) == {}


def test_nothing_is_outside_the_live_area(printed: Printed) -> None:
    assert told({p.page_number: [*checks.outside(p)] for p in printed.pages}) == {}


def test_cautions_are_in_their_order_in_either_theme(printed: Printed) -> None:
    booklet = printed.booklet
    assert in_order(booklet.pdf, booklet.facts["edition"]["language"]) == []


def test_no_heading_stands_alone(printed: Printed) -> None:
    letters = printed.booklet.theme.letters[printed.booklet.letters]
    base = float(letters["base"].removesuffix("pt"))
    drawn = template_pages(printed)
    for page in printed.pages[1:]:
        if page.page_number not in drawn:
            alone = [*checks.heading_alone(page, base, *printed.booklet.kept_free)]
            assert alone == [], page.page_number


def test_steps_that_fit_a_page_are_not_torn_and_start_where_there_is_room(printed: Printed) -> None:
    ends = [printed.filled(page) for page in printed.pages]
    steps = [*steps_of(printed)]
    assert len(steps) > 8
    assert printed.large or [*checks.torn(steps, ends)] == []
    assert [*checks.room_left(steps, ends)] == []


def test_no_page_is_mostly_empty_unless_a_run_ends_or_a_step_finds_no_room(
    printed: Printed,
) -> None:
    runs = [run[0] for run in printed.booklet.theme.runs]
    ending = {printed.tops[key][0] - 1 for key in runs if key in printed.tops}
    ending |= {len(printed.pages)} | set(template_pages(printed))
    # What begins the next page found no room: `room_left` and `test_gaps.py` see to that.
    ending |= {each.page - 1 for each in steps_of(printed) if each.down < checks.AT_TOP}
    for page in printed.pages:
        if page.page_number not in ending:
            assert printed.filled(page) >= checks.LEAST_FILL, page.page_number


def test_the_cutting_list_repeats_its_head_and_leaves_no_row_alone(printed: Printed) -> None:
    first = printed.tops["cutting"][0]
    last = printed.tops["templates"][0]
    phrases = read_phrases(printed.booklet.facts["edition"]["language"])
    for page in printed.pages[first - 1 : last - 1]:
        boxes = rows_of(page)
        alone = len(boxes) == 1 and not all_of_its_wood(printed, page, boxes[0])
        assert printed.large or not alone, f"one row on page {page.page_number}"
        if boxes:
            said = printed.booklet.texts[page.page_number - 1]
            assert str(phrases.texts["cut_size"]) in said.replace("\n", " "), page.page_number


def test_the_bench_plan_is_whole(printed: Printed) -> None:
    """Its pictures stand on one page, the first of its section."""
    page, _ = printed.tops["plan"]
    language = printed.booklet.facts["edition"]["language"]
    said = str(read_phrases(language).texts["chart_hours"])
    holders = [n for n, text in enumerate(printed.booklet.texts, 1) if said in text]
    assert holders[:1] == [page]
    assert printed.large or holders == [page]


@pytest.mark.parametrize("design", DESIGNS, ids=lambda path: path.stem)
def test_rod_saves_pages_or_ink(design: Path, shared: Path) -> None:
    rich, lean = (in_theme(design, theme, shared) for theme in THEMES)
    pages = [len(pypdfium2.PdfDocument(path)) for path in (rich, lean)]
    inks = [ink(path) for path in (rich, lean)]
    # The template sheets are the same in both themes: seven of 31 in the net tote.
    assert pages[1] <= pages[0] * 0.75, "each design saves"
    assert inks[1] < inks[0]


def test_rod_saves_a_third_of_the_pages_or_half_the_ink_over_all_designs(shared: Path) -> None:
    paths = {theme: [in_theme(d, theme, shared) for d in DESIGNS] for theme in THEMES}
    pages = {t: sum(len(pypdfium2.PdfDocument(p)) for p in paths[t]) for t in THEMES}
    inks = {t: sum(map(ink, paths[t])) for t in THEMES}
    assert pages["rod"] <= pages["quay"] * LIGHTER or inks["rod"] <= inks["quay"] / 2


@pytest.mark.parametrize("theme", THEMES)
def test_the_colours_of_a_theme_stand_out(theme: str) -> None:
    colours = load_theme(theme).colours
    for name in ("ink", "text", "quiet"):
        assert tones.contrast(colours[name], colours["paper"]) >= tones.LEAST_TEXT, name
    assert tones.contrast(colours["rule"], colours["paper"]) >= tones.LEAST_LINE
    assert tones.contrast(colours["text"], colours["tint"]) >= tones.LEAST_TEXT


def in_theme(design: Path, theme: str, shared: Path) -> Path:
    """The metric booklet of a design in a theme."""
    return built(Demo(design, "metric", "" if theme == "quay" else theme), shared).pdf


def ink(path: Path) -> float:
    """How much of a booklet is black: the darkness of its pages, in pages."""
    pdf = pypdfium2.PdfDocument(path)
    pages = (pdf[n].render(scale=0.5, grayscale=True).to_numpy() for n in range(len(pdf)))
    return sum(float(1 - page.mean() / 255) for page in pages)


def within(printed: Printed, page: Page) -> list[Mark]:
    """The letters of a page between its running head and foot."""
    top, end = printed.frame(page)
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
        top, end = printed.frame(printed.pages[page - 1])
        yield checks.Step(int(number), page, max(down, 0.0) / (end - top))


def all_of_its_wood(printed: Printed, page: Page, down: float) -> bool:
    """Whether the row that stands so far down a page, in points, is the only one of its wood."""
    row = [c for c in page.chars if abs(c["top"] - down) < 6 and c["text"].strip()]
    letter = min(row, key=lambda c: float(c["x0"]))["text"]
    parts = printed.booklet.facts["parts"]
    (wood,) = (each["stock"] for each in parts if each["letter"] == letter)
    return sum(each["stock"] == wood for each in parts) == 1


def rows_of(page: Page) -> list[float]:
    """The rows of the cutting list on a page: where a tick box begins a line of them."""
    sides = [
        r for r in page.rects if 2.5 < r["width"] * MM < 3.6 and abs(r["width"] - r["height"]) < 1
    ]
    return sorted({round(r["top"]) for r in sides if r["x0"] > page.width * 0.7})

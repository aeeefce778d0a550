"""No page of a demo booklet gapes: over a third of it is empty only where a run ends, or where the
next page begins with a step, or a heading with its picture, that is higher than the room left.

Steps and pictures are never torn where they fit a page (`test_standard.py`).
"""

from __future__ import annotations

import io
import math
import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import pikepdf
import pypdfium2
import pytest

from tests.whole import pagechecks as checks
from tests.whole import pageink as ink
from tests.whole import pagetags as tags
from tests.whole.demos import MM, Built, read_tops
from tests.whole.plumbed import Page, plumbed, read
from tests.whole.test_page_tags import pressed

TOUCHES = 2 * ink.CELL  # mm: an empty oblong that ends so near the foot reaches it
BEGINS = 15.0  # mm: what is no farther down its page begins it, below a heading
ABOVE = 6.0  # mm of air above a heading of a board, which falls away at the top of a page
MARGIN = 45.0  # mm: the bar up the page stands in the margin column


@dataclass(frozen=True)
class Wholes:
    """Pages that begin with what is never torn: how far down each step ends, in mm, and boards."""

    steps: Mapping[int, float] = field(default_factory=dict)
    boards: Collection[int] = ()


def gaping(
    pages: Sequence[Page], pdf: pikepdf.Pdf, free: tuple[float, float], wholes: Wholes
) -> Iterator[tuple[int, float]]:
    """Pages with a gap that what follows does not account for, and the share that is empty.

    `free`: mm kept for running head and foot.
    """
    drawn = pypdfium2.PdfDocument(_bytes(pdf))
    told, marks = tags.elements(pdf), tags.marks_of(pages)
    for page, after in pairwise(pages):
        top, end = checks.frame(page, *free)
        gap = ink.emptiest(ink.drawn(drawn[page.page_number - 1]), top, end)
        if gap.share > ink.EMPTY:
            low, number = checks.lowest(page, *free), after.page_number
            block = tags.first_block(told, marks, number, board=number in wholes.boards)
            height = max(block, wholes.steps.get(number, 0.0)) - checks.frame(after, *free)[0]
            at_foot = gap.bottom > end - TOUCHES and gap.top < low + TOUCHES
            if not at_foot or height + ABOVE < end - low:
                yield page.page_number, round(gap.share, 2)


def _bytes(pdf: pikepdf.Pdf) -> bytes:
    stream = io.BytesIO()
    pdf.save(stream)
    return stream.getvalue()


def wholes_of(booklet: Built, pages: Sequence[Page]) -> Wholes:
    """What begins the pages of a booklet that is never torn."""
    steps, boards = {}, set()
    tops = sorted(read_tops(booklet.pdf).items(), key=lambda each: (each[1][0], -each[1][1]))
    begun = [(name, *place) for name, place in tops if re.match(r"(step|laid|[a-z]+$)", name)]
    for (name, number, up), after in zip(begun, [*begun[1:], ("", 0, 0.0)], strict=True):
        page = pages[number - 1]
        if page.height * MM - up * MM < checks.frame(page, *booklet.kept_free)[0] + BEGINS:
            if name.startswith("laid"):
                boards.add(number)
            ends = page.height * MM - after[2] * MM if after[1] == number else math.inf
            if name.startswith("step"):
                steps[number] = min(ends, checks.lowest(page, *booklet.kept_free))
            if name == "print":
                steps[number] = max(_bars(page, ends), default=0.0)
    return Wholes(steps, boards)


def _bars(page: Page, ends: float) -> Iterator[float]:
    """How far down the ticks of the bar up the page stand, in mm: it is never torn."""
    for each in (*page.lines, *page.curves, *page.rects):
        if each["x1"] * MM < MARGIN and each["x1"] > each["x0"] and each["bottom"] * MM < ends - 1:
            yield each["bottom"] * MM


def test_no_page_gapes_unless_a_run_ends_or_what_follows_finds_no_room(looked: Built) -> None:
    pages, tops = plumbed(looked.pdf), looked.places
    begins = [next((tops[key] for key in run if key in tops), 0) for run in looked.theme.runs]
    ends = {number - 1 for number in begins} | {*looked.pages_of("templates")}
    with pikepdf.open(looked.pdf) as pdf:
        found = dict(gaping(pages, pdf, looked.kept_free, wholes_of(looked, pages)))
    # In large print, where little fits on a page, no page is half empty.
    most = 0.5 if looked.letters == "large" else ink.EMPTY
    gaps = {number: share for number, share in found.items() if share > most}
    assert {number: share for number, share in gaps.items() if number not in ends} == {}


LINES = "".join(f"<p>{'Glue the shelf to the back. ' * 12}</p>" for _ in range(6))
SHORT = LINES[: len(LINES) * 2 // 3]


def picture(high: int) -> str:
    """A heading on a new page, and a drawing under it, so many mm high."""
    return (
        '<h2 style="break-before: page">Rails</h2><svg xmlns="http://www.w3.org/2000/svg" '
        f'width="90mm" height="{high}mm" viewBox="0 0 90 {high}"><title>A rail</title>'
        f'<rect x="1" y="1" width="60" height="{high - 2}" fill="#000"/></svg>'
    )


@pytest.mark.parametrize(
    ("body", "wrong"),
    [
        (f'{LINES}<div style="height: 60mm"></div>{LINES}', False),
        (f'{LINES}<div style="height: 105mm"></div>{LINES}', True),
        (f'{SHORT}<h2 style="break-before: page">Rails</h2>{LINES}', True),
        (SHORT + picture(20), True),
        (SHORT + picture(170), False),
    ],
)
def test_a_page_that_gapes_is_found(body: str, wrong: bool) -> None:
    data = pressed(body)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert bool([*gaping(read(data), pdf, (8.0, 8.0), Wholes())]) is wrong

"""What a page must keep to, measured in a finished PDF: the figures of themes/README.md.

In: pages of pdfplumber.  Out: complaints in words, none for a sound page.  `test_standard.py` holds
every demo booklet against these, and `test_spoiled.py` shows each of them a page that is wrong.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import Any

MM = 25.4 / 72
LIVE = (190.0, 259.4)  # mm, what A4 and Letter have in common when 10 mm are kept clear
CAPITAL = 0.660  # of Source Sans Pro, em (the font's own OS/2 table)
LEAST_PROSE = 9.0  # points
LEAST_DRAWN, LEAST_DIGIT = 2.5, 1.8  # mm, capitals and the figures of a fraction
LONGEST_LINE = 95  # letters
LEAST_FILL = 1 / 3  # of a page's height, unless a run ends on it
AT_TOP = 0.06  # of a page's height: what is no farther down begins the page
HEADING = 1.09  # times the prose: larger letters are a heading's

WORDS = ("Span", "Artifact")  # tags of words, and of heads and feet; a drawing has others

Chars = Sequence[Mapping[str, Any]]


@dataclass(frozen=True)
class Line:
    """A line of words on a page: text, usual size in points, edges in mm from the top left."""

    text: str
    size: float
    bold: bool
    left: float
    right: float
    top: float
    bottom: float


def lines(chars: Chars) -> list[Line]:
    """The level lines of a page from the top down; words far apart are lines of their own."""
    level = sorted((c for c in chars if c["upright"]), key=lambda c: (round(c["bottom"]), c["x0"]))
    found = []
    for _, row in groupby(level, key=lambda c: round(c["bottom"])):
        run: list[Mapping[str, Any]] = []
        for each in row:
            # Of the smaller letter: a fraction at the head of a column is set larger.
            if run and each["x0"] - run[-1]["x1"] > 1.2 * min(each["size"], run[-1]["size"]):
                found.append(_line(run))
                run = []
            run.append(each)
        found.append(_line(run))
    return [line for line in found if line.text.strip()]


def _line(run: Chars) -> Line:
    return Line(
        "".join(c["text"] for c in run),
        sorted(c["size"] for c in run)[len(run) // 2],  # fractions are set larger
        all("bold" in c["fontname"].lower() for c in run if c["text"].strip()),
        run[0]["x0"] * MM,
        run[-1]["x1"] * MM,
        min(c["top"] for c in run) * MM,
        max(c["bottom"] for c in run) * MM,
    )


def too_small(chars: Chars) -> Iterator[str]:
    """Letters below the least sizes: those of drawings by their height, words in points.

    The figures of a fraction in a drawing stand beside its slash; they may be lower.
    """
    parts = _fractions("".join(c["text"][:1] or " " for c in chars))
    for place, each in enumerate(chars):
        size, drawn = _size(each), each.get("tag") not in WORDS
        least = (LEAST_DIGIT if place in parts else LEAST_DRAWN) / MM / CAPITAL
        if each["text"].strip() and size < (least if drawn else LEAST_PROSE) - 0.015:
            yield f"“{each['text']}” is {size:.2f} pt, {'drawn' if drawn else 'in prose'}"


def _fractions(text: str) -> set[int]:
    """Where the figures of fractions stand in a text."""
    found = re.finditer(r"[0-9]+[⁄/][0-9]+", text)
    return {place for each in found for place in range(each.start(), each.end())}


def _size(char: Mapping[str, Any]) -> float:
    """The size of a letter in points, also where it is read from the right."""
    return float(char["size"] if char["upright"] else char["x1"] - char["x0"])


def too_long(chars: Chars) -> Iterator[str]:
    """Lines of prose with more letters than an eye can follow."""
    for line in lines(chars):
        if len(line.text.strip()) > LONGEST_LINE:
            yield f"{len(line.text)} letters: {line.text[:40]}…"


def outside(page: Any) -> Iterator[str]:
    """Marks that a printer of either paper would cut off."""
    across = (float(page.width) * MM - LIVE[0]) / 2
    down = (float(page.height) * MM - LIVE[1]) / 2
    for mark in (*page.chars, *page.rects, *page.lines, *page.curves):
        if mark["x1"] <= mark["x0"] and mark["bottom"] <= mark["top"]:
            continue
        if not mark.get("upright", True):
            continue  # its box holds more than its ink; test_pages looks at the ink
        over = max(
            across - mark["x0"] * MM,
            mark["x1"] * MM - (float(page.width) * MM - across),
            down - mark["top"] * MM,
            mark["bottom"] * MM - (float(page.height) * MM - down),
        )
        if over > 0.3:
            yield f"{mark['object_type']} {mark.get('text', '')!r} by {over:.1f} mm"


def frame(page: Any, head: float, foot: float) -> tuple[float, float]:
    """The top and bottom of what lies between running head and foot, in mm from the top."""
    edge = (float(page.height) * MM - LIVE[1]) / 2
    return edge + head, float(page.height) * MM - edge - foot


def lowest(page: Any, head: float, foot: float) -> float:
    """How far down a page its last mark ends, in mm from the top; the head and foot left out."""
    _, end = frame(page, head, foot)
    marks = (*page.chars, *page.rects, *page.lines, *page.curves)
    seen = [
        m["bottom"] * MM for m in marks if m["top"] * MM < end - 0.5 and str(m.get("text")) != " "
    ]
    return max(seen, default=0.0)


def filled(page: Any, head: float, foot: float) -> float:
    """The share of a page's height, from the top, that holds something."""
    top, end = frame(page, head, foot)
    return max((lowest(page, head, foot) - top) / (end - top), 0.0)


def heading_alone(page: Any, prose: float, head: float, foot: float) -> Iterator[str]:
    """A heading that is the last thing on its page."""
    _, end = frame(page, head, foot)
    within = [c for c in page.chars if c["bottom"] * MM < end + 0.5]
    last = max(lines(within), key=lambda line: line.bottom, default=None)
    drawn = lowest(page, head, foot)
    heading = last and last.bold and last.size >= HEADING * prose and last.bottom > drawn - 1.5
    if heading and last and last.left < float(page.width) * MM / 2:
        yield f"“{last.text.strip()}” has nothing under it"


@dataclass(frozen=True)
class Step:
    """Where a step starts: its page, and mm from the top of that page's frame."""

    number: int
    page: int
    down: float


def torn(steps: Sequence[Step], ends: Sequence[float]) -> Iterator[str]:
    """Steps that run over a page's end though they would fit on a page.

    `ends`: for each page, how far down its frame something stands, the frame's height being 1.
    """
    for step, after in pairwise(steps):
        over = after.page - step.page
        if not over or (over == 1 and after.down < AT_TOP):
            continue
        height = sum(ends[step.page - 1 : after.page - 1]) - step.down + after.down
        if height < 1:
            yield f"step {step.number} goes on over page {step.page}"


def room_left(steps: Sequence[Step], ends: Sequence[float]) -> Iterator[str]:
    """Steps that begin a page though they would have fitted on the one before."""
    for step, after in pairwise(steps):
        if step.down < AT_TOP and step.page > 1 and after.page == step.page:
            height = after.down - step.down
            if ends[step.page - 2] + height + 0.04 < 1:
                yield f"step {step.number} would fit on page {step.page - 1}"


def on_another(chars: Chars) -> Iterator[str]:
    """Letters and figures that stand on others; signs are drawn close to letters by kerning."""
    level = sorted(
        (c for c in chars if c["upright"] and c["text"].isalnum()), key=lambda c: c["x0"]
    )
    for place, one in enumerate(level):
        for other in level[place + 1 :]:
            if other["x0"] >= one["x1"]:
                break
            if _shared(one, other) > 0.35:
                across, down = (round(one[side] * MM) for side in ("x0", "top"))
                yield f"“{one['text']}” on “{other['text']}”, {across} mm, {down} mm"


def _shared(one: Mapping[str, Any], other: Mapping[str, Any]) -> float:
    """The part of the smaller letter's box that two letters share."""
    across = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
    down = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
    least = min((c["x1"] - c["x0"]) * (c["bottom"] - c["top"]) for c in (one, other))
    return max(across, 0.0) * max(down, 0.0) / least if least > 0 else 0.0

"""Words on the sheet: large enough, whole, and not over each other.

In: a `Booklet`.  Out: findings, and the smallest letters met.  Least sizes: 9 pt for prose (common
practice, no source), 2.5 mm capitals and 1.8 mm small digits in drawings (ISO 3098-1, nominal
sizes), 8 pt in running feet (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy

from patternpress.proof.findings import Counted, Judged, Measured, finding
from patternpress.proof.marks import Box, Line, Page, Words, tag_of
from patternpress.proof.reading import Booklet
from patternpress.proof.rows import Row, rows_of
from patternpress.proof.state import MM

PROSE, FEET = 9.0, 8.0  # points
CAPITALS, DIGITS = 2.5, 1.8  # mm
CAPITAL = 0.66  # em, of the bundled typefaces: their OS/2 tables
SMALL = 0.02  # of a size: what is smaller by less is not smaller
EDGE = 3.0  # mm of a sheet that hardly any printer prints on
CUT = 0.1  # mm beyond a clip at which something is missing
OVER = 0.3  # of the smaller box: words that share more are over each other


def sizes(booklet: Booklet) -> Iterator[Judged]:
    """Letters no smaller than can be read."""
    smallest = {"prose": 99.0, "drawings": 99.0}
    for page in booklet.pages:
        told: set[tuple[str, float]] = set()
        for words in page.words:
            kind, size, least, unit = _judged_size(words)
            if kind in smallest:
                smallest[kind] = min(smallest[kind], size)
            key = (kind, round(size, 2))
            if size < least * (1 - SMALL) and key not in told:
                told.add(key)
                shown = {"size": f"{size:.2g} {unit}", "least": f"{least:g} {unit}"}
                yield finding("letters-small", page.number, text=words.text, **shown)
    if smallest["prose"] < 99:
        yield Measured(
            "smallest letters of the text", 0, smallest["prose"], PROSE, "pt", least=True
        )
    if smallest["drawings"] < 99:
        found = smallest["drawings"]
        yield Measured("smallest capitals in drawings", 0, found, CAPITALS, least=True)


def _judged_size(words: Words) -> tuple[str, float, float, str]:
    if tag_of(words.tags, "Artifact") is not None:
        return "foot", words.size, FEET, "pt"
    if tag_of(words.tags, "Figure") is None:
        return "prose", words.size, PROSE, "pt"
    height = words.size * MM * CAPITAL
    if words.text.strip("\u00a0 ").isdigit() and height < CAPITALS * (1 - SMALL):
        return "digits", height, DIGITS, "mm"
    return "drawings", height, CAPITALS, "mm"


def cut_off(booklet: Booklet) -> Iterator[Judged]:
    """Nothing runs off the sheet or past the frame it is drawn in."""
    count = 0
    for page in booklet.pages:
        sheet = (EDGE, EDGE, page.width - EDGE, page.height - EDGE)
        for words in page.words:
            count += 1
            edge = _beyond(words.box, sheet, words.clip)
            if edge:
                yield finding("words-cut", page.number, text=words.text, edge=edge)
        yield from _cut_lines(page, sheet)
    yield Counted("pieces of text that are whole", count)


def _cut_lines(page: Page, sheet: Box) -> Iterator[Judged]:
    for line in page.lines:
        box = _box_of(line)
        # A page's own rules are clipped to their ends; only a picture has a frame to stay in.
        framed = tag_of(line.tags, "Figure") is not None
        edge = _beyond(box, sheet, line.clip if framed else None)
        if edge:
            yield finding("line-cut", page.number, edge=edge, x=box[0], y=box[1])
            return  # one tells it all


def _box_of(line: Line) -> Box:
    points = [point for track in line.tracks for point in track.points]
    across, up = [x for x, _ in points], [y for _, y in points]
    return (min(across), min(up), max(across), max(up))


def _beyond(box: Box, sheet: Box, clip: Box | None) -> str:
    if _outside(box, sheet, 0):
        return "sheet"
    return "frame" if clip is not None and _outside(box, clip, CUT) else ""


def _outside(box: Box, frame: Box, by: float) -> bool:
    return (
        box[0] < frame[0] - by
        or box[1] < frame[1] - by
        or box[2] > frame[2] + by
        or box[3] > frame[3] + by
    )


def overlaps(booklet: Booklet) -> Iterator[Judged]:
    """No words over other words."""
    for page in booklet.pages:
        # Other words may stand in a wider gap.
        rows = list(rows_of(page.words, 0.45))
        for one, two in _over_each_other(rows):
            yield finding("words-overlap", page.number, one=rows[one].text, two=rows[two].text)


def _over_each_other(rows: Sequence[Row]) -> Iterator[tuple[int, int]]:
    if len(rows) < 2:
        return
    boxes = numpy.array([row.box for row in rows])
    low = numpy.maximum(boxes[:, None, :2], boxes[None, :, :2])
    high = numpy.minimum(boxes[:, None, 2:], boxes[None, :, 2:])
    shared = numpy.clip(high - low, 0, None).prod(axis=2)
    areas = (boxes[:, 2:] - boxes[:, :2]).prod(axis=1)
    least = numpy.minimum(areas[:, None], areas[None, :])
    for one, two in zip(*numpy.nonzero(numpy.triu(shared > OVER * least, 1)), strict=True):
        yield int(one), int(two)

"""Templates on several sheets, put together again from their SVG and compared with the whole.

The sheets are read with fontTools' reader of path data; lines are compared with Shapely.
"""

from __future__ import annotations

import itertools
import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

import pytest
import shapely
import shapely.affinity
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path
from shapely.geometry.base import BaseGeometry

from patternpress.assembly.blank import Arched, CutOff, GrooveRun, Hollow, Round, RoundHole, Window
from patternpress.assembly.flattening import flattened
from patternpress.assembly.shape import Axis, Face, MarkLine
from patternpress.drawing.fitting import MOST_SHEETS
from patternpress.drawing.ink import Words
from patternpress.drawing.part import Hand, Manner, TemplatePart
from patternpress.drawing.sheets import SheetFigure, TemplatePage, sheets
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.tiles import AROUND, OVERLAP, Tiled, sheets_needed, tiled
from patternpress.measure.papers import common_area, paper
from tests.drawing import samples
from tests.drawing.samples import F
from tests.drawing.svg_reader import words_of

SVG = "{http://www.w3.org/2000/svg}"
PLACED = re.compile(
    r"full size, sheet (\w+?)(\d+) of \1(\d+): ([-\d.]+) to ([-\d.]+) mm from the left "
    r"and ([-\d.]+) to ([-\d.]+) mm from the bottom(, turned)?"
)
LEFT, RIGHT, TOP, BOTTOM = Face.LEFT, Face.RIGHT, Face.TOP, Face.BOTTOM
ROUND = 0.5  # mm that a drawing keeps round what it holds

ARCHED = samples.part(
    "A",
    "Gable",
    300,
    330,
    grain=Axis.Y,
    corners={(LEFT, BOTTOM): Round(F(60)), (RIGHT, BOTTOM): Hollow(F(45))},
    edges={TOP: Arched(F(70), F(40), F(260))},
    holes=(
        RoundHole("port", samples.at(150, 165), F(90)),
        RoundHole("peg", samples.at(30, 200), F(6)),
    ),
    grooves=(GrooveRun("shelf groove", Axis.X, F(80), F(9), F(4)),),
    marks=(MarkLine("rail line", samples.at(0, 120), samples.at(300, 120)),),
)
LONG = samples.part(
    "B",
    "Runner",
    520,
    110,
    corners={(LEFT, TOP): CutOff(F(80), F(60)), (RIGHT, TOP): Round(F(50))},
)
HALVED = samples.part(
    "C",
    "Arch",
    420,
    190,
    manner=Manner.HALF,
    edges={TOP: Arched(F(60), F(20), F(400))},
    holes=(RoundHole("middle hole", samples.at(210, 60), F(30)),),
)
PARTS = [ARCHED, LONG, HALVED]


@dataclass(frozen=True)
class Read:
    """One sheet as read: its number, its window on the part, and its lines in the part's mm."""

    number: int
    count: int
    window: BaseGeometry
    lines: dict[str, BaseGeometry]  # by line width
    text: list[tuple[str, float, float]]


def tiles(pages: tuple[TemplatePage, ...]) -> list[Read]:
    return [read(each) for page in pages for each in page.figures if PLACED.search(each.svg)]


def read(figure: SheetFigure) -> Read:
    root = ET.fromstring(figure.svg)
    found = PLACED.search(root.findtext(f"{SVG}title") or "")
    assert found is not None
    left, right, low, high = (float(each) for each in found.groups()[3:7])
    height = float(root.get("height", "").removesuffix("mm"))
    turned = bool(found[8])

    def place(x: float, y: float) -> tuple[float, float]:
        across, up = x - ROUND, height - ROUND - y
        return (left + up, high - across) if turned else (left + across, low + up)

    drawn: dict[str, list[list[tuple[float, float]]]] = {}
    for path in root.iter(f"{SVG}path"):
        kind = path.get("stroke-width", "none") + ("-" if path.get("stroke-dasharray") else "")
        runs = drawn.setdefault(kind, [])
        runs += [[place(*at) for at in run] for run in flat(path.get("d", ""))]
    text = [
        ("".join(span.text or "" for span in each), *place(*at(each)))
        for each in root.iter(f"{SVG}text")
    ]
    lines = {kind: shapely.MultiLineString(runs) for kind, runs in drawn.items()}
    window = shapely.box(left, low, right, high)
    return Read(int(found[2]), int(found[3]), window, lines, text)


def at(text: ET.Element) -> tuple[float, float]:
    first = next(iter(text))
    return float(first.get("x", "")), float(first.get("y", ""))


def flat(data: str) -> Iterator[list[tuple[float, float]]]:
    """The runs of a path as fontTools reads it, its cubics in 200 straight pieces."""
    pen = RecordingPen()
    parse_path(data, pen)
    run: list[tuple[float, float]] = []
    for verb, places in pen.value:
        if verb == "moveTo":
            run = [places[0]]
        elif verb == "lineTo":
            run.append(places[0])
        elif verb == "curveTo":
            p0, p1, p2, p3 = (complex(*each) for each in (run[-1], *places))
            for index in range(1, 201):
                t, r = index / 200, 1 - index / 200
                z = r**3 * p0 + 3 * r * r * t * p1 + 3 * r * t * t * p2 + t**3 * p3
                run.append((z.real, z.imag))
        elif verb == "closePath":
            yield [*run, run[0]]
            continue
        if verb == "endPath":
            yield run


@pytest.fixture(scope="module", params=PARTS, ids=[part.name for part in PARTS])
def part(request: pytest.FixtureRequest) -> TemplatePart:
    found: TemplatePart = request.param
    return found


@pytest.fixture(scope="module")
def drawn(part: TemplatePart) -> list[Read]:
    return tiles(sheets([part], (F(190), F(236))))


def true_outline(part: TemplatePart) -> BaseGeometry:
    ring = shapely.LinearRing(flattened(part.shape.outline, 0.0005))
    if part.manner is Manner.HALF:
        # Only the left half is drawn, and the centre line is not cut.
        middle = float(part.shape.width) / 2
        return ring.intersection(shapely.box(-1, -1, middle, 1000))
    return ring


def test_the_sheets_together_are_the_whole_outline(part: TemplatePart, drawn: list[Read]) -> None:
    assert len(drawn) == drawn[0].count > 1
    together = shapely.union_all([sheet.lines["0.5"] for sheet in drawn if "0.5" in sheet.lines])
    true = true_outline(part)
    assert together.hausdorff_distance(true) <= 0.01
    # Each stretch is drawn; what is drawn twice lies in the overlaps.
    assert true.difference(together.buffer(0.01)).length == pytest.approx(0, abs=0.001)


def test_holes_grooves_and_marks_come_together_too() -> None:
    found = tiles(sheets([ARCHED], (F(190), F(236))))
    holes = shapely.union_all([sheet.lines["0.35"] for sheet in found if "0.35" in sheet.lines])
    true = [shapely.LinearRing(flattened(hole.outline, 0.0005)) for hole in ARCHED.shape.holes]
    assert holes.hausdorff_distance(shapely.union_all(true)) <= 0.01
    marks = shapely.union_all([sheet.lines["0.25"] for sheet in found if "0.25" in sheet.lines])
    for level in (80, 89, 120):
        line = shapely.LineString([(1, level), (299, level)])
        assert line.difference(marks.buffer(0.01)).length == pytest.approx(0, abs=0.001)


def test_neighbours_show_the_same_in_their_overlap(drawn: list[Read]) -> None:
    for one, two in itertools.combinations(drawn, 2):
        shared = one.window.intersection(two.window).buffer(-0.02)
        if shared.is_empty or "0.5" not in one.lines or "0.5" not in two.lines:
            continue
        first, second = (each.lines["0.5"].intersection(shared) for each in (one, two))
        assert first.is_empty == second.is_empty
        if not first.is_empty:
            assert first.hausdorff_distance(second) <= 0.01


def test_windows_cover_the_part_and_overlap_by_ten_millimetres(
    part: TemplatePart, drawn: list[Read]
) -> None:
    covered = shapely.union_all([sheet.window for sheet in drawn])
    assert covered.covers(true_outline(part))
    for sheet in drawn:
        others = [each.window for each in drawn if each is not sheet]
        shared = sheet.window.intersection(shapely.union_all(others))
        left, low, right, high = shared.bounds
        assert min(right - left, high - low) >= OVERLAP - 0.002


def test_seam_letters_match_and_stand_beside_each_other(drawn: list[Read]) -> None:
    letters: dict[str, list[tuple[float, float, int]]] = {}
    for sheet in drawn:
        for text, x, y in sheet.text:
            if re.fullmatch(r"[a-z]", text):
                letters.setdefault(text, []).append((x, y, sheet.number))
    assert letters
    for letter, places in letters.items():
        assert len(places) == 2, letter
        (x1, y1, one), (x2, y2, two) = places
        assert one != two
        assert math.dist((x1, y1), (x2, y2)) < 6


def test_the_line_to_cut_is_the_line_to_lay_to(drawn: list[Read]) -> None:
    """Long dashes on one sheet and dots on its neighbour lie on one line, in mid overlap."""
    dashed = [(s, line) for s in drawn for line in parts_of(s.lines.get("0.25-"))]
    straight = [(s, line) for s, line in dashed if s.window.buffer(0.01).covers(line)]
    for sheet, line in straight:
        (x1, y1), (x2, y2) = line.coords[0], line.coords[-1]
        twins = [
            other
            for s, other in straight
            if s is not sheet and other.hausdorff_distance(line) < 0.01
        ]
        assert len(twins) == 1, (sheet.number, (x1, y1), (x2, y2))


def parts_of(lines: BaseGeometry | None) -> list[BaseGeometry]:
    return [] if lines is None else list(getattr(lines, "geoms", [lines]))


def test_the_diagonals_are_as_long_as_the_sheet_says(part: TemplatePart) -> None:
    for whole in tiled(part, (170.0, 200.0), DrawingStyle()):
        said = float(
            "".join(p.text for p in whole.diagonal.pieces if hasattr(p, "text")).split()[0]
        )
        points = corner_points(whole)
        assert len(points) == 4
        one, two, three, four = points
        assert math.dist(one, four) == pytest.approx(said, abs=0.06)
        assert math.dist(two, three) == pytest.approx(said, abs=0.06)


def corner_points(whole: Tiled) -> list[tuple[float, float]]:
    box = whole.whole
    inset = 3.0
    corners = [
        (x, y)
        for x in (box.left + inset, box.right - inset)
        for y in (box.bottom + inset, box.top - inset)
    ]
    found = []
    for corner in corners:
        for tile in whole.tiles:
            crosses = [ink for ink in tile.ink if crossed_at(ink, corner)]
            if crosses:
                found.append(corner)
                break
    return found


def crossed_at(ink: object, at: tuple[float, float]) -> bool:
    tracks = getattr(ink, "tracks", ())
    return any(
        len(track.pieces) == 1
        and math.dist(track.start, at) == pytest.approx(2, abs=1e-6)
        and math.dist((track.pieces[0].x, track.pieces[0].y), at) == pytest.approx(2, abs=1e-6)
        for track in tracks
    )


def test_every_word_lies_on_one_sheet_and_none_on_a_seam(part: TemplatePart) -> None:
    for whole in tiled(part, (170.0, 200.0), DrawingStyle()):
        said: dict[str, int] = {}
        for tile in whole.tiles:
            for ink in tile.ink:
                if isinstance(ink, Words):
                    text = "".join(getattr(p, "text", "") for p in ink.figure.pieces)
                    said[text] = said.get(text, 0) + 1
        assert said.get(part.name) == 1 or whole.beside
        assert all(count == 1 for text, count in said.items() if len(text) > 2)


def test_sheets_fit_the_area_that_a4_and_letter_share() -> None:
    # 190 x 259.4 mm: ISO 216 and ASME Y14.1, 10 mm kept clear (`test_papers` names the sources).
    width, height = common_area(F(10))
    assert (width, height) == (190, F("259.4"))
    assert paper("A4").height - 2 * 10 > height
    for page in sheets([ARCHED], (width, height - 18)):
        for figure in page.figures:
            root = ET.fromstring(figure.svg)
            wide = float(root.get("width", "").removesuffix("mm"))
            high = float(root.get("height", "").removesuffix("mm"))
            assert -ROUND <= figure.left <= figure.left + wide <= float(width) + ROUND
            assert -ROUND <= figure.top <= figure.top + high <= float(height - 18) + ROUND


@pytest.mark.parametrize("length", [100, 176, 177, 330, 342, 343, 1000])
def test_as_many_sheets_as_the_rule_of_overlaps_says(length: int) -> None:
    # ceil((L - overlap)/(live - overlap)) for L > live, else 1: plain arithmetic, no source.
    plain = samples.part("M", "Panel", length - int(2 * AROUND), 20)
    _, columns, lies = sheets_needed(plain, (176.0, 34.0))
    assert not lies
    assert columns == (1 if length <= 176 else math.ceil((length - 10) / (176 - 10)))


def test_what_is_tiled_and_what_is_drawn_smaller() -> None:
    area = (F(190), F(236))

    def drawn_so(part: TemplatePart) -> str:
        pages = sheets([part], area)
        return "tiled" if pages[0].sheet else "full" if pages[0].scale == 1 else "reduced"

    assert drawn_so(ARCHED) == "tiled"
    assert drawn_so(replace(ARCHED, manner=Manner.REDUCED)) == "reduced"
    assert drawn_so(samples.HUGE) == "reduced"  # a plain rectangle
    assert drawn_so(replace(samples.HUGE, manner=Manner.TILED)) == "tiled"
    assert drawn_so(samples.BRACKET) == "full"
    assert drawn_so(replace(samples.BRACKET, manner=Manner.REDUCED)) == "reduced"
    tread = samples.part("T", "Tread", 380, 260, corners={(LEFT, TOP): Round(F(20))})
    assert drawn_so(tread) == "reduced"  # only a corner is shaped
    assert drawn_so(samples.part("L", "Back", 150, 300, corners={(LEFT, TOP): Round(F(20))})) == (
        "tiled"
    )
    vast = samples.part("V", "Wall", 900, 700, corners={(LEFT, TOP): Round(F(90))})
    assert drawn_so(vast) == "reduced"  # more than a few sheets
    assert drawn_so(replace(vast, manner=Manner.TILED)) == "tiled"
    assert math.prod(sheets_needed(vast, (176.0, 200.0))[:2]) > MOST_SHEETS


MIDDLING = samples.part(
    "M",
    "Cheek",
    60,
    80,
    edges={TOP: Arched(F(12), F(10), F(50))},
    holes=(RoundHole("peg", samples.at(30, 40), F(4), F(2)),),
    hand=Hand.LEFT,
    twins=1,
)


@pytest.mark.parametrize("large", [False, True], ids=["small", "large"])
@pytest.mark.parametrize("alike", [False, True], ids=["unlike", "its own mirror image"])
@pytest.mark.parametrize("manner", list(Manner))
def test_a_handed_pair_is_drawn_for_both_hands(large: bool, alike: bool, manner: Manner) -> None:
    """However it is drawn, each hand says which it is, and how many to make of it."""
    pair = {
        (False, False): samples.SIDE,
        (False, True): MIDDLING,
        (True, False): replace(ARCHED, hand=Hand.LEFT, twins=1),
        (True, True): replace(HALVED, hand=Hand.LEFT, twins=1),
    }[large, alike]
    pages = sheets([replace(pair, manner=manner, quantity=2)], (F(190), F(236)))
    drawn = [each.svg for page in pages for each in page.figures if each.letter == pair.letter]
    titles = [ET.fromstring(svg).findtext(f"{SVG}title", "") for svg in drawn]
    hands = [re.search(r"(left|right) hand", title) for title in titles]
    assert {found[1] for found in hands if found} == {"left", "right"}
    assert all(hands)
    tags = [re.search(r'data-hand="(\w+)"', svg) for svg in drawn]
    assert [t and t[1] for t in tags] == [h and h[1] for h in hands]
    for hand, count in (("left", 2), ("right", 1)):
        said = [s for s, h in zip(drawn, hands, strict=True) if h and h[1] == hand]
        assert sum(f"make {count} · {hand} hand" in plain(each) for each in said) == 1


def plain(svg: str) -> str:
    return " ".join("".join(ET.fromstring(svg).itertext()).split())


def test_small_templates_share_sheets_with_tiles_only_to_save_pages() -> None:
    pages = sheets([HALVED, samples.STRIP], (F(190), F(236)))
    alone = sheets([HALVED], (F(190), F(236)))
    assert len(pages) == len(alone)
    assert sum("F" in page.letters for page in pages) == 1


def test_the_map_shows_every_sheet_and_tells_this_one() -> None:
    for page in sheets([ARCHED], (F(190), F(236))):
        (map_,) = (f for f in page.figures if "lie beside each other" in f.svg)
        number = page.sheet.split()[1].removeprefix("A")
        texts = [t for t, *_ in map_text(map_)]
        assert texts == [str(n + 1) for n in range(len(alone_numbers()))]
        assert ET.fromstring(map_.svg).findtext(f"{SVG}title", "").endswith(f"A{number} of A4.")
        greys = [p for p in ET.fromstring(map_.svg).iter(f"{SVG}path") if p.get("fill")]
        assert len(greys) == 1


def map_text(figure: SheetFigure) -> list[tuple[str, float]]:
    texts = ET.fromstring(figure.svg).iter(f"{SVG}text")
    return [("".join(span.text or "" for span in each), 0.0) for each in texts]


def alone_numbers() -> tuple[TemplatePage, ...]:
    return sheets([ARCHED], (F(190), F(236)))


def test_windows_are_told_to_a_thousandth() -> None:
    assert Fraction(1, 1000) == F("0.001")
    for page in alone_numbers():
        for figure in page.figures:
            if (found := PLACED.search(figure.svg)) is not None:
                assert all(len(v.partition(".")[2]) <= 3 for v in found.groups()[3:7])


# ------------------------------------------------------------------ words without room on the wood

FRAME = samples.part(
    "E",
    "Window frame of the lantern room on the harbour side of the quay",
    326,
    356,
    holes=(
        Window("opening", samples.at(163, 178), F(312), F(342)),
        RoundHole("upper pin hole for the bead", samples.at(3, 300), F(2)),
        RoundHole("lower pin hole for the shutter", samples.at(3, 60), F(2)),
    ),
    notes=("best face up, as the print shows it, and the grain along the length of the quay",),
    manner=Manner.TILED,
)
NARROW = samples.part("D", "Plate", 280, 20, manner=Manner.TILED)
RAIL = samples.part(
    "R", "Rail", 12, 218, manner=Manner.TILED, grain=Axis.Y, notes=("a note to read",) * 6
)


@dataclass(frozen=True)
class Printed:
    """Words as they stand on a page, mm from its upper left corner."""

    text: str
    box: BaseGeometry


def printed(page: TemplatePage) -> list[Printed]:
    found = []
    for figure in page.figures:
        for text, box, _ in words_of(figure.svg):
            found.append(Printed(text, shapely.affinity.translate(box, figure.left, figure.top)))
    return found


@pytest.mark.parametrize("letters", [FRAME, NARROW, RAIL, ARCHED], ids=lambda part: part.name)
def test_all_words_find_a_place_on_the_paper_and_none_over_others(letters: TemplatePart) -> None:
    area = shapely.box(0, 0, 190, 236).buffer(ROUND)
    pages = sheets([letters], (F(190), F(236)))
    for page in pages:
        found = printed(page)
        assert all(area.covers(each.box) for each in found)
        for one, two in itertools.combinations(found, 2):
            assert not one.box.buffer(-0.1).intersects(two.box), (one.text, two.text)
    said = [each.text for page in pages for each in printed(page)]
    assert said.count("make 1") == 1
    assert all(any(note.startswith(each) for each in said) for note in letters.notes)


def test_words_of_sheets_that_fill_the_page_have_a_place_of_their_own() -> None:
    """They say whose they are; what is drawn of the part besides says its letter and its name."""
    first, *others = sheets([FRAME], (F(190), F(236)))
    assert first.letters == ("E",)
    assert first.sheet == ""
    (figure,) = (each for each in first.figures if each.letter == "E")
    title = ET.fromstring(figure.svg).findtext(f"{SVG}title", "")
    assert title == f"Words of E {FRAME.name}, for its sheets E1 to E4."
    assert 'data-words="alone"' in figure.svg
    said = plain(figure.svg)
    assert "for sheets E1 to E4" in said
    assert "upper pin hole for the bead" in said
    assert len(others) == 4
    assert all(page.sheet for page in others)


def test_what_the_wood_is_too_narrow_for_says_its_grain_beside_the_sheet() -> None:
    """As the sheet lies: a strip that is turned has its grain turned with it."""
    for grain, upright in ((Axis.X, True), (Axis.Y, False)):
        strip = samples.part("S", "Lath", 340, 1.5, manner=Manner.TILED, grain=grain)
        whole = tiled(strip, (175.0, 200.0), DrawingStyle())[0]
        assert whole.lies
        loose = [
            ink
            for ink in whole.beside[0][-1].ink
            if isinstance(ink, Words) and "grain" in str(ink.figure)
        ]
        assert [ink.upright for ink in loose] == [upright]

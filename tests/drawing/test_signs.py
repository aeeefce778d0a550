"""Signs for what is done to edges, the key that explains them, and what every sheet carries."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import pytest

from patternpress.assembly.shape import EDGES, Face, MarkLine
from patternpress.design.phrases import Target
from patternpress.drawing.fitting import Subject
from patternpress.drawing.foot import Frame
from patternpress.drawing.ink import Stroke, extent
from patternpress.drawing.key import edge_sign, key_ink, key_rows, sample
from patternpress.drawing.part import Manner, TemplatePart, Treated
from patternpress.drawing.sheets import SheetFigure, TemplatePage, sheets
from patternpress.drawing.signs import Sign
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.template import Way
from patternpress.drawing.treated import VERBS, signs_on_edges
from patternpress.measure.errors import MeasureError
from patternpress.measure.printers import Correction, read_correction
from tests.drawing import samples
from tests.drawing.samples import F

STYLE = DrawingStyle()
SVG = "{http://www.w3.org/2000/svg}"


def done(verb: str, *faces: Face) -> Treated:
    return Treated(verb, faces, Target("panel", "part"))


@pytest.mark.parametrize("verb", VERBS)
@pytest.mark.parametrize(
    ("face", "box"),
    [
        (Face.LEFT, (0, 0, 3, 40)),
        (Face.RIGHT, (57, 0, 60, 40)),
        (Face.BOTTOM, (0, 0, 60, 3)),
        (Face.TOP, (0, 37, 60, 40)),
    ],
)
def test_a_sign_lies_inside_its_own_edge(
    verb: str, face: Face, box: tuple[int, int, int, int]
) -> None:
    shape = samples.part("M", "Panel", 60, 40).shape
    found = extent(signs_on_edges(shape, (done(verb, face),), STYLE))
    assert box[0] <= found.left
    assert box[1] <= found.bottom
    assert found.right <= box[2]
    assert found.top <= box[3]
    assert max(found.width, found.height) > 30  # all along it


def test_a_sign_follows_a_curved_edge_and_stays_inside() -> None:
    shape = samples.HEADBOARD.shape
    (sign,) = [
        ink
        for ink in signs_on_edges(shape, (done("round over", Face.TOP),), STYLE)
        if extent((ink,)).width > 50
    ]
    found = extent((sign,))
    assert found.top <= 70
    assert found.top > 66  # under the crown of the arch
    assert isinstance(sign, Stroke)
    assert len(sign.tracks) > 20


def test_an_edge_carries_one_sign_and_a_face_none() -> None:
    shape = samples.part("M", "Panel", 60, 40).shape
    twice = (done("ease", Face.TOP), done("leave bare", Face.TOP))
    assert signs_on_edges(shape, twice, STYLE) == signs_on_edges(shape, twice[:1], STYLE)
    assert signs_on_edges(shape, (done("leave bare"),), STYLE) == ()


def test_no_two_signs_look_alike() -> None:
    looks = {}
    for sign in Sign:
        look = repr([(type(ink).__name__, ink) for ink in sample(sign, STYLE)])
        assert look not in looks, (sign, looks.get(look))
        looks[look] = sign


def test_the_key_explains_what_the_page_uses() -> None:
    part = replace(samples.SIDE, treated=(done("round over", Face.FRONT),))
    (page,) = sheets([part])
    said = words(page)
    for each in ("cut, waste outside", "hole centre", "groove", "on the far side", "round over"):
        assert each in said
    assert "chamfer" not in said
    assert "trim paper" not in said


def words(page: TemplatePage) -> set[str]:
    texts = (text for f in page.figures for text in ET.fromstring(f.svg).iter(f"{SVG}text"))
    return {"".join(span.text or "" for span in text) for text in texts}


def test_the_key_keeps_to_its_rows() -> None:
    rows = key_rows(list(Sign), (*(170.0,) * 3, 104.0, 104.0), STYLE)
    assert rows is not None
    assert [sign for row in rows for sign in row] == list(Sign)
    box = extent(key_ink(rows, STYLE))
    assert box.width <= 170.0 + 0.5
    assert box.height <= 22.0
    assert extent(key_ink(rows[3:], STYLE)).width <= 104.0 + 0.5
    assert key_rows(list(Sign), (104.0, 104.0), STYLE) is None


*FOUR, FIFTH = VERBS
SIDE = replace(samples.SIDE, treated=tuple(map(done, FOUR, EDGES[samples.SIDE.shape.view])))
SHELF = replace(samples.SHELF, treated=(done(FIFTH, EDGES[samples.SHELF.shape.view][0]),))
PARTS = (SIDE, SHELF, *samples.ALL[2:-1], replace(samples.HUGE, manner=Manner.TILED))
DASHED = {
    Sign.FAR: STYLE.hidden,
    Sign.TRIM: STYLE.trim,
    Sign.LAP: STYLE.lap,
}


def signs_of(part: TemplatePart) -> Iterator[Sign]:
    """What a template must show, told from its part."""
    shape = part.shape
    yield Sign.CUT
    if shape.holes:
        yield from (Sign.OPENING, Sign.CENTRE)
    for mark in shape.marks:
        yield Sign.MARK if isinstance(mark, MarkLine) else Sign.POINT
    for groove in shape.grooves:
        yield Sign.FAR if groove.far else Sign.GROOVE
    edges = EDGES[shape.view]
    done_to = {face.value: each.verb for each in reversed(part.treated) for face in each.faces}
    yield from (VERBS[verb] for face, verb in done_to.items() if face in {e.value for e in edges})


def test_every_sign_that_a_page_shows_is_explained_and_no_other() -> None:
    parts = {part.letter: part for part in PARTS}
    seen: set[Sign] = set()
    for page in sheets(list(parts.values())):
        said = {sign for sign in Sign if STYLE.say(f"key {sign.value}") in words(page)}
        seen |= said
        drawn = "".join(figure.svg for figure in page.figures if figure.letter)
        for sign, pen in DASHED.items():
            dashes = " ".join(f"{float(each):g}" for each in pen.dashes)
            assert (f'stroke-dasharray="{dashes}"' in drawn) is (sign in said), sign
        wanted = {sign for letter in page.letters for sign in signs_of(parts[letter])}
        loose = {Sign.GRAIN, Sign.ORIGIN, Sign.TRIM, Sign.LAP, Sign.MATCH, Sign.CORNER, Sign.FOLD}
        if not page.sheet:
            assert said - loose == wanted - loose
        assert ({Sign.TRIM, Sign.LAP, Sign.CORNER} & said != set()) is bool(page.sheet)
    assert seen >= {*VERBS.values(), Sign.GRAIN, Sign.ORIGIN, Sign.MATCH, Sign.GROOVE, Sign.FAR}


def test_whatever_is_drawn_but_words_and_dimensions_has_its_sign() -> None:
    for part in PARTS:
        for each in Subject(part, STYLE).drawn(Way(Fraction(1), True)):
            strokes = [ink for ink in each.draft.ink if isinstance(ink, Stroke)]
            assert [ink for ink in strokes if not ink.sign and ink.pen != STYLE.fine] == []


def test_edge_signs_are_as_dense_on_any_length() -> None:
    (short,) = edge_sign(Sign.EASE, ((0, 0), (24, 0)), STYLE)
    (long,) = edge_sign(Sign.EASE, ((0, 0), (120, 0), (120, 120)), STYLE)
    assert isinstance(short, Stroke)
    assert isinstance(long, Stroke)
    assert len(short.tracks) == 10
    assert len(long.tracks) == 100


# ------------------------------------------------------------------ every sheet


def square(figure: SheetFigure) -> Iterator[tuple[float, float]]:
    """The sides of every closed path of four straight lines, mm."""
    for path in ET.fromstring(figure.svg).iter(f"{SVG}path"):
        for run in re.findall(r"M[^M]*", path.get("d", "")):
            if re.fullmatch(r"M[^LC]+(L[^LC]+){3}Z", run):
                numbers = [float(n) for n in re.findall(r"-?[\d.]+", run)]
                xs, ys = numbers[0::2], numbers[1::2]
                yield round(max(xs) - min(xs), 3), round(max(ys) - min(ys), 3)


def paths(figure: SheetFigure) -> list[ET.Element]:
    return list(ET.fromstring(figure.svg).iter(f"{SVG}path"))


def lines(page: TemplatePage) -> set[tuple[float, float]]:
    found = set()
    for figure in page.figures:
        for path in ET.fromstring(figure.svg).iter(f"{SVG}path"):
            for run in re.findall(r"M[^MC]*", path.get("d", "")):
                numbers = [float(n) for n in re.findall(r"-?[\d.]+", run)]
                if len(numbers) == 4:
                    x1, y1, x2, y2 = numbers
                    found.add((round(abs(x2 - x1), 3), round(abs(y2 - y1), 3)))
    return found


@pytest.mark.parametrize("parts", [samples.ALL, (samples.STRIP,), (samples.HUGE,)])
def test_every_sheet_has_bars_both_ways_and_a_square(
    parts: tuple[samples.TemplatePart, ...],
) -> None:
    for page in sheets(parts):
        assert {(101.6, 0.0), (0.0, 101.6)} <= lines(page)
        assert any((20.0, 20.0) in square(figure) for figure in page.figures)


def test_a_correction_stretches_all_lines_alike_and_says_so() -> None:
    correction = Correction(F("99.2"), F("99.5"))
    (page,) = sheets([samples.STRIP], correction=correction)
    across, up = float(100 / F("99.2")), float(100 / F("99.5"))
    found = lines(page)
    assert any(x == pytest.approx(101.6 * across, abs=1e-3) and y == 0 for x, y in found)
    assert any(y == pytest.approx(101.6 * up, abs=1e-3) and x == 0 for x, y in found)
    (outline,) = (figure for figure in page.figures if figure.letter)
    (path,) = [p for p in paths(outline) if p.get("stroke-width") == "0.5"]
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", path.get("d", ""))]
    wide, high = (max(each) - min(each) for each in (numbers[0::2], numbers[1::2]))
    assert (wide, high) == (pytest.approx(60 * across, abs=2e-3), pytest.approx(3 * up, abs=2e-3))
    assert any("99.2 × 99.5 mm" in each for each in words(page))
    assert "on your printer the" in words(page)
    (plain,) = sheets([samples.STRIP])
    assert not any("ONLY" in each for each in words(plain))


def test_what_such_a_printer_makes_of_it_is_true() -> None:
    """The printer that makes 99.2 mm of 100 makes 60 mm of what is drawn for it."""
    across, up = Correction(F("99.2"), F("99.5")).factors
    assert 60 * across * F("99.2") / 100 == 60
    assert 3 * up * F("99.5") / 100 == 3


@pytest.mark.parametrize("measured", ["95x95", "105x105", "99.2x99.5", "100x101.25"])
def test_a_corrected_set_stays_on_the_paper(measured: str) -> None:
    """Letters keep their size where lines shrink: at an edge they take 2 of its 10 mm at most."""
    for page in sheets(samples.ALL, (F(190), F(236)), correction=read_correction(measured)):
        for figure in page.figures:
            root = ET.fromstring(figure.svg)
            wide = float(root.get("width", "").removesuffix("mm"))
            high = float(root.get("height", "").removesuffix("mm"))
            assert figure.left + wide <= 192
            assert figure.top + high <= 238
            assert min(figure.left, figure.top) >= -2


@pytest.mark.parametrize(
    ("text", "across", "up"),
    [
        ("99.2x99.5", "99.2", "99.5"),
        (" 99,2 x 100 ", "99.2", "100"),
        ("100.125 mm × 99 mm", "100.125", "99"),
    ],
)
def test_corrections_are_read(text: str, across: str, up: str) -> None:
    assert read_correction(text) == Correction(Fraction(across), Fraction(up))


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("99.2", "bad-bars"),
        ("x99", "bad-bars"),
        ("99.2x99.5x1", "bad-bars"),
        ("94.9x100", "bars-far-out"),
        ("100x105.1", "bars-far-out"),
        ("1x1", "bars-far-out"),
    ],
)
def test_what_is_no_correction_is_refused(text: str, code: str) -> None:
    with pytest.raises(MeasureError) as caught:
        read_correction(text)
    assert caught.value.code == code


def test_the_room_above_the_foot_holds_the_longest_part_of_two_hundred() -> None:
    frame = Frame(190.0, 236.0, STYLE)
    assert frame.room[1] > 208

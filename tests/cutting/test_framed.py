"""Crowded parts of a board are framed and drawn again, so that each piece and cut is told."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from xml.etree import ElementTree

from patternpress.cutting.boardpicture import LARGEST, WIDEST, board_picture
from patternpress.cutting.framed import Framed, frames_round, holds, part_of
from patternpress.cutting.jobs import Job, Sheet
from patternpress.cutting.laid import LaidBoard
from patternpress.cutting.layouts import lay_out
from patternpress.cutting.slicing import Area, Spot, slice_up
from patternpress.drawing.contract import check_template
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.digits import Display
from tests.cutting.test_layouts import item, job

# Letter, where it lies, length and width: two crowded places apart from each other.
PLACES = """B 0 0 97.5 35.2; C 97.5 0 97.5 35.2; R 195 0 92 14; R 195 14 92 14; G 195 28 97.5 6;
T 292.5 0 85 12; S 292.5 12 85 10; S 292.5 22 85 10; A 377.5 0 62 35.2; A 439.5 0 62 35.2;
D 501.5 0 40 35.2; S 0 35.2 85 10; E 85 35.2 45 13"""


def crowded() -> tuple[Job, LaidBoard]:
    lines = [each.split() for each in PLACES.replace("\n", " ").split(";")]
    letters = sorted({line[0] for line in lines})
    first = {letter: next(x for x in lines if x[0] == letter) for letter in letters}
    items = [item(letter, first[letter][3], first[letter][4]) for letter in letters]
    sheet = Sheet(Fraction(600), Fraction(100))
    spots = [Spot(letters.index(a), *(Fraction(x) for x in rest)) for a, *rest in lines]
    sliced = slice_up(spots, Area(Fraction(0), Fraction(0), sheet.along, sheet.across), Fraction(0))
    assert sliced is not None
    laid = LaidBoard(sheet, sliced.spots, sliced.cuts, sliced.offcuts)
    return replace(job(items, [sheet]), kerf=Fraction(0)), laid


def written(svg: str) -> set[str]:
    spans = ElementTree.fromstring(svg).iter()
    return {e.text or "" for e in spans if e.tag.endswith("tspan")}


def test_every_piece_of_a_crowded_board_is_lettered_and_every_cut_numbered() -> None:
    made, board = crowded()
    picture = board_picture(board, made, Display(), DrawingStyle())
    assert picture.unlettered == ()
    assert [letter for letter, _ in picture.details] == ["a", "b"]
    seen = written(picture.svg)
    for letter, detail in picture.details:
        assert letter in seen  # by which its frame is called
        assert check_template(detail.svg) == []
        seen |= written(detail.svg)
        wide, high = (float(x) for x in detail.svg.split('viewBox="0 0 ')[1].split('"')[0].split())
        assert wide <= WIDEST + 10.01 and high <= LARGEST + 12
        assert float(Fraction(detail.scale.split(":")[1])) < float(picture.scale.split(":")[1])
    assert seen >= {each.letter for each in made.items}
    assert seen >= {str(number) for number in range(1, len(board.cuts) + 1)}


def test_a_board_with_room_for_all_has_no_details() -> None:
    made = job([item("A", "200", "60", 2)], [Sheet(Fraction(600), Fraction(100))])
    (board,) = lay_out(made).boards
    assert board_picture(board, made, Display(), DrawingStyle()).details == ()


def test_a_frame_holds_whole_pieces_and_those_that_are_near_are_one() -> None:
    _, board = crowded()
    tiny = [Area(s.x, s.y, s.along, s.across) for s in board.spots if s.across < 15]
    frames = frames_round(tiny, board, Fraction(1))
    for frame in frames:
        end = frame.area.x + frame.area.along, frame.area.y + frame.area.across
        held = [each for each in board.spots if holds(frame, each)]
        assert held
        assert all(s.x >= frame.area.x and s.x + s.along <= end[0] for s in held)
        assert all(s.y >= frame.area.y and s.y + s.across <= end[1] for s in held)
    (one,) = frames_round(tiny, board, Fraction(600))
    assert len(frames) > 1 and one.letter == "a"
    part = part_of(board, Framed("a", frames[0].area))
    assert len(part.cuts) == len(board.cuts)  # they keep their numbers
    assert all(0 <= x.x <= x.to_x <= part.sheet.along for cut in part.cuts for x in cut.lines)

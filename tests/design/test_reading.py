"""What an author writes is read as a maker means it, and a broken line hides nothing below it."""

import datetime
from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.design.read import Reading, read_text
from patternpress.design.records.book import Book
from patternpress.design.source import Items, Pairs, Scalar, read_tree
from patternpress.measure.formula import evaluate

STOCK = "stock:\n  board: {sheet: 2 mm}\n"
PARTS = "parts:\n  base: {stock: board, wide: 40 mm, deep: 30 mm}\n"
STEPS = "steps:\n  - step: Cut it out\n    start: base\n"
TRAY = f"design: Tray\n{STOCK}{PARTS}{STEPS}"


def reading(text: str) -> Reading:
    return read_text(text, "tray.yaml", Path())


def book(text: str) -> Book:
    read = reading(text)
    assert read.problems == ()
    assert read.book is not None
    return read.book


def codes(text: str) -> list[tuple[str, int, int]]:
    return [(each.code, each.span.line, each.span.column) for each in reading(text).problems]


# ------------------------------------------------------------------ as makers mean it


@pytest.mark.parametrize(
    ("written", "ratio"),
    [("1:12", (1, 12)), ("1:1", (1, 1)), ("'1:24'", (1, 24)), ("'1 : 6'", (1, 6)), ("2:3", (2, 3))],
)
def test_a_scale_is_a_ratio_and_no_time_of_day(written: str, ratio: tuple[int, int]) -> None:
    scale = book(TRAY + f"scale: {written}\n").scale
    assert scale is not None
    assert scale.value == Fraction(*ratio)


@pytest.mark.parametrize("written", ["1.10", "1.0", "007", "1e3", "0x10", "1_000", "yes", "null"])
def test_a_version_stays_as_it_is_written(written: str) -> None:
    version = book(TRAY + f"version: {written}\n").version
    assert version is not None
    assert version.value == written


@pytest.mark.parametrize(
    ("written", "word"), [("yes", "yes"), ("no", "no"), ("Yes", "yes"), ("true", "yes")]
)
def test_yes_and_no_are_words(written: str, word: str) -> None:
    text = TRAY.replace("deep: 30 mm}", f"deep: 30 mm, disc: {written}}}")
    disc = book(text).parts[0].disc
    assert disc is not None
    assert disc.value == word


def test_on_is_a_field_and_no_truth() -> None:
    """YAML 1.1 makes the word `on` a truth, and so a field without a name."""
    marks = "marks:\n  edge line:\n    on: top of base\n    line: 3 mm from left\n"
    (mark,) = book(TRAY + marks).marks
    ((target,),) = mark.on
    assert (target.thing, target.sides) == ("base", ("top",))


def test_names_may_be_words_that_yaml_has_plans_for() -> None:
    text = TRAY.replace("base", "no")
    assert [each.name.value for each in book(text).parts] == ["no"]


def test_a_date_is_a_day() -> None:
    date = book(TRAY + "date: 2026-02-01\n").date
    assert date is not None
    assert date.value == datetime.date(2026, 2, 1)


@pytest.mark.parametrize(
    "written", ["2026-02-30", "1.2.2026", "2026-2-1", "20260201", "2026-W05-7", "soon"]
)
def test_other_ways_to_write_a_day_are_refused(written: str) -> None:
    assert codes(TRAY + f"date: {written}\n") == [("not-a-date", 9, 7)]


def test_price_quantity_and_pack_are_exact() -> None:
    text = TRAY.replace("{sheet: 2 mm}", "{sheet: 2 mm, price: 4.10 EUR, pack: 10}")
    (stock,) = book(text).stock
    assert stock.price is not None
    assert stock.price.value == (Fraction(41, 10), "EUR")
    assert stock.pack is not None
    assert stock.pack.value == 10


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        ("4 x 6 mm", [4, 6]),
        ("4x6 mm", [4, 6]),
        ("4 mm x 6 mm", [4, 6]),
        ("1/4 × 3/8 in", [Fraction(635, 100), Fraction(9525, 1000)]),
        ("5 mm", [5]),
    ],
)
def test_sizes_share_the_unit_at_their_end(written: str, mm: list[object]) -> None:
    text = TRAY.replace("{sheet: 2 mm}", f"{{strip: {written}}}").replace(", deep: 30 mm", "")
    (stock,) = book(text).stock
    assert stock.strip is not None
    assert [evaluate(each.value, {}.__getitem__).low.value for each in stock.strip] == mm


@pytest.mark.parametrize(
    "written",
    [
        "about: {a tray}",
        "about: {a tray, for: tea}",
        "about: {it is small: so beware}",
    ],
)
def test_a_text_that_opens_with_a_brace_is_told_and_not_lost(written: str) -> None:
    assert {code for code, _, _ in codes(TRAY + written + "\n")} & {
        "colon-in-sentence", "comma-in-braces", "wrong-shape",
    }  # fmt: skip


def test_lists_may_stand_in_one_line_in_brackets_or_below_each_other() -> None:
    ways = ["left leg, right leg", "left leg and right leg", "[left leg, right leg]"]
    ways += ["\n      - left leg\n      - right leg", "{left leg: as drawn, right leg: }"]
    for way in ways:
        text = f"design: Bench\n{STOCK}parts:\n  leg:\n    stock: board\n    wide: 5 mm\n"
        text += f"    high: 20 mm\n    pieces: {way}\nsteps:\n  - step: Cut\n    start: left leg\n"
        pieces = [each.name.value for each in book(text).parts[0].pieces]
        assert pieces == ["left leg", "right leg"], way


def test_prose_is_tidied_and_its_paragraphs_kept() -> None:
    about = book(TRAY + "about: >\n  A  small\n  tray.\n\n\n  For tea.\n").about
    assert about is not None
    assert about.main.value == "A small tray.\n\nFor tea."


def test_prose_may_be_said_in_each_language_the_main_one_first() -> None:
    text = TRAY + "languages: en, de\nabout: {de: Ein Tablett., en: A tray.}\n"
    about = book(text).about
    assert about is not None
    assert [language for language, _ in about.by_language] == ["en", "de"]
    german = about.within("de")
    assert german is not None
    assert german.value == "Ein Tablett."


def test_aliases_repeat_what_was_named() -> None:
    text = TRAY.replace("deep: 30 mm}", "deep: &side 30 mm}").replace("40 mm", "40 mm")
    text = text.replace("steps:", "  lid: {stock: board, wide: *side, deep: *side}\nsteps:")
    lid = book(text).parts[1]
    assert lid.wide is not None
    assert lid.wide.text == "30 mm"


# ------------------------------------------------------------------ broken lines


def test_faults_of_form_and_of_sense_are_found_in_one_pass() -> None:
    text = """\
design: Tray
about: For tea: a small tray.
level: easi
stock:
  board: {sheet: 2 mm}
parts:
  base: {stock: bord, wide: 40 mm, deep: 30 mm, note: light, strong}
  base: {stock: board, wide: 40 mm, deep: 30 mm}
steps:
  - step: Cut it out
    start: base
    tip: Look out: the knife slips.
    say:
      - Mind this: cut away from you.
      - And this, too: go slowly.
    takes: 10 minits
"""
    assert codes(text) == [
        ("colon-in-sentence", 2, 15),
        ("not-a-word", 3, 8),
        ("unknown-name", 7, 17),
        ("comma-in-braces", 7, 62),
        ("field-twice", 8, 3),
        ("colon-in-sentence", 12, 18),
        ("colon-in-sentence", 14, 9),
        ("colon-in-sentence", 15, 9),
        ("unknown-unit", 16, 15),
    ]


def test_what_stands_behind_a_mended_colon_is_kept() -> None:
    tree, problems = read_tree("about: For tea: it's small\nnote: x\n", "tray.yaml")
    assert isinstance(tree, Pairs)
    about = tree.get("about")
    assert isinstance(about, Scalar)
    assert about.text == "For tea: it's small"
    assert [each.code for each in problems] == ["colon-in-sentence"]
    assert tree.get("note") is not None


def test_columns_count_characters_and_not_bytes() -> None:
    (problem,) = reading(TRAY + "series: café ½ — <\nlevel: easi\n").problems
    assert (problem.span.line, problem.span.column) == (10, 8)
    text = TRAY.replace("{stock: board, wide", "{note: ½ é 𝄞 日本, stock: bord, wide")
    assert codes(text)[0][:2] == ("unknown-name", 5)
    assert codes(text)[0][2] == text.splitlines()[4].index("bord") + 1


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_lines_may_end_in_any_of_three_ways(end: str) -> None:
    text = (TRAY + "level: easi\n").replace("\n", end)
    assert codes(text) == [("not-a-word", 9, 8)]


def test_a_tree_keeps_places_and_quotes() -> None:
    tree, problems = read_tree("a: 'x y'\nb:\n  - one\n  - \"two\"\n", "t.yaml")
    assert problems == ()
    assert isinstance(tree, Pairs)
    first, second = tree.get("a"), tree.get("b")
    assert isinstance(first, Scalar)
    assert isinstance(second, Items)
    assert (first.text, first.quoted, first.span.column, first.span.end_column) == (
        "x y",
        True,
        4,
        9,
    )
    assert [(each.span.line, each.span.column) for each in second.nodes] == [(3, 5), (4, 5)]
    assert first.locate(2, 3).column == 7


def test_a_place_inside_a_folded_text_is_found_in_its_own_line() -> None:
    text = TRAY + "about: >\n  A tray\n  for <bas> tea\n"
    about = book(text).about
    assert about is not None
    assert about.source is not None
    at = about.source.text.index("<bas>")
    assert str(about.source.locate(at, at + 5)) == "tray.yaml:11:7"


def test_a_later_name_may_be_spoken_of_earlier() -> None:
    assert codes(f"design: Tray\n{STEPS}{PARTS}{STOCK}") == []


@pytest.mark.parametrize("written", ["⅟2 mm", "²5 mm", "１2 mm"])
def test_signs_that_look_like_figures_are_told(written: str) -> None:
    """“⅟” opens a fraction that has no end; wide and raised figures are no figures."""
    found = codes(f"sizes:\n  width: {written}\nkeep: width\n{TRAY}")
    assert [line for _, line, _ in found] == [2]


HOLES = """design: Seat
stock:
  board: {sheet: 3 mm}
parts:
  seat:
    stock: board
    wide: 40 mm
    deep: 30 mm
    holes:
      left hole: {round: 2 mm, at: 5 mm from left and 5 mm from front}
      right hole: {round: 2 mm, at: 5 mm from right and 5 mm from front}
steps:
  - step: Drill it
    start: seat
    treat: {drill: SAID}
"""


@pytest.mark.parametrize(
    "said",
    [
        "left hole of seat and right hole of seat",
        "left hole and right hole of seat",
        "the left hole and the right hole of the seat",
        '"left hole of seat, right hole of seat"',
        '"left hole, right hole of seat"',
        "[left hole of seat, right hole of seat]",
    ],
)
def test_several_holes_are_named_as_one_would(said: str) -> None:
    book = reading(HOLES.replace("SAID", said)).book
    assert book is not None
    (treatment,) = book.steps[0].treat
    assert [(each.thing, each.feature) for each in treatment.targets] == [
        ("seat", "left hole"),
        ("seat", "right hole"),
    ]


def test_a_hole_of_no_piece_is_still_unknown() -> None:
    found = reading(HOLES.replace("SAID", "left hole and peg hole of seat")).problems
    assert [each.code for each in found] == ["nothing-of-it"]
    assert "left hole, right hole" in found[0].mend

"""Changes that the author's page writes: one value, and not a sign of the file besides."""

from __future__ import annotations

from difflib import SequenceMatcher
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.assembly.model import check, work_out
from patternpress.assembly.prosework import all_prose
from patternpress.design.read import read_design, read_text
from patternpress.design.source import Items, Pairs, Scalar, read_tree
from patternpress.design.span import NOWHERE
from patternpress.desk.preview.figures import FigureRow, figure_rows, moved, place_of, span_from
from patternpress.desk.preview.splice import (
    SpliceError,
    field_set,
    figure_changed,
    place_in,
    words_changed,
)

DESIGNS = Path(__file__).parents[2] / "designs"
DEMOS = {"keepers-desk": "both", "signal-shelf": "inch", "net-tote": "metric"}


def rows(name: str) -> tuple[str, tuple[FigureRow, ...]]:
    path = DESIGNS / f"{name}.yaml"
    reading = read_design(path)
    return path.read_text("utf-8"), figure_rows(work_out(reading, DEMOS[name]), path.name)


def around(text: str, row: FigureRow) -> tuple[str, str]:
    """What stands before and after a figure."""
    begin = place_in(text, row.span.line, row.span.column)
    end = place_in(text, row.span.end_line, row.span.end_column)
    return text[:begin], text[end:]


@pytest.mark.parametrize("name", DEMOS)
def test_every_given_figure_can_be_changed_and_nothing_else_is(name: str) -> None:
    text, found = rows(name)
    given = [row for row in found if row.given]
    assert len(given) >= 25
    given = given[::4]  # each is read again twice, as a whole file
    written = 0
    for row in given:
        unit = row.text.split()[-1] if " " in row.text else ""
        try:
            made = figure_changed(text, row.span, f"7 {unit}".strip())
        except SpliceError:
            continue  # a place inside words that the file does not hold as typed
        before, after = around(text, row)
        assert made == f"{before}{f'7 {unit}'.strip()}{after}"
        written += 1
    assert written >= 0.97 * len(given)


@pytest.mark.parametrize("name", DEMOS)
def test_the_same_figure_written_again_gives_the_same_file(name: str) -> None:
    text, found = rows(name)
    plain = [row for row in found if "\n" not in row.text and row.span.line == row.span.end_line]
    same = [row for row in plain if around(text, row)[0] + row.text + around(text, row)[1] == text]
    assert len(same) > 0.95 * len(plain)
    for row in same[::8]:
        assert figure_changed(text, row.span, row.text) == text


@pytest.mark.parametrize(
    "new",
    [
        "",
        "   ",
        "84 mm, depth: 2",
        "84 mm\n  depth: 3 mm",
        "84 mm: x",
        "{a: b}",
        "[1, 2]",
        "84 mm # wide",
        "'84 mm",
        "x" * 9000,
        "&a 84 mm",
        "!!python/object:os.system x",
    ],
)
def test_what_would_change_more_than_the_figure_is_refused(new: str) -> None:
    text, found = rows("keepers-desk")
    (width,) = [row for row in found if row.label == "sizes, width"]
    (less,) = [row for row in found if row.text == "0.25 to 0.5 mm"][:1]
    for row in (width, less):
        try:
            made = figure_changed(text, row.span, new)
        except SpliceError:
            continue
        old, read = (list(scalars(read_tree(each, "x")[0])) for each in (text, made))
        assert len(old) == len(read)
        assert sum(a != b for a, b in zip(old, read, strict=True)) <= 1


def scalars(node: object, at: str = "") -> list[tuple[str, str]]:
    if isinstance(node, Scalar):
        return [(at, node.text)]
    if isinstance(node, Items):
        return [each for n, x in enumerate(node.nodes) for each in scalars(x, f"{at}/{n}")]
    if isinstance(node, Pairs):
        return [each for key, x in node.entries for each in scalars(x, f"{at}/{key.text}")]
    return []


NEW_WORDS = st.text(
    st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Co", "Cn", "Zl", "Zp")),
    min_size=1,
    max_size=200,
)


@settings(max_examples=20)
@given(NEW_WORDS, st.integers(0, 10_000))
def test_any_words_are_read_back_as_they_were_typed(new: str, pick: int) -> None:
    path = DESIGNS / "keepers-desk.yaml"
    text = path.read_text("utf-8")
    book = read_design(path).book
    assert book is not None
    places = [p.main.span for p in all_prose(book) if p.main.span.file == path.name]
    span = places[pick % len(places)]
    try:
        made = words_changed(text, span, new)
    except SpliceError:
        return
    old, read = (scalars(read_tree(each, "x")[0]) for each in (text, made))
    changed = [b for a, b in zip(old, read, strict=True) if a != b]
    assert len(changed) <= 1
    if changed:
        assert changed[0][1].strip() == new.strip()


def test_folded_words_stay_folded_and_quoted_ones_quoted() -> None:
    text = "about: >\n  One.\n  Two.\nlevel: 'easy'  # who\ncover:\n  words: \"Hi\"\n"
    tree, _ = read_tree(text, "x")
    assert isinstance(tree, Pairs)
    about, level = tree.get("about"), tree.get("level")
    assert isinstance(about, Scalar)
    assert isinstance(level, Scalar)
    long = "A desk that " + "is long and " * 12 + "ends."
    made = words_changed(text, about.span, long)
    assert made.startswith("about: >\n  A desk that is")
    assert max(map(len, made.splitlines())) <= 80
    assert made.endswith("level: 'easy'  # who\ncover:\n  words: \"Hi\"\n")
    assert "level: 'it''s hard'  # who" in words_changed(text, level.span, "it's hard")


def test_windows_line_ends_and_comments_stay() -> None:
    text = "# top\r\nsizes:\r\n  width: 84 mm  # outside\r\n  depth: width / 2\r\n"
    made = figure_changed(text, span_from("3.10-3.15", "x"), "90 mm")
    assert made == text.replace("84 mm", "90 mm")


def test_what_else_moves_is_told() -> None:
    path = DESIGNS / "keepers-desk.yaml"
    text = path.read_text("utf-8")
    one, two = (
        work_out(read_text(each, path.name, path.parent), "metric")
        for each in (text, text.replace("width: 84 mm", "width: 86 mm"))
    )
    told = {each["what"]: (each["was"], each["is"]) for each in moved(one, two)}
    assert told["size width"] == ("84\xa0mm", "86\xa0mm")
    assert told["A, bottom board, wide"] == ("80\xa0mm", "82\xa0mm")
    assert not any(name.endswith(("deep", "high")) and "drawer" not in name for name in told)
    assert moved(one, one) == []


@pytest.mark.parametrize("words", ["", "1", "1.2", "a.b-c.d", "1.2-3", "1.2-3.4.5", "1.2-x.4"])
def test_a_place_that_is_none_is_nowhere(words: str) -> None:
    assert span_from(words, "x") == NOWHERE


def test_a_place_is_read_back() -> None:
    _, found = rows("keepers-desk")
    for row in found:
        assert span_from(place_of(row.span), row.span.file) == row.span


def test_a_view_is_kept_in_its_step_alone() -> None:
    path = DESIGNS / "keepers-desk.yaml"
    text = path.read_text("utf-8")
    tree, _ = read_tree(text, path.name)
    assert isinstance(tree, Pairs)
    steps = tree.get("steps")
    assert isinstance(steps, Items)
    for node in steps.nodes[::4]:
        assert isinstance(node, Pairs)
        made = field_set(text, node, "seen from", "back left above")
        parts = SequenceMatcher(None, text.splitlines(), made.splitlines()).get_opcodes()
        (change,) = [each for each in parts if each[0] != "equal"]
        (line,) = made.splitlines()[change[3] : change[4]]
        assert line.strip() == "seen from: back left above"
        assert [each.code for each in check(read_text(made, path.name, path.parent))] == []

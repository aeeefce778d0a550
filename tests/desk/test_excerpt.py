"""The source line and its carets: every expected picture is typed in full."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.design.span import Span
from patternpress.desk.excerpt import columns, excerpt, lines_of, shown, visible

ROOM = 40


def cut(text: str, line: int, column: int, end: int, end_line: int | None = None) -> str:
    """The two lines of an excerpt, one below the other."""
    span = Span("x.yaml", line, column, end_line or line, end)
    found = excerpt(lines_of(text), span, ROOM)
    assert found is not None
    return "\n".join(found)


@pytest.mark.parametrize(
    ("text", "column", "end", "wanted"),
    [
        ("stock: lime bord", 8, 17, "stock: lime bord\n       ^^^^^^^^^"),
        ("a: b", 1, 2, "a: b\n^"),
        # a span of no width, and one just past the end, still get one caret
        ("a: b", 4, 4, "a: b\n   ^"),
        ("a:", 3, 3, "a:\n  ^"),
        # a tab takes four columns before the span, and inside it
        ("\ta: b", 2, 3, "    a: b\n    ^"),
        ("\ta", 1, 3, "    a\n^^^^^"),
        # wide signs take two columns (Unicode Standard Annex 11), combining marks none
        ("木: bord", 4, 8, "木: bord\n    ^^^^"),
        ("x: 木木", 4, 6, "x: 木木\n   ^^^^"),
        ("cafe\u0301: x", 8, 9, "cafe\u0301: x\n      ^"),
        # what a terminal would obey is shown, and the carets still fit
        ("a: \x1b[31m!", 4, 5, "a: ␛[31m!\n   ^"),
        ("a\x07b: c", 5, 6, "a␇b: c\n    ^"),
        ("a: \u202ebc", 5, 6, "a: <U+202E>bc\n           ^"),
    ],
)
def test_carets_stand_under_the_span(text: str, column: int, end: int, wanted: str) -> None:
    assert cut(text, 1, column, end) == wanted


def test_a_span_over_several_lines_marks_the_first_to_its_end() -> None:
    assert cut("a: bc\n  de", 1, 4, 5, end_line=2) == "a: bc\n   ^^"


# 40 columns: two of them for the signs that something is left out.
LONG = "about: " + "0123456789" * 20


@pytest.mark.parametrize(
    ("column", "end", "wanted"),
    [
        (
            1,
            6,
            "about: 0123456789012345678901234567890…\n"  # the beginning of the line
            "^^^^^",
        ),
        (
            108,
            112,
            "…89012345678901234567890123456789012345…\n"  # its middle, a third before the span
            "             ^^^^",
        ),
        (
            206,
            208,
            "…23456789012345678901234567890123456789\n"  # its end, filled up in front
            "                                     ^^",
        ),
    ],
)
def test_a_long_line_is_cut_around_the_span(column: int, end: int, wanted: str) -> None:
    assert cut(LONG, 1, column, end) == wanted


def test_a_span_longer_than_the_room_is_cut_with_its_carets() -> None:
    line, carets = cut(LONG, 1, 8, 208).split("\n")
    assert columns(line) <= ROOM
    assert line.endswith("…")
    assert len(carets) == len(line) - 1


@pytest.mark.parametrize("line", [0, 3, 99])
def test_a_place_outside_the_text_has_no_excerpt(line: int) -> None:
    assert excerpt(["a", "b"], Span("x", line, 1, line, 2), ROOM) is None


def test_lines_are_counted_as_yaml_counts_them() -> None:
    # YAML 1.1, 5.4: line breaks are CR LF, LF, CR, NEL, LS and PS; a form feed is none.
    assert lines_of("a\r\nb\nc\rd\x85e\u2028f\u2029g\x0ch") == [*"abcdef", "g\x0ch"]


def test_nothing_that_a_terminal_obeys_is_shown_raw() -> None:
    obeyed = [*range(0x20), 0x7F, *range(0x80, 0xA0), 0x200B, 0x202E, 0x2066, 0xFEFF]
    for code in obeyed:
        assert all(each.isprintable() for each in shown(chr(code))), hex(code)
    assert visible("two\nlines and\ta tab") == "two lines and a tab"


@given(st.text(max_size=200), st.integers(1, 220), st.integers(1, 220))
def test_any_line_and_span_give_printable_lines_within_the_room(
    text: str, column: int, end: int
) -> None:
    found = excerpt([text], Span("x", 1, column, 1, end), ROOM)
    assert found is not None
    line, carets = found
    assert all(each.isprintable() or unicodedata.category(each) == "Zs" for each in line)
    assert columns(line) <= ROOM
    assert set(carets.lstrip(" ")) == {"^"}
    assert len(carets) <= ROOM

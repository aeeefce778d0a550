"""Formulas that cannot be read or worked out: the code, the narrow span, and the facts."""

import time
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.measure.errors import MeasureError, MixedKinds
from patternpress.measure.formula import Name, Property, check_name, evaluate, parse
from patternpress.measure.values import Quantity, millimetres

SIZES: dict[Name, Quantity] = {
    "shelf depth": millimetres(80),
    "post width": millimetres(6),
    "x": millimetres(1),
    Property("width", "post"): millimetres(4),
}


def failure(text: str) -> MeasureError:
    with pytest.raises(MeasureError) as caught:
        evaluate(parse(text), SIZES.__getitem__)
    return caught.value


# The second line of each pair points at what must be marked.
ROWS = """
decimal-comma     | 14,5 mm               | write=14.5
                  | ^^^^                  |
decimal-comma     | 1,200 mm              | or=1200
                  | ^^^^^                 |
decimal-comma     | min(3,4)              | apart=3, 4
                  |     ^^^               |
bad-number        | 1.2.3 mm              | text=1.2.3
                  | ^^^^^                 |
bad-number        | 5. mm                 |
                  | ^^                    |
bad-number        | 1-3/8 in              | write=1 3/8
                  | ^^^^^                 |
bad-number        | 1 9/8 in              |
                  | ^^^^^                 |
unknown-character | post.width            | character=.
                  |     ^                 |
unknown-character | post_width            | character=_
                  |     ^                 |
missing-operand   | 2 ** 9                | found=*
                  |    ^                  |
unknown-character | 3 mm ^ 2              |
                  |      ^                |
unknown-unit      | 3 mn                  | near=min, m, mm
                  |   ^^                  |
unknown-unit      | 2 post width          | words=post width
                  |   ^^^^                |
unknown-unit      | 2 x 3 mm              | write=×
                  |   ^                   |
unknown-unit      | 1e5                   |
                  |  ^^                   |
missing-operand   | 3 mm + * 2            | found=*
                  |        ^              |
missing-operand   | ()                    |
                  |  ^                    |
missing-operand   | width of 3            |
                  |          ^            |
missing-operator  | 5 mm 3                | after=5 mm
                  |      ^                |
missing-operator  | 3 mm (x)              |
                  |      ^                |
missing-operator  | (x + x) mm            |
                  |         ^^            |
unexpected        | min(x, x))            |
                  |          ^            |
unclear-division  | x/3/4                 | or=/ 3 / 4
                  |   ^^^                 |
unclear-division  | x / 3/4 in            | write=/ (3/4)
                  |     ^^^               |
missing-bracket   | cos 60                | function=cos
                  |     ^^                |
misplaced-word    | 3 mm + about 2 mm     | found=about
                  |        ^^^^^          |
misplaced-word    | about 2 mm to 3 mm    | found=to
                  |            ^^         |
unexpected        | 3 mm )                |
                  |      ^                |
unexpected        | 3 mm, 4 mm            |
                  |     ^                 |
unknown-name      | 2 * shelf dept        | name=shelf dept
                  |     ^^^^^^^^^^        |
unknown-name      | 3 mm + width of rail  | of=rail
                  |        ^^^^^^^^^^^^^  |
unknown-name      | shelf depth-post width | right=post width
                  | ^^^^^^^^^^^^^^^^^^^^^^ |
unknown-name      | shelf depth-2 mm      | left=shelf depth
                  | ^^^^^^^^^^^^^^^^      |
unknown-name      | width of post-x       | left=width of post
                  | ^^^^^^^^^^^^^^^       |
unknown-property  | wdth of post          | near=width, depth
                  | ^^^^                  |
unknown-function  | sqr(4)                | near=sqrt
                  | ^^^                   |
wrong-count       | 1 + sqrt(4, 9)        | given=2
                  |     ^^^^^^^^^^        |
mixed-kinds       | 3 mm + 4 + 5 mm       | right=number
                  | ^^^^^^^^              |
mixed-kinds       | 1 / 2 in              | right=length
                  | ^^^^^^^^              |
mixed-kinds       | 2 * sin(x)            | left=length
                  |     ^^^^^^            |
mixed-kinds       | 2 + min(3, 4 mm)      |
                  |     ^^^^^^^^^^^^      |
mixed-kinds       | round(x)              |
                  | ^^^^^^^^              |
mixed-kinds       | 3 to x                |
                  | ^^^^^^                |
divided-by-zero   | 3 mm / (x - 1 mm) + x |
                  | ^^^^^^^^^^^^^^^^^     |
divided-by-zero   | 2 + 3/0               |
                  |     ^^^               |
negative-root     | sqrt(3 - 4)           |
                  | ^^^^^^^^^^^           |
out-of-range      | asin(3/2)             |
                  | ^^^^^^^^^             |
no-tangent        | tan(90 deg)           |
                  | ^^^^^^^^^^^           |
range-order       | 5 to 3 mm             |
                  | ^^^^^^^^^             |
"""


def rows() -> list[tuple[str, str, str | None, str]]:
    """Code, text, the marked part (or None), the fact."""
    cut = [
        [cell.strip() if place != 1 else cell for place, cell in enumerate(line.split("|"))]
        for line in ROWS.strip().splitlines()
    ]
    found: list[tuple[str, str, str | None, str]] = []
    for row, below in zip(cut, [*cut[1:], ["end", "", ""]], strict=True):
        if row[0]:
            marks = below[1] if not below[0] else None
            found.append((row[0], row[1][1:].rstrip(), marks and marks[1:].rstrip(), row[2]))
    return found


@pytest.mark.parametrize(("code", "text", "marks", "fact"), rows())
def test_a_fault_is_named_and_marked(code: str, text: str, marks: str | None, fact: str) -> None:
    error = failure(text)
    assert error.code == code
    if marks is not None:
        assert " " * error.start + "^" * (error.end - error.start) == marks
    if fact:
        name, told = fact.split("=", 1)
        assert error.facts[name] == told


def test_an_empty_formula_and_one_cut_short_point_at_their_end() -> None:
    for text in ("", "   ", "3 mm +", "half of", "width of", "min(3 mm,"):
        error = failure(text)
        assert (error.code, error.start, error.end) == ("missing-operand", len(text), len(text))


def test_an_open_bracket_says_where_it_was_opened() -> None:
    error = failure("2 * (x + 3 mm")
    assert (error.code, error.start, error.facts["opened"]) == ("missing-bracket", 13, "4")


def test_mixed_kinds_is_its_own_class() -> None:
    assert isinstance(failure("3 mm + 4"), MixedKinds)


def test_limits_of_text_and_nesting() -> None:
    assert parse("1" + "+1" * 199).low.end == 399
    long = "1" + "+1" * 200
    error = failure(long)
    assert (error.code, error.start, error.end) == ("too-long", 400, 401)
    assert evaluate(parse("(" * 39 + "7" + ")" * 39), SIZES.__getitem__).low.value == 7
    for deep in ("(" * 40 + "7" + ")" * 40, "-" * 41 + "7", "half " * 41 + "x", "sqrt(" * 50):
        assert failure(deep).code == "too-deep"


@pytest.mark.parametrize(
    "text",
    [
        "9" * 61,
        "9" * 400,
        "9" * 50 + "*" + "9" * 50,
        "*".join(["999999"] * 40),
        "1/" + " / ".join(["999999"] * 40),
        "+".join(f"1/{n}" for n in range(9901, 9957)),
        "sqrt(" + "7" * 59 + ")",
    ],
)
def test_a_hostile_sum_is_refused_at_once(text: str) -> None:
    before = time.perf_counter()
    assert failure(text).code == "too-large"
    assert time.perf_counter() - before < 2


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("min gap", "reserved-word"),
        ("half round", "reserved-word"),
        ("width of post", "reserved-word"),
        ("up to here", "reserved-word"),
        ("mm", "unit"),
        ("H", "unit"),
        ("2 posts", "form"),
        ("shelf  depth", "form"),
        (" shelf", "form"),
        ("shelf-", "form"),
        ("", "form"),
        ("shelf 2/3", "form"),
        ("a + b", "form"),
        ("post_width", "unknown-character"),
        ("1,5", "decimal-comma"),
    ],
)
def test_a_bad_name_says_why(name: str, why: str) -> None:
    with pytest.raises(MeasureError) as caught:
        check_name(name)
    assert (caught.value.code, caught.value.facts["why"]) == ("bad-name", why)


scraps = st.lists(
    st.sampled_from(
        [
            "3",
            " ",
            "1/2",
            "mm",
            " in",
            "½",
            "x",
            "shelf depth",
            "(",
            ")",
            "+",
            "-",
            "*",
            "/",
            ",",
            "min(",
            "sqrt(",
            "tan(",
            "round up",
            "half ",
            " of ",
            "a third",
            " to ",
            "about ",
            "width",
            "at most ",
            "'",
            '"',
            "°",
            ".5",
            "0",
            "post-",
            "\n",
            "é",
            "\0",
            "１",
            "²",
            "💥",
        ]
    ),
    max_size=30,
).map("".join)


@given(st.one_of(scraps, st.text(max_size=60)))
def test_no_text_brings_anything_but_a_measure_or_a_placed_error(text: str) -> None:
    try:
        measure = evaluate(parse(text), SIZES.__getitem__)
    except MeasureError as error:
        assert 0 <= error.start <= error.end <= len(text)
        assert error.code == error.code.lower()
    else:
        assert isinstance(measure.low.value, Fraction)

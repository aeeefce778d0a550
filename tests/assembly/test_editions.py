"""Each edition with everything filled in, and what is wrong with some."""

from fractions import Fraction

import pytest

from patternpress.assembly.editions import Published, edition_names, published
from tests.assembly.trays import design, problems, worked


def editions(text: str, top: str = "") -> dict[str, Published]:
    of = worked(design(**({"editions": text} if text else {})) + top)
    return {name: published(of.book, name) for name in edition_names(of.book)}


def test_a_design_without_editions_has_the_three_usual_ones() -> None:
    found = editions("")
    shown = {name: (each.units, each.paper) for name, each in found.items()}
    assert shown == {"metric": ("mm", "A4"), "inch": ("in", "Letter"), "both": ("both", "A4")}
    assert {each.language for each in found.values()} == {"en"}
    assert {(each.mm_step, each.denominator, each.scale) for each in found.values()} == {
        (Fraction(1, 10), 64, Fraction(1))
    }


def test_an_edition_says_only_what_differs_from_the_one_that_it_starts_from() -> None:
    text = """
  plain: {units: in, paper: Letter, fraction: 1/32 in}
  large: {like: plain, letters: large, ink: saving}
  larger: {like: large, paper: A4, mm step: 0.5 mm}
"""
    larger = editions(text, "scale: 1:6\n")["larger"]
    assert (larger.units, larger.paper, larger.letters, larger.ink) == (
        "in",
        "A4",
        "large",
        "saving",
    )
    assert (larger.denominator, larger.mm_step) == (32, Fraction(1, 2))
    assert larger.scale == Fraction(1, 6)


@pytest.mark.parametrize(
    ("own", "units", "first", "second"),
    [
        ("mm", "mm", "mm", None),
        ("mm", "in", "in", None),
        ("mm", "both", "mm", "in"),
        ("in", "both", "in", "mm"),
        ("in", "in", "in", None),
    ],
)
def test_the_designs_own_system_leads_where_both_are_shown(
    own: str, units: str, first: str, second: str | None
) -> None:
    found = editions(f"\n  one: {{units: {units}}}", f"units: {own}\n")["one"]
    assert (found.display.first, found.display.second) == (first, second)


def test_an_unknown_edition_is_a_key_error() -> None:
    book = worked(design()).book
    with pytest.raises(KeyError):
        published(book, "metrik")


def test_editions_in_a_ring_are_told_and_still_end() -> None:
    text = design(
        editions="\n  one: {like: two}\n  two: {like: one, units: in}\n  own: {like: own}"
    )
    assert [each.code for each in problems(text)] == ["edition-unknown"] * 3
    assert published(worked(text).book, "one").units == "in"


@pytest.mark.parametrize(
    ("field", "code"),
    [
        ("mm step: 0.25 mm", None),
        ("mm step: 1/8 mm", None),
        ("mm step: 1/3 mm", "step-not-decimal"),
        ("mm step: 1 in / 7", "step-not-decimal"),
        ("mm step: 2 deg", "wrong-kind"),
        ("mm step: 0 mm", "wrong-kind"),
        ("fraction: 1/64 in", None),
        ("fraction: 1/3 in", "not-a-word"),
        ("fraction: 1/128 in", "not-a-word"),
        ("fraction: 2 mm", "not-a-word"),
        ("language: de", "not-a-word"),
        ("units: yards", "not-a-word"),
    ],
)
def test_only_what_can_be_printed_is_taken(field: str, code: str | None) -> None:
    found = [each.code for each in problems(design(editions=f"\n  one: {{{field}}}"))]
    assert found == ([code] if code else [])


def test_a_language_that_nobody_knows_how_to_print_is_told() -> None:
    found = problems(design(languages="en, xx"))
    assert "language-unknown" in [each.code for each in found]


# ------------------------------------------------------------------ figures that round by chance

ROOTS = "\n  width: 12.125 mm * sqrt(2) * sqrt(2)"


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ("{units: mm}", True),  # 24.25 lies between 24.2 and 24.3
        ("{units: mm, mm step: 0.25 mm}", False),
        ("{units: mm, mm step: 0.5 mm}", True),  # and between 24 and 24.5
        ("{units: in}", False),
        ("{units: both}", True),
    ],
)
def test_a_figure_in_the_middle_of_two_is_told_for_the_edition_that_shows_it(
    fields: str, told: bool
) -> None:
    text = design(
        sizes=ROOTS,
        parts="\n  base: {stock: board, wide: width, deep: 30 mm}",
        editions=f"\n  one: {fields}",
    )
    found = [each for each in problems(text) if each.code == "uncertain-figure"]
    assert len(found) == told
    if told:
        assert found[0].span.column == ROOTS.index("12") - ROOTS.index("width") + 3
        assert "in the edition “one”" in found[0].what


def test_the_middle_of_an_inch_fraction_is_found_as_well() -> None:
    """127/1280 in of 25.4 mm is 1/128 in: half way between nothing and 1/64 in."""
    sizes = "\n  gap: (127/1280) * 1 mm * sqrt(2) * sqrt(2) + 25.4 mm"
    text = design(sizes=sizes, keep="gap", editions="\n  one: {units: in}")
    assert [each.code for each in problems(text)] == ["uncertain-figure"]


@pytest.mark.parametrize(
    "sections",
    [
        {"openings": "\n  gap: {wide: 12.125 mm * sqrt(2) * sqrt(2)}"},
        {"overall": "485/4 mm * sqrt(2) * sqrt(2) / 10 x 3 mm x 4 mm"},
        {"steps": "\n  - step: x\n    start: base\n    takes: 0.125 min * sqrt(2) * sqrt(2)"},
    ],
)
def test_every_printed_figure_is_looked_at(sections: dict[str, str]) -> None:
    found = problems(design(**sections))
    assert "uncertain-figure" in [each.code for each in found]


def test_exact_ties_are_no_fault_because_they_go_to_the_even_step() -> None:
    text = design(sizes="\n  width: 24.25 mm", keep="width")
    assert problems(text) == ()


def test_a_figure_at_full_size_is_looked_at_too() -> None:
    """At 1:12 the model is 1/24 of 24.25 mm wide, which rounds for certain; full size does not."""
    sizes = "\n  width: 12.125 mm * sqrt(2) * sqrt(2) / 12"
    text = design(sizes=sizes, scale="1:12", overall="width x 2 mm x 3 mm")
    found = [each for each in problems(text) if each.code == "uncertain-figure"]
    assert [each.facts["text"] for each in found] == ["width"]

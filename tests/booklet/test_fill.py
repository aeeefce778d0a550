"""The content of a booklet: cautions, needs, times, templates and steps agree with the model.

Signal words: ANSI Z535.6 and ISO 3864-2 (WARNING: could kill or injure seriously; CAUTION: could
injure slightly; NOTICE: property only).  DANGER is for the most extreme situations alone, so a
craft booklet never has it.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from markupsafe import Markup

from patternpress.booklet.content import Caution, Content, Signal, Step
from patternpress.booklet.contentneeds import Material
from patternpress.booklet.fill import content_of
from patternpress.booklet.fillcutting import cutting
from patternpress.booklet.fillneeds import needs, stock_row
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import Wording, wording_of
from patternpress.closing.close import close
from patternpress.cutting.layouts import layouts
from patternpress.design.read import read_design, read_text
from patternpress.drawing.fromparts import template_parts
from tests.whole.demos import DESIGNS
from tests.whole.small import BODY, STEP, TOP, model

WHOLE = TOP + BODY + STEP


def content(text: str = WHOLE, edition: str = "metric") -> Content:
    return content_of(model(text, edition))


def cautions(made: Content) -> list[Caution]:
    beside = [c for group in made.steps for step in group.steps for c in step.cautions]
    return [c for group in made.cautions for c in group.cautions] + beside


def hazards(made: Content) -> str:
    return " ".join(caution.hazard for caution in cautions(made))


def steps(made: Content) -> list[Step]:
    return [step for group in made.steps for step in group.steps]


def material(made: Content, name: str) -> Material:
    rows = (row for group in made.needs.materials for row in group.materials)
    return next(row for row in rows if row.name == name)


def test_no_words_of_the_booklet_say_danger() -> None:
    assert not [key for key, text in read_phrases("en").texts.items() if "danger" in text.lower()]
    assert {signal.name for signal in Signal} == {"WARNING", "CAUTION", "NOTICE"}


@pytest.mark.parametrize(
    ("lines", "hazard", "before"),
    [
        ("uses: fine saw", "Saw teeth", False),
        ("wait: {for: wood glue, until: hard}", "Glue sticks", False),
    ],
)
def test_a_caution_comes_with_its_tool(lines: str, hazard: str, before: bool) -> None:
    bare = WHOLE.replace("cut with: fine saw, kerf: 0.3 mm", "kerf: 0.3 mm")
    assert hazard in hazards(content(f"{bare}    {lines}\n"))
    assert (hazard in hazards(content(bare))) is before


def test_eyes_are_guarded_when_something_is_drilled() -> None:
    text = WHOLE.replace(
        "    holes:\n      pin hole: {round: 1 mm, at: 5 mm from front and 5 mm from top}\n", ""
    )
    assert "drill" in hazards(content())
    assert "drill" not in hazards(content(text))


def test_dust_is_always_named() -> None:
    told = {caution.hazard: caution.signal for caution in cautions(content())}
    assert told["Wood dust is harmful to breathe in."] is Signal.WARNING


def test_small_parts_are_named_where_there_are_some() -> None:
    small = "Many of the pieces are very small."
    told = {caution.hazard: caution.signal for caution in cautions(content())}
    assert told[small] is Signal.WARNING
    large = WHOLE.replace("  knob: {stock: pin}\n", "").replace("high: 30 mm", "high: 40 mm")
    assert "Some pieces and fittings are small." in hazards(content(large))  # 4 slats of 9 pieces
    large = large.replace("  slat: {stock: strip, wide: 20 mm, quantity: 4}\n", "")
    assert small not in hazards(content(large))


def test_a_part_says_once_which_other_it_is_taken_for() -> None:
    text = WHOLE.replace("  knob:", "  floor: {stock: board, wide: 75 mm, deep: 37 mm}\n  knob:")
    notes = {row.name: row.note for group in content(text).cutting for row in group.rows}
    assert notes["floor"] == "Looks like the shelf (C): write the letter on it."
    assert notes["shelf"].startswith("Looks like the floor (E): write the letter on it.")
    assert notes["base"].count("Looks like") == 1
    assert "Looks like" not in notes["side"] + notes["rail"]


def test_a_caution_of_a_step_is_a_notice_for_it_says_nothing_of_injury() -> None:
    made = content(WHOLE + "    caution: The legs break off easily.\n")
    (notice,) = [c for c in cautions(made) if c.hazard == "The legs break off easily."]
    assert notice.signal is Signal.NOTICE


@pytest.mark.parametrize("word", ["warning", "caution", "notice"])
def test_the_authors_own_caution_keeps_its_word(word: str) -> None:
    said = f"cautions:\n  - {{word: {word}, hazard: The trap is sharp., result: It cuts.}}\n"
    (own,) = [c for c in cautions(content(said + WHOLE)) if c.hazard == "The trap is sharp."]
    assert own.signal.value == word
    assert own.consequence == "It cuts."


def test_every_part_that_is_cut_names_its_stock_letters_once() -> None:
    made = content()
    letters = [
        letter
        for group in made.needs.materials
        for row in group.materials
        for letter in row.letters.split(", ")
        if letter
    ]
    assert sorted(letters) == sorted(part.letter for part in model().worked.parts)


def test_how_much_to_buy() -> None:
    made = content()
    assert material(made, "board").quantity == "1 sheet"
    assert material(made, "strip").quantity == "1 length"
    assert material(made, "a brass pin").quantity == "1, sold in packs of 10"


def test_what_is_left_on_for_sanding_is_bought_as_well() -> None:
    tight = WHOLE.replace("sold: 600 mm,", "sold: 232.9 mm,")  # 2 × 76 + 4 × 20 + 3 × 0.3
    assert material(content(tight), "strip").quantity == "2 lengths"
    exact = tight.replace("232.9", "233.5")  # six pieces, five cuts
    assert material(content(exact), "strip").quantity == "1 length"
    more = exact.replace("sold: 233.5 mm,", "sold: 233.5 mm, allowance: 0.2 mm,")
    assert material(content(more), "strip").quantity == "2 lengths"


def test_a_bit_in_the_leading_system_and_what_stands_for_it() -> None:
    (bit,) = content(edition="metric").needs.bits
    assert bit.size == "1 mm"
    assert bit.purpose == "pin hole in each side (B)"
    (inch,) = content(edition="inch").needs.bits
    # No. 61 is 0.0390 in, 3/64 in is 0.0469 in; 1 mm is 0.0394 in (ASME B94.11M).
    assert "1 mm" in inch.alternative
    assert inch.size.endswith(("in", "61"))


def test_pieces_to_cut_are_counted_without_what_is_bought() -> None:
    facts = {str(fact.label): fact.value for fact in content().making.facts}
    cut = sum(part.quantity for part in model().worked.parts if part.form != "bought")
    assert facts["Pieces to cut"] == str(cut)


def test_a_full_size_piece_is_no_miniature_and_no_toy_is_not_said_of_it() -> None:
    full = content(WHOLE.replace("scale: 1:12\n", ""))
    assert full.cover.scale == "Full size"
    assert not [each for each in full.imprint.statements if "toy" in each]
    assert [each for each in content().imprint.statements if "not a toy" in each]


def test_the_finished_size_and_its_full_scale() -> None:
    joins = (
        "    start: base\n"
        "    join: {shelf: {top: against base, left: flush with base, front: flush with base}}\n"
    )
    made = content(WHOLE.replace("builds: frame", "tip: x") + joins)
    facts = {fact.label: fact.value for fact in made.making.facts}
    shown = {key: Markup(value).striptags().replace("\u00a0", " ") for key, value in facts.items()}
    assert shown["Finished size"] == "80 × 40 × 4 mm"
    assert shown["At full scale"] == "960 × 480 × 48 mm"


@pytest.mark.parametrize("design", ["keepers-desk", "signal-shelf"])
def test_who_multiplies_the_printed_size_comes_to_the_full_scale(design: str) -> None:
    """In either system: 12 × 3 3/8 in is 40 1/2 in, and 12 × 86 mm is 1032 mm."""
    made = close(read_design(DESIGNS / f"{design}.yaml"), "both").model
    facts = {fact.label: Markup(fact.value).striptags() for fact in content_of(made).making.facts}
    finished, full = (
        [sum(map(Fraction, size.split())) for size in re.findall(r"[\d./]+(?: \d+/\d+)?", said)]
        for said in (
            plain_words(facts["Finished size"]),
            plain_words(facts["At full scale"]),
        )
    )
    assert len(full) == 6
    assert full == [12 * each for each in finished]


def test_brought_pieces_are_counted_over_all_steps() -> None:
    joins = (
        "    join:\n"
        "      left side: {right: against base}\n"
        "      right side: {left: against base}\n"
        "      shelf: {left: against left side}\n"
        "      slat: {left: against base, row: {toward: right, every: 8 mm}}\n"
    )
    (step,) = steps(content(WHOLE + joins))
    brought = {piece.letter: piece.quantity for piece in step.brought}
    assert brought == {"B": 2, "C": 1, "F": 4}
    # Each with its name and its size, as the line of text prints them.
    (shelf,) = [each for each in step.brought if each.letter == "C"]
    size = Markup(shelf.size).striptags().replace("\u00a0", " ")
    assert (shelf.name, size) == ("shelf", "76 × 36 × 2 mm")


def test_both_hands_of_a_part_are_drawn_only_where_they_differ() -> None:
    """A side with a mark on one face has two hands; one without is turned over and is the same."""

    def quantities(text: str) -> tuple[int, int]:
        made = model(text)
        parts = template_parts(made.worked, made.edition, lambda part, twin: ())
        side = next(part for part in parts if part.name == "side")
        return side.quantity, side.twins

    one = WHOLE.replace("    high: 30 mm\n", "    high: 30 mm\n    template: yes\n")
    handed = one.replace("of left side, line", "of left side and left of right side, line")
    plain = one.replace("{on: right of left side, line", "{on: top of base, line").replace(
        "12 mm from bottom", "12 mm from left"
    )
    assert quantities(handed) == (1, 1)
    assert quantities(one) == (2, 0)
    assert quantities(plain) == (2, 0)


def test_every_template_letter_is_on_one_page() -> None:
    made = content()
    letters = [letter for page in made.templates for letter in page.letters.split(", ")]
    named = model().worked.templates
    assert sorted(letters) == sorted(p.letter for p in model().worked.parts if p.name in named)


def test_without_a_date_none_is_printed() -> None:
    assert content(WHOLE.replace("date: 2026-11-25\n", "")).cover.date == ""
    assert content().cover.date == "25 November 2026"


def test_how_templates_are_used_says_to_prick_marks_and_to_peel_the_paper_off() -> None:
    notes = " ".join(content().printing.notes)
    assert "Prick marks through the paper first. Peel the paper off before you mark" in notes


def test_the_sum_is_written_as_the_language_writes_money() -> None:
    """Amounts after CLDR: the sign in front in English, behind with a decimal comma in German."""
    text = WHOLE.replace("sold: 100 x 600 mm,", "sold: 100 x 600 mm, price: 1230 EUR,", 1)
    text = text.replace("pack: 10", "pack: 10, price: 2 EUR", 1).replace(
        "sold: 600 mm", "sold: 600 mm, price: 2.50 EUR", 1
    )
    assert content().needs.costs == ()
    said = content(text).needs.costs
    assert said[0] == "Together about €1,234.50, at the designer’s prices."
    assert len(said) == 1
    made = model(text, "metric")
    german = replace(made.edition, language="de")
    wording = Wording(replace(made, edition=german), read_phrases("de"))
    assert "1.234,50\N{NO-BREAK SPACE}€" in needs(wording, layouts(made)).costs[0]


def test_figures_of_the_second_system_have_a_line_of_their_own_in_the_cutting_list() -> None:
    text = WHOLE + "editions:\n  both: {units: both, paper: A4}\n"
    rows = [row for group in content(text, "both").cutting for row in group.rows]
    lines = [re.sub("<(?!br)[^>]+>", "", row.length).split(" <br>") for row in rows]
    assert all(len(each) == 2 for each in lines)
    assert all(re.fullmatch(r"[\d.]+( × [\d.]+){1,2}&nbsp;mm", first) for first, _ in lines)
    assert all(re.fullmatch(r"\(.+&nbsp;in\)", second) for _, second in lines)


def test_a_template_names_a_drill_only_for_holes_that_are_bored() -> None:
    sawn = "treat: [{drill: pin hole of side, with: fine saw}]"
    bored = sawn.replace("fine saw", "block")
    told = {}
    for said in (sawn, bored):
        text = TOP + BODY.replace("high: 30 mm\n", "high: 30 mm\n    template: yes\n")
        made = content(text + STEP + f"    {said}\n")
        told[said] = [sheet.picture for sheet in made.templates if "drill 1 mm" in sheet.picture]
    assert told[sawn] == []
    assert told[bored]


def test_what_cautions_ask_to_wear_is_on_the_list_of_tools() -> None:
    drilled = content(WHOLE + "    treat: [{drill: pin hole of side, with: block}]\n")
    named = [str(tool.name) for tool in drilled.needs.tools]
    assert "eye protection" in named
    assert "glue stick and pin" in named  # the base has a template
    assert "gloves" not in named  # nothing is dyed
    own = WHOLE.replace("  block:\n", "  block:\n  good eye protection:\n")
    mine = content(own + "    treat: [{drill: pin hole of side, with: block}]\n")
    assert "eye protection" not in [str(tool.name) for tool in mine.needs.tools]


def test_an_outline_that_leaves_less_than_its_blank_says_what_it_comes_to() -> None:
    """Ends that widen by 8 degrees a side up to the top are cut off before it: worked out by
    hand, 170 + 2 * 161.3 * tan 8 degrees is about 215 mm, where the blank is 240.5 mm wide.
    """
    text = (DESIGNS / "net-tote.yaml").read_text("utf-8")
    drawn = text[
        text.index("    symmetrical: front to back") : text.index("    holes:\n      rod hole")
    ]
    tapered = """
    ends: {front: 'side lean, longest at top', back: 'side lean, longest at top'}
    corners: {top front: cut off 80.25 x 90 mm, top back: cut off 80.25 x 90 mm}
"""
    text = text.replace(drawn, tapered.lstrip("\n"))
    text = text.replace("deep: end depth", "deep: end foot + 2 * end height * tan(side lean)")
    text = text.replace("{back: against left end", "{back: against front edge of left end")
    text = text.replace("{front: against left end", "{front: against back edge of left end")
    tote = close(read_text(text, "net-tote.yaml", DESIGNS), "metric").model
    rows = [row for group in cutting(wording_of(tote)) for row in group.rows]
    told = {row.letter: row.note for row in rows if "Its outline comes to" in row.note}
    assert list(told) == ["A"]
    wide = re.search(r"250 × ([\d.]+)", told["A"])
    assert wide is not None
    assert float(wide[1]) == pytest.approx(215.4, abs=0.6)


@pytest.mark.parametrize(("sold", "buy"), [(", sold: 100 x 600 mm", False), ("", True)])
def test_what_is_sold_in_no_known_size_is_bought_by_the_list(sold: str, buy: bool) -> None:
    """Its column was empty, as though none were needed."""
    text = WHOLE.replace("board: {sheet: 2 mm, sold: 100 x 600 mm", f"board: {{sheet: 2 mm{sold}")
    made = model(text)
    wording = Wording(made, read_phrases("en"))
    stock = next(each for each in made.worked.book.stock if each.name.value == "board")
    parts = [each for each in made.worked.parts if each.stock is stock]
    laid = {each.job.stock.name.value: each for each in layouts(made)}
    layout = laid.get("board")
    assert (layout is None) is buy
    told = str(stock_row(stock, parts, layout, wording).quantity.striptags())
    assert told
    assert ("cutting list" in told) is buy


def test_sheets_without_grain_are_not_called_wood() -> None:
    plain = content().needs.materials[0].heading
    sheet = WHOLE.replace("board: {sheet: 2 mm,", "board: {sheet: 2 mm, grain: none,", 1)
    assert (plain, content(sheet).needs.materials[0].heading) == ("Wood", "Wood and other sheets")

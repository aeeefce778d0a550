"""Names in the language of an edition: none of the author's own is printed where there is another.

Every name of a demo is called by a word that no language has, so whatever is still printed under
its own name was forgotten by what prints it.
"""

from __future__ import annotations

import json
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from markupsafe import Markup

from patternpress.assembly.calls import Calls, calls_of, missing_names
from patternpress.assembly.facts import facts
from patternpress.assembly.model import Model, work_out
from patternpress.booklet import fill
from patternpress.booklet.cutfiles import cut_files
from patternpress.booklet.fill import content_of
from patternpress.booklet.fillfinished import Finished
from patternpress.booklet.lists import as_csv, as_text
from patternpress.booklet.wording import Wording, wording_of
from patternpress.design.read import read_design, read_text
from patternpress.design.records.called import Called
from patternpress.design.span import Said
from tests.booklet.test_languages import texts
from tests.booklet.test_marked import tray
from tests.closing.test_close import box
from tests.whole.demos import DESIGNS
from tests.whole.small import BODY, STEP, TOP, model

INVENTED = "zqx"


@cache
def renamed(design: str) -> tuple[Model, frozenset[str]]:
    """A demo in German whose names are all invented, and its own names."""
    made = work_out(read_design(DESIGNS / f"{design}.yaml"), "metric")
    book, names = made.worked.book, made.worked.names
    own = {each.name for each in missing_names(replace(book, names=()), names, "de")}
    called = tuple(
        (Said(name), Called(one=Said(f"{INVENTED}{n}"))) for n, name in enumerate(sorted(own))
    )
    edition = replace(made.edition, language="de")
    worked = replace(made.worked, book=replace(book, names=((Said("de"), called),)))
    return replace(made, edition=edition, worked=worked), frozenset(own)


def printed(text: str) -> str:
    """What is read of a text: of drawings their letters and titles, never their marks."""
    letters = re.findall(r"<(?:text|title|tspan)[^>]*>([^<]*)", text)
    return " ".join(letters) if "<svg" in text else str(Markup(text).striptags())


@pytest.mark.parametrize("design", ["signal-shelf", "keepers-desk"])
def test_nothing_is_printed_under_its_own_name(
    design: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    made, own = renamed(design)
    monkeypatch.setattr(Wording, "prose", lambda self, prose: Markup("…"))
    monkeypatch.setattr(Wording, "paragraphs", lambda self, prose: ())
    monkeypatch.setattr(fill, "finished_pictures", lambda place: Finished())
    if design != "keepers-desk":  # one design's pictures say all that pictures say, and cost time
        monkeypatch.setattr(fill, "step_figures", lambda place: {})
    found = [printed(each) for each in texts(content_of(made), whole=True)]
    wording = wording_of(made)
    found += [as_text(wording), as_csv(wording), *(name for name, _ in cut_files(made))]
    left = {
        name
        for name in own
        for text in found
        if re.search(rf"(?<![\w’-]){re.escape(name)}(?![\w-])", text)
    }
    # A name that is a German word, or the word of one of ours, is no sign of anything.
    assert left - {"ring", "port", "back", "end", "glass", "rail"} == set()
    assert sum(INVENTED in each for each in found) > 100


def test_the_facts_tell_both_names_and_keep_their_keys_by_the_authors() -> None:
    made, own = renamed("signal-shelf")
    part = next(each for each in facts(made)["parts"] if each["name"] == "backboard")
    assert part["called"].startswith(INVENTED)
    assert {hole["name"] for hole in part["shape"]["holes"]} <= own
    assert "called" not in json.dumps(facts(model()))


# ------------------------------------------------------------------ how a name is found


def calls(language: str, own: str = "en") -> Calls:
    peg = Called(one=Said("Stift"), several=Said("Stifte"))
    return Calls(language, own, {"peg": peg, "slat": Called(one=Said("Latte"))})


def test_a_counted_piece_takes_the_name_of_its_fellows() -> None:
    assert calls("de").one("slat 3") == "Latte 3"
    assert calls("de").knows("slat 3")
    assert calls("de").one("shelf 3") == "shelf 3"
    assert not calls("de").knows("shelf 3")


@pytest.mark.parametrize(
    ("language", "own", "name", "several"),
    [
        ("de", "en", "peg", "Stifte"),
        ("de", "en", "slat", "Latte"),  # German plurals cannot be made by rule
        ("en", "en", "box", "boxes"),
        ("en-GB", "en", "key", "keys"),
        ("en", "de", "Stab", "Stab"),
    ],
)
def test_several_are_called_as_the_language_calls_them(
    language: str, own: str, name: str, several: str
) -> None:
    assert calls(language, own).several(name) == several


def test_a_design_comes_before_the_file_it_shares_and_a_region_before_its_language() -> None:
    text = box().sources[0][1] + "languages: [en, de]\n"
    text += "names: {de: {side: Seite}, de-AT: {side: Flanke}}\n"
    book = read_text(text, "box.yaml", Path()).book
    assert book is not None
    shared = (Said("de"), ((Said("side"), Called(one=Said("Wand"))),))
    book = replace(book, names=(*book.names, shared))
    assert calls_of(book, "de").one("side") == "Seite"
    assert calls_of(book, "de-AT").one("side") == "Flanke"
    assert calls_of(book, "fr").one("side") == "side"


# ------------------------------------------------------------------ what is missing


def test_a_name_that_the_language_lacks_is_marked_and_told() -> None:
    made = model(TOP + "languages: en, de\nnames: {de: {base: Boden}}\n" + BODY + STEP)
    wording = wording_of(replace(made, edition=replace(made.edition, language="de")))
    assert wording.thing("base") == "Boden (A)"
    assert wording.thing("shelf") == '<span class="theirs" lang="en">shelf</span> (C)'
    missing = [each.name for each in missing_names(made.worked.book, made.worked.names, "de")]
    assert "base" not in missing
    # Once each; what is counted goes with its part, and choices are printed as their question.
    assert [each for each in missing if each.startswith(("slat", "shelf", "finish"))] == [
        "shelf",
        "slat",
        "shelf line",
    ]


def test_the_first_page_says_that_names_are_missing_as_well() -> None:
    whole = tray("{en: Keep it square., fr: Gardez l’équerre.}")
    lacking = whole.sources[0][1].replace("floor: plancher, ", "")
    for reading, told in ((whole, False), (read_text(lacking, "box.yaml", Path()), True)):
        found = [str(each) for each in texts(content_of(work_out(reading, "français")).making)]
        assert any("n’est pas encore traduit" in each for each in found) is told


def test_an_outcome_may_speak_of_things_in_every_language() -> None:
    lines = "check: {try: Look., if: {it lies on <base>: Go on.}}"
    names = (
        "languages: en, de\nnames: {de: {base: Boden, it lies on <base>: es liegt auf <base>}}\n"
    )
    indented = "".join(f"    {line}\n" for line in lines.splitlines())
    made = model(TOP + names + BODY + STEP + indented)
    wording = wording_of(replace(made, edition=replace(made.edition, language="de")))
    assert wording.label("it lies on <base>") == "es liegt auf Boden (A)"

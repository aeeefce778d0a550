"""A design that asks too much of a page is printed soundly in both themes: long names,
large quantities, many rows, a step of many pieces.  The design is that of `torture.py`."""

from __future__ import annotations

import io
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import pdfplumber
import pikepdf
import pypdfium2
import pytest

from patternpress.assembly.model import work_out
from patternpress.booklet.build import press_model
from patternpress.proof.prove import prove
from patternpress.proof.telling import as_text
from tests.whole import pagechecks as checks
from tests.whole import pageink as ink
from tests.whole import pagetags as tags
from tests.whole import small, torture


@dataclass(frozen=True)
class Tried:
    """The tortured booklet in one theme."""

    theme: str
    pdf: bytes
    pages: tuple[Any, ...]


@pytest.fixture(scope="module", params=[("long", "quay"), ("tall", "rod")], ids=str)
def tried(request: pytest.FixtureRequest) -> Tried:
    return _pressed(*request.param)


@cache
def _pressed(edition: str, theme: str) -> Tried:
    model = work_out(small.read(torture.design()), edition)
    pdf = press_model(replace(model, edition=replace(model.edition, theme=theme))).pdf
    return Tried(theme, pdf, tuple(pdfplumber.open(io.BytesIO(pdf)).pages))


def test_the_design_is_a_sound_one() -> None:
    assert small.errors(small.read(torture.design())) == ()
    assert min(map(len, torture.rails())) >= 60


def test_the_booklet_is_sound(tried: Tried) -> None:
    report = prove(tried.pdf)
    assert report.sound, as_text(report)


def test_nothing_is_outside_the_live_area(tried: Tried) -> None:
    found = {p.page_number: [*checks.outside(p)] for p in tried.pages}
    assert {n: told for n, told in found.items() if told} == {}


def test_words_are_whole_and_nothing_runs_through_them(tried: Tried) -> None:
    pages = pypdfium2.PdfDocument(tried.pdf)
    found = {}
    for number in range(len(pages)):
        inked = ink.look(pages[number])
        found[number + 1] = [*ink.crossed(inked), *ink.broken(inked)]
    assert {number: told for number, told in found.items() if told} == {}


def test_no_letter_stands_on_another(tried: Tried) -> None:
    found = {p.page_number: [*checks.on_another(p.chars)] for p in tried.pages}
    assert {n: told for n, told in found.items() if told} == {}


def test_no_heading_stands_alone(tried: Tried) -> None:
    with pikepdf.open(io.BytesIO(tried.pdf)) as pdf:
        assert [*tags.headings_alone(tags.elements(pdf))] == []


def test_the_cutting_list_repeats_its_head(tried: Tried) -> None:
    texts = {p.page_number: p.extract_text() for p in tried.pages}
    listed = [text for text in texts.values() if text.count("along the length") > 1]
    assert len(listed) >= (2 if tried.theme == "quay" else 1), "the thin one may hold it on a page"
    for text in listed:
        assert "Length × width × thickness" in text


def test_a_large_quantity_is_said_in_packs(tried: Tried) -> None:
    text = "".join(p.extract_text() for p in tried.pages)
    assert f"{torture.PINS}" in text

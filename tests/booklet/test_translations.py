"""Every demo design in three languages from its one file: nothing missing, articles with names."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.assembly.articles import ARTICLES
from patternpress.assembly.calls import PRINTED, calls_of
from patternpress.assembly.model import Model, check, work_out
from patternpress.design.names import LABEL
from patternpress.design.read import read_design
from tests.whole.demos import designs, translations

LANGUAGES = ["de", "en", "fr"]
# Woods stand alone in lists; answers and outcomes are no nouns.
WITHOUT = {"answer", LABEL}


def made(design: Path, language: str) -> Model:
    book = read_design(design).book
    assert book is not None
    names = {tag: name for name, tag in translations(book).items()}
    model = work_out(read_design(design), names[language])
    assert isinstance(model, Model)
    return model


@pytest.mark.parametrize("design", designs(), ids=lambda path: path.stem)
def test_a_demo_has_an_edition_in_each_language_that_lacks_nothing(design: Path) -> None:
    book = read_design(design).book
    assert book is not None
    assert sorted(each.value for each in book.languages) == LANGUAGES
    assert sorted(translations(book).values()) == ["de", "fr"]
    found = check(read_design(design), places=False)
    assert [each.code for each in found if "missing" in each.code] == []


@pytest.mark.parametrize("language", ["de", "fr"])
@pytest.mark.parametrize("design", designs(), ids=lambda path: path.stem)
def test_every_name_comes_with_its_article(design: Path, language: str) -> None:
    model = made(design, language)
    calls = calls_of(model.worked.book, language)
    every = [each for each in model.worked.names.of_kind(*PRINTED) if each.kind not in WITHOUT]
    woods = {each.wood.value for each in model.worked.book.stock if each.wood}
    bare = {
        each.name
        for each in every
        if each.name not in woods
        and not calls.given(each.name).startswith(tuple(ARTICLES[language]))
    }
    assert bare == set()
    assert len(every) > 30

"""Every kind of problem can be explained, and its page has the shape that makers know."""

import importlib
import pkgutil
import string

import pytest

import patternpress
from patternpress.design.problem import Kind
from patternpress.desk.kinds import by_code, families


def every_kind() -> set[type[Kind]]:
    """All kinds defined anywhere in the package."""
    for module in pkgutil.walk_packages(patternpress.__path__, "patternpress."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    return set(Kind.__subclasses__())


def test_every_kind_belongs_to_a_family() -> None:
    assert every_kind() == set(by_code().values())


def test_no_two_kinds_share_a_code() -> None:
    assert len(by_code()) == sum(len(kinds) for _, kinds in families())


@pytest.mark.parametrize("code", by_code())
def test_a_page_says_what_why_and_how_to_mend(code: str) -> None:
    kind = by_code()[code]
    opening, *rest = kind.page().split("\n\n")
    assert opening.endswith(".")
    assert kind.what
    assert kind.paragraph("At the bench:")
    assert kind.paragraph("To mend:")
    assert all(block.startswith(("At the bench:", "To mend:")) for block in rest)


@pytest.mark.parametrize("code", by_code())
def test_the_words_are_good_templates(code: str) -> None:
    kind = by_code()[code]
    for words in (kind.what, kind.mend):
        fields = [name for _, name, _, _ in string.Formatter().parse(words) if name is not None]
        assert all(name.isidentifier() for name in fields)
    assert not kind.what.endswith(".")

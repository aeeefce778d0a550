"""The booklets that are proved, and those that are spoilt first."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.whole.conftest import booklet, shared
from tests.whole.demos import Built, built, demos

__all__ = ["booklet", "shared"]


def _of(design: str, edition: str, shared: Path) -> Built:
    (demo,) = (each for each in demos() if (each.design.stem, each.edition) == (design, edition))
    return built(demo, shared)


@pytest.fixture(scope="session")
def shelf(shared: Path) -> Built:
    """A booklet with curves, holes, grooves, marks and points."""
    return _of("signal-shelf", "both", shared)


@pytest.fixture(scope="session")
def shelf_in_inches(shared: Path) -> Built:
    """The same design in another edition."""
    return _of("signal-shelf", "inch", shared)


@pytest.fixture(scope="session")
def desk(shared: Path) -> Built:
    """A booklet with a handed pair of templates."""
    return _of("keepers-desk", "metric", shared)


@pytest.fixture(scope="session")
def french(shared: Path) -> Built:
    """A booklet in both systems, in a language that has a word of its own for inches."""
    return _of("keepers-desk", "français", shared)


@pytest.fixture(scope="session")
def tote(shared: Path) -> Built:
    """A booklet with templates on several sheets, one of them a handed pair."""
    return _of("net-tote", "metric", shared)

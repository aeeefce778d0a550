"""The booklets that are proved, and those that are spoilt first."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.whole.demos import Built, Demo, built, demos


@pytest.fixture(scope="session")
def shared(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """The folder that all workers of this session share, with the whole booklets in it."""
    own = tmp_path_factory.getbasetemp()
    return own if worker_id == "master" else own.parent


@pytest.fixture(scope="session", params=demos(), ids=str)
def booklet(request: pytest.FixtureRequest, shared: Path) -> Built:
    """Each edition of each demo design."""
    demo: Demo = request.param
    return built(demo, shared)


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

"""The booklets that the tests of this folder measure."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.whole.demos import Built, Demo, built, demos, thin_demos


@pytest.fixture(scope="session")
def shared(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """A folder that all workers of this session share."""
    own = tmp_path_factory.getbasetemp()
    return own if worker_id == "master" else own.parent


@pytest.fixture(scope="session", params=demos(), ids=str)
def booklet(request: pytest.FixtureRequest, shared: Path) -> Built:
    """Each edition of each demo design."""
    demo: Demo = request.param
    return built(demo, shared)


@pytest.fixture(scope="session", params=[*demos(), *thin_demos()], ids=str)
def looked(request: pytest.FixtureRequest, shared: Path) -> Built:
    """Each edition of each demo design as it asks to look, and three of each in the other theme."""
    demo: Demo = request.param
    return built(demo, shared)

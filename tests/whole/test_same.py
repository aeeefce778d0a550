"""The same design always gives the same bytes, whatever the computer is set to."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.whole.demos import Demo, built, demos

BUILD = """
import sys
from pathlib import Path
from patternpress.booklet.build import build_edition
from patternpress.design.read import read_design
build_edition(read_design(Path(sys.argv[1])), sys.argv[2], Path(sys.argv[3]))
"""
ODD = {
    "PYTHONHASHSEED": "4711",
    "TZ": "Pacific/Kiritimati",  # fourteen hours ahead: often another day
    "LANG": "de_DE.UTF-8",
    "LC_ALL": "de_DE.UTF-8",
    "SOURCE_DATE_EPOCH": "1700000000",
    "COLUMNS": "40",
}
ONE = next((demo for demo in demos() if demo.edition == "both"), demos()[0])


def digests(folder: Path) -> dict[str, str]:
    return {
        path.name: hashlib.sha256(path.read_bytes()).hexdigest()
        for path in folder.iterdir()
        if path.suffix in (".pdf", ".csv", ".txt")
    }


@pytest.mark.parametrize("demo", [ONE], ids=str)
def test_two_processes_give_the_same_bytes(demo: Demo, shared: Path, tmp_path: Path) -> None:
    root = str(Path(__file__).parents[2])
    passing = tmp_path / "passing"
    passing.mkdir()
    subprocess.run(
        [sys.executable, "-c", BUILD, str(demo.design), demo.edition, str(tmp_path / "out")],
        cwd=tmp_path,
        env={**os.environ, **ODD, "PYTHONPATH": root, "TMPDIR": str(passing)},
        check=True,
    )
    here = digests(built(demo, shared).folder)
    assert len(here) == 7
    assert digests(tmp_path / "out") == here
    assert [*passing.iterdir()] == []  # nothing is left in the computer's folder for the passing

"""Sound pieces of unusual build, each as a maker would write it: nothing is told of any."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.assembly.model import check
from patternpress.design.read import read_text

UNUSUAL = sorted((Path(__file__).parent / "unusual").glob("*.yaml"))


@pytest.mark.parametrize("path", UNUSUAL, ids=lambda path: path.stem)
def test_nothing_is_told_of_a_sound_piece(path: Path) -> None:
    found = check(read_text(path.read_text("utf-8"), path.name, path.parent))
    assert [each.what for each in found] == []


def test_what_is_wrong_with_them_is_told() -> None:
    """Else silence would prove nothing: one wrong figure in each of some."""
    wrong = {
        "trestle": ("deep: 20 mm", "deep: 12 mm", "pieces-clash"),
        "ladder": ("left: 30 mm from right", "left: 26 mm from right", "pieces-clash"),
        "book-trough": ("wide: 63 mm", "wide: 66 mm", "pieces-clash"),
        "lidded-chest": ("opens: 95 deg", "opens: 280 deg", "opens-into"),
        "bench-with-raked-back": ("ends: {bottom: level}", "grain: any", "faces-not-flat"),
        "three-legged-stool": (
            "10 mm from left and 15 mm from back",
            "30 mm from left and 8 mm from front",
            "falls-over",
        ),
    }
    for name, (old, new, code) in wrong.items():
        text = (Path(__file__).parent / "unusual" / f"{name}.yaml").read_text("utf-8")
        assert old in text
        found = check(read_text(text.replace(old, new), "wrong.yaml", Path()))
        assert code in {each.code for each in found}, (name, [each.what for each in found])

"""A third theme is made by copying a folder and changing one file: it presses sound booklets whose
pages pass every check, and one whose colours fade does not.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from patternpress.booklet import themes
from patternpress.booklet.build import press_model
from patternpress.closing.close import close
from patternpress.proof.prove import prove
from patternpress.proof.telling import as_text
from tests.whole.demos import DESIGNS, in_theme, read_once
from tests.whole.wholechecks import complaints

CHANGED = {
    'ink: "#1f4d5c"': 'ink: "#6b2d1a"',
    'bar: "#1f4d5c"': 'bar: "#6b2d1a"',
    'tint: "#e9e9e9"': 'tint: "#f2ece6"',
    "prose: Source Sans Pro": "prose: Source Serif Pro",
    "heading: Source Serif Pro": "heading: Source Sans Pro",
    "name: quay": "name: third",
    "title: Quay": "title: Third",
}


def pressed(folder: Path, changed: dict[str, str], monkeypatch: pytest.MonkeyPatch) -> bytes:
    """The desk in a copy of the folder of `quay`, whose `theme.yaml` alone was changed."""
    shutil.copytree(themes.themes_folder(), folder / "themes")
    shutil.copytree(folder / "themes/quay", folder / "themes/third")
    path = folder / "themes/third/theme.yaml"
    text = path.read_text("utf-8")
    for old, new in changed.items():
        assert old in text
        text = text.replace(old, new)
    path.write_text(text, "utf-8")
    monkeypatch.setattr(themes, "_PLACES", (folder / "themes",))
    reading, kept = read_once(DESIGNS / "keepers-desk.yaml")
    return press_model(close(in_theme(reading, "third"), "metric").model, cache=kept).pdf


def test_a_copied_theme_with_other_colours_and_fonts_passes_every_check(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pdf = pressed(tmp_path, CHANGED, monkeypatch)
    report = prove(pdf)
    assert report.sound, as_text(report)
    assert complaints(pdf) == {}


def test_colours_that_fade_are_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pdf = pressed(tmp_path, {'quiet: "#4a4a4a"': 'quiet: "#909090"'}, monkeypatch)
    assert any("#909090" in told for each in complaints(pdf).values() for told in each)

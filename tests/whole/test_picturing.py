"""The pictures of pages that judges look at."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from tests.whole import pages
from tests.whole.test_page_tags import pressed


def test_three_editions_of_each_design_are_drawn_in_both_themes() -> None:
    asked = pages.looks()
    assert {(each.edition, each.theme) for each in asked} == {
        (edition, theme) for edition in ("metric", "inch", "both") for theme in ("quay", "rod")
    }
    assert len(asked) == len(set(map(str, asked))) == 6 * len({each.design for each in asked})


@pytest.mark.parametrize(("grey", "mode"), [(False, "RGB"), (True, "L")])
def test_every_page_is_drawn(grey: bool, mode: str, tmp_path: Path) -> None:
    (tmp_path / "two.pdf").write_bytes(pressed('<p>One</p><p style="break-before: page">Two</p>'))
    drawn = [*pages.draw(tmp_path / "two.pdf", tmp_path / "two", 50, grey)]
    assert [each.name for each in drawn] == ["page-01.png", "page-02.png"]
    with Image.open(drawn[0]) as opened:
        assert (opened.mode, opened.size) == (mode, (414, 585))  # of 8.27 × 11.69 in

"""Building an edition: names of files, the booklet's own information, files whole or not at all."""

from __future__ import annotations

import gc
import io
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from patternpress.booklet import build, pressroom
from patternpress.booklet.build import (
    PressError,
    few_sweeps,
    make_edition,
    page_style,
    press_model,
    sections_of,
)
from patternpress.booklet.press import Laid, Section
from patternpress.booklet.pressroom import Booklet, Complaint
from patternpress.booklet.writing import write_whole
from tests.whole.small import BODY, STEP, TOP, model, read

TEXT = TOP + BODY + STEP


def about(text: str) -> dict[str, str]:
    """What the PDF of a design says of itself."""
    with pikepdf.open(io.BytesIO(press_model(model(text)).pdf)) as pdf:
        return {key: str(value) for key, value in pdf.trailer.Info.items()}


def test_the_files_of_an_edition_are_named_after_design_and_edition() -> None:
    made = make_edition(read(TEXT), "inch")
    names = [name for name, _ in made.files]
    assert names == [
        "small-inch.pdf",
        "small-inch-cutting-list.txt",
        "small-inch-cutting-list-columns.txt",
        "small-inch-cutting-list.csv",
        "small-inch-cutting-layouts.txt",
        "small-inch-bench-plan.txt",
        "small-inch-shop-text.txt",
    ]
    assert made.files[0][1].startswith(b"%PDF-1.7")
    assert len(pikepdf.open(io.BytesIO(made.files[0][1])).pages) == made.pages


def test_an_unknown_edition_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        make_edition(read(TEXT + "editions:\n  metric: {units: mm}\n"), "imperial")


@pytest.mark.parametrize(("date", "stamp"), [("date: 2026-11-25\n", "20261125"), ("", "20000101")])
def test_the_pdf_is_dated_by_the_design_and_never_by_a_clock(date: str, stamp: str) -> None:
    info = about(TEXT.replace("date: 2026-11-25\n", date))
    assert info["/CreationDate"] == info["/ModDate"] == f"D:{stamp}000000Z"


def test_author_licence_and_title_go_into_the_pdf_unescaped() -> None:
    own = 'author: {called: Salt & Sons}\nlicence: Make "one" & sell it.\n'
    text = own + TEXT.replace("design: Wall shelf", "design: Salt & Sons' shelf")
    info = about(text)
    assert info["/Author"] == "Salt & Sons"
    assert info["/Subject"] == "Make “one” & sell it."
    assert info["/Title"] == "Salt & Sons’ shelf"


# ISO 216:2007 and ASME Y14.1, in mm.
PAPERS = [("metric", (210, 297)), ("inch", (215.9, 279.4)), ("both", (210, 297))]


@pytest.mark.parametrize(("edition", "size"), PAPERS)
def test_the_paper_of_an_edition(edition: str, size: tuple[float, float]) -> None:
    style = page_style(model(TEXT, edition))
    assert (float(style.width), float(style.height)) == size


def test_large_letters_come_with_the_edition() -> None:
    text = TEXT + "editions:\n  plain: {units: mm}\n  large: {units: mm, letters: large}\n"
    assert page_style(model(text, "large")).letters == "large"
    assert 'class="letters-large"' in sections_of(model(text, "large"))[0].html
    assert 'class="letters-normal"' in sections_of(model(text, "plain"))[0].html


def test_a_booklet_with_complaints_is_not_made(monkeypatch: pytest.MonkeyPatch) -> None:
    def grumble(*_: object, **__: object) -> Booklet:
        return Booklet(b"%PDF", 1, {}, (Complaint("steps", "the picture is not there"),))

    monkeypatch.setattr(build, "press_book", grumble)
    with pytest.raises(PressError, match="steps: the picture is not there"):
        press_model(model(TEXT))


def test_a_cache_changes_nothing_and_spares_pressing() -> None:
    cache: dict[str, object] = {}
    made = model(TEXT)
    first = press_model(made, cache=cache)
    filled = len(cache)
    again = press_model(made, cache=cache)
    assert again.pdf == first.pdf
    assert len(cache) == filled > 0


def test_an_edition_on_another_paper_is_pressed_no_second_time(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """What names the paper is pressed again: the cover, and the feet of all pages."""
    laid: list[str] = []
    before = pressroom.lay_out_section

    def counted(section: Section, *a: Any, **k: Any) -> Laid:
        laid.append(section.key)
        return before(section, *a, **k)

    monkeypatch.setattr(pressroom, "lay_out_section", counted)
    text = TEXT + "editions:\n  one: {units: mm}\n  other: {units: mm, paper: Letter}\n"
    cache: dict[str, object] = {}
    make_edition(read(text), "one", cache=cache)
    first = set(laid)
    laid.clear()
    make_edition(read(text), "other", cache=cache)
    assert set(laid) == {"cover", "running feet"} < first


def test_editions_that_share_a_cache_come_out_as_if_they_did_not() -> None:
    cache: dict[str, object] = {}
    for edition in ("metric", "inch", "both"):
        shared = make_edition(read(TEXT), edition, cache=cache)
        assert shared == make_edition(read(TEXT), edition)


def test_sweeping_is_put_back_as_it_was() -> None:
    before = gc.get_threshold()
    with pytest.raises(PressError), few_sweeps():
        assert gc.get_threshold()[0] >= 50_000
        raise PressError
    assert gc.get_threshold() == before


def test_a_file_is_written_whole(tmp_path: Path) -> None:
    path = write_whole(tmp_path / "new" / "list.txt", b"all of it")
    assert path.read_bytes() == b"all of it"
    assert [each.name for each in path.parent.iterdir()] == ["list.txt"]
    assert path.stat().st_mode & 0o777 == 0o644


def test_a_file_that_cannot_be_finished_leaves_the_old_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "list.txt"
    path.write_bytes(b"old")

    def full(*_: object) -> None:
        raise OSError("no space left")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(OSError, match="no space"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old"
    assert [each.name for each in tmp_path.iterdir()] == ["list.txt"]

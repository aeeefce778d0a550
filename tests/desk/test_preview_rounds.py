"""A round of work tells what is urgent first, and shows only what is true."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from patternpress.assembly.model import work_out
from patternpress.booklet.atelier import atelier
from patternpress.booklet.fill import content_of
from patternpress.booklet.fillquick import changed_steps, digests_of, refilled
from patternpress.booklet.wording import wording_of
from patternpress.design.read import read_design
from patternpress.desk.commands.new import starter
from patternpress.desk.preview.keeping import Recent
from patternpress.desk.preview.mate import Mate
from patternpress.desk.preview.rounds import News, Page, Seen, work
from patternpress.drawing.kept import Kept
from tests.desk.helper import Helper

DESIGN = Path(__file__).parents[2] / "designs" / "keepers-desk.yaml"
FAULT = Path(__file__).parents[1] / "assembly" / "faults" / "edition-open.yaml"
OLD, NEW = "so that the lines meet across them", "so that both lines meet across them"


def words_on(page: Page) -> str:
    document = pypdfium2.PdfDocument(page.pdf)
    return " ".join(document[page.number].get_textpage().get_text_range().split())


Rounds = tuple[dict[str, Seen], list[News], list[News]]


@pytest.fixture(scope="module")
def rounds() -> Rounds:
    """The desk shown once, then with one word of a step changed, then back again."""
    text = DESIGN.read_text("utf-8")
    assert text.count(OLD) == 1
    cache, seen = Recent(500), dict[str, Seen]()
    done(text, DESIGN, seen, cache)
    first = dict(seen)
    changed = done(text.replace(OLD, NEW), DESIGN, seen, cache)
    return first, changed, done(text, DESIGN, seen, cache)


def done(
    text: str, path: Path, seen: dict[str, Seen], cache: Recent, mate: Mate | None = None
) -> list[News]:
    """The news of one round; `seen` is kept as the workshop keeps it."""
    found = []
    for news in work(text, path, ("metric",), seen, cache, mate):
        found.append(news)
        if news.seen is not None:
            seen[news.edition] = news.seen
    return found


def test_the_page_of_a_changed_step_comes_before_its_section(rounds: Rounds) -> None:
    _, changed, _ = rounds
    what = [news.what for news in changed]
    assert what == ["problems", "figures", "soon", "section", "old", "pages"]


def test_its_section_is_up_to_date_with_that_page_and_stays(rounds: Rounds) -> None:
    _, changed, _ = rounds
    section, marked, last = (news.pages or () for news in changed[-3:])
    assert section == marked
    assert not any(page.old for page in marked)
    (new,) = [number for number, page in enumerate(section) if page.soon]
    assert words_on(last[new]).startswith(words_on(section[new]))  # the last has its foot as well
    for number, (early, late) in enumerate(zip(section, last, strict=True)):
        assert number == new or words_on(early) == words_on(late)


def test_that_page_has_the_new_words_where_the_old_ones_were(rounds: Rounds) -> None:
    first, changed, _ = rounds
    before = first["metric"].pages
    soon = next(news for news in changed if news.what == "soon").pages
    assert soon is not None
    assert len(soon) == len(before)
    (spot,) = [number for number, page in enumerate(soon) if page.soon]
    assert OLD in words_on(before[spot])
    assert NEW in words_on(soon[spot])
    assert all(a.id == b.id for n, (a, b) in enumerate(zip(before, soon, strict=True)) if n != spot)


BOX = Path("box.yaml")
DRAWERS = (
    *(f"fillpictures.{name}" for name in ("face_pictures", "state_picture", "step_picture")),
    *(f"fillfinished.{name}" for name in ("exploded_picture", "cover_picture", "three_views")),
)


@pytest.fixture(scope="module")
def box() -> tuple[dict[str, Seen], Recent]:
    """The box of `new`, shown once."""
    cache, seen = Recent(500), dict[str, Seen]()
    done(starter("box"), BOX, seen, cache)
    return seen, cache


def test_a_changed_word_draws_no_picture_again(
    box: tuple[dict[str, Seen], Recent], monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[str] = []
    for name in DRAWERS:
        monkeypatch.setattr(f"patternpress.booklet.{name}", drawn.append)
    text = starter("box").replace("Close it with the front", "Close it with its front")
    assert text != starter("box")
    seen, cache = dict(box[0]), box[1]
    pages = done(text, BOX, seen, cache)[-1].pages
    assert any("Close it with its front" in words_on(page) for page in pages or ())
    assert drawn == []


def test_the_templates_of_a_changed_size_come_first_and_stay(
    box: tuple[dict[str, Seen], Recent],
) -> None:
    wider = starter("box").replace("width: 30 mm", "width: 32 mm")
    assert wider != starter("box")
    seen, cache = dict(box[0]), copy_of(box[1])
    before = [p.id for p in seen["metric"].pages if p.section == "templates"]
    found = done(wider, BOX, seen, cache)
    assert [news.what for news in found[:5]] == ["problems", "figures", "soon", "section", "old"]
    early, marked = (templates_of(news) for news in found[3:5])
    assert early == marked
    assert all(page.soon and not page.old and page.id not in before for page in early)
    assert len(early) == len(before) > 0
    for page, last in zip(early, templates_of(found[-1]), strict=True):
        assert "32 mm" in words_on(page)
        assert words_on(last).startswith(words_on(page))  # the last one has its foot as well

    by_two, helper = copy_of(box[1]), Helper()  # a mate helps, and nothing becomes another page
    helped = done(wider, BOX, dict(box[0]), by_two, helper)
    assert {"closing_aside", "finished_aside", "done"} == set(helper.jobs)
    assert [p.id for p in helped[-1].pages or ()] == [p.id for p in found[-1].pages or ()]
    assert {news.what for news in helped} == {news.what for news in found}


@pytest.mark.parametrize("idle", [False, True])
def test_a_mate_tells_of_closing_what_is_told_without_one(idle: bool) -> None:
    text, helper = FAULT.read_text("utf-8"), Helper(idle=idle)
    alone = done(text, FAULT, {}, Recent(500), None)
    helped = done(text, FAULT, {}, Recent(500), helper)
    assert helper.jobs == ["closing_aside"]
    assert [[p.code for p in news.problems or ()] for news in alone] == [["edition-open"]]
    assert [news.problems for news in helped] == [news.problems for news in alone]


def copy_of(cache: Recent) -> Recent:
    """The same things kept, to be kept in another way from now on."""
    found = Recent(500)
    found.update(cache)
    return found


def templates_of(news: News) -> list[Page]:
    return [page for page in news.pages or () if page.section == "templates"]


@pytest.mark.parametrize("design", ["keepers-desk", "net-tote", "signal-shelf"])
def test_of_a_design_that_stays_no_step_counts_as_changed(design: str) -> None:
    model = work_out(read_design(DESIGN.with_name(f"{design}.yaml")), "metric")
    kept: Kept = {}
    content, place = content_of(model, kept), atelier(wording_of(model), kept)
    made = refilled(content, place)
    assert any(step.terms for step in content.every_step)
    assert changed_steps(content, digests_of(place), made, place) == frozenset()


def test_in_the_end_only_the_changed_pages_are_others(rounds: Rounds) -> None:
    first, changed, back = rounds
    pages = changed[-1].pages
    assert pages is not None
    assert not any(page.old or page.soon for page in pages)
    assert sum(NEW in words_on(page) for page in pages) == 1
    apart = [
        page.section for page in first["metric"].pages if page.section not in ("plan", "steps")
    ]
    same = {page.id for page in first["metric"].pages} & {page.id for page in pages}
    assert len(same) >= len(apart) > 5
    last = back[-1].pages
    assert last is not None
    assert [page.id for page in last] == [page.id for page in first["metric"].pages]


def test_a_wrong_design_is_told_and_nothing_is_pressed(rounds: Rounds) -> None:
    first, _, _ = rounds
    text = DESIGN.read_text("utf-8").replace("width: 84 mm", "widht: 84 mm")
    (news,) = work(text, DESIGN, ("metric",), dict(first), Recent(5))
    assert news.what == "problems"
    assert news.problems

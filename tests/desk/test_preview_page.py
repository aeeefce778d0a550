"""The author's page, clicked through in a browser: open, change, break, mend, compare, turn, build.

The browser is the system's own Chromium without a window; `make test` sees that it is there.  The
small pictures in `pages/` are of states that were looked at; `UPDATE_PAGES=1` draws them anew.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Locator, Page, expect, sync_playwright

from patternpress.desk.commands.new import starter

PATIENCE = 20_000  # ms; only ever used up by a failure
NAMES = ("chromium", "chromium-browser", "google-chrome")
# Without these the browser looks for its maker's servers at every start.
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
)
GOLDEN = Path(__file__).parent / "pages"
SMALL = (140, 90)
ALIKE = 10.0  # grey levels, on average: fonts differ from system to system, the layout may not

expect.set_options(timeout=PATIENCE)


@pytest.fixture(scope="module")
def design(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("page") / "box.yaml"
    path.write_text(starter("box"), "utf-8")
    return path


@pytest.fixture(scope="module")
def address(design: Path) -> Iterator[str]:
    """The page, served by the command as an author types it."""
    command = [sys.executable, "-m", "patternpress.desk", "preview", design.name, "--no-browser"]
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    with subprocess.Popen(
        command, cwd=design.parent, stdout=subprocess.PIPE, text=True, env=environment
    ) as served:
        assert served.stdout is not None
        found = re.search(r"http://127\.0\.0\.1:\d+/\S+", served.stdout.readline())
        assert found
        yield found[0]
        served.terminate()


@pytest.fixture(scope="module")
def page(address: str) -> Iterator[Page]:
    program = next(found for name in NAMES if (found := shutil.which(name)))
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=program, args=list(FLAGS))
        made = browser.new_page(viewport={"width": 1400, "height": 900})
        made.set_default_timeout(PATIENCE)
        wrong: list[str] = []
        made.on("pageerror", lambda error: wrong.append(str(error)))
        asked: list[str] = []
        made.on("request", lambda request: asked.append(request.url))
        made.goto(address)
        up_to_date(made)  # whichever test comes first on this worker, the pages are there
        yield made
        browser.close()
        assert wrong == []
        assert {url.split("/")[2] for url in asked} == {address.split("/")[2]}


# WCAG 2.2, 1.4.3: text has at least 4.5 : 1 against what is behind it, large text 3 : 1; what is
# switched off may have less.  Luminance as it is defined there.
UNREADABLE = """() => {
  const parts = (colour) => colour.match(/[\\d.]+/g).map(Number);
  const light = ([r, g, b]) => [r, g, b].map((each) => each / 255)
    .map((s) => (s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4))
    .reduce((sum, each, n) => sum + each * [0.2126, 0.7152, 0.0722][n], 0);
  const behind = (node) => {
    for (let each = node; each; each = each.parentElement) {
      const found = parts(getComputedStyle(each).backgroundColor);
      if (found.length === 3 || found[3] === 1) return found;
    }
    return [255, 255, 255];
  };
  const words = (each) => each.nodeType === 3 && each.data.trim();
  const own = (node) => [...node.childNodes].some(words);
  const found = [];
  for (const node of document.querySelectorAll("body *")) {
    if (!node.checkVisibility({ visibilityProperty: true }) || node.closest(":disabled")) continue;
    if (!own(node) && !node.matches("input:not([type=range]), textarea, select")) continue;
    const style = getComputedStyle(node);
    const two = [light(parts(style.color)), light(behind(node))].sort((a, b) => b - a);
    const least = parseFloat(style.fontSize) >= 24 ? 3 : 4.5;
    if ((two[0] + 0.05) / (two[1] + 0.05) < least) found.push([node.outerHTML.slice(0, 80), two]);
  }
  return found;
}"""
USED = "button, input, select, textarea, canvas, [tabindex='0']"
NAMELESS = f"""() => [...document.querySelectorAll("{USED}")]
  .filter((each) => each.checkVisibility() && !each.textContent.trim() && !each.ariaLabel
    && ![...(each.labels || [])].some((label) => label.textContent.trim()))
  .map((each) => each.outerHTML.slice(0, 80))"""


def up_to_date(page: Page) -> None:
    expect(page.locator("#condition")).to_contain_text("Up to date")


def looks(page: Page, name: str) -> None:
    """The page looks as it did when it was looked at: in the large, not to the pixel.

    Its words can be read, too, and what can be used has a name.
    """
    assert page.evaluate(UNREADABLE) == []
    assert page.evaluate(NAMELESS) == []
    page.wait_for_timeout(300)  # pictures that are on their way
    shot = GOLDEN.parent / f".{name}.png"
    try:
        page.screenshot(path=shot)
        with Image.open(shot) as whole:
            seen = whole.convert("L").resize(SMALL, Image.Resampling.BOX)
    finally:
        shot.unlink(missing_ok=True)
    if os.environ.get("UPDATE_PAGES"):
        GOLDEN.mkdir(exist_ok=True)
        seen.save(GOLDEN / f"{name}.png", optimize=True)
    with Image.open(GOLDEN / f"{name}.png") as kept:
        difference = np.abs(np.asarray(kept, float) - np.asarray(seen, float))
    assert difference.mean() < ALIKE


def test_the_pages_are_shown(page: Page) -> None:
    up_to_date(page)
    expect(page.locator("#name")).to_have_text("box.yaml")
    assert page.locator(".sheet:visible").count() >= 10
    assert "token" not in page.url
    first = page.locator(".sheet img").first
    expect(first).to_have_js_property("complete", True)
    looks(page, "open")


def test_a_step_is_reached_and_its_line_too(page: Page, design: Path) -> None:
    page.locator("#steps li").nth(1).locator("button").first.click()
    line = page.locator("#steps .line").nth(1)
    number = int(line.inner_text().removeprefix("line "))
    line.click()
    here = page.locator("#lines .here")
    expect(here).to_have_text(design.read_text("utf-8").splitlines()[number - 1])
    expect(here).to_be_focused()
    looks(page, "file")
    page.locator("#thumbs button").first.click()
    expect(page.locator(".sheet").first).to_be_in_viewport()
    here.focus()
    page.keyboard.press("ArrowDown")
    expect(here).to_have_id(f"line-{number + 1}")
    page.keyboard.press("Enter")  # and back: any line of a step leads to its page
    there = page.locator(".pair").nth(page.evaluate("() => state.steps[1].page") - 1)
    expect(there).to_be_in_viewport(ratio=0.3)
    expect(page.locator(".sheet").first).not_to_be_in_viewport()


def test_a_figure_is_changed_with_the_keyboard_alone(page: Page, design: Path) -> None:
    page.locator("#tab-problems").focus()
    page.keyboard.press("ArrowLeft")  # round to the last
    for tab in ("file", "proof", "layouts", "plan", "model"):
        page.locator(f"#tab-{tab}").press("ArrowLeft")
    page.locator("#find").fill("sizes, width")
    page.locator("#rows button", has_text="Change").first.press("Enter")
    field = page.locator("#change-figure")
    expect(field).to_be_focused()
    assert field.input_value() == "30 mm"
    field.fill("34 mm")
    expect(page.locator("#change-brings")).to_contain_text("floor")
    looks(page, "table")
    field.press("Enter")
    expect(page.locator("#change")).not_to_be_visible()
    up_to_date(page)
    assert design.read_text("utf-8") == starter("box").replace("width: 30 mm", "width: 34 mm")
    expect(page.locator("#undo")).to_be_enabled()
    page.locator("#undo").press("Enter")
    expect(page.locator("#undo")).to_be_disabled()
    up_to_date(page)
    assert design.read_text("utf-8") == starter("box")


def spot(page: Page, name: str) -> Locator:
    """The first spot of the pages that says this of itself, once its page has been pointed at."""
    up_to_date(page)
    for sheet in page.locator(".sheet:visible").all()[1:8]:
        sheet.scroll_into_view_if_needed()
        sheet.hover(position={"x": 5, "y": 5})
        expect(sheet).to_have_attribute("data-spotted", re.compile("."))
        found = sheet.locator(f".spot[aria-label*='{name}']")
        if found.count():
            return found.first
    raise AssertionError(name)


def test_a_figure_is_clicked_on_the_page_and_changed_where_it_stands(
    page: Page, design: Path
) -> None:
    """The floor is 26 mm wide, and that is a sum: the field offers it, and the sizes behind it."""
    figure = spot(page, "parts, floor, wide")
    figure.scroll_into_view_if_needed()
    figure.click()
    field = page.locator("#change-figure")
    expect(field).to_be_focused()
    assert field.input_value() == "width - 2 * board"
    # Both at one moment: the page scrolls until the whole of what opened can be seen.
    aside = figure.evaluate(
        """(spot, field) => {
             const [here, over] = [spot, field].map((each) => each.getBoundingClientRect());
             const [x, y] = [here.x + here.width / 2, here.y + here.height / 2];
             return [over.left - x, x - over.right, over.top - y, y - over.bottom];
           }""",
        field.element_handle(),
    )
    assert max(aside) <= 0
    page.locator("#change-source").select_option(label="sizes, width: 30 mm, line 9")
    expect(field).to_have_value("30 mm")
    field.fill("36 mm")
    brings = page.locator("#change-brings")
    expect(brings.locator("tr", has_text="D, floor, wide")).to_contain_text("32 mm")
    assert design.read_text("utf-8") == starter("box")
    looks(page, "change")
    page.locator("#change-write").click()
    expect(page.locator("#change")).not_to_be_visible()
    expect(page.locator("#undo")).to_be_enabled()
    up_to_date(page)
    assert design.read_text("utf-8") == starter("box").replace("width: 30 mm", "width: 36 mm")
    assert spot(page, "parts, floor, wide").get_attribute("aria-label").startswith("Change 32")
    page.locator("#sheets").press("Control+z")
    expect(page.locator("#undo")).to_be_disabled()
    up_to_date(page)
    assert design.read_text("utf-8") == starter("box")


def test_words_are_changed_on_the_page_with_the_keyboard_alone(page: Page, design: Path) -> None:
    sheet = page.locator(".sheet:visible").nth(1)
    sheet.focus()
    sheet.press("Enter")
    words = page.locator(".spot.words:focus")
    expect(words).to_have_count(1)
    page.keyboard.press("ArrowDown")
    expect(words).to_have_attribute("aria-label", re.compile("Change “Close it with the front”"))
    page.keyboard.press("Enter")
    field = page.locator("#change-words")
    expect(field).to_be_focused()
    was = field.input_value()
    assert was in starter("box")
    field.fill(f"{was}, slowly")
    expect(page.locator("#change-brings")).to_contain_text("No figure moves.")
    looks(page, "words")
    page.keyboard.press("Escape")
    expect(page.locator("#change")).not_to_be_visible()
    expect(page.locator(".spot.words:focus")).to_have_count(1)
    page.keyboard.press("Enter")
    field.fill(f"{was}, slowly")
    expect(page.locator("#change-write")).to_be_enabled()
    page.keyboard.press("Tab")
    page.locator("#change-write").press("Enter")
    expect(page.locator("#undo")).to_be_enabled()
    up_to_date(page)
    assert design.read_text("utf-8") == starter("box").replace(was, f"{was}, slowly")
    page.locator("#undo").press("Enter")
    expect(page.locator("#undo")).to_be_disabled()
    up_to_date(page)


def test_a_change_that_cannot_be_is_told_and_not_written(page: Page, design: Path) -> None:
    page.locator("#tab-figures").click()
    page.locator("#find").fill("sizes, width")
    page.locator("#rows button", has_text="Change").first.click()
    page.locator("#change-figure").fill("30 mm, x: 2")
    expect(page.locator("#change-brings")).not_to_be_empty()
    page.locator("#change-leave").click()
    assert design.read_text("utf-8") == starter("box")


def test_what_an_editor_wrote_meanwhile_stays_and_the_page_says_so(
    page: Page, design: Path
) -> None:
    page.locator("#tab-figures").click()
    page.locator("#find").fill("sizes, width")
    page.locator("#rows button", has_text="Change").first.click()
    page.locator("#change-figure").fill("33 mm")
    write = page.locator("#change-write")
    expect(write).to_be_enabled()
    other = f"# Written in an editor.\n{starter('box')}"
    design.write_text(other, "utf-8")
    write.click()
    expect(page.locator("#change-brings")).to_contain_text("the file was changed meanwhile")
    assert design.read_text("utf-8") == other
    page.locator("#change-leave").click()
    design.write_text(starter("box"), "utf-8")
    up_to_date(page)


VEILED = "&lt;img src=x onerror=window.hurt=1&gt;"  # a bare < names something, or is refused
HURT = "<img src=x onerror=window.hurt=1><script>window.hurt=1</script>"


def test_a_design_runs_nothing_in_the_page(page: Page, design: Path) -> None:
    """Script in the title, in the name of a step, and in what a problem says of them."""
    text = starter("box").replace("design: Box", f"design: '{VEILED}'")
    text = text.replace("step: Close it with the front", f"step: 'Close it {VEILED}'")
    design.write_text(text, "utf-8")
    expect(page.locator("#steps")).to_contain_text(f"Close it {VEILED}")
    up_to_date(page)
    design.write_text(text.replace(VEILED, HURT), "utf-8")
    page.locator("#tab-problems").click()
    expect(page.locator("#problems")).to_contain_text("<script> names nothing")
    page.locator("#tab-file").click()
    expect(page.locator("#lines")).to_contain_text(HURT)
    assert page.evaluate("() => window.hurt") is None
    assert page.locator("script").count() == 3
    assert page.locator("img[src=x]").count() == 0
    design.write_text(starter("box"), "utf-8")
    up_to_date(page)
    page.locator("#tab-figures").click()


def test_what_has_the_focus_keeps_it_while_the_file_is_saved(page: Page, design: Path) -> None:
    go = page.locator("#steps li").nth(1).locator("button").first
    go.focus()
    tip = starter("box").replace("Close it with the front", "Close it with its front")
    assert tip != starter("box")
    design.write_text(tip, "utf-8")
    expect(page.locator("#condition")).to_have_class("busy")
    up_to_date(page)
    expect(go).to_be_focused()
    design.write_text(starter("box"), "utf-8")
    expect(page.locator("#condition")).to_have_class("busy")
    up_to_date(page)


def test_a_button_that_is_held_while_the_file_is_saved_is_clicked(page: Page, design: Path) -> None:
    page.locator("#tab-figures").click()
    page.locator("#find").fill("sizes, width")
    page.locator("#rows button", has_text="Change").first.hover()
    line = page.locator("#rows .toline").first
    before = int(line.inner_text().removeprefix("line "))
    page.mouse.down()
    design.write_text(f"# A line more.\n{starter('box')}", "utf-8")
    expect(line).to_have_text(f"line {before + 1}")
    page.mouse.up()
    expect(page.locator("#change")).to_be_visible()
    page.locator("#change-leave").click()
    design.write_text(starter("box"), "utf-8")
    expect(line).to_have_text(f"line {before}")
    up_to_date(page)


def test_a_file_broken_in_an_editor_keeps_the_last_good_pages(page: Page, design: Path) -> None:
    design.write_text(starter("box").replace("width: 30 mm", "widht: 30 mm"), "utf-8")
    expect(page.locator("#condition")).to_contain_text("error")
    page.locator("#tab-problems").click()
    expect(page.locator("#problems")).to_contain_text("no size is called “width”")
    expect(page.locator(".sheet.old").first).to_contain_text("old")
    looks(page, "broken")
    design.write_text(starter("box"), "utf-8")
    up_to_date(page)
    expect(page.locator(".sheet.old")).to_have_count(0)


def test_a_misfit_is_shown_in_a_picture(page: Page, design: Path) -> None:
    wide = "wide: width - 2 * board, deep"
    assert wide in starter("box")
    design.write_text(starter("box").replace(wide, "wide: width - board, deep", 1), "utf-8")
    expect(page.locator("#condition")).to_contain_text("error")
    page.locator("#tab-problems").click()
    picture = page.locator("#problems .problem img").first
    expect(picture).to_be_visible()
    box = picture.bounding_box()
    assert box
    assert box["width"] > 60
    looks(page, "misfit")
    design.write_text(starter("box"), "utf-8")
    up_to_date(page)


def test_two_editions_stand_side_by_side(page: Page) -> None:
    page.locator("#beside").select_option("inch")
    up_to_date(page)
    expect(page.locator(".pair").first.locator(".sheet:visible")).to_have_count(2)
    expect(page.locator(".pair").first).to_contain_text("inch")
    looks(page, "beside")
    page.locator("#beside").select_option("")
    up_to_date(page)


def test_the_model_is_turned_step_by_step_and_its_view_kept(page: Page, design: Path) -> None:
    page.locator("#tab-model").click()
    canvas = page.locator("#canvas")
    expect(page.locator("#uptoname")).to_contain_text("Step 2: Close it")
    expect(page.locator("#on")).to_be_disabled()
    seen = [canvas.screenshot()]
    page.locator("#back").press("Enter")
    expect(page.locator("#uptoname")).to_contain_text("Step 1: Glue the ends")
    expect(page.locator("#back")).to_be_disabled()
    seen.append(canvas.screenshot())  # without its front
    page.locator("#on").press("Enter")
    assert canvas.screenshot() == seen[0]
    for share in ("30", "60"):
        page.locator("#apart").fill(share)
        seen.append(canvas.screenshot())
    canvas.press("ArrowRight")
    seen.append(canvas.screenshot())
    box = canvas.bounding_box()
    assert box
    page.mouse.move(box["x"] + 100, box["y"] + 100)
    page.mouse.down()
    page.mouse.move(box["x"] + 240, box["y"] + 90, steps=3)
    page.mouse.up()
    seen.append(canvas.screenshot())
    assert len(set(seen)) == len(seen)
    looks(page, "model")
    page.locator("#keep").click()
    expect(page.locator("#undo")).to_be_enabled()
    up_to_date(page)
    (kept,) = [line for line in design.read_text("utf-8").splitlines() if "seen from" in line]
    view = kept.strip().removeprefix("seen from: ")
    expect(page.locator("#kept")).to_have_text(f"Its picture is seen from {view}.")
    own = canvas.screenshot()
    canvas.press("ArrowUp")
    page.locator("#back").click()
    page.locator("#on").click()  # back to the view that is kept
    assert canvas.screenshot() == own
    page.locator("#undo").click()
    expect(page.locator("#undo")).to_be_disabled()
    up_to_date(page)
    assert design.read_text("utf-8") == starter("box")


WATCHED = """() => {
  const words = document.getElementById("made-words");
  const share = document.getElementById("made-share");
  window.told = [];
  const note = () => window.told.push([words.textContent, share.value / share.max]);
  new MutationObserver(note).observe(words, {childList: true, characterData: true, subtree: true});
}"""


def test_all_editions_are_built_from_the_page(page: Page, design: Path) -> None:
    page.evaluate(WATCHED)  # what is told on the way may be gone before one looks
    page.locator("#build").click()
    links = page.locator("#made-files a")
    expect(page.locator("#made-words")).to_contain_text("every booklet was measured and is sound")
    told = page.evaluate("() => window.told")
    told = [tuple(each) for each in told if each[0].startswith("Building ")]
    assert told[0][0] == "Building every edition …"
    shares = {"Building metric: 1 of 2.": 0.0, "Building inch: 2 of 2.": 0.5}
    assert set(told[1:]) & set(shares.items())
    assert set(told[1:]) <= set(shares.items())
    expect(page.locator("#made-share")).not_to_be_visible()
    names = links.all_inner_texts()
    assert {"box-metric.pdf", "box-inch.pdf"} <= set(names)
    assert (design.parent / "build" / "box-inch.pdf").read_bytes().startswith(b"%PDF")
    with page.context.expect_page() as opened:
        page.locator("#made-files a", has_text="cutting-list.txt").first.click()
    expect(opened.value.locator("body")).to_contain_text("back board")
    opened.value.close()
    assert {"box-metric-proof.html", "box-inch-proof.html"} <= set(names)
    page.locator("#made button").click()
    page.locator("#tab-proof").click()
    expect(page.locator("#proof h3")).to_have_text(["metric: sound", "inch: sound"])
    expect(page.locator("#proof")).to_contain_text("things measured")
    looks(page, "proof")


def test_every_printed_figure_says_by_how_much_it_moved(page: Page) -> None:
    page.locator("#edition").select_option("inch")
    page.locator("#tab-figures").click()
    page.locator("#find").fill("")
    table = page.locator("#moves table").first
    expect(page.locator("#moves p").first).to_have_text("In steps of 1/64 in.")
    up_to_date(page)
    row = table.locator("tr", has_text="floor").first
    expect(row).to_contain_text("mm")
    expect(row).to_contain_text("in")
    moved = [each for each in table.locator("td:nth-child(4)").all_inner_texts() if each]
    assert moved
    assert all(re.fullmatch(r"[+−]\d+\.\d\d", each) for each in moved)
    looks(page, "moves")
    page.locator("#edition").select_option("metric")
    expect(page.locator("#moves p").first).to_have_text("In steps of 0.1 mm.")
    up_to_date(page)


def test_the_layouts_stand_beside_the_pages(page: Page) -> None:
    page.locator("#tab-layouts").click()
    expect(page.locator("#layouts")).to_contain_text("To buy: 1 of")
    expect(page.locator("#layouts")).to_contain_text("Pieces:")


def test_the_size_of_the_pages_is_set(page: Page) -> None:
    image = page.locator(".sheet img").first
    before = int(image.get_attribute("width") or 0), image.get_attribute("src") or ""
    page.locator("#zoom").fill("160")
    assert int(image.get_attribute("width") or 0) == pytest.approx(2 * before[0], abs=2)
    assert "dpi=154" in (image.get_attribute("src") or "")  # drawn anew, not blown up
    page.locator("#zoom").fill("80")
    assert image.get_attribute("src") == before[1]


def test_narrow_screens_are_served(page: Page) -> None:
    page.set_viewport_size({"width": 1024, "height": 700})
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 1024
    for tab in ("problems", "model", "plan", "layouts", "proof", "file", "figures"):
        page.locator(f"#tab-{tab}").click()
        panel = page.locator(f"#{tab}")
        assert panel.evaluate("each => each.scrollWidth - each.clientWidth") <= 0, tab
    assert page.evaluate(UNREADABLE) == []
    page.set_viewport_size({"width": 390, "height": 800})
    expect(page.locator("#tray")).not_to_be_visible()
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 390
    looks(page, "phone")
    page.locator("#steps li").nth(1).locator("button").first.click()
    sheet = page.locator(".sheet:visible").nth(1)
    sheet.click()
    sheet.press("Enter")
    for each in ("#change", "#undo", "#build", "#steps .line", ".spot"):
        expect(page.locator(each).first).not_to_be_visible()
    page.set_viewport_size({"width": 1400, "height": 900})


def test_closing_the_page_loses_nothing(page: Page, design: Path) -> None:
    page.locator("#tab-figures").click()
    page.locator("#find").fill("sizes, width")
    page.locator("#rows button", has_text="Change").first.click()
    page.locator("#change-figure").fill("31 mm")
    expect(page.locator("#change-write")).to_be_enabled()
    page.locator("#change-write").click()
    expect(page.locator("#undo")).to_be_enabled()
    page.reload()  # while the pages are still being pressed
    up_to_date(page)
    assert "width: 31 mm" in design.read_text("utf-8")
    page.locator("#undo").click()
    expect(page.locator("#undo")).to_be_disabled()
    assert design.read_text("utf-8") == starter("box")

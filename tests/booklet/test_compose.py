"""Composing: what a theme may do, what it may not, and what the pages hold."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from markupsafe import Markup

from patternpress.booklet import content as c
from patternpress.booklet import contentlabels as cb
from patternpress.booklet import contentneeds as cn
from patternpress.booklet import phrases
from patternpress.booklet.compose import A4, LETTER, PARTS, Ticks, compose, running_foot, ticks
from patternpress.booklet.phrases import PhraseError, read_phrases
from patternpress.booklet.themes import Theme, ThemeError, load_theme, read_theme
from patternpress.booklet.typeset import typeset
from tests.booklet.sample import sample

Hostile = Callable[[str], Theme]


@pytest.fixture
def theme_with(tmp_path: Path) -> Hostile:
    """Return a maker of themes: our own, but with another `make.html`."""

    def make(template: str) -> Theme:
        folder = tmp_path / "theme"
        shutil.copytree(load_theme("quay").folder, folder)
        (folder / "make.html").write_text(template, encoding="utf-8")
        return read_theme(folder)

    return make


def html_of(content: c.Content, key: str) -> str:
    """The HTML of one part, cut out of the section that it is bound in."""
    pages = "".join(section.html for section in compose(content, load_theme("quay")))
    found = re.search(rf'<section id="{key}".*?</section>', pages, re.DOTALL)
    assert found
    return found[0]


def words_of(html: str) -> str:
    return " ".join(re.sub(r"<[^>]*>", " ", html).split())


# What a theme may not do.


@pytest.mark.parametrize(
    "reach",
    [
        "{{ content.__class__ }}",
        "{{ content.cover.title.__class__.__mro__ }}",
        "{{ ''['__class__'] }}",
        "{{ (''|attr('__class__')).mro() }}",
        "{{ say.__globals__ }}",
        "{{ say.__self__.texts }}",
        "{{ ticks.__globals__['__builtins__'] }}",
        "{{ '{0.__class__.__init__.__globals__}'.format(content) }}",
        "{{ self.__init__.__globals__ }}",
        "{{ page_of.__code__ }}",
        "{% set x = [] %}{{ x.append(1) }}",
        "{% for i in range(10000000) %}{% endfor %}",
    ],
)
def test_a_template_reaches_nothing_behind_the_content(theme_with: Hostile, reach: str) -> None:
    with pytest.raises(ThemeError, match=r"make\.html, line 1"):
        compose(sample(), theme_with(reach))


@pytest.mark.parametrize(
    "name", ["../secret.txt", "/etc/hostname", "link.txt", "sub/../../secret.txt"]
)
@pytest.mark.parametrize(
    "how", ["{{% include '{}' %}}", "{{% extends '{}' %}}", "{{% import '{}' as x %}}"]
)
def test_a_template_reads_no_file_outside_its_folder(
    theme_with: Hostile, tmp_path: Path, how: str, name: str
) -> None:
    (tmp_path / "secret.txt").write_text("secret", encoding="utf-8")
    theme = theme_with(how.format(name))
    (theme.folder / "link.txt").symlink_to(tmp_path / "secret.txt")
    with pytest.raises(ThemeError, match="has no file"):
        compose(sample(), theme)


@pytest.mark.parametrize(
    ("template", "complaint"),
    [
        ("\n{{ contnet.cover }}", r"make\.html, line 2.*contnet.*undefined"),
        ("{{ content.making.facs }}", r"make\.html, line 1.*facs"),
        ("{{ say('nonsense') }}", r"make\.html, line 1.*no words for “nonsense”"),
        ("{{ say('version_date') }}", r"make\.html, line 1.*need a value for 'version'"),
        ("\n\n{% if %}", r"make\.html, line 3"),
        ("{{ 1 + 'a' }}", r"make\.html, line 1"),
        ("{% import 'macros.html' as m %}\n{{ m.caution(1) }}", r"macros\.html, line \d+"),
    ],
)
def test_a_template_that_fails_says_where(
    theme_with: Hostile, template: str, complaint: str
) -> None:
    with pytest.raises(ThemeError, match=complaint):
        compose(sample(), theme_with(template))


# What the pages hold.


def test_every_section_is_there_in_order() -> None:
    theme = load_theme("quay")
    sections = compose(sample(), theme)
    assert [section.key for section in sections] == [run[0] for run in theme.runs]
    for section, run in zip(sections, theme.runs, strict=True):
        assert re.findall(r'<section id="([a-z]+)"', section.html) == list(run)
        assert '<html lang="en">' in section.html


@pytest.mark.parametrize(
    ("runs", "complaint"),
    [
        ("[cover contents]", "each part once"),
        ("[cover cover]", "each part once"),
        ("[nonsense]", "The parts are: cover"),
        ("cover", "list of lines"),
    ],
)
def test_runs_name_each_part_once(theme_with: Hostile, runs: str, complaint: str) -> None:
    folder = theme_with("").folder
    text = (folder / "theme.yaml").read_text(encoding="utf-8")
    (folder / "theme.yaml").write_text(
        re.sub(r"runs:\n(  - .*\n)+", f"runs: {runs}\n", text), encoding="utf-8"
    )
    with pytest.raises(ThemeError, match=complaint):
        compose(sample(), read_theme(folder))


def test_a_theme_without_runs_starts_every_part_on_a_page(theme_with: Hostile) -> None:
    theme = replace(load_theme("quay"), runs=())
    assert [section.key for section in compose(sample(), theme)] == [part.key for part in PARTS]


def test_the_same_content_gives_the_same_sections() -> None:
    assert compose(sample(), load_theme("quay")) == compose(sample(), load_theme("quay"))


def test_sections_without_content_vanish() -> None:
    bare = c.Content(
        cover=c.Cover("Stool", "A maker", "1", "1 May 2025"),
        imprint=c.Imprint("A maker", "1", "1 May 2025"),
    )
    assert [section.key for section in compose(bare, load_theme("quay"))] == ["cover", "imprint"]


@pytest.mark.parametrize("part", ["making", "cautions", "needs", "cutting", "templates"])
def test_contents_list_only_what_is_there(part: str) -> None:
    whole = sample()
    key = "make" if part == "making" else part
    assert f'href="#{key}"' in html_of(whole, "contents")
    without = replace(whole, **{part: type(getattr(whole, part))()})
    assert f'href="#{key}"' not in html_of(without, "contents")


def test_a_booklet_without_steps_has_no_contents() -> None:
    keys = "".join(s.html for s in compose(replace(sample(), steps=()), load_theme("quay")))
    assert 'id="contents"' not in keys


def test_names_are_escaped_everywhere() -> None:
    evil = "<script>alert(1)</script>"
    whole = sample()
    step = replace(whole.steps[0].steps[0], title=evil, actions=(evil,), tips=(evil,))
    row = replace(whole.cutting[0].rows[0], name=evil, letter=evil, note=evil)
    changed = replace(
        whole,
        cover=replace(whole.cover, title=evil, series=evil, author=evil),
        cutting=(replace(whole.cutting[0], stock=evil, rows=(row,)),),
        steps=(c.StepGroup(evil, (step,)),),
        needs=cn.Needs(tools=(cn.Tool(evil, evil),)),
        labels=(cb.Label(evil, evil, evil, evil, evil, evil),),
    )
    pages = "".join(section.html for section in compose(changed, load_theme("quay")))
    assert "<script>" not in pages
    assert pages.count("&lt;script&gt;") > 12


def test_markup_stays_markup() -> None:
    figure = Markup('<span class="fig">1 <span class="stack">3⁄8</span>&nbsp;in</span>')
    row = c.CutRow("A", "side", 1, figure)
    page = html_of(replace(sample(), cutting=(c.CutGroup("strip", (row,)),)), "cutting")
    assert figure in page


def test_every_text_of_the_sample_is_printed() -> None:
    pages = "".join(section.html for section in compose(sample(), load_theme("quay")))
    for text in texts_in(sample()):
        shown = text if isinstance(text, Markup) else str(Markup.escape(text))
        assert typeset(shown) in pages, text


def texts_in(record: object) -> list[str]:
    """Return every text that a record and the records in it hold."""
    if isinstance(record, str):
        return [record] if record else []
    if isinstance(record, tuple):
        return [text for item in record for text in texts_in(item)]
    fields = getattr(record, "__dataclass_fields__", {})
    return [text for name in fields for text in texts_in(getattr(record, name))]


def test_a_notice_has_no_triangle_and_nothing_says_danger() -> None:
    def page(signal: c.Signal) -> str:
        caution = c.Caution(signal, "a", "b", "c")
        steps = (c.StepGroup("x", (c.Step("1", "t", ("do",), cautions=(caution,)),)),)
        return html_of(replace(sample(), steps=steps), "steps")

    assert page(c.Signal.WARNING).count("<svg") == page(c.Signal.CAUTION).count("<svg") == 1
    assert page(c.Signal.NOTICE).count("<svg") == 0
    assert "NOTICE" in page(c.Signal.NOTICE)
    assert not any("danger" in text.lower() for text in read_phrases("en").texts.values())


def test_a_caution_stands_before_the_actions() -> None:
    page = words_of(html_of(sample(), "steps"))
    assert page.index("Keep that hand behind") < page.index("Fill in the card.")


def drawn(width: int, height: int) -> c.Figure:
    size = f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
    return c.Figure(Markup(f"<svg {size}><title>A board</title></svg>"))


@pytest.mark.parametrize(
    ("figures", "actions", "beside"),
    [
        ([(60, 40)], 1, True),
        ([(60, 40), (60, 40)], 6, True),  # as high as the words
        ([(60, 40), (60, 40)], 40, True),
        ([(100, 40)], 6, False),  # too wide
        ([(60, 100), (60, 100)], 1, False),  # side by side they are lower
    ],
)
def test_pictures_stand_beside_the_words_where_that_is_lower(
    figures: list[tuple[int, int]], actions: int, beside: bool
) -> None:
    step = c.Step(
        "1", "t", ("Glue it there.",) * actions, figures=tuple(drawn(*f) for f in figures)
    )
    page = html_of(replace(sample(), steps=(c.StepGroup("", (step,)),)), "steps")
    assert ('class="figures beside"' in page) is beside
    pictures, words = page.index("<svg"), page.index("Glue it there.")
    assert pictures < words


@pytest.mark.parametrize(
    ("quantity", "boxes", "each"),
    [(1, 1, 1), (12, 12, 1), (13, 2, 10), (120, 12, 10), (121, 3, 50), (999, 10, 100)],
)
def test_tick_boxes(quantity: int, boxes: int, each: int) -> None:
    assert ticks(quantity) == Ticks(boxes, each)
    assert boxes * each >= quantity > (boxes - 1) * each


def test_tick_boxes_are_printed_for_each_piece() -> None:
    rows = (c.CutRow("A", "side", 3, "10"),)
    page = html_of(replace(sample(), cutting=(c.CutGroup("strip", rows),)), "cutting")
    assert page.count('class="box"') == 3


# The fixed words.


def test_templates_and_word_lists_agree() -> None:
    """Every word that is asked for is there, and every word that is there is asked for."""
    package = Path(phrases.__file__).parents[1]
    folder = load_theme("quay").folder
    templates = "".join(path.read_text(encoding="utf-8") for path in folder.glob("*.html"))
    code = "".join(path.read_text("utf-8") for path in sorted(package.rglob("*.py")))
    asked = set(re.findall(r'say\("([a-z0-9_]+)"', templates))
    known = {key.partition("[")[0] for key in read_phrases("en").texts}
    assert asked - known == set()
    asked |= {part.key for part in PARTS} | {"foot_left", "foot_right"}
    asked |= {signal.value for signal in c.Signal} | {f"{s.value}_means" for s in c.Signal}
    asked |= set(re.findall(r'"([a-z0-9_]+)"', code))
    openings = re.findall(r'f?"([a-z]+_[a-z_]*)(?:\{|")', code)
    endings = re.findall(r'f"\{[a-z]+\}(_[a-z]+)"', code)
    unasked = {key for key in known - asked if not key.startswith(tuple(openings))}
    assert {key for key in unasked if not key.endswith(tuple(endings))} == set()


def test_no_words_are_written_into_the_templates() -> None:
    for path in load_theme("quay").folder.glob("*.html"):
        text = re.sub(r"{#.*?#}|{%.*?%}|{{.*?}}", "", path.read_text(encoding="utf-8"), flags=re.S)
        assert not re.search(r"\w", re.sub(r"<[^>]*>", "", text)), path.name


def test_words_of_an_unknown_language() -> None:
    with pytest.raises(PhraseError, match="xx"):
        compose(replace(sample(), language="xx"), load_theme("quay"))
    with pytest.raises(PhraseError):
        read_phrases("../en")
    assert read_phrases("en-GB").texts == read_phrases("en").texts


def test_values_in_words_are_escaped() -> None:
    said = read_phrases("en").say("version_date", version="<b>", date=Markup("<i>1</i>"))
    assert said == "Version &lt;b&gt;, <i>1</i>"


# The theme and the page.


def contrast(colour: str) -> float:
    """Contrast on white (WCAG 2.x, relative luminance)."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 1.05 / (0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2] + 0.05)


def test_contrast_of_the_theme() -> None:
    assert contrast("#767676") == pytest.approx(4.5422, abs=1e-4)  # wcag-contrast-ratio 0.9
    colours = load_theme("quay").colours
    for name in ("ink", "text", "quiet"):
        assert contrast(colours[name]) >= 4.5, name
    assert contrast(colours["rule"]) >= 3  # lines, WCAG 2.1, 1.4.11


def test_letters_are_never_too_small() -> None:
    # 9 pt is ours; 18 pt for large print: APH guidelines, UKAAF G003.
    for name, least in (("normal", 9.0), ("clear", 12.0), ("large", 18.0)):
        sizes = load_theme("quay").letters[name]
        base = float(sizes["base"].removesuffix("pt"))
        assert base * float(sizes["small"].removesuffix("rem")) >= least


def test_both_papers_share_one_live_area_and_are_laid_out_alike() -> None:
    """ISO 216: A4 is 210 by 297 mm; ASME Y14.1: Letter is 8 1/2 by 11 in."""
    metric, letter = (compose(sample(), load_theme("quay"), style)[0] for style in (A4, LETTER))
    page = "size: 210mm 297mm; margin: calc(18.8mm + 8mm) 10mm calc(18.8mm + 8mm) 10mm"
    assert page in metric.css[1]
    assert letter.css == metric.css
    assert metric.paper == pytest.approx((595.276, 841.89), abs=0.001)
    assert letter.paper == pytest.approx((612, 792), abs=1e-9)


def test_the_foot() -> None:
    foot = running_foot(sample(), load_theme("quay"))
    bold = "<b>version 1.2, 3 May 2025</b>"
    assert foot.left == f"Keeper’s wall cupboard · {sample().cover.edition} · {bold}"
    assert foot.right == "page {page} of {pages}"


def test_a_running_head_has_what_title_and_version_leave_of_their_line() -> None:
    title = replace(sample().cover, title="A".ljust(50, "a"))
    short, long = (
        running_foot(each, load_theme("rod")) for each in (sample(), replace(sample(), cover=title))
    )
    assert short.most - long.most == 50 - len(sample().cover.title)
    assert long.most < short.most < 80
    large = running_foot(sample(), load_theme("rod"), replace(A4, letters="large"))
    assert large.most == 70


def test_an_unknown_theme_or_size_of_letters_names_those_there_are() -> None:
    with pytest.raises(ThemeError, match=r"There are: .*quay"):
        load_theme("../quay")
    with pytest.raises(ThemeError, match="normal, clear, large"):
        compose(sample(), load_theme("quay"), replace(A4, letters="huge"))


@pytest.mark.parametrize(
    "line",
    ["colours: {ink: 'red; } body { display: none'}", "sizes: [1]", "letters: {}", "a: {", "- 1"],
)
def test_a_theme_file_of_the_wrong_form_is_refused(tmp_path: Path, line: str) -> None:
    text = line if line.startswith("letters") else f"letters: {{normal: {{}}}}\n{line}"
    (tmp_path / "theme.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(ThemeError, match=r"theme\.yaml"):
        read_theme(tmp_path)


# Themes made of others.


def test_a_copied_folder_with_other_colours_and_fonts_is_a_theme(theme_with: Hostile) -> None:
    """As themes/README.md promises: one file is changed, and every page has the new look."""
    folder = theme_with("").folder
    shutil.copy(load_theme("quay").folder / "make.html", folder / "make.html")
    text = (folder / "theme.yaml").read_text(encoding="utf-8")
    text = text.replace("name: quay", "name: pine").replace('ink: "#1f4d5c"', 'ink: "#224422"')
    text = text.replace("heading: Source Serif Pro", "heading: Source Sans Pro")
    (folder / "theme.yaml").write_text(text, encoding="utf-8")
    sections = compose(sample(), read_theme(folder))
    assert len(sections) == len(load_theme("quay").runs)
    for section in sections:
        css = "\n".join(section.css)
        assert "--colour-ink: #224422;" in css
        assert "--font-heading: 'Source Sans Pro';" in css
    same = compose(sample(), load_theme("quay"))
    assert [each.html for each in sections] == [each.html for each in same]


def test_a_theme_may_say_only_what_differs(tmp_path: Path) -> None:
    text = 'name: pine\nlike: quay\ncolours: {ink: "#224422"}\nletters: {normal: {base: 11pt}}\n'
    (tmp_path / "theme.yaml").write_text(text, encoding="utf-8")
    theme, quay = read_theme(tmp_path), load_theme("quay")
    assert theme.colours == {**quay.colours, "ink": "#224422"}
    assert theme.letters["normal"] == {**quay.letters["normal"], "base": "11pt"}
    assert theme.letters["large"] == quay.letters["large"]
    assert theme.runs == quay.runs
    # What follows the size of the letters may differ, and nothing else.
    told, same = (
        [
            re.sub(r' style="(max-width|min-height): [\d.]+mm"| data-rises="[-\d.]+"', "", s.html)
            for s in compose(sample(), each)
        ]
        for each in (theme, quay)
    )
    assert told == same


@pytest.mark.parametrize(("like", "complaint"), [("nothing", "to be like"), ("pine", "like")])
def test_a_theme_like_no_other_is_refused(tmp_path: Path, like: str, complaint: str) -> None:
    (tmp_path / "theme.yaml").write_text(f"name: pine\nlike: {like}\n", encoding="utf-8")
    with pytest.raises(ThemeError, match=complaint):
        read_theme(tmp_path)

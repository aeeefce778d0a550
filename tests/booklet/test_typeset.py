"""Signs and figures of the pages, and the little CommonMark of the author's prose."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from patternpress.booklet.prose import blocks, inline, is_list
from patternpress.booklet.typeset import typeset, typeset_text
from patternpress.design.references import Ref


def stack(top: int, bottom: int) -> str:
    return f'<span class="stack">{top}⁄{bottom}</span>'


@pytest.mark.parametrize(
    ("said", "set_"),
    [
        ("3/32 in or No. 61", f'<span class="fig">{stack(3, 32)}&nbsp;in</span> or No. 61'),
        ("1 3/8 in", f'<span class="fig">1\u202f{stack(3, 8)}&nbsp;in</span>'),
        ("80 x 40 mm", "80 × 40&nbsp;mm"),
        ("80x40 mm", "80 × 40&nbsp;mm"),
        ("at -3 mm", "at −3&nbsp;mm"),
        ("the keeper&#39;s", "the keeper’s"),
        ("makers' sheets", "makers’ sheets"),
        ("2 times: 2 × N", "2&nbsp;times: 2&nbsp;×&nbsp;N"),
        ("<i>left side</i> (B)", "<i>left side</i>&nbsp;(B)"),
    ],
)
def test_figures_and_signs(said: str, set_: str) -> None:
    assert typeset(f"<p>{said}</p>") == f"<p>{set_}</p>"


@pytest.mark.parametrize(
    ("said", "set_"),
    [
        ("tilleul; à mesurer", "tilleul\u202f; à mesurer"),
        ("tilleul ; à mesurer", "tilleul\u202f; à mesurer"),
        ("Huilé ou peint ?", "Huilé ou peint\u202f?"),
        ("Conseil&nbsp;: tenez", "Conseil\u00a0: tenez"),
        ("<b>Séance 1</b>: à", "<b>Séance 1</b>\u00a0: à"),
        ("« Taille réelle »", "«\u00a0Taille réelle\u00a0»"),
        ("Sel &amp; Fils, au 1:12, à 12:30", "Sel &amp; Fils, au 1:12, à 12:30"),
        ('<a href="a: b">a:b</a>', '<a href="a: b">a:b</a>'),
    ],
)
def test_french_sets_a_space_before_tall_signs(said: str, set_: str) -> None:
    """Imprimerie nationale, Lexique des règles typographiques (from memory)."""
    assert typeset(said, "fr") == typeset(typeset(said, "fr"), "fr") == set_
    assert "\u202f" not in typeset(said, "de")


@pytest.mark.parametrize(
    "same",
    [
        "1:12",
        "and/or",
        "25/11/2026",
        "3/2 of it",  # no proper fraction
        "2–3",
        '<p title="3/4 x 2">A</p>',
        "<svg><text>1/2 x 3</text></svg>",
        "a 3D-4 view",
        '<a href="https://a.example/1/2">here</a>',
    ],
)
def test_what_is_no_figure_stays(same: str) -> None:
    assert typeset(same) == same


@given(st.text(alphabet="ab 1234/x-'&;<>#39×\u00a0", max_size=40))
def test_setting_twice_changes_nothing_more(text: str) -> None:
    once = typeset(str(Markup.escape(text)))
    assert typeset(once) == once


def test_plain_text_keeps_its_fractions_in_a_line() -> None:
    assert typeset_text("Salt & Sons' 3/4 shelf") == "Salt & Sons’ 3/4 shelf"


def name(ref: Ref) -> Markup:
    return Markup("[{}]").format(ref.name)


@pytest.mark.parametrize(
    ("said", "set_"),
    [
        ("Sand *lightly* and **well**.", "Sand <em>lightly</em> and <strong>well</strong>."),
        ("*<shelf>* to <width of a*b>.", "<em>[shelf]</em> to [width of a*b]."),
        ("See [our shop](https://a.example).", "See our shop (https://a.example)."),
        ("[post@a.example](mailto:post@a.example)", "post@a.example"),
        ("2 * 3 and a_b_c", "2 * 3 and a_b_c"),
        ('"Bare" or `bare`', "“Bare” or `bare`"),
        ("<b>bold</b>", "[b]bold[/b]"),
        ("# No heading ![no](picture.png)", "# No heading !no (picture.png)"),
    ],
)
def test_prose(said: str, set_: str) -> None:
    assert inline(said, name) == set_


def test_paragraphs_and_lists() -> None:
    found = blocks("One.\n\n- a <shelf>\n- b\n\n1. c\n", name)
    assert found == ("One.", "<ul><li>a [shelf]</li><li>b</li></ul>", "<ol><li>c</li></ol>")
    assert [is_list(each) for each in found] == [False, True, True]


@given(st.text(max_size=60))
def test_no_tag_comes_through_prose(text: str) -> None:
    tags = ("em", "strong", "br", "ul", "ol", "li")
    for found in (inline(text, lambda ref: Markup("N")), *blocks(text, lambda ref: Markup("N"))):
        bare = str(found)
        for tag in tags:
            bare = bare.replace(f"<{tag}>", "").replace(f"</{tag}>", "")
        assert "<" not in bare

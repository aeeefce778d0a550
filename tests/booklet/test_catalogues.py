"""The message catalogues: in step with English, whole, and plain gettext files to other programs.

Other programs are stood in for by `gettext` of Python's own library, which knows nothing of us.
"""

from __future__ import annotations

import gettext
import io
import shutil
from pathlib import Path

import pytest
from babel.messages.mofile import write_mo

from patternpress.booklet import catalogues, wordfiles
from patternpress.booklet.catalogues import main, merged, problems, tags, template, written
from patternpress.booklet.phrases import PhraseError, Phrases, read_phrases
from patternpress.booklet.wordfiles import english, read_catalogue, read_texts
from tests.booklet.test_languages import FOLDER, OTHERS


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the words in which a test may change what it likes."""
    copied = Path(shutil.copytree(FOLDER, tmp_path / "words"))
    monkeypatch.setattr(wordfiles, "words_folder", lambda: copied)
    monkeypatch.setattr(catalogues, "words_folder", lambda: copied)
    return copied


def changed(path: Path, before: str, after: str) -> str:
    """Change a file in one place; the file as it is now."""
    text = path.read_text("utf-8")
    assert text.count(before) == 1, before
    path.write_text(text.replace(before, after), "utf-8")
    return text.replace(before, after)


# ------------------------------------------------------------------ as they are


def test_every_catalogue_is_whole_and_of_the_english_lists(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["check"]) == 0
    assert capsys.readouterr().out == ""
    assert tags() == OTHERS == ["de", "fr"]


@pytest.mark.parametrize("tag", OTHERS)
def test_a_catalogue_is_stored_as_it_would_be_written_again(tag: str) -> None:
    stored = (FOLDER / tag / "messages.po").read_text("utf-8")
    assert written(merged(template(), read_catalogue(tag), tag)) == stored
    assert "Date" not in stored.split("\n\n", maxsplit=1)[0]  # no clock


@pytest.mark.parametrize("tag", OTHERS)
def test_another_reader_of_gettext_finds_the_same_words(tag: str) -> None:
    compiled = io.BytesIO()
    catalogue = read_catalogue(tag)
    assert catalogue is not None
    write_mo(compiled, catalogue)
    other = gettext.GNUTranslations(io.BytesIO(compiled.getvalue()))
    ours = read_phrases(tag)
    for each in english():
        if isinstance(each.text, str):
            assert other.pgettext(each.key, each.text) == ours.texts[each.key]
            continue
        for number in (0, 1, 2, 5, 21, 100):
            theirs = other.npgettext(each.key, *each.text, number)
            assert theirs == ours.texts[f"{each.key}[{ours.form_of(number)}]"]


# ------------------------------------------------------------------ what is left to do


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        (
            'msgstr "Lege {piece:the_acc} auf die Werkbank."',
            'msgstr ""',
            "“do_start” has no words yet",
        ),
        (
            'msgstr "Lege {piece:the_acc} auf die Werkbank."',
            'msgstr "Lege {teil} auf die Werkbank."',
            "“do_start” has other places than the English: piece, teil",
        ),
        (
            'msgstr "Lege {piece:the_acc} auf die Werkbank."',
            'msgstr "Lege {piece:akk} auf die Werkbank."',
            "“do_start” asks for a form that forms.yaml lacks: akk",
        ),
        (
            'msgid "Lay the {piece} on the bench."',
            'msgid "Put the {piece} on the bench."',
            "“do_start” is not the English of the lists: run update",
        ),
        ('msgctxt "do_start"', 'msgctxt "do_begin"', "“do_begin” is no longer said: run update"),
        (
            'msgstr[1] "{figure} Stunden"\n',
            "",
            "“time_hours” has no words yet",
        ),
    ],
)
def test_what_is_wrong_is_told_with_its_line(
    folder: Path, before: str, after: str, said: str
) -> None:
    text = changed(folder / "de/messages.po", before, after)
    line = text[: text.index(f'msgctxt "{said[1 : said.index("”")]}"')].count("\n") + 2  # msgid
    found = list(problems("de"))
    assert [each for each in found if "missing" not in each] == [f"de/messages.po:{line}: {said}"]
    assert ("de/messages.po: “do_start” is missing: run update" in found) == ("begin" in after)


def test_english_that_changes_is_looked_at_by_every_translator(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lists = folder / "en/work.yaml"
    changed_text = lists.read_text("utf-8").replace(
        "do_sums: Take off what", "do_sums: Subtract what"
    )
    lists.write_text(changed_text, "utf-8")
    assert main(["check"]) == 1
    assert capsys.readouterr().out.startswith(
        "messages.pot is not of the English lists: run update"
    )
    assert main(["update"]) == 0
    assert main(["check"]) == 1
    (german, french) = capsys.readouterr().out.splitlines()
    assert "“do_sums” is fuzzy: the English has changed" in german
    assert french.startswith("fr/messages.po:")
    # Nobody has looked: the booklet says it in English, and what was said is kept to look at.
    assert read_texts("de").texts["do_sums"] == "Subtract what the card says."
    text = (folder / "de/messages.po").read_text("utf-8")
    assert "# The English was: Take off what the card says.\n" in text
    assert 'msgstr "Zieh ab, was auf der Karte steht."' in text
    main(["update"])  # once more changes nothing
    assert (folder / "de/messages.po").read_text("utf-8") == text
    # Once somebody has looked and taken the mark away, the note goes as well.
    (folder / "de/messages.po").write_text(text.replace("#, fuzzy\n", ""), "utf-8")
    main(["update"])
    assert "The English was" not in (folder / "de/messages.po").read_text("utf-8")
    assert list(problems("de")) == []


def test_a_language_is_begun_by_its_tag_and_stands_in_english_until_it_is_translated(
    folder: Path,
) -> None:
    assert main(["update", "pl"]) == 0
    told = list(problems("pl"))
    assert len(told) == len(list(english()))
    assert all(each.endswith("has no words yet") for each in told)
    texts = read_texts("pl").texts
    assert texts["do_start"] == "Lay the {piece} on the bench."
    assert [texts[f"sheets[{form}]"] for form in range(3)] == ["{count} sheet"] + [
        "{count} sheets"
    ] * 2


def test_polish_has_three_forms() -> None:
    """CLDR: 1 one; 2 to 4, 22 few; 0, 5, 12 many; a fraction is other, and takes the last form."""
    words = Phrases("pl", {}, plural=catalogues.get_plural("pl").plural_expr)
    assert [words.form_of(number) for number in (1, 2, 4, 22, 0, 5, 12)] == [0, 1, 1, 1, 2, 2, 2]


def test_a_region_says_only_what_differs(folder: Path) -> None:
    assert main(["update", "de-AT"]) == 0
    path = folder / "de-AT/messages.po"
    assert "msgctxt" not in path.read_text("utf-8")
    own = 'msgctxt "contents"\nmsgid "Contents"\nmsgstr "Inhaltsverzeichnis"\n'
    path.write_text(path.read_text("utf-8") + "\n" + own, "utf-8")
    assert list(problems("de-AT")) == []
    found = read_phrases.__wrapped__("de-AT")
    assert found.texts["contents"] == "Inhaltsverzeichnis"
    assert found.texts["cutting"] == read_phrases("de").texts["cutting"]


def test_a_catalogue_that_is_no_catalogue_is_told(folder: Path) -> None:
    (folder / "de/messages.po").write_text("Werkbank\n", "utf-8")
    with pytest.raises(PhraseError, match=r"messages\.po of de cannot be read"):
        read_texts("de")


def test_other_words_are_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["chekc"]) == 2
    assert "extract, update" in capsys.readouterr().err

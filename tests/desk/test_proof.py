"""``patternpress proof``, and what ``build`` does with a booklet that is not true."""

from __future__ import annotations

import json
from pathlib import Path

import pikepdf
import pytest
from click.testing import CliRunner, Result

from patternpress.desk.cli import SHOW_TRACEBACK, main
from patternpress.desk.commands.new import starter
from patternpress.drawing import template
from tests.proof.saboteur import spoilt


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the first design and its booklet; a build takes about a second."""
    folder = tmp_path_factory.mktemp("proof")
    (folder / "box.yaml").write_text(starter("box"), "utf-8")
    done = CliRunner().invoke(
        main, ["build", str(folder / "box.yaml"), "--edition", "metric", "--out", str(folder)]
    )
    assert done.exit_code == 0, done.output
    return folder


@pytest.fixture(autouse=True)
def there(built: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(built)
    monkeypatch.setenv(SHOW_TRACEBACK, "1")
    return built


def typed(*words: str) -> Result:
    return CliRunner().invoke(main, words)


def test_a_built_booklet_has_a_page_that_tells_of_its_proof(built: Path) -> None:
    page = (built / "box-metric-proof.html").read_text("utf-8")
    assert "Sound:" in page
    assert "outline of part" in page
    assert "http" not in page.replace("http-equiv", "")


def test_a_sound_booklet_alone_and_against_its_design() -> None:
    alone = typed("proof", "box-metric.pdf")
    assert alone.exit_code == 0
    assert alone.stdout.startswith("Sound: ")
    assert "name the design to hold it against that" in alone.stdout
    against = typed("proof", "box-metric.pdf", "--design", "box.yaml")
    assert against.exit_code == 0
    assert "outlines: " in against.stdout


def test_the_record_says_what_was_measured_and_where() -> None:
    done = typed("proof", "box-metric.pdf", "--design", "box.yaml", "--format", "json")
    record = json.loads(done.stdout)
    assert (record["format"], record["sound"], record["findings"]) == (1, True, [])
    outlines = [each for each in record["measured"] if each["what"].startswith("outline")]
    assert outlines
    for each in outlines:
        assert each["worst"] <= each["allowed"] == 0.01
        assert len(each["at"]) == 2


def test_a_spoilt_booklet_is_refused_in_words_and_in_the_record(built: Path) -> None:
    def unscaled(pdf: pikepdf.Pdf) -> None:
        del pdf.Root.ViewerPreferences.PrintScaling

    data = spoilt((built / "box-metric.pdf").read_bytes(), unscaled)
    (built / "spoilt.pdf").write_bytes(data)
    done = typed("proof", "spoilt.pdf", "--page", "kept/spoilt.html")
    assert done.exit_code == 1
    assert done.stdout.startswith("Refused: 1 thing is wrong.\n")
    assert "wrong[print-scaling]" in done.stdout
    assert "To mend: " in done.stdout
    assert "print-scaling" in (built / "kept" / "spoilt.html").read_text("utf-8")
    record = json.loads(typed("proof", "spoilt.pdf", "--format", "json").stdout)
    assert [each["code"] for each in record["findings"]] == ["print-scaling"]


def test_another_edition_is_told() -> None:
    done = typed("proof", "box-metric.pdf", "--design", "box.yaml", "--edition", "inch")
    assert done.exit_code == 1
    assert "wrong[edition-differs]" in done.stdout


@pytest.mark.parametrize(
    "words",
    [
        ["proof"],
        ["proof", "nowhere.pdf"],
        ["proof", "."],
        ["proof", "a" * 5000],
        ["proof", "nul\0.pdf"],
        ["proof", "box-metric.pdf", "--edition", "inch"],
        ["proof", "box-metric.pdf", "--design", "nowhere.yaml"],
        ["proof", "box-metric.pdf", "--design", "box.yaml", "--edition", "imperial"],
    ],
)
def test_what_was_typed_wrongly_is_told_in_a_line(words: list[str]) -> None:
    done = typed(*words)
    assert done.exit_code == 2
    assert "Traceback" not in done.output


def test_what_is_no_booklet_is_refused_without_a_traceback() -> None:
    done = typed("proof", "box.yaml")
    assert done.exit_code == 1
    assert "wrong[unreadable]" in done.stdout


def test_a_design_with_errors_proves_nothing(built: Path) -> None:
    text = starter("box").replace("    stock: lime board", "    stock: lime bord", 1)
    (built / "wrong.yaml").write_text(text, "utf-8")
    done = typed("proof", "box-metric.pdf", "--design", "wrong.yaml")
    assert done.exit_code == 1
    assert "unknown-name" in done.stderr


# ------------------------------------------------------------------ build


def smaller(monkeypatch: pytest.MonkeyPatch) -> None:
    """A fault in the code that draws: everything cut is 1 % too small."""
    before = template.scaled_shape
    monkeypatch.setattr(template, "scaled_shape", lambda shape, by: before(shape, by * 99 / 100))


def test_a_booklet_that_is_not_true_is_not_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    smaller(monkeypatch)
    done = typed("build", "box.yaml", "--edition", "metric", "--out", str(tmp_path / "out"))
    assert done.exit_code == 1
    assert "the metric edition was not written" in done.stderr
    assert "wrong[outline-off]" in done.stderr
    assert not (tmp_path / "out").exists()


def test_an_unproved_booklet_is_written_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    smaller(monkeypatch)
    words = ("build", "box.yaml", "--edition", "metric", "--out", str(tmp_path), "--unproved")
    assert typed(*words).exit_code == 0
    assert not list(tmp_path.glob("*-proof.html"))
    with pikepdf.open(tmp_path / "box-metric.pdf") as pdf:
        assert pdf.docinfo["/PatternProof"] == "unproved"
    done = typed("proof", str(tmp_path / "box-metric.pdf"), "--design", "box.yaml")
    assert done.exit_code == 1
    assert "outline-off" in done.stdout

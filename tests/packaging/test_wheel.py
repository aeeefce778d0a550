"""The wheel stands alone: what is in it, and that a stranger can use it from an empty folder.

In: this source tree.  Out: a wheel in a temporary folder, a virtual environment that holds it
and nothing else of ours, and a booklet made there.  The wheel is built without a network; the
libraries it depends on are borrowed from the Python that runs the tests, patternpress is not.
"""

import os
import shutil
import subprocess
import sys
import sysconfig
import venv
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCES = ("patternpress", "themes", "designs", "pyproject.toml", "README.md", "LICENSE")
BINARIES = "Scripts" if os.name == "nt" else "bin"


@dataclass(frozen=True)
class Bench:
    """A stranger's computer: its Python, its commands, and an empty folder to work in."""

    python: Path
    commands: Path
    folder: Path


def run(command: Sequence[str | Path], folder: Path) -> str:
    """Run a command in ``folder`` with nothing of this tree in reach; return what it printed.

    Fails the test, showing both streams, when the command does.
    """
    ours = {"PYTHONPATH", "PYTHONHOME", "VIRTUAL_ENV"}
    environment = {name: value for name, value in os.environ.items() if name not in ours}
    done = subprocess.run(
        [str(word) for word in command],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done.stdout


def lend_libraries(python: Path) -> None:
    """Let ``python`` import this Python's libraries, but no project that is installed editable.

    A folder named in a .pth joins the path as it stands; the .pth files inside that folder are
    not read again, and those are all that an editable install of this tree leaves behind.
    """
    where = run([python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"], ROOT)
    lent = {sysconfig.get_path("purelib"), sysconfig.get_path("platlib")}
    Path(where.strip(), "lent.pth").write_text("\n".join(sorted(lent)) + "\n", "utf-8")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel from a copy of the sources, so that the tree is left untouched."""
    sources = tmp_path_factory.mktemp("sources")
    for name in SOURCES:
        if (ROOT / name).is_dir():
            ignore = shutil.ignore_patterns("__pycache__")
            shutil.copytree(ROOT / name, sources / name, ignore=ignore)
        else:
            shutil.copy(ROOT / name, sources / name)
    out = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "build", "--wheel", "--no-isolation"]
    run([*build, "--outdir", out, sources], sources)
    (made,) = out.glob("*.whl")
    return made


@pytest.fixture(scope="module")
def bench(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Bench:
    """Install the wheel alone into an empty environment, beside an empty folder."""
    place = tmp_path_factory.mktemp("stranger")
    venv.create(place / "env", with_pip=False, symlinks=os.name != "nt")
    commands = place / "env" / BINARIES
    python = commands / Path(sys.executable).name
    pip = [sys.executable, "-m", "pip", "--python", str(python)]
    run([*pip, "install", "--quiet", "--no-index", "--no-deps", wheel], place)
    lend_libraries(python)
    (place / "folder").mkdir()
    return Bench(python, commands, place / "folder")


def inside(wheel: Path) -> set[str]:
    """The names of all files in a wheel."""
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


def test_wheel_carries_every_theme_file(wheel: Path) -> None:
    themes = ROOT / "themes"
    here = {
        f"patternpress/themes/{file.relative_to(themes).as_posix()}"
        for file in themes.rglob("*")
        if file.is_file() and "__pycache__" not in file.parts
    }
    assert here, "themes/ is empty"
    assert here <= inside(wheel)


def test_wheel_carries_every_file_of_the_package(wheel: Path) -> None:
    here = {
        file.relative_to(ROOT).as_posix()
        for file in (ROOT / "patternpress").rglob("*")
        if file.is_file() and "__pycache__" not in file.parts
    }
    assert here <= inside(wheel)


@pytest.mark.parametrize(
    ("what", "ending"),
    [
        ("the mark of a typed package", "patternpress/py.typed"),
        ("the licence", "licenses/LICENSE"),
        ("the command", "entry_points.txt"),
    ],
)
def test_wheel_carries(wheel: Path, what: str, ending: str) -> None:
    assert any(name.endswith(ending) for name in inside(wheel)), f"{what} is missing"


@pytest.mark.parametrize("word", ["schema", "words", "starter"])
def test_wheel_carries_data_named(wheel: Path, word: str) -> None:
    data = [name for name in inside(wheel) if not name.endswith(".py") and word in name]
    assert data, f"no {word} data in the wheel"


def test_wheel_leaves_tests_and_output_at_home(wheel: Path) -> None:
    tops = {name.split("/")[0] for name in inside(wheel)}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"patternpress"}


def test_stranger_imports_the_wheel_and_not_this_tree(bench: Bench) -> None:
    where = run(
        [bench.python, "-c", "import patternpress; print(patternpress.__path__[0])"], ROOT.parent
    )
    assert bench.commands.parent.resolve() in Path(where.strip()).resolve().parents


def test_stranger_builds_a_first_booklet(bench: Bench) -> None:
    command = bench.commands / "patternpress"
    run([command, "new", "box"], bench.folder)
    run([command, "build", "box.yaml"], bench.folder)
    pages = list(bench.folder.rglob("*.pdf"))
    assert pages, sorted(path.name for path in bench.folder.rglob("*"))
    assert all(page.read_bytes().startswith(b"%PDF-") for page in pages)

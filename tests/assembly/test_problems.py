"""Each kind of problem that a check finds, in a small file of its own; none is left out."""

import importlib
import pkgutil
import re
from pathlib import Path

import pytest

from patternpress import measure
from patternpress.design import kinds
from patternpress.design.kinds.figures import BY_CODE
from patternpress.design.problem import Kind
from patternpress.measure.errors import MeasureError
from tests.booklet import test_told_apart, test_told_instead
from tests.booklet.test_photographs import TOLD
from tests.design.faulty import SAID, expected, found, really
from tests.design.test_files import BUILT

HERE = Path(__file__).parent
FAULTS = sorted((HERE / "faults").glob("*.yaml"))
ELSEWHERE = sorted((HERE.parent / "design" / "faults").glob("*.yaml"))


@pytest.mark.parametrize("path", FAULTS, ids=lambda path: path.stem)
def test_a_fault_is_told_in_full_and_alone(path: Path) -> None:
    text = path.read_text("utf-8")
    said = expected(text)
    assert any(f" {path.stem}: " in each for _, each in said)
    assert really(found(text, path)) == said


@pytest.mark.parametrize("path", FAULTS + ELSEWHERE, ids=lambda path: path.stem)
def test_without_its_comments_a_file_has_the_same_faults(path: Path) -> None:
    """The comments only describe; what is found does not come from them."""
    text = path.read_text("utf-8")
    bare = "".join(line for line in text.splitlines(True) if not SAID.fullmatch(line.rstrip("\n")))
    codes = [each.code for each in found(bare, path)]
    assert codes == [each.code for each in found(text, path)] != []


def every_kind() -> list[type[Kind]]:
    """Every kind of problem in the folder of kinds, found by importing all of it."""
    for module in pkgutil.iter_modules(kinds.__path__):
        importlib.import_module(f"{kinds.__name__}.{module.name}")
    return sorted(Kind.__subclasses__(), key=lambda kind: kind.code())


@pytest.mark.parametrize("kind", every_kind(), ids=lambda kind: kind.code())
def test_every_kind_has_a_wrong_example_and_a_page(kind: type[Kind]) -> None:
    files = {path.stem for path in FAULTS + ELSEWHERE}
    assert kind.code() in files | {*BUILT, *TOLD}, "write a small file with this fault into faults/"
    assert kind.what
    assert kind.paragraph("At the bench:").endswith((".", "?"))
    assert kind.paragraph("To mend:").endswith((".", "?"))


def test_no_wrong_example_is_about_a_kind_that_is_gone() -> None:
    codes = {kind.code() for kind in every_kind()}
    assert {path.stem for path in FAULTS + ELSEWHERE} | {*BUILT, *TOLD} <= codes


def test_every_failure_of_the_measure_room_has_a_kind() -> None:
    """Codes are read off the source, so that a new one cannot be forgotten."""
    folder = Path(measure.__path__[0])
    source = "".join(path.read_text("utf-8") for path in sorted(folder.glob("*.py")))
    raised = set(re.findall(r'(?:MeasureError|MixedKinds|fail)\(\s*"([a-z-]+)"', source))
    # Drills, papers and printers are asked for by the program, never by an author's figure.
    assert raised - {
        "no-drill",
        "unknown-paper",
        "bad-margin",
        "bad-bars",
        "bars-far-out",
    } == set(BY_CODE)
    assert MeasureError("too-deep").code in raised


# What is no problem, because the booklet always tells it: the tests that show that it does, on the
# demos and on designs made for it.
TOLD_INSTEAD = {
    "pieces that look alike": (
        test_told_apart.test_near_alike_rectangles_name_each_other,
        test_told_instead.test_nearly_equal_parts_of_any_stock_are_told_of_each_other,
    ),
    "mirror images": (
        test_told_apart.test_a_part_with_two_hands_is_told_with_both,
        test_told_instead.test_the_hands_of_a_pair_are_told,
        test_told_instead.test_mirror_images_that_are_two_parts_are_told_of_each_other,
    ),
    "small parts": (
        test_told_instead.test_small_parts_of_the_demo_have_their_warning,
        test_told_instead.test_a_small_part_has_its_warning,
    ),
}


@pytest.mark.parametrize("what", TOLD_INSTEAD)
def test_what_is_told_instead_of_checked_has_its_tests(what: str) -> None:
    assert all(each.__name__.startswith("test_") for each in TOLD_INSTEAD[what])

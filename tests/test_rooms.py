"""The rooms: imports point one way, and modules keep to a size that one can read.

The order of the rooms and the limits are this project's own; nothing outside asks for them.
Everything is read off the syntax trees, so that imports hidden in functions, under
TYPE_CHECKING or in `importlib.import_module("...")` count like any other.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

ROOMS = (
    "measure",
    "design",
    "assembly",
    "closing",
    "drawing",
    "cutting",
    "booklet",
    "proof",
    "desk",
)
ALONE = "proof"  # measures what the others wrote, so it may lean on none of them
PACKAGE = Path(__file__).parents[1] / "patternpress"
LONGEST_MODULE = 400
LONGEST_FUNCTION = 60
LEAST_DOCUMENTED = 0.95

Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Import:
    """One import as written: from which module, of which, on which line."""

    importer: str
    imported: str
    line: int

    def __str__(self) -> str:
        return f"{self.importer}:{self.line} imports {self.imported}"


@cache
def trees() -> dict[str, ast.Module]:
    """Every module of the package by its dotted name."""
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
        name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
        found[name] = ast.parse(path.read_text(encoding="utf-8"))
    return found


def asked(node: ast.AST) -> list[str]:
    """The dotted names that a node imports."""
    if isinstance(node, ast.Import):
        return [each.name for each in node.names]
    if isinstance(node, ast.ImportFrom):
        return [f"{node.module}.{each.name}" for each in node.names] if node.module else []
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute | ast.Name):
        called = node.func.attr if isinstance(node.func, ast.Attribute) else node.func.id
        first = node.args[0] if node.args else None
        if called in ("import_module", "__import__") and isinstance(first, ast.Constant):
            return [str(first.value)]
    return []


def imports_in(tree: ast.Module, importer: str, modules: set[str]) -> Iterator[Import]:
    """The imports of our own modules; a name inside a module counts as that module."""
    for node in ast.walk(tree):
        for name in asked(node):
            module = name if name in modules else name.rpartition(".")[0]
            if module in modules:
                yield Import(importer, module, getattr(node, "lineno", 0))


def imports() -> list[Import]:
    """Every import inside the package."""
    modules = set(trees())
    return [each for name, tree in trees().items() for each in imports_in(tree, name, modules)]


def room(module: str) -> str:
    """The room that a module lies in, or nothing for the package itself."""
    return module.split(".")[1] if "." in module else ""


def backwards(found: list[Import]) -> list[str]:
    """The imports of a later room by an earlier one."""
    return [
        str(each)
        for each in found
        if room(each.importer)
        and room(each.imported)
        and ROOMS.index(room(each.imported)) > ROOMS.index(room(each.importer))
    ]


def ring(found: list[Import]) -> list[str]:
    """Modules in a ring, or leading into one: what is left when all that want nothing are gone."""
    left: dict[str, set[str]] = {}
    for each in found:
        if each.imported != each.importer:
            left.setdefault(each.importer, set()).add(each.imported)
            left.setdefault(each.imported, set())
    while free := [name for name, wants in left.items() if not wants]:
        for name in free:
            del left[name]
        for wants in left.values():
            wants.difference_update(free)
    return sorted(left)


def lines(node: Function) -> int:
    """Lines of a function without its docstring."""
    first = node.body[0]
    doc = (first.end_lineno or 0) - first.lineno + 1 if ast.get_docstring(node) else 0
    return (node.end_lineno or 0) - node.lineno + 1 - doc


def functions() -> Iterator[tuple[str, Function]]:
    for name, tree in trees().items():
        for node in ast.walk(tree):
            if isinstance(node, Function):
                yield f"{name}.{node.name}", node


def public(body: list[ast.stmt]) -> Iterator[Function | ast.ClassDef]:
    """Functions and classes without an underscore, and the methods of such classes."""
    for node in body:
        if isinstance(node, Function | ast.ClassDef) and not node.name.startswith("_"):
            yield node
            if isinstance(node, ast.ClassDef):
                yield from public(node.body)


def test_every_folder_is_a_known_room() -> None:
    folders = {path.name for path in PACKAGE.iterdir() if path.is_dir()} - {"__pycache__"}
    assert folders <= {*ROOMS, "themes", "messages"}


def test_imports_go_one_way_between_rooms() -> None:
    assert backwards(imports()) == []


def test_no_modules_import_each_other_in_a_ring() -> None:
    assert ring(imports()) == []


def test_the_proof_imports_nothing_of_the_others() -> None:
    lean = [e for e in imports() if room(e.importer) == ALONE and room(e.imported) != ALONE]
    assert [str(each) for each in lean] == []


@pytest.mark.parametrize(
    ("source", "wrong"),
    [
        ("from patternpress.booklet.fill import content_of", True),
        ("import patternpress.booklet.fill", True),
        ("def late():\n    from patternpress.booklet import fill", True),
        ("if TYPE_CHECKING:\n    from patternpress.booklet.fill import x", True),
        ("importlib.import_module('patternpress.booklet.fill')", True),
        ("from patternpress.measure.units import x", False),
        ("from pathlib import Path", False),
    ],
)
def test_an_import_the_wrong_way_is_found(source: str, wrong: bool) -> None:
    modules = {
        "patternpress.drawing.ink",
        "patternpress.booklet.fill",
        "patternpress.measure.units",
    }
    found = list(imports_in(ast.parse(source), "patternpress.drawing.ink", modules))
    assert bool(backwards(found)) is wrong


def test_a_ring_is_found() -> None:
    pairs = [("a.x", "a.y"), ("a.y", "a.z"), ("a.z", "a.x"), ("a.w", "a.x"), ("a.y", "a.v")]
    found = [Import(one, other, 1) for one, other in pairs]
    assert ring(found) == ["a.w", "a.x", "a.y", "a.z"]
    assert ring([each for each in found if each.importer != "a.z"]) == []


def test_every_module_opens_with_a_docstring() -> None:
    assert [name for name, tree in trees().items() if not ast.get_docstring(tree)] == []


def test_no_module_is_too_long() -> None:
    long = {
        path.relative_to(PACKAGE).as_posix(): count
        for path in PACKAGE.rglob("*.py")
        if (count := len(path.read_text(encoding="utf-8").splitlines())) > LONGEST_MODULE
    }
    assert long == {}


def test_no_function_is_too_long() -> None:
    long = {name: count for name, node in functions() if (count := lines(node)) > LONGEST_FUNCTION}
    assert long == {}


def test_public_things_are_documented() -> None:
    found = [
        (f"{name}.{node.name}", bool(ast.get_docstring(node)))
        for name, tree in trees().items()
        for node in public(tree.body)
    ]
    silent = [name for name, said in found if not said]
    assert 1 - len(silent) / len(found) >= LEAST_DOCUMENTED, silent

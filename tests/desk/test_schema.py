"""The JSON Schema, judged by a library that knows nothing of ours (jsonschema)."""

import datetime
import json
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from patternpress.design.schema import STORED, as_text, json_schema
from patternpress.desk.commands.new import starter

DESIGNS = Path(__file__).parents[2] / "designs"
FILES = sorted(DESIGNS.glob("*.yaml"))
VALID = Draft202012Validator(json_schema())


class Lenient(yaml.SafeLoader):
    """YAML as an editor reads it, but that keys stay text: to YAML 1.1 the key ``on`` is true."""

    def construct_mapping(self, node: Any, deep: bool = False) -> dict[str, Any]:  # type: ignore[override]
        """A group with its keys as they are written."""
        return {key.value: self.construct_object(value, deep=True) for key, value in node.value}

    def construct_yaml_map(self, node: Any) -> Any:
        """All of it at once."""
        yield self.construct_mapping(node)


Lenient.add_constructor("tag:yaml.org,2002:map", Lenient.construct_yaml_map)


def as_json(value: Any) -> Any:
    """Dates as JSON has them: text."""
    return json.loads(json.dumps(value, default=datetime.date.isoformat))


def faults(text: str, loader: Any = Lenient) -> list[str]:
    """What does not fit the schema."""
    found = VALID.iter_errors(as_json(yaml.load(text, Loader=loader)))
    return [f"{'/'.join(map(str, each.absolute_path))}: {each.message[:120]}" for each in found]


def test_it_is_a_schema_of_its_draft() -> None:
    Draft202012Validator.check_schema(json_schema())


def test_the_stored_schema_is_up_to_date() -> None:
    # Written anew by: python -m patternpress.design.schema
    assert STORED.read_text("utf-8") == as_text()


def test_there_are_designs() -> None:
    assert FILES


@pytest.mark.parametrize("loader", [Lenient, yaml.BaseLoader])
@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_every_design_fits(file: Path, loader: Any) -> None:
    assert faults(file.read_text("utf-8"), loader) == []


def test_the_first_design_fits() -> None:
    assert faults(starter("box")) == []


@pytest.mark.parametrize(
    ("right", "wrong", "where"),
    [
        ("version:", "versoin:", ""),
        ("scale: 1:12", "scale: big", "scale"),
        ("kind: glue", "kind: gum", "materials"),
        ("{sheet: 2 mm, wood", "{sheet: 2 mm, rod: 3 mm, wood", "stock"),
        ("    stock: lime board\n", "", "parts"),
        ("until: handle", "until: friday", "steps"),
        ("paper: A4", "paper: A5", "editions"),
    ],
)
def test_what_is_wrong_does_not_fit(right: str, wrong: str, where: str) -> None:
    text = starter("box")
    changed = text.replace(right, wrong, 1)
    assert changed != text
    assert [each.split(":")[0].split("/")[0] for each in faults(changed)] == [where]


@pytest.mark.parametrize(
    "field",
    ["version: 1.0", "date: 2026-11-25", "scale: 1:12", "design: 42", "languages: [no, en]"],
)
def test_what_yaml_makes_of_plain_words_is_let_pass(field: str) -> None:
    name = field.split(":", maxsplit=1)[0]
    lines = [each for each in starter("box").split("\n") if not each.startswith(name)]
    assert faults("\n".join([field, *lines])) == []

"""The JSON Schemas, held against sources by jsonschema, which are read as YAML 1.2 by ruamel."""

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from ruamel.yaml import YAML

from baybook.book.schema import SOURCES, schema, write_schemas
from baybook.cli import main

ROOT = Path(__file__).parents[2]


def front_matter(path: Path) -> Any:
    text = path.read_text("utf-8")
    return YAML(typ="safe", pure=True).load(
        text.removeprefix("---\n").split("\n---\n")[0] if path.suffix == ".md" else text
    )


def kind_of(path: Path) -> str:
    if path.suffix == ".md":
        return "procedure"
    return "shared" if path.name == "shared.yml" else "vehicle"


def sources() -> list[Path]:
    folders = ROOT / "procedures", ROOT / "tests/wrong_sources/base"
    files = sorted(path for folder in folders for path in folder.rglob("*"))
    skeletons = [
        ROOT / f"build/baybook/skeletons/{name}" for name in ("procedure.md", "vehicle.yml")
    ]
    found = [path for path in files if path.suffix in (".md", ".yml")]
    return [*skeletons, *(path for path in found if path.parent.name != "shared")]


SEEN = ("tests", "hold", "observations", "vacuum")


@pytest.mark.parametrize("name", ["reading", "limit", "kind", "reference"])
def test_an_editor_marks_what_a_reading_lacks(name: str) -> None:
    data = front_matter(ROOT / "tests/wrong_sources/base/procedures/air.md")
    del data["tests"]["hold"]["observations"]["vacuum"][name]
    assert not jsonschema.Draft202012Validator(schema("procedure")).is_valid(data)


def test_yes_is_a_text_in_yaml_1_2_and_still_right() -> None:
    data = front_matter(ROOT / "tests/wrong_sources/base/procedures/air.md")
    assert data["tests"]["runs"]["observations"]["heard"]["good"] == "yes"
    jsonschema.Draft202012Validator(schema("procedure")).validate(data)


@pytest.mark.parametrize("source", SOURCES)
def test_a_schema_is_one(source: str) -> None:
    jsonschema.Draft202012Validator.check_schema(schema(source))


@pytest.mark.parametrize("path", sources(), ids=lambda path: path.name)
def test_valid_sources_fit_their_schema(path: Path) -> None:
    jsonschema.Draft202012Validator(schema(kind_of(path))).validate(front_matter(path))


@pytest.mark.parametrize(
    ("place", "value", "said"),
    [
        (("titel",), "x", "Additional properties are not allowed ('titel' was unexpected)"),
        (("codes",), ["p0410"], "'p0410' does not match '^[PBCU][0-3][0-9A-F]{3}$'"),
        (("system",), "Secondary air", "'Secondary air' is not valid under any"),
        (("faults", "pump-dead", "sets"), {"P0410": 1.2}, "1.2 is greater than the maximum of 1"),
        (("tests", "hold", "observations", "vacuum", "kind"), "presure", "'presure' is not one of"),
        (("tests", "hold", "minutes"), "5", "'5' is not valid under any of the given schemas"),
        (("tests",), {}, "{} should be non-empty"),
        (("tests", "hold", "observations"), {}, "{} should be non-empty"),
        ((*SEEN, "asks"), "Is it good?", "{"),
        ((*SEEN, "limit"), {"figure": "a", "at-least": "2 V"}, "{"),
        ((*SEEN, "limit"), {"at-least": "Much"}, "'Much' does not match"),
        (("tests", "hold", "calculator"), {"use": "vacum_hold"}, "'vacum_hold' is not one of"),
        (("tests", "hold", "when"), {"with": ["a"]}, "{'with': ['a']} is not valid under any"),
    ],
)
def test_an_editor_marks_mistakes(place: tuple[str, ...], value: object, said: str) -> None:
    data = front_matter(ROOT / "tests/wrong_sources/base/procedures/air.md")
    group = data
    for name in place[:-1]:
        group = group[name]
    group[place[-1]] = value
    errors = list(jsonschema.Draft202012Validator(schema("procedure")).iter_errors(data))
    assert [error.message[: len(said)] for error in errors] == [said]


def test_every_field_is_described() -> None:
    for source in SOURCES:
        for name, record in schema(source)["$defs"].items():
            for field, about in record["properties"].items():
                assert "description" in json.dumps(about), f"{name}.{field}"


def test_schemas_are_printed_and_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", "--schema"]) == 0
    assert json.loads(capsys.readouterr().out) == schema("procedure")
    assert main(["check", "--schema", "vehicle"]) == 0
    assert json.loads(capsys.readouterr().out) == schema("vehicle")
    assert main(["check", "--schema-to", str(tmp_path / "schemas")]) == 0
    names = [f"{source}.schema.json" for source in SOURCES]
    assert capsys.readouterr().out.split() == [str(tmp_path / "schemas" / name) for name in names]
    assert [path.name for path in write_schemas(tmp_path / "schemas")] == names
    assert json.loads((tmp_path / "schemas" / names[2]).read_text("utf-8")) == schema("shared")

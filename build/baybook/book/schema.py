"""JSON Schemas of the sources, so that an editor completes and checks while typing.

Editors read YAML 1.2, in which ``yes`` is a text: both words stand beside true and false.
"""

import json
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path
from typing import Any

import msgspec

from baybook.book.pint_quantities import KINDS, unit_table_data
from baybook.book.source_model import SYSTEMS, Procedure, Shared, Vehicle
from baybook.book.source_types import FLOWS, HAZARDS, MARKED
from baycalc import api

DIALECT = "https://json-schema.org/draft/2020-12/schema"

SOURCES: dict[str, type[msgspec.Struct]] = {
    "procedure": Procedure,
    "vehicle": Vehicle,
    "shared": Shared,
}
"""The kinds of sources: the front matter of a procedure, a vehicle, and the shared file."""

Json = dict[str, Any]

_ID = {"type": "string", "pattern": "^[a-z][a-z0-9-]*$"}
_OF_CAR = {"type": "string", "pattern": r"^[a-z][a-z0-9-]*(\.(least|greatest))?$"}
_YES_NO = [True, False, "yes", "no"]


def schema(source: str) -> Json:
    """Return the JSON Schema of one kind of source.

    Parameters
    ----------
    source : str
        ``procedure``, ``vehicle`` or ``shared`` [-]
    """
    api.install(unit_table_data())
    plain = json.loads(msgspec.json.encode(msgspec.json.schema(SOURCES[source])))
    found = _for_editors(plain)
    for name, record in found["$defs"].items():
        if name in _RULES:
            _RULES[name](record)
    number = version("baybook")
    return {
        "$schema": DIALECT,
        "$id": f"urn:baybook:{number}:{source}",
        "title": f"Baybook {number}: {source}",
        **found,
    }


def _for_editors(part: Any) -> Any:
    """Widen a schema to all that `baybook check` accepts."""
    if isinstance(part, list):
        return [_for_editors(each) for each in part]
    if not isinstance(part, dict):
        return part
    about = {name: part[name] for name in ("description", "default") if name in part}
    if part.get("type") == "boolean":
        return {"enum": _YES_NO, **about}
    if part.get("$ref") == "#/$defs/Needs":
        return {"anyOf": [{"type": "array", "items": _ID}, {"$ref": part["$ref"]}], **about}
    if any(mark in part for mark in MARKED):
        number = {name: each for name, each in part.items() if name not in (*MARKED, *about)}
        return {"anyOf": [number, _OF_CAR], **about}
    return {name: _for_editors(each) for name, each in part.items()}


def _known(words: tuple[str, ...]) -> Json:
    """Complete some words and accept what shared.yml may add."""
    return {"anyOf": [{"enum": [*words]}, _ID]}


def _one_form(record: Json) -> None:
    bound = {"anyOf": [{"required": ["at-least"]}, {"required": ["at-most"]}]}
    record["oneOf"] = [{"required": ["figure"]}, {"required": ["between"]}, bound]


def _observation(record: Json) -> None:
    properties = record["properties"]
    properties["kind"]["enum"] = [*KINDS]
    for name in ("asks", "reading"):
        properties[name]["minLength"] = 1
    bands = {"required": ["bands", "normal"]}
    record["oneOf"] = [
        {"required": ["asks"], "anyOf": [{"required": ["good"]}, bands]},
        {"required": ["reading", "kind"], "anyOf": [{"required": ["limit"]}, bands]},
    ]
    record["not"] = {"required": ["asks", "reading"]}
    record["if"] = {"properties": {"kind": {"const": "pressure"}}, "required": ["kind"]}
    record["then"] = {"required": ["reference"]}


def _figure(record: Json) -> None:
    bound = {"anyOf": [{"required": ["at-least"]}, {"required": ["at-most"]}]}
    several = [{"required": [name]} for name in ("value", "between", "text")]
    record["anyOf"] = [*several, bound, {"required": ["where"]}]


def _procedure(record: Json) -> None:
    properties = record["properties"]
    about = properties["system"]["description"]
    properties["system"] = {"description": about, **_known(tuple(SYSTEMS))}
    for name in ("faults", "tests", "parts"):
        properties[name]["minProperties"] = 1


def _setup(record: Json) -> None:
    record["properties"]["hazards"]["items"] = _known(HAZARDS)


_RULES: dict[str, Callable[[Json], None]] = {
    "Limit": _one_form,
    "Observation": _observation,
    "Figure": _figure,
    "Procedure": _procedure,
    "Setup": _setup,
    "Safety": lambda record: record["properties"]["covers"].update(items=_known(HAZARDS)),
    "Part": lambda record: record["properties"]["joins"].update(propertyNames=_known(FLOWS)),
    "Tool": lambda record: record["properties"]["gauges"].update(propertyNames={"enum": [*KINDS]}),
    "Embed": lambda record: record["properties"]["use"].update(enum=[*api.names()]),
    "Test": lambda record: record["properties"]["observations"].update(minProperties=1),
}
"""What a schema cannot be told by types, by the name of its record."""


def write_schemas(folder: Path) -> list[Path]:
    """Write the schema of every kind of source into a folder and return the files."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for source in SOURCES:
        path = folder / f"{source}.schema.json"
        path.write_text(json.dumps(schema(source), indent=2) + "\n", encoding="utf-8")
        written.append(path)
    return written

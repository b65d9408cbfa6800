"""JSON Schemas of the sources, so that an editor completes and checks while typing."""

import json
from pathlib import Path
from typing import Any

import msgspec

from baybook.book.pint_quantities import KINDS
from baybook.book.source_model import SYSTEMS, Procedure, Shared, Vehicle

DIALECT = "https://json-schema.org/draft/2020-12/schema"

SOURCES: dict[str, type[msgspec.Struct]] = {
    "procedure": Procedure,
    "vehicle": Vehicle,
    "shared": Shared,
}
"""The kinds of sources: the front matter of a procedure, a vehicle, and the shared file."""


def schema(source: str) -> dict[str, Any]:
    """Return the JSON Schema of one kind of source.

    Parameters
    ----------
    source : str
        ``procedure``, ``vehicle`` or ``shared`` [-]
    """
    found = json.loads(msgspec.json.encode(msgspec.json.schema(SOURCES[source])))
    records = found["$defs"]
    if "Observation" in records:
        records["Observation"]["properties"]["kind"]["enum"] = list(KINDS)
        records["Procedure"]["properties"]["system"]["enum"] = list(SYSTEMS)
    if "Tool" in records:
        gauges = records["Tool"]["properties"]["gauges"]
        gauges["propertyNames"] = {"enum": list(KINDS)}
    return {"$schema": DIALECT, "title": f"Baybook: {source}", **found}


def write_schemas(folder: Path) -> list[Path]:
    """Write the schema of every kind of source into a folder and return the files."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for source in SOURCES:
        path = folder / f"{source}.schema.json"
        path.write_text(json.dumps(schema(source), indent=2) + "\n", encoding="utf-8")
        written.append(path)
    return written

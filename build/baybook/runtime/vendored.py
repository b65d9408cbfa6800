"""What others made and the book carries: name, version, licence and hash."""

import json
from dataclasses import dataclass
from pathlib import Path

LOCK = Path(__file__).parent / "package-lock.json"

# Part of the package pyodide, which names them in its own lock file: version and licence.
INSIDE_PYODIDE = {"CPython": ("3.13.2", "PSF-2.0"), "Emscripten": ("4.0.9", "MIT OR NCSA")}
PURPOSE = {
    "pyodide": "the browser's Python",
    "iframe-worker": "search in a book opened from a folder",
    "ajv": "checks bench sheets that are loaded from files",
    "minisearch": "finds codes, complaints, parts and tests by words",
    "idb": "keeps bench sheets and photos in the browser",
    "@fontsource-variable/atkinson-hyperlegible-next": "the typeface of the book",
}


@dataclass(frozen=True)
class Vendored:
    """One thing that is carried along.

    `integrity` is the hash of the package it came in, as npm writes it.
    """

    name: str
    version: str
    licence: str
    purpose: str
    integrity: str


def vendored() -> list[Vendored]:
    """Return what the built runtime holds of others, sorted by name."""
    packages = json.loads(LOCK.read_text(encoding="utf-8"))["packages"]
    found = [_from_lock(name, packages[f"node_modules/{name}"]) for name in PURPOSE]
    pyodide = next(entry for entry in found if entry.name == "pyodide")
    inside = [
        Vendored(name, version, licence, "part of pyodide", pyodide.integrity)
        for name, (version, licence) in INSIDE_PYODIDE.items()
    ]
    return sorted([*found, *inside], key=lambda entry: entry.name.lower())


def _from_lock(name: str, entry: dict[str, str]) -> Vendored:
    return Vendored(name, entry["version"], entry["license"], PURPOSE[name], entry["integrity"])

"""Reads what the runtime carries of others from the npm packages and their lock file."""

import json
import shutil
from pathlib import Path

from baybook.carried import Carried

HERE = Path(__file__).parent
LOCK = HERE / "package-lock.json"
TEXTS = HERE / "licences"
"""Texts of licences whose packages bring none along."""

INSIDE_PYODIDE = {"CPython": "PSF-2.0", "Emscripten": "MIT OR NCSA"}
"""Part of the package pyodide, which names their versions in its own lock file."""

SOURCES = {
    "pyodide": "https://github.com/pyodide/pyodide",
    "CPython": "https://github.com/python/cpython",
    "Emscripten": "https://github.com/emscripten-core/emscripten",
}
"""Where the source of what is carried compiled is to be had, as the MPL asks."""

PURPOSE = {
    "pyodide": "the browser's Python",
    "ajv": "checks bench sheets that are loaded from files",
    "js-yaml": "reads and writes the file of a car of one's own",
    "minisearch": "finds codes, complaints, parts and tests by words",
    "idb": "keeps bench sheets and photos in the browser",
    "@fontsource-variable/atkinson-hyperlegible-next": "the typeface of the book",
}


def keep_licences(modules: Path, folder: Path) -> None:
    """Put the texts of the licences, and the versions inside pyodide, beside an edition.

    Parameters
    ----------
    modules : Path
        The installed npm packages.
    folder : Path
        Folder to make.
    """
    folder.mkdir()
    for name in PURPOSE:
        texts = [TEXTS / f"{name}.txt", *sorted((modules / name).glob("LICENSE*"))]
        shutil.copy(next(text for text in texts if text.exists()), folder / _file(name))
    for name in INSIDE_PYODIDE:
        shutil.copy(TEXTS / f"{name}.txt", folder / _file(name))
    info = json.loads((modules / "pyodide" / "pyodide-lock.json").read_text("utf-8"))["info"]
    versions = {
        "CPython": info["python"],
        "Emscripten": info["platform"].removeprefix("emscripten_").replace("_", "."),
    }
    (folder / "versions.json").write_text(json.dumps(versions), encoding="utf-8")


def vendored(folder: Path) -> list[Carried]:
    """Return what an edition holds of others, sorted by name.

    Parameters
    ----------
    folder : Path
        What `keep_licences` made.
    """
    packages = json.loads(LOCK.read_text(encoding="utf-8"))["packages"]
    found = [_from_lock(name, packages[f"node_modules/{name}"], folder) for name in PURPOSE]
    pyodide = next(entry for entry in found if entry.name == "pyodide")
    versions = json.loads((folder / "versions.json").read_text("utf-8"))
    inside = [
        Carried(
            name,
            versions[name],
            licence,
            "part of pyodide",
            pyodide.integrity,
            (folder / _file(name)).read_text("utf-8"),
            SOURCES[name],
        )
        for name, licence in INSIDE_PYODIDE.items()
    ]
    return sorted([*found, *inside], key=lambda entry: entry.name.lower())


def _from_lock(name: str, entry: dict[str, str], folder: Path) -> Carried:
    return Carried(
        name,
        entry["version"],
        entry["license"],
        PURPOSE[name],
        entry["integrity"],
        (folder / _file(name)).read_text("utf-8"),
        SOURCES.get(name, ""),
    )


def _file(name: str) -> str:
    return f"{name.replace('/', '-')}.txt"

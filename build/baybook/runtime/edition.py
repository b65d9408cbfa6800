"""Makes one edition of the browser's Python: one set of files that belong together."""

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

from baybook.leftovers import working_folder
from baybook.runtime.manifest import seal
from baybook.runtime.node import Node, find_node, install_packages, move_into_place, run
from baybook.runtime.payload import ASSETS, write_client, write_payload, write_workers, zipped
from baybook.runtime.typeface import LICENCE, PACKAGE, STYLE_SHEET, carried_typeface
from baybook.runtime.vendored import keep_licences
from baybook.runtime.wheel import lock_wheel, write_wheel

HERE = Path(__file__).parent
CLIENT = "python.js"
PAYLOADS = ("wasm", "snapshot", "plain")
OLDEST_BROWSERS = "Chrome or Edge 111, Firefox 113, Safari 16.4"
"""What the pages need came with these: the style sheets' color-mix() to Chrome, DecompressionStream
to Firefox and Safari (MDN browser-compat-data 8.1.9)."""
LIBRARIES = {
    "idb": "build/umd.js",
    "js-yaml": "dist/js-yaml.min.js",
    "minisearch": "dist/umd/index.js",
}
"""What the pages' own script takes in: file of each npm package."""

LIBRARY_FOLDER = "libraries"
LICENCE_FOLDER = "licences"
SCHEMA = ASSETS.parent / "bench-sheet.schema.json"

Progress = Callable[[str], None]
Payload = dict[str, bytes]


def make_edition(
    made: Path, edition: str, calc_dir: Path, units_json: str, progress: Progress
) -> None:
    """Make an edition in a folder that appears only when all of it is there.

    Parameters
    ----------
    made : Path
        Folder to make, inside the folder of the cache.
    edition : str
        Name of the edition, part of the names of its files.
    calc_dir : Path
        Folder of the package `baycalc`.
    units_json : str
        Unit table that the calculators are given.
    progress : callable
        Told the name of each step.

    Raises
    ------
    RuntimeBuildError
        When Node or a package is missing, or a step fails.
    """
    node = find_node()
    progress("fetching the parts of the browser's Python")
    modules = install_packages(node, made.parent)
    with working_folder(made.parent, "new-runtime-") as work:
        shipped = work / "shipped"
        shipped.mkdir()
        units = work / "units.json"
        units.write_text(units_json, encoding="utf-8")
        wheel = write_wheel(calc_dir, work)
        progress("making the snapshot of the browser's Python")
        snapshot = make_snapshot(node, modules / "pyodide", wheel, units)
        progress("packing the browser's Python")
        _write_python(shipped, edition, modules / "pyodide", snapshot, wheel, units)
        _copy_libraries(modules, shipped)
        _write_schema_check(node, modules, shipped)
        _write_typeface(modules / PACKAGE, shipped)
        keep_licences(modules, shipped / LIBRARY_FOLDER / LICENCE_FOLDER)
        seal(shipped)
        move_into_place(shipped, made)


def make_snapshot(node: Node, pyodide: Path, wheel: Path, units: Path) -> Path:
    """Make the memory snapshot beside the wheel and return its file."""
    snapshot = wheel.with_name("snapshot.bin")
    words = (node.node, HERE / "snapshot.mjs", pyodide, wheel, units, snapshot)
    run([str(word) for word in words], wheel.parent)
    return snapshot


def _write_python(
    folder: Path, edition: str, pyodide: Path, snapshot: Path, wheel: Path, units: Path
) -> None:
    base_lock = _base_lock(pyodide)
    write_workers(folder, edition, _engine(pyodide))
    payloads = {
        "wasm": _zipped(pyodide / "pyodide.asm.wasm"),
        "snapshot": _zipped(snapshot),
        "plain": _plain(pyodide, base_lock, wheel, units),
    }
    for name in PAYLOADS:
        write_payload(folder, name, edition, payloads[name])
    build = {
        "edition": edition,
        "lock": base_lock,
        "snapshotBytes": snapshot.stat().st_size,
        "memory": json.loads(snapshot.with_suffix(".json").read_text(encoding="utf-8")),
        "files": {name: list(payloads[name]) for name in PAYLOADS},
        "oldest": OLDEST_BROWSERS,
    }
    write_client(folder / CLIENT, build)


def _base_lock(pyodide: Path) -> dict[str, Any]:
    lock = json.loads((pyodide / "pyodide-lock.json").read_text(encoding="utf-8"))
    return {"info": lock["info"], "packages": {}}


def _engine(pyodide: Path) -> str:
    """Return Pyodide's own scripts as one."""
    theirs = [(pyodide / name).read_text("utf-8") for name in ("pyodide.asm.js", "pyodide.js")]
    return re.sub(r"\n//# sourceMappingURL=.*", "", "\n".join(theirs))


def _plain(pyodide: Path, base_lock: dict[str, Any], wheel: Path, units: Path) -> Payload:
    lock, locked_wheel = lock_wheel(wheel, base_lock)
    files = (pyodide / "python_stdlib.zip", lock, locked_wheel, units)
    return {file.name: file.read_bytes() for file in files}


def _zipped(file: Path) -> Payload:
    return {f"{file.name}.gz": zipped(file.read_bytes())}


def _write_typeface(package: Path, folder: Path) -> None:
    text = carried_typeface(package)
    (folder / LIBRARY_FOLDER / STYLE_SHEET).write_text(text, encoding="ascii")
    shutil.copy(package / "LICENSE", folder / LICENCE)


def _copy_libraries(modules: Path, folder: Path) -> None:
    """Put the libraries beside the files that ship; their licences ship."""
    inside = folder / LIBRARY_FOLDER
    inside.mkdir()
    for name, file in LIBRARIES.items():
        shutil.copy(modules / name / file, inside / f"{name}.js")
        licence = next((modules / name).glob("LICENSE*"))
        shutil.copy(licence, folder / f"{name}.LICENSE.txt")


def _write_schema_check(node: Node, modules: Path, folder: Path) -> None:
    """Compile the published schema of bench sheets into a library of the pages' script."""
    check = folder / LIBRARY_FOLDER / "schema.js"
    words = (node.node, HERE / "compile_schema.mjs", modules, SCHEMA, check)
    run([str(word) for word in words], folder)
    shutil.copy(modules / "ajv" / "LICENSE", folder / "ajv.LICENSE.txt")

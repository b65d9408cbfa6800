"""Builds the browser's Python: from the npm package and our calculators to the files that ship."""

import hashlib
import importlib.util
import os
import re
import shutil
import time
from dataclasses import dataclass, replace
from pathlib import Path

from baybook.carried import Carried
from baybook.runtime.edition import (
    CLIENT,
    LIBRARY_FOLDER,
    LICENCE_FOLDER,
    SCHEMA,
    Progress,
    make_edition,
)
from baybook.runtime.errors import RuntimeBuildError
from baybook.runtime.manifest import MANIFEST, is_whole
from baybook.runtime.node import NPM_FILES
from baybook.runtime.payload import ASSETS
from baybook.runtime.typeface import STYLE_SHEET
from baybook.runtime.vendored import vendored
from baybook.runtime.wheel import source_files

HERE = Path(__file__).parent
READY = HERE / "ready"
"""Holds the edition that the wheel carries, below its name."""

KEPT_BUILDS = 3
_EDITION = re.compile(r"\.[0-9a-f]{16}\.(?:js|bin)$")
"""The end of the name of a file that belongs to one edition."""


@dataclass(frozen=True)
class RuntimeFiles:
    """The files of one edition of the browser's Python.

    `client` is the script that a page names; it finds the others beside itself. `typeface` is the
    style sheet of the book's own typeface; `libraries` holds by name what the pages' own script
    takes in.
    """

    client: Path
    typeface: str
    libraries: dict[str, str]
    carried: list[Carried]
    sizes: dict[Path, int]
    cached: bool
    seconds: float


def build_runtime(
    out_dir: Path,
    cache_dir: Path,
    units_json: str,
    *,
    calc_dir: Path | None = None,
    progress: Progress = print,
) -> RuntimeFiles:
    """Put the browser's Python into a folder: `runtime_files`, copied.

    Parameters
    ----------
    out_dir : Path
        Folder for the files that ship.
    cache_dir, units_json, calc_dir, progress
        As `runtime_files` takes them.

    Returns
    -------
    RuntimeFiles
        The files in their new place.

    Raises
    ------
    RuntimeBuildError
        When Node or a package is missing, or a step fails.
    """
    made = runtime_files(cache_dir, units_json, calc_dir=calc_dir, progress=progress)
    out_dir.mkdir(parents=True, exist_ok=True)
    for stale in out_dir.glob("*"):
        if _EDITION.search(stale.name):
            stale.unlink()
    copied = {Path(shutil.copy(path, out_dir)): size for path, size in made.sizes.items()}
    return replace(made, client=out_dir / CLIENT, sizes=copied)


def runtime_files(
    cache_dir: Path,
    units_json: str,
    *,
    calc_dir: Path | None = None,
    progress: Progress = print,
) -> RuntimeFiles:
    """Return the files of the browser's Python, made anew only when an input has changed.

    The edition that the wheel carries serves where it has the same inputs, without Node. One that
    is not as it was made is made anew.

    Parameters
    ----------
    cache_dir : Path
        Folder that keeps finished builds and the npm packages.
    units_json : str
        Unit table that the calculators are given.
    calc_dir : Path, optional
        Folder of the package `baycalc`; the installed one unless given.
    progress : callable, optional
        Told the name of each step of a new build, which takes some seconds; prints it unless given.

    Returns
    -------
    RuntimeFiles
        The files with their sizes [byte], whether they came from the cache, and the time taken [s].

    Raises
    ------
    RuntimeBuildError
        When Node or a package is missing, or a step fails.
    """
    started = time.perf_counter()
    calc_dir = calc_dir or installed_calculators()
    edition = input_key(calc_dir, units_json)
    made = READY / edition
    cached = is_whole(made)
    if not cached:
        cache_dir.mkdir(parents=True, exist_ok=True)
        made = cache_dir / f"runtime-{edition}"
        cached = is_whole(made)
        if not cached:
            shutil.rmtree(made, ignore_errors=True)
            make_edition(made, edition, calc_dir, units_json, progress)
        os.utime(made)
        _drop_oldest(cache_dir)
    shipped = [path for path in sorted(made.iterdir()) if path.is_file() and path.name != MANIFEST]
    return RuntimeFiles(
        client=made / CLIENT,
        typeface=(made / LIBRARY_FOLDER / STYLE_SHEET).read_text(encoding="ascii"),
        libraries=_libraries(made / LIBRARY_FOLDER),
        carried=vendored(made / LIBRARY_FOLDER / LICENCE_FOLDER),
        sizes={path: path.stat().st_size for path in shipped},
        cached=cached,
        seconds=time.perf_counter() - started,
    )


def input_key(calc_dir: Path, units_json: str) -> str:
    """Return the name of a build: a hash of everything that goes into it.

    The Node that makes the snapshot is left out, for any of them makes one that serves.
    """
    inputs = [SCHEMA, *(HERE / name for name in NPM_FILES)]
    inputs += sorted(
        [*HERE.glob("*.py"), *HERE.glob("*.mjs"), *HERE.glob("licences/*"), *ASSETS.glob("*.js")]
    )
    named = [(path.name, path.read_bytes()) for path in inputs]
    named += [
        (path.relative_to(calc_dir).as_posix(), path.read_bytes())
        for path in source_files(calc_dir)
    ]
    named.append(("units", units_json.encode()))
    digest = hashlib.sha256()
    for name, data in named:
        digest.update(f"{name}\0{len(data)}\0".encode() + data)
    return digest.hexdigest()[:16]


def _drop_oldest(cache_dir: Path) -> None:
    builds = sorted(cache_dir.glob("runtime-*"), key=lambda path: path.stat().st_mtime)
    for build in builds[:-KEPT_BUILDS]:
        shutil.rmtree(build)


def _libraries(folder: Path) -> dict[str, str]:
    return {path.stem: path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.js"))}


def installed_calculators() -> Path:
    """Return the folder of the installed package `baycalc`."""
    spec = importlib.util.find_spec("baycalc")
    if spec is None or spec.origin is None:
        raise RuntimeBuildError("the package baycalc is not installed")
    return Path(spec.origin).parent

"""The calculators as a wheel, and the lock file by which Pyodide loads it the plain way."""

import base64
import hashlib
import importlib.util
import json
import sys
import zipfile
from importlib.metadata import version
from pathlib import Path
from typing import Any

from baybook.runtime.errors import RuntimeBuildError
from baybook.runtime.node import run

PYODIDE_PYTHON = (3, 13)
EARLIEST = (1980, 1, 1, 0, 0, 0)  # the first date that a zip can hold
EARLIEST_EPOCH = "315532800"  # the same in seconds, for the compiled files


def source_files(calc_dir: Path) -> list[Path]:
    """Return the Python files of the calculators in a fixed order."""
    return sorted(path for path in calc_dir.rglob("*.py") if "__pycache__" not in path.parts)


def write_wheel(calc_dir: Path, folder: Path) -> Path:
    """Write the wheel of `baycalc`; the same sources give the same bytes.

    Parameters
    ----------
    calc_dir : Path
        Folder of the package `baycalc`.
    folder : Path
        Folder to write the wheel into.

    Returns
    -------
    Path
        The wheel.
    """
    release = version("baybook")
    contents = {
        path.relative_to(calc_dir.parent).as_posix(): path.read_bytes()
        for path in source_files(calc_dir)
    }
    info = f"baycalc-{release}.dist-info"
    contents[f"{info}/METADATA"] = (
        "Metadata-Version: 2.4\nName: baycalc\n"
        f"Version: {release}\nLicense-Expression: Apache-2.0\n"
    ).encode()
    contents[f"{info}/WHEEL"] = (
        b"Wheel-Version: 1.0\nGenerator: baybook\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
    )
    contents[f"{info}/RECORD"] = _record(contents, f"{info}/RECORD")
    wheel = folder / f"baycalc-{release}-py3-none-any.whl"
    _write_zip(wheel, contents)
    return wheel


def lock_wheel(wheel: Path, base_lock: dict[str, Any]) -> tuple[Path, Path]:
    """Write the lock file of the wheel beside it and compile the wheel where that is possible.

    Parameters
    ----------
    wheel : Path
        The wheel, alone in its folder.
    base_lock : dict[str, Any]
        Lock file of Pyodide without a package.

    Returns
    -------
    tuple[Path, Path]
        The lock file and the wheel that it names.

    Notes
    -----
    Compiling takes the Python that Pyodide holds, 3.13, and the package pyodide-build. Without
    them the wheel stays as it is; it loads a little slower.
    """
    lock = _write_lock(wheel, base_lock)
    if sys.version_info[:2] == PYODIDE_PYTHON and importlib.util.find_spec("pyodide_build"):
        command = [sys.executable, "-m", "pyodide_cli", "py-compile", "--silent", "."]
        run(command, wheel.parent, {"SOURCE_DATE_EPOCH": EARLIEST_EPOCH})
    name = json.loads(lock.read_text())["packages"]["baycalc"]["file_name"]
    return lock, wheel.parent / name


def _write_lock(wheel: Path, base_lock: dict[str, Any]) -> Path:
    try:
        from pyodide_lock import PyodideLockSpec
        from pyodide_lock.utils import add_wheels_to_spec
    except ImportError as error:
        raise RuntimeBuildError(
            "the browser's Python needs the package pyodide-lock to be built and found none: "
            "run: pip install 'baybook[runtime]'"
        ) from error
    lock = wheel.with_name("pyodide-lock.json")
    add_wheels_to_spec(PyodideLockSpec.from_dict(base_lock), [wheel]).to_json(lock)
    return lock


def _record(contents: dict[str, bytes], own_name: str) -> bytes:
    rows = [f"{name},{_record_hash(data)},{len(data)}" for name, data in contents.items()]
    return ("\n".join([*rows, f"{own_name},,"]) + "\n").encode()


def _record_hash(data: bytes) -> str:
    digest = base64.urlsafe_b64encode(hashlib.sha256(data).digest())
    return f"sha256={digest.rstrip(b'=').decode()}"


def _write_zip(path: Path, contents: dict[str, bytes]) -> None:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in contents.items():
            archive.writestr(zipfile.ZipInfo(name, EARLIEST), data, zipfile.ZIP_DEFLATED)

"""The wheel of the calculators and its lock file, read back by tools of others."""

import base64
import hashlib
import importlib.metadata
import json
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from baybook.runtime import RuntimeBuildError
from baybook.runtime.wheel import lock_wheel, write_wheel

BASE_LOCK = {
    "info": {
        "abi_version": "2025_0",
        "arch": "wasm32",
        "platform": "emscripten_4_0_9",
        "python": "3.13.2",
    },
    "packages": {},
}


def names_in(wheel: Path) -> set[str]:
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


def test_the_same_sources_give_the_same_bytes(stand_in: Path, tmp_path: Path) -> None:
    folders = [tmp_path / "one", tmp_path / "two"]
    for folder in folders:
        folder.mkdir()
    first, second = (write_wheel(stand_in, folder).read_bytes() for folder in folders)
    assert first == second


def test_the_wheel_holds_the_calculators_only(stand_in: Path, tmp_path: Path) -> None:
    (stand_in / "__pycache__").mkdir()
    (stand_in / "__pycache__" / "api.py").write_text("not a source")
    names = names_in(write_wheel(stand_in, tmp_path))
    assert {name for name in names if "dist-info" not in name} == {
        "baycalc/__init__.py",
        "baycalc/calculators/__init__.py",
        "baycalc/api.py",
    }


def test_the_record_is_that_of_the_wheel_specification(stand_in: Path, tmp_path: Path) -> None:
    # PyPA, Recording installed projects: RECORD holds path, urlsafe base64 sha256 without
    # padding and size of each file, and its own line without the two.
    wheel = write_wheel(stand_in, tmp_path)
    (distribution,) = importlib.metadata.distributions(name="baycalc", path=[str(wheel)])
    assert distribution.metadata["Name"] == "baycalc"
    assert distribution.files is not None
    assert {str(file) for file in distribution.files} == names_in(wheel)
    with zipfile.ZipFile(wheel) as archive:
        assert {str(file): recorded(file) for file in distribution.files} == {
            name: measured(archive.read(name)) if not name.endswith("RECORD") else (None, None)
            for name in archive.namelist()
        }


def recorded(file: importlib.metadata.PackagePath) -> tuple[str | None, int | None]:
    return (f"{file.hash.mode}={file.hash.value}" if file.hash else None, file.size)


def measured(data: bytes) -> tuple[str, int]:
    digest = base64.urlsafe_b64encode(hashlib.sha256(data).digest()).decode()
    return f"sha256={digest.rstrip('=')}", len(data)


def test_the_lock_names_the_wheel_and_its_hash(stand_in: Path, tmp_path: Path) -> None:
    folder = tmp_path / "dist"
    folder.mkdir()
    lock, wheel = lock_wheel(write_wheel(stand_in, folder), BASE_LOCK)
    entry = json.loads(lock.read_text())["packages"]["baycalc"]
    assert entry["file_name"] == wheel.name
    assert entry["sha256"] == hashlib.sha256(wheel.read_bytes()).hexdigest()
    assert entry["imports"] == ["baycalc"]
    assert entry["depends"] == []


def test_the_locked_wheel_imports(stand_in: Path, tmp_path: Path) -> None:
    folder = tmp_path / "dist"
    folder.mkdir()
    _lock, wheel = lock_wheel(write_wheel(stand_in, folder), BASE_LOCK)
    compiled = sys.version_info[:2] == (3, 13)
    assert wheel.stem.endswith("-cp313-none-any" if compiled else "-py3-none-any")
    assert any(name.endswith(".py") for name in names_in(wheel)) != compiled
    script = (
        "import sys; sys.path.insert(0, sys.argv[1]); import baycalc.api as api; "
        "api.install('{}'); print(api.call('1'))"
    )
    done = subprocess.run(
        [sys.executable, "-I", "-c", script, wheel], capture_output=True, text=True, check=True
    )
    assert done.stdout == "[1, {}]\n"


def test_another_python_leaves_the_wheel_as_it_is(
    stand_in: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 12, 0, "final", 0))
    folder = tmp_path / "dist"
    folder.mkdir()
    wheel = write_wheel(stand_in, folder)
    lock, locked = lock_wheel(wheel, BASE_LOCK)
    assert locked == wheel
    assert json.loads(lock.read_text())["packages"]["baycalc"]["file_name"] == wheel.name


def test_without_pyodide_lock_there_is_a_hint(
    stand_in: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "pyodide_lock", None)
    with pytest.raises(RuntimeBuildError) as failure:
        lock_wheel(write_wheel(stand_in, tmp_path), BASE_LOCK)
    assert str(failure.value) == (
        "the browser's Python needs the package pyodide-lock to be built and found none: "
        "run: pip install 'baybook[runtime]'"
    )

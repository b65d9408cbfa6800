"""The list of what others made agrees with the packages themselves."""

import json
from pathlib import Path

import pytest

from baybook.runtime import Vendored, vendored
from baybook.runtime.node import HERE
from baybook.runtime.typeface import PACKAGE


def entry(name: str) -> Vendored:
    return next(found for found in vendored() if found.name == name)


def test_the_list_is_sorted_and_complete() -> None:
    names = [
        "@fontsource-variable/atkinson-hyperlegible-next",
        "ajv",
        "CPython",
        "Emscripten",
        "idb",
        "iframe-worker",
        "pyodide",
    ]
    assert [found.name for found in vendored()] == names


def test_the_pins_are_exact() -> None:
    wanted = json.loads((HERE / "package.json").read_text())["dependencies"]
    assert wanted == {name: entry(name).version for name in wanted}


@pytest.mark.parametrize("name", ["pyodide", "iframe-worker", "idb", PACKAGE])
def test_version_and_licence_are_those_of_the_package(modules: Path, name: str) -> None:
    package = json.loads((modules / name / "package.json").read_text())
    assert (package["version"], package["license"]) == (entry(name).version, entry(name).licence)
    assert entry(name).integrity.startswith("sha512-")


def test_what_is_inside_pyodide_has_the_version_that_pyodide_names(modules: Path) -> None:
    info = json.loads((modules / "pyodide" / "pyodide-lock.json").read_text())["info"]
    assert info["python"] == entry("CPython").version
    assert info["platform"] == f"emscripten_{entry('Emscripten').version.replace('.', '_')}"

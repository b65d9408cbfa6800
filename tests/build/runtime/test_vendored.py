"""The list of what others made agrees with the packages themselves."""

import json
from pathlib import Path

import pytest

from baybook.carried import Carried
from baybook.runtime import vendored
from baybook.runtime.node import HERE
from baybook.runtime.typeface import PACKAGE
from baybook.runtime.vendored import keep_licences


@pytest.fixture(scope="module")
def found(modules: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Carried]:
    folder = tmp_path_factory.mktemp("edition") / "licences"
    keep_licences(modules, folder)
    return {each.name: each for each in vendored(folder)}


def test_the_list_is_sorted_and_complete(found: dict[str, Carried]) -> None:
    names = [
        "@fontsource-variable/atkinson-hyperlegible-next",
        "ajv",
        "CPython",
        "Emscripten",
        "idb",
        "js-yaml",
        "minisearch",
        "pyodide",
    ]
    assert list(found) == names


def test_the_pins_are_exact(found: dict[str, Carried]) -> None:
    wanted = json.loads((HERE / "package.json").read_text())["dependencies"]
    assert wanted == {name: found[name].version for name in wanted}


@pytest.mark.parametrize("name", ["pyodide", "idb", PACKAGE])
def test_version_and_licence_are_those_of_the_package(
    modules: Path, found: dict[str, Carried], name: str
) -> None:
    package = json.loads((modules / name / "package.json").read_text())
    assert (package["version"], package["license"]) == (found[name].version, found[name].licence)
    assert found[name].integrity.startswith("sha512-")


def test_what_is_inside_pyodide_has_the_version_that_pyodide_names(
    modules: Path, found: dict[str, Carried]
) -> None:
    info = json.loads((modules / "pyodide" / "pyodide-lock.json").read_text())["info"]
    assert info["python"] == found["CPython"].version
    assert info["platform"] == f"emscripten_{found['Emscripten'].version.replace('.', '_')}"

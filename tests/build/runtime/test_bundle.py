"""The build of the browser's Python is made once for its inputs, whole or not at all."""

import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any, NoReturn

import pytest

import baycalc
from baybook.book.pint_quantities import unit_table_data
from baybook.leftovers import working_folder
from baybook.runtime import RuntimeBuildError, build_runtime, bundle
from baybook.runtime.bundle import KEPT_BUILDS, input_key
from baybook.runtime.edition import LIBRARY_FOLDER
from baybook.runtime.manifest import seal
from baybook.runtime.node import find_node, install_packages
from baybook.runtime.typeface import STYLE_SHEET

UNITS = '{"inHg": 3386.389}'


@pytest.fixture(autouse=True)
def no_licences(monkeypatch: pytest.MonkeyPatch) -> None:
    """A stand-in of an edition holds nothing of others."""
    monkeypatch.setattr(bundle, "vendored", lambda _folder: [])


def no_program(*_args: object, **_options: object) -> NoReturn:
    raise AssertionError("a program was started")


def fake_edition(made: Path, edition: str, *_inputs: object) -> None:
    made.mkdir()
    (made / f"engine.{edition}.js").write_text("engine")
    (made / "python.js").write_text("client")
    (made / LIBRARY_FOLDER).mkdir()
    (made / LIBRARY_FOLDER / STYLE_SHEET).write_text("")
    seal(made)


def build(out_dir: Path, cache_dir: Path, units: str, calc_dir: Path) -> Any:
    return build_runtime(out_dir, cache_dir, units, calc_dir=calc_dir, progress=lambda _step: None)


def test_a_second_build_only_copies(
    tmp_path: Path, cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    calculators = Path(shutil.copytree(Path(baycalc.__file__).parent, tmp_path / "baycalc"))
    units = json.dumps(unit_table_data())
    first = build(tmp_path / "first", cache, units, calculators)
    monkeypatch.setattr(subprocess, "run", no_program)
    monkeypatch.setattr(subprocess, "Popen", no_program)
    second = build(tmp_path / "second", cache, units, calculators)
    assert second.cached
    assert {path.name: path.read_bytes() for path in first.sizes} == {
        path.name: path.read_bytes() for path in second.sizes
    }
    assert second.client == tmp_path / "second" / "python.js"
    assert second.client.exists()


def test_a_build_that_fails_leaves_nothing(tmp_path: Path, modules: Path, stand_in: Path) -> None:
    (stand_in / "api.py").write_text("import json\nimport no_such_module\n")
    cache = tmp_path / "cache"
    cache.mkdir()
    packages = cache / modules.parent.name
    packages.symlink_to(modules.parent)
    with pytest.raises(RuntimeBuildError) as failure:
        build(tmp_path / "out", cache, UNITS, stand_in)
    assert str(failure.value) == (
        'node ended with 1: File "<exec>", line 3, in <module> | '
        'File "/lib/python3.13/site-packages/baycalc/api.py", line 2, in <module> | '
        "import no_such_module | "
        "ModuleNotFoundError: No module named 'no_such_module'"
    )
    assert list(cache.iterdir()) == [packages]
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("name", ["__init__.py", "api.py", "calculators/__init__.py"])
def test_each_source_is_part_of_the_key(stand_in: Path, name: str) -> None:
    before = input_key(stand_in, UNITS)
    with (stand_in / name).open("a") as source:
        source.write("# changed\n")
    assert input_key(stand_in, UNITS) != before


def test_a_new_source_and_a_moved_one_change_the_key(stand_in: Path) -> None:
    keys = [input_key(stand_in, UNITS)]
    fuse = stand_in / "calculators" / "fuse.py"
    fuse.write_text("")
    keys.append(input_key(stand_in, UNITS))
    fuse.rename(stand_in / "fuse.py")
    keys.append(input_key(stand_in, UNITS))
    assert len(set(keys)) == len(keys)


def test_units_and_our_own_scripts_are_part_of_the_key(
    stand_in: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = input_key(stand_in, UNITS)
    assert input_key(stand_in, "{}") != before
    monkeypatch.setattr(bundle, "ASSETS", tmp_path)
    assert input_key(stand_in, UNITS) != before


def test_compiled_files_are_no_part_of_the_key(stand_in: Path) -> None:
    before = input_key(stand_in, UNITS)
    (stand_in / "__pycache__").mkdir()
    (stand_in / "__pycache__" / "api.cpython-313.pyc").write_bytes(b"compiled")
    assert input_key(stand_in, UNITS) == before


def test_files_of_another_edition_leave_the_folder(
    tmp_path: Path, stand_in: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bundle, "make_edition", fake_edition)
    out = tmp_path / "out"
    first = build(out, tmp_path / "cache", UNITS, stand_in)
    (out / "page.js").write_text("not ours")
    second = build(out, tmp_path / "cache", "{}", stand_in)
    assert set(out.iterdir()) == {*second.sizes, out / "page.js"}
    assert set(first.sizes) - set(second.sizes) == {out / f"engine.{input_key(stand_in, UNITS)}.js"}


def cut(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:5])


def exchange(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-1] + b"?")


@pytest.mark.parametrize("harm", [cut, exchange, Path.unlink])
@pytest.mark.parametrize("file", ["engine.*.js", "contents.json"])
def test_a_damaged_build_in_the_cache_is_made_anew(
    tmp_path: Path, stand_in: Path, monkeypatch: pytest.MonkeyPatch, harm: Any, file: str
) -> None:
    monkeypatch.setattr(bundle, "make_edition", fake_edition)
    first = build(tmp_path / "first", tmp_path / "cache", UNITS, stand_in)
    assert build(tmp_path / "second", tmp_path / "cache", UNITS, stand_in).cached
    (kept,) = (tmp_path / "cache").iterdir()
    (damaged,) = kept.glob(file)
    harm(damaged)
    again = build(tmp_path / "third", tmp_path / "cache", UNITS, stand_in)
    assert not again.cached
    assert [path.read_bytes() for path in again.sizes] == [p.read_bytes() for p in first.sizes]


def test_what_a_stopped_build_has_left_is_swept(tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    (cache / "new-runtime-1234" / "shipped").mkdir(parents=True)
    new = "new-runtime-"
    with working_folder(cache, new) as folder, working_folder(cache, new) as other:
        assert set(cache.iterdir()) == {folder, other}
    assert list(cache.iterdir()) == []


def test_damaged_npm_packages_are_fetched_anew(
    tmp_path: Path, modules: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    packages = Path(shutil.copytree(modules.parent, tmp_path / modules.parent.name))
    node = find_node()
    asked: list[list[str]] = []
    monkeypatch.setattr("baybook.runtime.node.run", lambda words, _folder: asked.append(words))
    assert install_packages(node, tmp_path) == packages / "node_modules"
    assert asked == []
    cut(packages / "node_modules" / "pyodide" / "pyodide.asm.wasm")
    install_packages(node, tmp_path)
    assert asked == [[*node.npm, "ci", "--ignore-scripts"]]


def test_the_cache_keeps_the_builds_used_last(
    tmp_path: Path, stand_in: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bundle, "make_edition", fake_edition)
    cache = tmp_path / "cache"
    tables = [f'{{"unit": {number}}}' for number in range(KEPT_BUILDS + 2)]
    for age, table in enumerate(reversed(tables)):
        build(tmp_path / "out", cache, table, stand_in)
        made = cache / f"runtime-{input_key(stand_in, table)}"
        os.utime(made, (1_000_000 + age, 1_000_000 + age))
    kept = {path.name for path in cache.iterdir()}
    assert kept == {f"runtime-{input_key(stand_in, table)}" for table in tables[:KEPT_BUILDS]}

"""Who may import whom. Each rule is proved on a small tree that breaks it."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

LAYERS = (
    ("baybook.cli",),
    ("baybook.verbs",),
    ("baybook.plugin",),
    ("baybook.pages", "baybook.runtime"),
    ("baybook.book",),
    ("baycalc.api",),
    ("baycalc.calculators", "baycalc.isolation"),
    ("baycalc",),
    ("baycalc.physics",),
)
"""From top to bottom; a part imports itself and what lies below, not its neighbour.

The part ``baycalc`` is what its other parts do not name: units, judge, declare and so on.
"""

LEVELS = {part: level for level, parts in enumerate(LAYERS) for part in parts}
ONE_FILE_KNOWS = {
    "pint": "build/baybook/book/pint_quantities.py",
    "mkdocs": "build/baybook/plugin.py",
}


def modules(root: Path) -> Iterator[tuple[str, Path]]:
    """Give the name and the file of each module of both packages."""
    for folder in (root / "build", root / "calc"):
        for path in sorted(folder.rglob("*.py")):
            parts = path.relative_to(folder).with_suffix("").parts
            yield ".".join(parts[:-1] if parts[-1] == "__init__" else parts), path


def imported(path: Path) -> Iterator[str]:
    """Give what a file imports, at its top or anywhere inside."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            module = "." * node.level + (node.module or "")
            yield from (f"{module}.{alias.name}" for alias in node.names)


def part_of(module: str) -> str | None:
    """Return the part that a module belongs to, the most exact one that the layers name."""
    parts = [part for part in LEVELS if f"{module}.".startswith(f"{part}.")]
    return max(parts, key=len, default=None)


def layer_problems(root: Path) -> list[str]:
    problems = []
    for module, path in modules(root):
        part = part_of(module)
        if part is None and module != "baybook":
            problems.append(f"{module} stands in no layer")
            continue
        for name in imported(path):
            if not name.startswith(("baybook", "baycalc")):
                continue
            other = part_of(name)
            if part is None or other is None or not may_import(part, other):
                problems.append(f"{module} imports {name}")
    return problems


def may_import(part: str, other: str) -> bool:
    return part == other or LEVELS[part] < LEVELS[other]


def foreign_imports(root: Path) -> list[str]:
    """Return what calc imports beside itself and the standard library."""
    known = sys.stdlib_module_names | {"baycalc"}
    return [
        f"{module} imports {name}"
        for module, path in modules(root)
        if path.is_relative_to(root / "calc")
        for name in imported(path)
        if name.partition(".")[0] not in known
    ]


def other_files_that_know(root: Path, package: str) -> list[str]:
    return [
        path.relative_to(root).as_posix()
        for _, path in modules(root)
        if path != root / ONE_FILE_KNOWS[package]
        and any(name.partition(".")[0] == package for name in imported(path))
    ]


def test_imports_go_one_way(root):
    assert layer_problems(root) == []


@pytest.mark.parametrize(
    ("path", "line", "problem"),
    [
        (
            "build/baybook/book/sources/load.py",
            "from baybook.pages import site",
            "baybook.book.sources.load imports baybook.pages.site",
        ),
        (
            "build/baybook/runtime/bundle.py",
            "from baybook.pages.site import Page",
            "baybook.runtime.bundle imports baybook.pages.site.Page",
        ),
        (
            "build/baybook/plugin.py",
            "def f():\n    import baybook.cli",
            "baybook.plugin imports baybook.cli",
        ),
        (
            "calc/baycalc/quantities/units.py",
            "from baycalc import api",
            "baycalc.quantities.units imports baycalc.api",
        ),
        (
            "calc/baycalc/physics/air.py",
            "from baycalc.quantities.units import label",
            "baycalc.physics.air imports baycalc.quantities.units.label",
        ),
        (
            "calc/baycalc/measurement/decision.py",
            "from baybook.book import source_model",
            "baycalc.measurement.decision imports baybook.book.source_model",
        ),
        ("build/baybook/extras/new.py", "", "baybook.extras.new stands in no layer"),
    ],
)
def test_an_import_the_wrong_way_is_found(plant, path, line, problem):
    assert layer_problems(plant(path, line)) == [problem]


def test_calc_imports_the_standard_library_only(root):
    assert foreign_imports(root) == []


@pytest.mark.parametrize("name", ["numpy", "pint.util", ".units", "baybook.book"])
def test_a_foreign_import_in_calc_is_found(plant, name):
    root = plant("calc/baycalc/measurement/decision.py", f"from {name} import thing")
    assert foreign_imports(root) == [f"baycalc.measurement.decision imports {name}.thing"]


def test_every_module_of_calc_loads_in_a_bare_python(root):
    names = [module for module, path in modules(root) if path.is_relative_to(root / "calc")]
    script = f"import importlib, sys; sys.path.insert(0, {str(root / 'calc')!r})\n"
    script += f"for name in {names!r}: importlib.import_module(name)"
    command = [sys.executable, "-I", "-S", "-B", "-c", script]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("package", ONE_FILE_KNOWS)
def test_one_file_knows_the_package(root, package):
    assert other_files_that_know(root, package) == []


@pytest.mark.parametrize("package", ONE_FILE_KNOWS)
def test_a_second_file_that_knows_the_package_is_found(plant, package):
    plant(ONE_FILE_KNOWS[package], f"import {package}")
    root = plant("build/baybook/pages/render.py", f"from {package}.inner import thing")
    assert other_files_that_know(root, package) == ["build/baybook/pages/render.py"]

"""Who may import whom: the contracts stand in pyproject.toml; here is what they cannot say."""

import subprocess
import sys
from pathlib import Path

import grimp
import pytest
from importlinter.cli import EXIT_STATUS_ERROR, EXIT_STATUS_SUCCESS, lint_imports

CONTRACT_BROKEN = """
[tool.importlinter]
root_packages = ["house"]

[[tool.importlinter.contracts]]
name = "cellar below attic"
type = "layers"
layers = ["house.attic", "house.cellar"]
"""


def modules_of_calc(root: Path) -> list[str]:
    calc = root / "calc"
    paths = [path.relative_to(calc).with_suffix("") for path in sorted(calc.rglob("*.py"))]
    return [".".join(path.parts).removesuffix(".__init__") for path in paths]


def test_the_contracts_are_kept(root, monkeypatch):
    monkeypatch.chdir(root)
    assert lint_imports(no_cache=True) == EXIT_STATUS_SUCCESS


def test_a_broken_contract_is_found(plant, monkeypatch):
    plant("pyproject.toml", CONTRACT_BROKEN)
    plant("house/__init__.py", "")
    plant("house/attic.py", "")
    root = plant("house/cellar.py", "from house import attic")
    monkeypatch.chdir(root)
    monkeypatch.syspath_prepend(root)
    assert lint_imports(no_cache=True) == EXIT_STATUS_ERROR


def test_calc_imports_the_standard_library_only():
    graph = grimp.build_graph("baycalc", include_external_packages=True, cache_dir=None)
    roots = {module.partition(".")[0] for module in graph.modules} - {"baycalc"}
    assert "math" in roots
    assert roots - sys.stdlib_module_names == set()


def test_every_module_of_calc_loads_in_a_bare_python(root):
    script = f"import importlib, sys; sys.path.insert(0, {str(root / 'calc')!r})\n"
    script += f"for name in {modules_of_calc(root)!r}: importlib.import_module(name)"
    command = [sys.executable, "-I", "-S", "-B", "-c", script]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("package", ["pint", "mkdocs"])
def test_who_knows_the_package(package):
    graph = grimp.build_graph("baybook", include_external_packages=True, cache_dir=None)
    known = {
        "pint": {"baybook.book.pint_quantities"},
        "mkdocs": {"baybook.plugin", "baybook.plugin_options", "baybook.run_mkdocs"},
    }
    assert graph.find_modules_that_directly_import(package) == known[package]

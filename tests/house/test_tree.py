"""The shape of the tree: `build/` is source, modules are small, calculators are tested."""

import ast
import subprocess
import sys
import zipfile
from collections import Counter
from pathlib import Path

import pathspec
import pytest
from hatchling.builders.wheel import WheelBuilder

PACKAGES = ("build/baybook", "calc/baycalc")
LONGEST_MODULE = 250
"""Lines of code: without blank lines, comments, docstrings, and data at the top level."""

LONGEST_SCRIPT = 300
"""Lines of a JavaScript or CSS file, all of them."""


def source_problems(root: Path) -> list[str]:
    """Return what would make git or Python take `build/` for something else than source."""
    problems = []
    ignored = (root / ".gitignore").read_text(encoding="utf-8").splitlines()
    if pathspec.GitIgnoreSpec.from_lines(ignored).match_file("build/baybook/__init__.py"):
        problems.append(".gitignore leaves out build/")
    if (root / "build/__init__.py").exists():
        problems.append("build/__init__.py shadows the tool named build")
    return problems


def missing_from_wheel(root: Path, folder: Path) -> list[str]:
    """Return the files of both packages that a wheel built into a folder lacks."""
    wheel = next(WheelBuilder(str(root)).build(directory=str(folder), versions=["standard"]))
    packed = set(zipfile.ZipFile(wheel).namelist())
    return [
        path.relative_to(root).as_posix()
        for package in PACKAGES
        for path in sorted((root / package).rglob("*"))
        if path.is_file()
        and "__pycache__" not in path.parts
        and path.relative_to((root / package).parent).as_posix() not in packed
    ]


def long_files(root: Path) -> list[str]:
    problems = []
    for package in PACKAGES:
        for path in sorted((root / package).rglob("*")):
            place = path.relative_to(root).as_posix()
            if path.suffix == ".py" and (lines := code_lines(path)) > LONGEST_MODULE:
                problems.append(f"{place}: {lines} lines of code")
            if path.suffix in (".js", ".mjs", ".css"):
                lines = len(path.read_text(encoding="utf-8").splitlines())
                if lines > LONGEST_SCRIPT:
                    problems.append(f"{place}: {lines} lines")
    return problems


def code_lines(path: Path) -> int:
    source = path.read_text(encoding="utf-8")
    tree = ast.parse(source)
    texts = [node for node in ast.walk(tree) if is_bare_text(node)]
    bodies = [tree.body, *(node.body for node in tree.body if is_form(node))]
    data = [
        each for body in bodies for each in body if isinstance(each, ast.Assign | ast.AnnAssign)
    ]
    not_code = {
        line for node in [*texts, *data] for line in range(node.lineno, node.end_lineno + 1)
    }
    return sum(
        number not in not_code and bool(line.strip()) and not line.strip().startswith("#")
        for number, line in enumerate(source.splitlines(), 1)
    )


def is_form(node: ast.AST) -> bool:
    """Tell whether a class is the declared form of a calculator: its fields are data."""
    return isinstance(node, ast.ClassDef) and any(
        isinstance(each, ast.Name) and each.id == "form" for each in node.decorator_list
    )


def is_bare_text(node: ast.AST) -> bool:
    return (
        isinstance(node, ast.Expr)
        and isinstance(node.value, ast.Constant)
        and isinstance(node.value.value, str)
    )


def calculators_without_test_file(root: Path) -> list[str]:
    """Return the calculators that do not have exactly one test file."""
    return [
        path.stem
        for path in sorted((root / "calc/baycalc/calculators").glob("*.py"))
        if path.stem != "__init__"
        and len(list((root / "tests").rglob(f"test_{path.stem}.py"))) != 1
    ]


def test_build_is_source(root):
    assert source_problems(root) == []


def test_a_build_folder_that_is_rubbish_is_found(plant):
    plant(".gitignore", "site/\nbuild/\n")
    root = plant("build/__init__.py", "")
    assert source_problems(root) == [
        ".gitignore leaves out build/",
        "build/__init__.py shadows the tool named build",
    ]
    plant(".gitignore", "build/\n!/build/\n")
    assert source_problems(root) == ["build/__init__.py shadows the tool named build"]


def test_the_wheel_holds_every_file_of_both_packages(root, tmp_path):
    assert missing_from_wheel(root, tmp_path) == []


def test_a_wheel_without_the_generator_is_found(root, plant, tmp_path):
    plant("pyproject.toml", (root / "pyproject.toml").read_text(encoding="utf-8"))
    plant("README.md", "")
    plant("LICENSE", "")
    hook = ".ci/carry_runtime.py"
    plant(hook, (root / hook).read_text(encoding="utf-8"))
    plant(".gitignore", "build/\n")
    plant("build/baybook/__init__.py", "")
    tree = plant("calc/baycalc/__init__.py", "")
    assert missing_from_wheel(tree, tmp_path / "out") == ["build/baybook/__init__.py"]


def test_the_tool_named_build_is_not_shadowed(root):
    command = [sys.executable, "-m", "build", "--version"]
    done = subprocess.run(command, cwd=root, capture_output=True, text=True, check=True)
    assert done.stdout.startswith("build ")


def test_lint_reads_the_generator(root):
    command = [sys.executable, "-m", "ruff", "check", "--show-files", "build"]
    done = subprocess.run(command, cwd=root, capture_output=True, text=True, check=True)
    assert str(root / "build/baybook/__init__.py") in done.stdout.splitlines()


def test_modules_are_small(root):
    assert long_files(root) == []


@pytest.mark.parametrize(("inner", "is_long"), [("x()\n", True), ("# x\n", False), ("\n", False)])
def test_a_long_module_is_found(plant, inner, is_long):
    root = plant(
        "calc/baycalc/plot.py",
        f'"""Text\n\ntext."""\n{inner * 251}X = (\n    1,\n)\n',
    )
    assert long_files(root) == (["calc/baycalc/plot.py: 251 lines of code"] if is_long else [])


def test_a_long_script_is_found(plant):
    plant("build/baybook/assets/good.js", "x();\n" * 300)
    root = plant("build/baybook/assets/bad.css", "\n" * 301)
    assert long_files(root) == ["build/baybook/assets/bad.css: 301 lines"]


def test_every_calculator_has_one_test_file(root):
    assert calculators_without_test_file(root) == []


def test_a_calculator_without_its_test_file_is_found(plant):
    plant("calc/baycalc/calculators/__init__.py", "")
    plant("calc/baycalc/calculators/fuse.py", "")
    plant("calc/baycalc/calculators/gauge.py", "")
    root = plant("tests/calc/calculators/test_fuse.py", "")
    assert calculators_without_test_file(root) == ["gauge"]


ONE_THING_IN_TWO_FORMS = {
    "Band", "Fault", "Gauge", "Limit", "Observation", "Repair", "Setup", "Source", "Test"
}  # fmt: skip
"""What an author writes, and what the engine makes of it."""


def named_twice(root: Path) -> set[str]:
    """Return the names of modules and classes that stand for two things."""
    modules: Counter[str] = Counter()
    classes: Counter[str] = Counter()
    for package in PACKAGES:
        for path in (root / package).rglob("*.py"):
            modules[path.name] += path.name != "__init__.py"
            tree = ast.parse(path.read_text(encoding="utf-8"))
            classes.update(each.name for each in ast.walk(tree) if isinstance(each, ast.ClassDef))
    return {name for names in (modules, classes) for name, times in names.items() if times > 1}


def test_no_name_stands_for_two_things(root):
    assert named_twice(root) == ONE_THING_IN_TWO_FORMS


def test_a_name_of_two_things_is_found(plant):
    tree = plant("build/baybook/first/valve.py", "class Spring: ...\n")
    (tree / "calc/baycalc").mkdir(parents=True, exist_ok=True)
    (tree / "calc/baycalc/valve.py").write_text("class Spring: ...\n")
    assert named_twice(tree) == {"valve.py", "Spring"}

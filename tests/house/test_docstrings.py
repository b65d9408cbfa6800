"""Docstrings of calc in NumPy style: the names of the signature, a unit for each number."""

import ast
import inspect
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

UNIT_AT_THE_END = re.compile(r"\[[^\[\]]+\]\.?$")
UNDERLINE = re.compile(r"-{3,}")
ENTRY = re.compile(r"([*\w][*\w, ]*) : .+")


def docstring_problems(root: Path) -> list[str]:
    """Return what is wrong with the docstrings of calc, each with its place."""
    return [
        f"{path.relative_to(root).as_posix()}:{node.lineno}: {node.name}: {problem}"
        for path in sorted((root / "calc").rglob("*.py"))
        for node, is_method in public(ast.parse(path.read_text(encoding="utf-8")))
        for problem in problems_of(node, is_method)
    ]


def public(tree: ast.Module) -> Iterator[tuple[ast.FunctionDef | ast.ClassDef, bool]]:
    """Give the public functions and classes, and the methods of the public classes.

    A private data class is among them, for its fields hold numbers too. The form of a calculator
    is not: the unit of a field is that of its kind.
    """
    for node in tree.body:
        if not isinstance(node, ast.FunctionDef | ast.ClassDef):
            continue
        decorated = " ".join(map(ast.unparse, node.decorator_list))
        if not node.name.startswith("_") or "dataclass" in decorated:
            yield node, False
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            for inner in node.body:
                if isinstance(inner, ast.FunctionDef) and not inner.name.startswith("_"):
                    yield inner, True


def problems_of(node: ast.FunctionDef | ast.ClassDef, is_method: bool) -> Iterator[str]:
    text = ast.get_docstring(node)
    if not text:
        yield "no docstring"
        return
    sections = sections_of(text)
    takes = fields_of(node) if isinstance(node, ast.ClassDef) else arguments_of(node, is_method)
    named = "Attributes" if is_record(node) and "Attributes" in sections else "Parameters"
    if named in sections:
        yield from parameter_problems(sections[named], takes)
    elif is_form(node):
        return
    elif any(map(is_float, takes.values())):
        yield "no Parameters, but it takes a number"
    if isinstance(node, ast.FunctionDef) and is_float(node.returns) and not node.decorator_list:
        returns = " ".join(sections["Returns"]).strip() if "Returns" in sections else text
        if not UNIT_AT_THE_END.search(returns.partition("\n\n")[0]):
            yield "gives a number without [unit] at the end of Returns or of the one sentence"


def is_record(node: ast.FunctionDef | ast.ClassDef) -> bool:
    """Tell whether a class is its fields: a data class or a named tuple."""
    decorated = " ".join(map(ast.unparse, node.decorator_list))
    return isinstance(node, ast.ClassDef) and (
        "dataclass" in decorated or "NamedTuple" in map(ast.unparse, node.bases)
    )


def is_form(node: ast.FunctionDef | ast.ClassDef) -> bool:
    return any(ast.unparse(each) == "form" for each in node.decorator_list)


def sections_of(text: str) -> dict[str, list[str]]:
    """Return the lines below each underlined heading."""
    sections: dict[str, list[str]] = {}
    lines = inspect.cleandoc(text).splitlines()
    heading = ""
    for line, following in zip(lines, [*lines[1:], ""], strict=True):
        if UNDERLINE.fullmatch(following):
            heading = line
        elif not UNDERLINE.fullmatch(line):
            sections.setdefault(heading, []).append(line)
    return sections


def arguments_of(node: ast.FunctionDef, is_method: bool) -> dict[str, ast.expr | None]:
    given = node.args
    every = [*given.posonlyargs, *given.args, given.vararg, *given.kwonlyargs, given.kwarg]
    arguments = {argument.arg: argument.annotation for argument in every if argument}
    return {
        name: kind
        for name, kind in arguments.items()
        if not (is_method and name in ("self", "cls"))
    }


def fields_of(node: ast.ClassDef) -> dict[str, ast.expr | None]:
    """Return the fields of a data class, or what the class's `__init__` takes."""
    for inner in node.body:
        if isinstance(inner, ast.FunctionDef) and inner.name == "__init__":
            return arguments_of(inner, is_method=True)
    return {
        inner.target.id: inner.annotation
        for inner in node.body
        if isinstance(inner, ast.AnnAssign)
        and isinstance(inner.target, ast.Name)
        and not (inner.value and "init=False" in ast.unparse(inner.value))
    }


def parameter_problems(lines: list[str], takes: Mapping[str, ast.expr | None]) -> Iterator[str]:
    described = entries_of(lines)
    if list(described) != list(takes):
        yield f"Parameters are {list(described)}, the signature has {list(takes)}"
    for name, kind in takes.items():
        if holds_number(kind) and not UNIT_AT_THE_END.search(described.get(name, "")):
            yield f"{name} without [unit] at the end of its description"


def entries_of(lines: list[str]) -> dict[str, str]:
    entries: dict[str, str] = {}
    names: list[str] = []
    for line in lines:
        if entry := ENTRY.fullmatch(line):
            names = [name.strip(" *") for name in entry[1].split(",")]
            entries |= dict.fromkeys(names, "")
        for name in names if line.startswith(" ") else ():
            entries[name] = f"{entries[name]} {line.strip()}".strip()
    return entries


def is_float(kind: ast.expr | None) -> bool:
    return kind is not None and ast.unparse(kind) in ("float", "float | None")


def holds_number(kind: ast.expr | None) -> bool:
    names = {node.id for node in ast.walk(kind) if isinstance(node, ast.Name)} if kind else set()
    return bool(names & {"float", "int"})


def test_docstrings_of_calc(root):
    assert docstring_problems(root) == []


GOOD = '''
def area(diameter: float, count: int = 1) -> float:
    """Return the area of round holes.

    Parameters
    ----------
    diameter : float
        Of each hole, and this goes on
        over two lines [m]
    count : int
        How many [-]

    Returns
    -------
    float
        All together [m2]
    """
    return count * diameter
'''


NO_UNIT = "without [unit] at the end of its description"
NO_RETURN = "without [unit] at the end of Returns or of the one sentence"


@pytest.mark.parametrize(
    ("old", "new", "problems"),
    [
        ("", "", []),
        ("lines [m]", "lines", [f"diameter {NO_UNIT}"]),
        ("lines [m]", "[m] lines", [f"diameter {NO_UNIT}"]),
        ("many [-]", "many", [f"count {NO_UNIT}"]),
        ("gether [m2]", "gether", [f"gives a number {NO_RETURN}"]),
        (
            "    count :",
            "    number :",
            [
                "Parameters are ['diameter', 'number'], the signature has ['diameter', 'count']",
                f"count {NO_UNIT}",
            ],
        ),
        ("Parameters\n    ---", "Inputs\n    ---", ["no Parameters, but it takes a number"]),
        ('    """Return the area', '    f"""Return the area', ["no docstring"]),
    ],
)
def test_a_bad_docstring_is_found(plant, old, new, problems):
    root = plant("calc/baycalc/physics/holes.py", GOOD.replace(old, new))
    where = "calc/baycalc/physics/holes.py:2: area:"
    assert docstring_problems(root) == [f"{where} {problem}" for problem in problems]


def test_the_fields_of_a_class_are_held_too(plant):
    source = '''
class Gauge:
    """A gauge.

    Parameters
    ----------
    span : float
        Length of the scale
    """

    span: float
    grade: str = ""

    def error(self, reading: float) -> str:
        """Return the error."""
'''
    where = "calc/baycalc/measurement/decision.py"
    assert docstring_problems(plant(where, source)) == [
        f"{where}:2: Gauge: Parameters are ['span'], the signature has ['span', 'grade']",
        f"{where}:2: Gauge: span without [unit] at the end of its description",
        f"{where}:14: error: no Parameters, but it takes a number",
    ]

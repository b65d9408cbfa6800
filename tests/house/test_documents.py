"""What the documents for developers name is there, and their figures are those of the code."""

import ast
import re
from pathlib import Path

DOCUMENTS = ("README.md", "DEVELOPERS.md", "CONTRIBUTING.md")
ENGINE = ("calc/baycalc/isolation", "calc/baycalc/exercise")
PLACES = ("", "calc/baycalc", *ENGINE, "build/baybook", "build/baybook/book")
MADE = {"site/", ".cache/", ".cache/venv", "dist/"}
"""What the commands make."""

NAMED = re.compile(r"`(?:pytest |node --test )?([\w.*/-]+/[\w.*/-]*|[\w.-]+\.(?:py|md|toml|yml))`")
ROW = re.compile(r"^\| `(\w+\.[A-Z_]+)` \| ([^|]+?) \|", re.MULTILINE)


def named_but_missing(root: Path) -> list[str]:
    """Return what documents name between signs of code and no folder of ours holds."""
    found = []
    for document in DOCUMENTS:
        for name in NAMED.findall((root / document).read_text("utf-8")):
            places = (root / place for place in PLACES)
            if name not in MADE and not any(list(place.glob(name.rstrip("/"))) for place in places):
                found.append(f"{document}: {name}")
    return found


def constants(folder: Path) -> dict[str, float]:
    """Return the named numbers of all modules below a folder, each after its module."""
    found: dict[str, float] = {}
    for path in sorted(folder.rglob("*.py")):
        for node in ast.parse(path.read_text("utf-8")).body:
            if isinstance(node, ast.Assign):
                names, values = (
                    part.elts if isinstance(part, ast.Tuple) else [part]
                    for part in (node.targets[0], node.value)
                )
                for name, value in zip(names, values, strict=False):
                    if isinstance(value, ast.Constant) and type(value.value) in (int, float):
                        found[f"{path.stem}.{name.id}"] = value.value
    return found


def test_what_documents_name_is_there(root):
    assert named_but_missing(root) == []


def test_a_name_of_nothing_is_found(plant):
    for document in DOCUMENTS:
        root = plant(document, "")
    plant("calc/baycalc/isolation/planning/decide.py", "")
    plant("README.md", "`planning/decide.py` and `planning/gone.py`, `make book`, `old.py`")
    assert named_but_missing(root) == ["README.md: planning/gone.py", "README.md: old.py"]


def test_numbers_of_a_module_are_found(plant):
    folder = plant("a/b.py", "A = 3\nB, C = 4, 0.5\nD = 'x'\nE = [1]\n\ndef f():\n    G = 1\n")
    assert constants(folder) == {"b.A": 3, "b.B": 4, "b.C": 0.5}


def test_every_number_of_the_engine_is_told_with_its_reason(root):
    told = dict(ROW.findall((root / "DEVELOPERS.md").read_text("utf-8")))
    found = {name: value for room in ENGINE for name, value in constants(root / room).items()}
    assert {name: float(value) for name, value in told.items()} == found

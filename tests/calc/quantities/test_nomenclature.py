"""Every number that physics and calculators take is on the nomenclature, with its unit."""

import ast
import inspect
import re
from collections.abc import Iterator
from pathlib import Path

import baycalc
from baybook.book.pint_quantities import unit_table_data
from baycalc import api
from baycalc.forms.declare import Quantity
from baycalc.quantities.nomenclature import NOMENCLATURE, Symbol

PHYSICS = Path(baycalc.__file__).parent / "physics"
ENTRY = re.compile(r"^(\w+) : .+\n((?:    .*\n?)+)", re.MULTILINE)
NUMBERS = ("float", "float | None")


def numbers() -> Iterator[tuple[str, str, str]]:
    """Give place, name and unit of every number that physics and calculators take."""
    for path in sorted(PHYSICS.glob("*.py")):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                yield from of_function(f"{path.name}: {node.name}", node)
    table = unit_table_data()
    for name in api.names():
        for entry in api.describe(name).inputs:
            if isinstance(entry, Quantity):
                unit = table[entry.kind]["si"]
                yield name, entry.id, "-" if unit == "1" else unit


def of_function(place: str, node: ast.FunctionDef) -> Iterator[tuple[str, str, str]]:
    described = dict(ENTRY.findall(inspect.cleandoc(ast.get_docstring(node) or "")))
    for argument in node.args.args:
        if argument.annotation and ast.unparse(argument.annotation) in NUMBERS:
            text = " ".join(described.get(argument.arg, "").split())
            yield place, argument.arg, text.rpartition("[")[2].rstrip("].")


def symbols_of(argument: str) -> list[Symbol]:
    """Give the entries that an argument of the code stands under."""
    listed = [entry for _, entries in NOMENCLATURE for entry in entries]
    return [entry for entry in listed if argument in entry.arguments]


def test_every_number_is_on_the_nomenclature() -> None:
    missing = [
        f"{place}({name}) [{unit}]"
        for place, name, unit in numbers()
        if not any(unit in entry.units for entry in symbols_of(name))
    ]
    assert missing == []


def test_nothing_is_on_it_that_is_not_used() -> None:
    used = {name for _, name, _ in numbers()}
    listed = {name for _, entries in NOMENCLATURE for entry in entries for name in entry.arguments}
    assert listed - used == set()


def test_symbols_are_unique_and_told() -> None:
    entries = [entry for _, entries in NOMENCLATURE for entry in entries]
    symbols = [entry.symbol for entry in entries]
    assert sorted(symbols) == sorted(set(symbols))
    assert all(entry.name and entry.units for entry in entries)


def test_an_argument_with_two_meanings_has_two_units() -> None:
    for _, name, _ in numbers():
        entries = symbols_of(name)
        units = [unit for entry in entries for unit in entry.units]
        assert len(set(units)) == len(units), name


def test_there_are_numbers_to_look_at() -> None:
    assert len({name for _, name, _ in numbers()}) > 100
    assert symbols_of("barometer")[0].symbol == "p_a"

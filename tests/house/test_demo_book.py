"""The demo book does what it asks of an author's: every fault is found, and every limit proved."""

import re
from pathlib import Path

import pytest

from baybook.book.car import CarProcedure
from baybook.book.check import check_book
from baybook.book.check_gauges import check_gauges
from baybook.book.check_isolation import check_isolation
from baybook.book.codes import title
from baybook.book.load import Book, load_book
from baybook.book.quantities import unit_table_data
from baycalc import door


@pytest.fixture
def book(root: Path) -> Book:
    door.install(unit_table_data())
    return load_book(root / "procedures")


def test_no_mistake_and_no_warning(book: Book) -> None:
    assert check_book(book, {name: door.describe(name) for name in door.names()}) == []


def test_every_fault_is_detected_and_told_from_the_others_or_in_a_stated_group(book: Book) -> None:
    assert check_isolation(book) == []


def test_every_gauge_can_prove_its_limit(book: Book) -> None:
    assert check_gauges(book) == []


ALL = {"halden-finch", "pemberley-drover", "quillon-tarn"}
SERVED = {
    "catalyst-efficiency": ALL,
    "crankcase-ventilation": ALL,
    "egr-electric": {"quillon-tarn"},
    "egr-vacuum": {"halden-finch", "pemberley-drover"},
    "evaporative-leak": ALL,
    "evaporative-purge": ALL,
    "lean-mixture": ALL,
    "misfire-first-aid": ALL,
    "monitor-not-complete": ALL,
    "oxygen-sensor-heater": ALL,
    "oxygen-sensor-response": ALL,
    "secondary-air-belt": {"pemberley-drover"},
    "secondary-air-electric-valve": {"quillon-tarn"},
    "secondary-air-vacuum-valve": {"halden-finch"},
    "thermostat-warm-up": ALL,
    "vacuum-supply": {"halden-finch", "pemberley-drover"},
}


def test_each_procedure_serves_its_vehicles(book: Book) -> None:
    found = {
        name: {car.id for car in book.matches(source)} for name, source in book.procedures.items()
    }
    assert found == SERVED


def test_a_car_stores_the_codes_of_its_own_banks_and_cylinders_only(book: Book) -> None:
    """Bank and cylinder are in the title of the code (SAE J2012)."""
    cylinders = {"halden-finch": 4, "pemberley-drover": 6, "quillon-tarn": 6}
    for source in book.procedures.values():
        for vehicle in book.matches(source):
            for code in CarProcedure(source, vehicle).codes:
                found = re.search(r"bank (\d)|Cylinder (\d+)|$", title(code))
                assert found is not None
                bank, cylinder = found.groups()
                assert int(bank or 1) <= (2 if vehicle.id == "quillon-tarn" else 1), (
                    source.id,
                    code,
                )
                assert int(cylinder or 1) <= cylinders[vehicle.id], (source.id, code)


def test_each_code_leads_to_a_car_that_stores_it(book: Book) -> None:
    for source in book.procedures.values():
        stored = {c for car in book.matches(source) for c in CarProcedure(source, car).codes}
        assert stored == set(source.data.codes), source.id


SHORT = 12
"""Most words of a line that two procedures may both have."""


def test_no_text_stands_in_two_procedures(book: Book) -> None:
    """What several say at length is one piece in `procedures/shared`."""
    places: dict[str, set[str]] = {}
    for source in book.procedures.values():
        for section in source.sections:
            for line in section.text.splitlines():
                words = re.sub(
                    r"{{.*?}}", "figure", re.sub(r"^\s*(\d+\.|[-*])\s*", "", line)
                ).split()
                if len(words) > SHORT:
                    places.setdefault(" ".join(words), set()).add(source.id)
    assert {text: names for text, names in places.items() if len(names) > 1} == {}

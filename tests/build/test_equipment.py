"""A page stands for a procedure and a set of equipment."""

from dataclasses import replace
from pathlib import Path

import pytest
from msgspec import structs

from baybook.book.car import CarProcedure
from baybook.book.equipment import PLAIN, differences, variants, variants_of
from baybook.book.network import network
from baybook.book.sources.load import Book, load_book

SOURCES = Path(__file__).parents[2] / "procedures"


@pytest.fixture
def demo() -> Book:
    return load_book(SOURCES)


def twin(book: Book, car: str, name: str, *, without: str = "") -> None:
    """Add a car to a book that is like another one, but for an item of equipment."""
    found = book.vehicles[car]
    has = tuple(each for each in found.data.has if each != without)
    book.vehicles[name] = replace(found, id=name, data=structs.replace(found.data, has=has))


def test_every_car_of_a_procedure_has_one_page(demo: Book) -> None:
    for source in demo.procedures.values():
        cars = [car.id for variant in variants_of(source, demo) for car in variant.cars]
        assert sorted(cars) == sorted(car.id for car in demo.matches(source))


def test_cars_of_one_page_have_one_network(demo: Book) -> None:
    for car in tuple(demo.vehicles):
        twin(demo, car, f"twin-{car}", without="no such thing")
    shared = [variant for variant in variants(demo) if len(variant.cars) > 1]
    assert len(shared) > 20
    for variant in shared:
        networks = [network(CarProcedure(variant.source, car), 60.0) for car in variant.cars]
        assert all(each == networks[0] for each in networks)


def test_equipment_that_makes_no_difference_makes_no_page(demo: Book) -> None:
    source = demo.procedures["secondary-air-belt"]
    before = [variant.name for variant in variants_of(source, demo)]
    assert "thermostat" not in differences(source, demo)
    twin(demo, "pemberley-drover", "twin", without="thermostat")
    assert [variant.name for variant in variants_of(source, demo)] == before


def test_equipment_that_makes_a_difference_makes_another_page(demo: Book) -> None:
    source = demo.procedures["lean-mixture"]
    assert "two-banks" in differences(source, demo)
    before = variants_of(source, demo)
    twin(demo, "quillon-tarn", "twin", without="two-banks")
    after = variants_of(source, demo)
    assert len(after) == len(before) + 1
    assert [car.id for car in after[-1].cars] == ["twin"]
    assert "two-banks" in after[-1].without


def test_names_are_short_and_differ(demo: Book) -> None:
    for source in demo.procedures.values():
        names = [variant.name for variant in variants_of(source, demo)]
        assert len(names) == len(set(names))
        assert all(len(name) <= 60 for name in names)


def test_where_nothing_makes_a_difference_the_page_has_a_plain_name(book_folder: Path) -> None:
    book = load_book(book_folder / "procedures")
    assert [variant.name for variant in variants(book)] == [PLAIN]

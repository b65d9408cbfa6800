"""A procedure as the network of fault isolation: every figure, no fault of another car."""

from dataclasses import replace
from pathlib import Path

import pytest
from msgspec import structs

from baybook.book.car import CarProcedure
from baybook.book.network import CODE_FALSE_ALARM, HAZARD_MINUTES, network
from baybook.book.source_types import Needs
from baybook.book.sources.load import Book, load_book
from baycalc import isolation


@pytest.fixture
def book(book_folder: Path) -> Book:
    return load_book(book_folder / "procedures")


def car(book: Book) -> CarProcedure:
    return CarProcedure(book.procedures["air"], book.vehicles["car"])


def test_every_figure_of_the_procedure_arrives(book: Book) -> None:
    found = network(car(book), 90)
    assert found["rate"] == 1.5  # money a minute, of 90 an hour
    code = {"false_alarm": CODE_FALSE_ALARM, "suppresses": []}
    assert found["codes"] == {"P0410": code, "P0411": code}
    assert found["faults"][1] == {
        "id": "valve-leaks",
        "says": "valve leaks",
        "short": "",
        "part": "valve",
        "often": 1,
        "present": 1.0,
        "sets": {"P0411": 0.5},
        "complaints": {},
        "leads_to": {"pump-dead": {"chance": 0.4, "later": 0}},
        "repair": {"minutes": 30, "price": 0, "cures": []},
    }
    runs = found["tests"][1]
    assert (runs["id"], runs["minutes"], runs["setup"], runs["after"]) == (
        "runs",
        2,
        "idle",
        ["hold"],
    )
    (heard,) = runs["observations"]
    (band,) = heard["bands"]
    assert band["shows"] == {"pump-dead": 0.9}
    assert (heard["says"], heard["normal"], band["says"]) == ("Does the pump run?", "yes", "no")


def test_a_fault_that_the_car_cannot_have_is_left_out_everywhere(book: Book) -> None:
    source = book.procedures["air"]
    other = structs.replace(source.data.faults["pump-dead"], when=Needs(needs=("another-pump",)))
    faults = {**source.data.faults, "pump-dead": other}
    book.procedures["air"] = replace(source, data=structs.replace(source.data, faults=faults))
    found = network(car(book), 60)
    assert [fault["id"] for fault in found["faults"]] == ["valve-leaks"]
    assert found["faults"][0]["leads_to"] == {}
    assert found["tests"][1]["observations"][0]["bands"][0]["shows"] == {}


def test_a_code_that_the_car_cannot_store_is_set_by_no_fault(book: Book) -> None:
    source = replace(book.procedures["air"], codes_need={"P0411": ("two-banks",)})
    found = network(CarProcedure(source, book.vehicles["car"]), 60)
    assert [*found["codes"]] == ["P0410"]
    assert [fault["sets"] for fault in found["faults"]] == [{"P0410": 0.9}, {}]


def test_the_engine_takes_it(book: Book) -> None:
    name = isolation.open_network(network(car(book), 60))
    answer = isolation.evaluate(name, [{"code": "P0411", "state": "stored"}])
    shares = {suspect["fault"]: suspect["share"] for suspect in answer["suspects"]}
    assert shares["valve-leaks"] > shares["pump-dead"]


def test_opened_fuel_weighs_most_and_each_hazard_something() -> None:
    """Common practice, no source."""
    worst = max(HAZARD_MINUTES, key=HAZARD_MINUTES.__getitem__)
    assert worst == "fuel-vapor"
    assert min(HAZARD_MINUTES.values()) > 0

"""A procedure for one car: what the car has, and its limits and gauges in SI."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from msgspec import structs

from baybook.book.car import CarLimit, CarProcedure, gauge_si, is_figure
from baybook.book.source_model import Figure, Gauge, Limit, Observation
from baybook.book.source_types import Needs
from baybook.book.sources.load import Book, load_book

INHG = 3386.389  # NIST SP 811:2008, B.8, conventional [Pa]


@pytest.fixture
def book(book_folder: Path) -> Book:
    return load_book(book_folder / "procedures")


@pytest.fixture
def car(book: Book) -> CarProcedure:
    return CarProcedure(book.procedures["air"], book.vehicles["car"])


def with_figure(car: CarProcedure, name: str, figure: Figure) -> CarProcedure:
    """Return the same procedure for a car with one more figure."""
    figures = {**car.vehicle.data.figures, name: figure}
    data = structs.replace(car.vehicle.data, figures=figures)
    return CarProcedure(car.source, replace(car.vehicle, data=data))


def observation(limit: Limit, **fields: Any) -> Observation:
    return Observation(reading="r", kind="pressure", limit=limit, gauge="g", shows={}, **fields)


def test_a_limit_that_is_written_out(car: CarProcedure) -> None:
    found = car.bounds(observation(Limit(between=("-4 inH2O", "-0.5 inH2O"))))
    # 249.0889 Pa to the inH2O (NIST SP 811, B.8, conventional).
    assert (found.low, found.high) == (
        pytest.approx(-4 * 249.0889, rel=1e-6),
        pytest.approx(-0.5 * 249.0889, rel=1e-6),
    )
    assert (found.low_text, found.high_text) == ("-4 inH2O", "-0.5 inH2O")


def test_a_limit_from_a_figure_of_the_car(car: CarProcedure) -> None:
    (limit,) = (seen for seen in car.tests["hold"].observations.values())
    assert car.bounds(limit) == CarLimit(
        low=pytest.approx(18 * INHG), high=None, low_text="18 inHg", high_text=None, kind="pressure"
    )


def test_a_bound_that_names_a_figure(car: CarProcedure) -> None:
    car = with_figure(car, "most", Figure(says="m", value="20 kPa"))
    found = car.bounds(observation(Limit(at_most="most")))
    assert (found.low, found.high) == (None, 20_000)
    assert found.high_text == "20 kPa"


def test_a_figure_without_a_value_is_no_bound(car: CarProcedure) -> None:
    car = with_figure(car, "place", Figure(says="p", where="left"))
    with pytest.raises(KeyError):
        car.bounds(observation(Limit(at_most="place")))


def test_bounds_are_written_in_the_units_of_the_reading(car: CarProcedure) -> None:
    found = car.bounds(observation(Limit(at_least="18 inHg")))
    low, high = found.pairs(("psi", "mbar"))
    assert high is None
    assert low is not None
    # 18 inHg are 8.84 psi and 609.5 mbar (3386.389 and 6894.757 Pa, NIST SP 811, B.8).
    assert (low.us, low.metric) == ("8.8 psi", "610 mbar")


def test_units_are_those_given_or_those_of_the_limit(car: CarProcedure) -> None:
    limit = Limit(at_least="18 inHg")
    assert car.units(observation(limit)) == ("inHg", "kPa")
    assert car.units(observation(limit, units=["psi", "bar"])) == ("psi", "bar")
    assert car.units(observation(limit, units=["psi"])) == ("psi", "psi")


def test_only_what_the_car_has_is_in_its_procedure(book: Book) -> None:
    source = book.procedures["air"]
    data = source.data
    belted = structs.replace(data.tests["runs"], when=Needs(needs=("air-pump-belt",)))
    source = replace(source, data=structs.replace(data, tests={**data.tests, "runs": belted}))
    car = CarProcedure(source, book.vehicles["car"])
    assert list(car.tests) == ["hold"]
    vehicle = book.vehicles["car"]
    more = structs.replace(vehicle.data, has=[*vehicle.data.has, "air-pump-belt"])
    assert list(CarProcedure(source, replace(vehicle, data=more)).tests) == ["hold", "runs"]
    assert car.has("air-pump")
    assert not car.has("air-pump-belt")


@pytest.mark.parametrize(
    ("text", "figure"),
    [("air-hose-bore", True), ("20 inHg", False), ("-5 °C", False), ("AWG 12", False)],
)
def test_a_figure_is_told_from_a_quantity(text: str, figure: bool) -> None:
    assert is_figure(text) == figure


def test_a_gauge_in_si() -> None:
    gauge = Gauge(span="30 inHg", grade="B", resolution="0.5 inHg")
    assert gauge_si(gauge, "pressure") == {
        "grade": "B",
        "of_reading": 0,
        "span": pytest.approx(30 * INHG),
        "resolution": pytest.approx(0.5 * INHG),
    }


def test_a_step_of_a_thermometer_is_a_difference() -> None:
    assert gauge_si(Gauge(resolution="1 °F"), "temperature")["resolution"] == pytest.approx(5 / 9)


def test_codes_that_the_car_can_store(car: CarProcedure) -> None:
    assert car.codes == ("P0410", "P0411")


def test_a_code_without_its_equipment_is_not_stored(car: CarProcedure) -> None:
    source = replace(car.source, codes_need={"P0411": ("air-pump", "two-banks")})
    assert CarProcedure(source, car.vehicle).codes == ("P0410",)


def test_a_code_that_no_fault_of_this_car_sets_is_not_stored(car: CarProcedure) -> None:
    leaks = structs.replace(
        car.source.data.faults["valve-leaks"], when=Needs(needs=("two-valves",))
    )
    faults = {**car.source.data.faults, "valve-leaks": leaks}
    source = replace(car.source, data=structs.replace(car.source.data, faults=faults))
    assert CarProcedure(source, car.vehicle).codes == ("P0410",)


def test_a_fault_as_people_say_it(car: CarProcedure) -> None:
    assert car.fault_name("valve-leaks") == "valve leaks"


def test_the_groups_that_the_car_can_have(car: CarProcedure) -> None:
    assert car.ambiguity_groups() == []
    groups = (("valve-leaks", "pump-dead"), ("pump-dead", "of-another-car"))
    data = structs.replace(car.source.data, ambiguity_groups=groups)
    source = replace(car.source, data=data)
    assert CarProcedure(source, car.vehicle).ambiguity_groups() == [["valve-leaks", "pump-dead"]]


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("20 kPa", "20 kPa"),
        ("pump-fuse", "40 A"),
        ("valve-vacuum.least", "18 inHg"),
        ("band.least", "1 A"),
        ("band.greatest", "2 A"),
    ],
)
def test_a_figure_and_a_bound_of_one_by_name(car: CarProcedure, name: str, text: str) -> None:
    assert with_figure(car, "band", Figure(says="b", between=("1 A", "2 A"))).text(name) == text


@pytest.mark.parametrize(
    "name", ["valve-vacuum", "valve-vacuum.greatest", "valve-vacuum.lowest", "none", "none.least"]
)
def test_a_figure_that_is_not_there(car: CarProcedure, name: str) -> None:
    with pytest.raises(KeyError):
        car.text(name)

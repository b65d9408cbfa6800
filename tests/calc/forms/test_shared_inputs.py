"""Inputs that several calculators share."""

from typing import Any

import pytest

from baycalc.forms.declare import Choice, Quantity, Refusal
from baycalc.forms.form import part
from baycalc.forms.shared_inputs import (
    PLACE,
    DialGauge,
    FigureBand,
    Meter,
    Place,
    air_here,
    band,
    barometer_reading,
    dial_gauge,
    electric_meter,
    height,
)
from baycalc.measurement.decision import Limit
from baycalc.measurement.instrument import GRADES, Gauge
from baycalc.quantities.kinds import AMPERES, OHMS, VACUUM


def place(barometer_from: str) -> Place:
    return Place(barometer_from=barometer_from, altitude=0.0, barometer=9e4)


def test_air_pressure_by_the_choice() -> None:
    assert place("altitude").air() == 101325
    assert place("measured").air() == 9e4


def test_inputs_of_a_place_hide_one_another() -> None:
    choice, altitude, barometer = part(Place).inputs()
    assert [option.value for option in choice.options] == ["altitude", "measured"]
    assert (altitude.shown.choice, altitude.shown.values) == ("barometer_from", ("altitude",))
    assert (barometer.shown.choice, barometer.shown.values) == ("barometer_from", ("measured",))


def test_the_place_is_asked_for_in_one_way() -> None:
    def bounds(declared: Any) -> tuple[Any, ...]:
        return declared.kind, declared.units, declared.low, declared.high

    (altitude,) = height("1000 ft").inputs("altitude")
    (reading,) = barometer_reading("Reading", "29 inHg").inputs("reading")
    _, other_altitude, barometer = part(Place).inputs()
    assert bounds(altitude) == bounds(other_altitude)
    assert bounds(reading) == bounds(barometer)
    assert (altitude.default, altitude.shown) == ("1000 ft", None)


def test_a_link_carries_the_whole_place() -> None:
    assert PLACE.split() == [declared.id for declared in part(Place).inputs()]


def test_the_air_here_in_a_sentence() -> None:
    """101325 Pa by 3386.389 Pa to the inHg (NIST SP 811:2008, B.8) are 29.92 inHg."""
    assert air_here(101325.0) == "the air pressure here, 29.92 inHg (101.3 kPa)"


def test_every_grade_can_be_chosen() -> None:
    span, grade, resolution = dial_gauge("30 inHg", "B", "0.5 inHg", VACUUM).inputs("gauge")
    assert [span.id, grade.id, resolution.id] == ["gauge_span", "gauge_grade", "gauge_resolution"]
    assert isinstance(grade, Choice)
    assert [option.value for option in grade.options] == [*GRADES, "none"]
    assert all(option.value in option.label or option.value == "none" for option in grade.options)


def test_gauge_of_its_inputs() -> None:
    assert DialGauge(1e5, "A", 10.0).gauge() == Gauge(span=1e5, grade="A", resolution=10.0)
    assert DialGauge(1e5, "none", 10.0).gauge() == Gauge(span=1e5, grade="", resolution=10.0)


def test_bands() -> None:
    low, high = band("current", "current", AMPERES, ("1 A", "2 A"), "0 A to 9 A").inputs("any")
    assert (low.id, high.id) == ("current_low", "current_high")
    assert low.optional
    assert high.optional
    assert FigureBand(1.0, 2.0).limit("current") == Limit(low=1.0, high=2.0)
    assert FigureBand(None, 2.0).limit("current") == Limit(high=2.0)
    assert FigureBand(None, None).limit("current") is None


def test_a_band_upside_down() -> None:
    with pytest.raises(Refusal) as raised:
        FigureBand(3.0, 2.0).limit("current")
    assert raised.value.problems == {"current_high": "The greatest value lies below the least one."}


def test_meters() -> None:
    error, step = electric_meter("ohmmeter", OHMS, "0.5 %", "0.1 ohm").inputs("meter")
    assert isinstance(step, Quantity)
    assert (error.id, error.label) == ("meter_error", "Error of the ohmmeter")
    assert (step.kind, step.default, step.low) == ("resistance", "0.1 ohm", "0 ohm")
    assert Meter(0.01, 0.1).gauge() == Gauge(of_reading=0.01, resolution=0.1)

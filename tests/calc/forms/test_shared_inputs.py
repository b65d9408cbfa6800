"""Inputs that several calculators share."""

import pytest

from baycalc.forms.declare import Refusal, Shown
from baycalc.forms.shared_inputs import (
    PLACE,
    air_here,
    air_pressure,
    altitude_input,
    band_inputs,
    band_limit,
    barometer_inputs,
    gauge_inputs,
    gauge_of,
    meter_inputs,
    station_pressure_input,
)
from baycalc.measurement.decision import GRADES, Gauge, Limit


def test_air_pressure_by_the_choice() -> None:
    assert air_pressure("altitude", 0.0, 9e4) == 101325
    assert air_pressure("measured", 0.0, 9e4) == 9e4


def test_barometer_inputs_hide_one_another() -> None:
    choice, altitude, barometer = barometer_inputs()
    assert [option.value for option in choice.options] == ["altitude", "measured"]
    assert altitude.shown is not None
    assert barometer.shown is not None
    assert (altitude.shown.choice, altitude.shown.values) == ("barometer_from", ("altitude",))
    assert (barometer.shown.choice, barometer.shown.values) == ("barometer_from", ("measured",))


def test_the_place_is_asked_for_in_one_way() -> None:
    shown = Shown(choice="known", values=("reading",))
    altitude = altitude_input(default="1000 ft", help="Above the sea.")
    reading = station_pressure_input("reading", "Reading", "29 inHg", "As it stands.", shown)
    _, other_altitude, barometer = barometer_inputs()
    for one, other in [(altitude, other_altitude), (reading, barometer)]:
        assert (one.kind, one.units, one.low, one.high) == (
            other.kind,
            other.units,
            other.low,
            other.high,
        )
    assert (altitude.default, altitude.shown) == ("1000 ft", None)
    assert (reading.id, reading.default, reading.shown) == ("reading", "29 inHg", shown)


def test_a_link_carries_the_whole_place() -> None:
    assert list(PLACE) == [declared.id for declared in barometer_inputs()]
    assert all(name == carried for name, carried in PLACE.items())


def test_the_air_here_in_a_sentence() -> None:
    """101325 Pa by 3386.389 Pa to the inHg (NIST SP 811:2008, B.8) are 29.92 inHg."""
    assert air_here(101325.0) == "the air pressure here, 29.92 inHg (101.3 kPa)"


def test_every_grade_can_be_chosen() -> None:
    _, grade, _ = gauge_inputs("30 inHg", "B", "0.5 inHg", ("inHg", "kPa"))
    assert [option.value for option in grade.options] == [*GRADES, "none"]
    assert all(option.value in option.label or option.value == "none" for option in grade.options)


def test_gauge_of_its_inputs() -> None:
    assert gauge_of(1e5, "A", 10.0) == Gauge(span=1e5, grade="A", resolution=10.0)
    assert gauge_of(1e5, "none", 10.0) == Gauge(span=1e5, grade="", resolution=10.0)


def test_bands() -> None:
    low, high = band_inputs("current", "current", "current", ("A",), ("1 A", "2 A"), ("0 A", "9 A"))
    assert (low.id, high.id) == ("current_low", "current_high")
    assert low.optional
    assert high.optional
    assert band_limit("current", 1.0, 2.0) == Limit(low=1.0, high=2.0)
    assert band_limit("current", None, 2.0) == Limit(high=2.0)
    assert band_limit("current", None, None) is None


def test_a_band_upside_down() -> None:
    with pytest.raises(Refusal) as raised:
        band_limit("current", 3.0, 2.0)
    assert raised.value.problems == {"current_high": "The greatest value lies below the least one."}


def test_meters() -> None:
    error, step = meter_inputs("ohmmeter", "resistance", ("ohm",), "0.5 %", "0.1 ohm")
    assert error.label == "Error of the ohmmeter"
    assert (step.kind, step.default, step.low) == ("resistance", "0.1 ohm", "0 ohm")

"""Inputs that several calculators share."""

import pytest

from baycalc.declare import Refusal
from baycalc.inputs import (
    air_pressure,
    band_inputs,
    band_limit,
    barometer_inputs,
    gauge_inputs,
    gauge_of,
    meter_inputs,
)
from baycalc.judge import GRADES, Gauge, Limit


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

"""Air pressure at a place against the standard atmosphere and airfield reports."""

from typing import Any

import pytest
from ambiance import Atmosphere
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api


# US Standard Atmosphere 1976: table values (`ambiance`, `fluids`); the last four by all three of
# `ambiance`, `fluids` and `ussa1976`.
@pytest.mark.parametrize(
    ("altitude", "pressure"),
    [
        (0, 101325),
        (1000, 89876.3),
        (2000, 79501.4),
        (500, 95461.3),
        (1500, 84559.7),
        (1609, 83435.3),
        (3000, 70121.2),
    ],
)
def test_pressure_by_altitude(compute: Any, altitude: float, pressure: float) -> None:
    assert compute(altitude=f"{altitude} m")["pressure"] == pytest.approx(pressure, abs=0.1)


# Worked cases of a published page on barometry from airfield reports (ft, inHg, Pa).
@pytest.mark.parametrize(
    ("altitude", "report", "pressure"), [(5045, 30.20, 84977), (7014, 30.37, 79375)]
)
def test_pressure_by_report(compute: Any, altitude: float, report: float, pressure: float) -> None:
    found = compute(known="report", altitude=f"{altitude} ft", report=f"{report} inHg")
    assert found["pressure"] == pytest.approx(pressure, rel=2e-4)


@given(st.floats(-500, 11000))
def test_altitude_against_ambiance(compute: Any, altitude: float) -> None:
    found = compute(altitude=f"{altitude} m")
    assert found["pressure"] == pytest.approx(Atmosphere(altitude).pressure[0], rel=2e-6)
    assert found["pressure_altitude"] == pytest.approx(altitude, abs=1e-6)
    assert found["report_here"] == pytest.approx(101325, rel=1e-9)


@given(
    st.floats(-400, 4000),
    st.floats(97e3, 104e3),
    st.sampled_from(["standard", "temperature"]),
    st.floats(-30, 40),
)
def test_report_and_reading_return(
    compute: Any, altitude: float, report: float, reduction: str, outside: float
) -> None:
    place = {
        "altitude": f"{altitude} m",
        "reduction": reduction,
        "outside_temperature": f"{outside} °C",
    }
    there = compute(known="report", report=f"{report!r} Pa", **place)
    back = compute(known="reading", reading=f"{there['pressure']!r} Pa", **place)
    assert back["report_here"] == pytest.approx(report, rel=1e-9)
    assert there["report_here"] == pytest.approx(report, rel=1e-9)


@given(st.floats(-400, 5000), st.floats(1, 500))
def test_higher_is_thinner(compute: Any, altitude: float, higher: float) -> None:
    here, there = (compute(altitude=f"{each} m") for each in (altitude, altitude + higher))
    assert there["pressure"] < here["pressure"]
    assert there["share"] < here["share"]


def test_a_cold_day_under_a_report_with_temperature(compute: Any) -> None:
    place = {"known": "report", "report": "1013.25 mbar", "altitude": "1500 m"}
    standard = compute(**place)["pressure"]
    cold = compute(**place, reduction="temperature", outside_temperature="-15 °C")["pressure"]
    assert 0.01 < 1 - cold / standard < 0.02


@pytest.mark.parametrize(
    ("fields", "outcome"),
    [
        ({"seen": "101 kPa", "altitude": "0 m"}, "pass"),
        ({"seen": "98 kPa", "altitude": "0 m"}, "too close to call"),
        ({"seen": "90 kPa", "altitude": "0 m"}, "fail"),
        ({"seen": "98 kPa", "altitude": "0 m", "known": "report", "report": "1013 mbar"}, "pass"),
    ],
)
def test_the_cars_own_sensor(compute: Any, fields: dict[str, str], outcome: str) -> None:
    assert compute(**fields)["verdict"] == outcome


def test_advice_of_a_verdict_too_close(run: Any) -> None:
    by_altitude = run(seen="98 kPa", altitude="0 m")["results"]["verdict"]
    assert by_altitude["advice"] == (
        "Take the pressure of the nearest weather report instead of the altitude alone."
    )
    by_report = run(seen="97.4 kPa", altitude="0 m", known="report", report="1013 mbar")
    assert by_report["results"]["verdict"]["advice"] == (
        "Repeat it with a good barometer beside the car, and allow the sensor its step."
    )


def test_no_sensor_no_verdict(compute: Any) -> None:
    assert "verdict" not in compute()


def test_the_weather_is_told_where_only_the_altitude_is_known(run: Any) -> None:
    assert run()["notes"][0]["text"] == (
        "This is the mean of all weather: a high or a low moves it by up to 3 %."
    )
    assert run(known="reading", reading="29 inHg")["notes"] == []


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        (
            {"known": "report", "report": "86 kPa", "altitude": "11000 m"},
            {"report": "With this altitude it means a pressure that the air has nowhere, on "
             "land or above."},
        ),
        (
            {"known": "report", "report": "70 kPa"},
            {"report": "Expected at least 85 kPa, got 70 kPa."},
        ),
        ({"altitude": "12 km"}, {"altitude": "“km” is a unit of distance; expected length: in, mm, "
                                 "ft, m, cm, µm."}),
        ({"altitude": "12000 m"}, {"altitude": "Expected at most 11000 m, got 12000 m."}),
    ],
)  # fmt: skip
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert api.run("barometer", fields)["errors"] == problems


@pytest.mark.parametrize("reading", ["20 kPa", "110 kPa"])
def test_pressures_that_the_air_may_have(compute: Any, reading: str) -> None:
    found = compute(known="reading", reading=reading)
    assert found["pressure"] == pytest.approx(float(reading.split()[0]) * 1e3)

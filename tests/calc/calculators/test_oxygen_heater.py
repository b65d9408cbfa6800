"""The heater of an oxygen sensor, cold and hot."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api


# IEC 60751, platinum: 107.79 ohm at 20 °C, 115.54 at 40 °C, 123.24 at 60 °C, 138.51 at 100 °C
# (from memory). The coefficient is that of 20 to 100 °C.
@pytest.mark.parametrize(
    ("reading", "temperature", "tolerance"),
    [(107.79, "20 °C", 1e-9), (115.54, "104 °F", 1e-3), (123.24, "60 °C", 1e-3),
     (138.51, "100 °C", 1e-5)],
)  # fmt: skip
def test_platinum_at_20_degrees(
    compute: Any, reading: float, temperature: str, tolerance: float
) -> None:
    found = compute(resistance=f"{reading} ohm", lead_resistance="0 ohm", current="",
                    sensor_temperature=temperature, coefficient="0.35625 %/°C")  # fmt: skip
    assert found["resistance_20"] == pytest.approx(107.79, rel=tolerance)


def test_leads_are_taken_off(compute: Any) -> None:
    found = compute(resistance="9.4 ohm", lead_resistance="0.4 ohm", sensor_temperature="20 °C")
    assert found["resistance_20"] == pytest.approx(9.0)


def test_power_and_hot_resistance_by_ohms_law(compute: Any) -> None:
    found = compute(resistance="6 ohm", lead_resistance="0 ohm", sensor_temperature="20 °C",
                    current="1 A", supply="12 V")  # fmt: skip
    assert found["inrush"] == pytest.approx(2.0)
    assert found["power"] == pytest.approx(12.0)
    assert found["hot_resistance"] == pytest.approx(12.0)
    assert found["hot_share"] == pytest.approx(2.0)


def test_pulses_carry_the_same_resistance(compute: Any) -> None:
    # Half the time switched on, half the mean current and half the power.
    steady = compute(current="1 A", supply="12 V")
    pulsed = compute(current="0.5 A", supply="12 V", pulse_share="50 %")
    assert pulsed["hot_resistance"] == pytest.approx(steady["hot_resistance"])
    assert pulsed["power"] == pytest.approx(steady["power"] / 2)


def test_uncertainty_by_gum() -> None:
    from uncertainties import ufloat

    step = 0.05 / 3**0.5
    reading = 10 + ufloat(0, 0.008 * 10 / 3**0.5) + ufloat(0, step)
    leads = 0.2 + ufloat(0, step)
    at_20 = (reading - leads) / (1 + 0.003 * (5 + ufloat(0, 5 / 3**0.5)))
    fields = {"resistance": "10 ohm", "coefficient": "0.3 %/°C"}
    told = api.run("oxygen_heater", fields)["results"]["resistance_verdict"]
    assert f"Reading {at_20.n:.2f} Ω" in told["metric"]
    assert f"guard band {2 * at_20.s:.2f} Ω" in told["metric"]


# The thresholds (5 times the band, 30 % of it, 5 % of the current): common practice, no source.
@pytest.mark.parametrize(
    ("fields", "finding"),
    [
        ({}, "Nothing is wrong with the heater that these readings would show."),
        ({"resistance": "9000 kohm", "current": ""}, "The heater is open."),
        ({"resistance": "9000 kohm", "current": "0"},
         "The heater is open. It takes too little current."),
        ({"resistance": "1.2 ohm", "current": ""},
         "The heater is shorted: it can have blown its fuse or hurt its driver."),
        ({"resistance": "5 ohm", "current": ""},
         "The heater has less resistance than allowed: part of it is shorted."),
        ({"resistance": "20 ohm", "current": ""},
         "The heater has more resistance than allowed: it ages, or a joint in it is bad."),
        ({"current": "0 A"},
         "No current flows: look for the fuse, the supply and the driver of the heater, and at the "
         "connector."),
        ({"current": "0.3 A"},
         "It takes too little current: a joint in feed or return holds voltage back."),
        ({"current": "2 A"},
         "It takes more current than allowed: it is not hot yet, or partly shorted."),
        ({"current": "1.5 A"}, "A reading lies too close to the edge of its band to call."),
        ({"resistance_low": "", "resistance_high": "", "current": ""},
         "No band was given: hold the figures against the vehicle's."),
    ],
)  # fmt: skip
def test_findings(compute: Any, fields: dict[str, str], finding: str) -> None:
    assert compute(**fields)["finding"] == finding


def test_a_heater_that_does_not_heat_is_told() -> None:
    told = [note["text"] for note in api.run("oxygen_heater", {"current": "1.4 A"})["notes"]]
    assert any(text.startswith("Hot it has hardly more resistance than cold") for text in told)
    assert "touching it burns" in told[0]


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        (
            {"resistance": "", "current": ""},
            {"resistance": "Type a resistance, a current, or both."},
        ),
        (
            {"resistance": "0.2 ohm", "lead_resistance": "0.3 ohm"},
            {"resistance": "The test leads alone take this reading: a shorted heater, or the leads "
             "were not read with their tips together."},
        ),
        (
            {"current_low": "2 A"},
            {"current_high": "The greatest value lies below the least one."},
        ),
        (
            {"coefficient": "0.3 V"},
            {"coefficient": "“V” is a unit of voltage; expected temperature coefficient: %/°F, "
             "%/°C."},
        ),
    ],
)  # fmt: skip
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert api.run("oxygen_heater", fields) == {"errors": problems}


def test_hands_its_load_over() -> None:
    for link in api.run("oxygen_heater", {})["links"]:
        assert api.run(link["to"], link["fields"])["errors"] == {}


@given(st.floats(1, 100), st.floats(-30, 90), st.floats(0, 0.5), st.floats(0.1, 10))
def test_units_commute(
    compute: Any, resistance: float, degrees: float, rises: float, current: float
) -> None:
    one = compute(resistance=f"{resistance!r} ohm", sensor_temperature=f"{degrees!r} °C",
                  coefficient=f"{rises!r} %/°C", current=f"{current!r} A")  # fmt: skip
    other = compute(resistance=f"{resistance / 1000!r} kohm",
                    sensor_temperature=f"{degrees * 1.8 + 32!r} °F",
                    coefficient=f"{rises / 1.8!r} %/°F",
                    current=f"{current * 1000!r} mA")  # fmt: skip
    for name, value in one.items():
        same = pytest.approx(value, rel=1e-9) if isinstance(value, float) else value
        assert other[name] == same


@given(st.floats(0.1, 10), st.floats(1.01, 2))
def test_power_is_proportional_to_current(compute: Any, current: float, factor: float) -> None:
    power = compute(current=f"{current!r} A")["power"]
    assert compute(current=f"{current * factor!r} A")["power"] == pytest.approx(power * factor)

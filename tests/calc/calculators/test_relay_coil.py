"""A relay's coil at its temperature, its band, and its margin when hot."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api


# IEC 60028: copper, 0.00393 per kelvin from 20 °C.
@pytest.mark.parametrize(
    ("reading", "temperature", "at_20"),
    [("119 ohm", "20 °C", 119), ("149.40 ohm", "85 °C", 119), ("90.94 ohm", "-40 °F", 119)],
)
def test_resistance_at_20_degrees(
    compute: Any, reading: str, temperature: str, at_20: float
) -> None:
    found = compute(resistance=reading, coil_temperature=temperature)
    assert found["resistance_20"] == pytest.approx(at_20, rel=1e-4)


# Relay data sheet: coil 260 ohm ± 10 %.
@pytest.mark.parametrize(
    ("reading", "verdict"),
    [("260 ohm", "pass"), ("234 ohm", "too close to call"), ("286 ohm", "too close to call"),
     ("225 ohm", "fail"), ("300 ohm", "fail")],
)  # fmt: skip
def test_band_of_a_data_sheet(compute: Any, reading: str, verdict: str) -> None:
    found = compute(resistance=reading, coil_temperature="20 °C", resistance_low="234 ohm",
                    resistance_high="286 ohm")  # fmt: skip
    assert found["resistance_verdict"] == verdict


def test_uncertainty_by_gum() -> None:
    # Rectangular: 0.8 % of 80 ohm, half a step of 0.1 ohm, 3 K at 0.00393 per kelvin.
    from uncertainties import ufloat

    reading = 80 + ufloat(0, 0.008 * 80 / 3**0.5) + ufloat(0, 0.05 / 3**0.5)
    at_20 = reading / (1 + 0.00393 * ufloat(0, 3 / 3**0.5))
    written = api.run("relay_coil", {"resistance": "80 ohm", "coil_temperature": "20 °C"})
    told = written["results"]["resistance_verdict"]["metric"]
    assert f"guard band {2 * at_20.s:.1f} Ω" in told


@pytest.mark.parametrize(
    ("fields", "finding"),
    [
        ({}, "Nothing is wrong with the coil that its resistance would show."),
        ({"resistance": "10000 kohm"},
         "The coil is open: a broken wire or lead, or a bad contact of the probes."),
        ({"resistance": "2 ohm"},
         "The coil is shorted. It can have taken its driver with it: check that too."),
        ({"resistance": "96.5 ohm"},
         "The resistance lies too close to the edge of its band to call."),
        ({"resistance": "60 ohm"},
         "Less resistance than allowed: shorted turns, or a part in parallel with the coil."),
        ({"resistance": "120 ohm"},
         "More resistance than allowed: a bad joint inside, or another type of relay."),
        ({"resistance_low": "", "resistance_high": ""},
         "No band was given: hold the resistance at 20 °C against the data sheet."),
        ({"resistance": "2 ohm", "resistance_low": ""},
         "Nothing is wrong with the coil that its resistance would show."),
    ],
)  # fmt: skip
def test_findings(compute: Any, fields: dict[str, str], finding: str) -> None:
    assert compute(**fields)["finding"] == finding


def test_pull_in_rises_when_hot(compute: Any) -> None:
    # Data sheet: pick-up at most 7.2 V at 23 °C. From 23 to 85 °C the copper, and so the voltage
    # for the same current, rises by 1.25545/1.01179 (IEC 60028).
    found = compute(pull_in="7.2 V", pull_in_temperature="23 °C", ambient="85 °C",
                    coil_rise="0 °C", low_supply="9.1 V")  # fmt: skip
    assert found["pull_in_hot"] == pytest.approx(7.2 * 1.25545 / 1.01179, rel=1e-5)
    assert found["margin"] == pytest.approx(9.1 - found["pull_in_hot"])
    assert found["pull_in_verdict"] == "pass"
    assert compute(low_supply="9 V")["pull_in_verdict"] == "fail"


def test_current_and_power(compute: Any) -> None:
    # Ohm's law: a data sheet's coil of 119 ohm takes 1.21 W at 12 V.
    found = compute(resistance="119 ohm", supply="12 V")
    assert found["current"] == pytest.approx(12 / 119)
    assert found["power"] == pytest.approx(1.21, abs=0.005)
    assert found["hot_current"] == pytest.approx(12 / found["hot_resistance"])


def test_a_silent_relay_may_be_sound() -> None:
    told = [note["text"] for note in api.run("relay_coil", {"low_supply": "9 V"})["notes"]]
    assert any(text.startswith("Hot and at this low voltage the relay may not") for text in told)


def test_a_band_upside_down_is_refused() -> None:
    assert api.run("relay_coil", {"resistance_low": "99 ohm"}) == {
        "errors": {"resistance_high": "The greatest value lies below the least one."}
    }


@given(st.floats(10, 1000), st.floats(-30, 120), st.floats(0, 20))
def test_units_commute(compute: Any, resistance: float, degrees: float, error: float) -> None:
    one = compute(resistance=f"{resistance!r} ohm", coil_temperature=f"{degrees!r} °C",
                  temperature_error=f"{error!r} °C", ambient="85 °C")  # fmt: skip
    other = compute(resistance=f"{resistance / 1000!r} kohm",
                    coil_temperature=f"{degrees * 1.8 + 32!r} °F",
                    temperature_error=f"{error * 1.8!r} °F", ambient="185 °F")  # fmt: skip
    for name, value in one.items():
        same = pytest.approx(value, rel=1e-9, abs=1e-9) if isinstance(value, float) else value
        assert other[name] == same


@given(st.floats(-40, 140), st.floats(1, 40))
def test_hotter_needs_more_voltage(compute: Any, degrees: float, rise: float) -> None:
    cool = compute(ambient=f"{degrees!r} °C")["pull_in_hot"]
    assert compute(ambient=f"{degrees + rise!r} °C")["pull_in_hot"] > cool

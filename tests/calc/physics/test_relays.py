"""Relays against figures of data sheets and standards."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.physics.relays import (
    coil_resistance_at,
    contact_limit,
    pull_in_voltage_at,
)

KELVIN = 273.15
TEMPERATURES = st.floats(-50, 180).map(lambda degrees: degrees + KELVIN)


# IEC 60028: 0.00393 per kelvin; factors computed from it, not published.
@pytest.mark.parametrize(("temperature", "factor"), [(-40, 0.7642), (85, 1.25545), (125, 1.41265)])
def test_coil_and_pull_in_follow_copper(temperature: float, factor: float) -> None:
    hot = temperature + KELVIN
    assert coil_resistance_at(119.0, 20 + KELVIN, hot) == pytest.approx(119 * factor, rel=1e-5)
    assert pull_in_voltage_at(7.0, 20 + KELVIN, hot) == pytest.approx(7 * factor, rel=1e-5)


def test_contact_of_a_mini_relay() -> None:
    # Data sheet of a 40 A mini relay: 60 A at 23 °C, 40 A at 85 °C, 17 A at 125 °C.
    def limit(temperature: float) -> float:
        return contact_limit(60.0, 23 + KELVIN, 40.0, 85 + KELVIN, temperature + KELVIN)

    assert limit(23) == 60
    assert limit(85) == pytest.approx(40)
    assert limit(125) == pytest.approx(17, abs=1)
    assert limit(-40) == 60
    assert limit(180) == 0


@given(st.floats(0.1, 1e5), TEMPERATURES, TEMPERATURES)
def test_there_and_back(resistance: float, one: float, other: float) -> None:
    there = coil_resistance_at(resistance, one, other)
    assert coil_resistance_at(there, other, one) == pytest.approx(resistance)


@given(TEMPERATURES, st.floats(0.1, 50))
def test_a_hotter_contact_carries_no_more(temperature: float, rise: float) -> None:
    def limit(at: float) -> float:
        return contact_limit(60.0, 296.15, 40.0, 358.15, at)

    assert limit(temperature + rise) <= limit(temperature)

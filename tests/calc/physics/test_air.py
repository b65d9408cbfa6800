"""Air against the standard atmosphere and gas constants published elsewhere."""

import pytest
from ambiance import Atmosphere
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st

from baycalc.physics.air import (
    GAS_CONSTANT,
    SEA_LEVEL_PRESSURE,
    standard_altitude,
    standard_pressure,
    standard_temperature,
)

ALTITUDES = st.floats(-500, 11000)


# ISO 2533 / US Standard Atmosphere 1976, tables in the test suites of `ambiance` and `fluids`.
@pytest.mark.parametrize(
    ("altitude", "pressure", "temperature", "dense"),
    [
        (0, 101325, 288.150, 1.225),
        (1000, 89876.3, 281.651, 1.11166),
        (2000, 79501.4, 275.154, 1.00655),
    ],
)
def test_printed_tables(altitude: float, pressure: float, temperature: float, dense: float) -> None:
    assert standard_pressure(altitude) == pytest.approx(pressure, abs=0.1)
    assert standard_temperature(altitude) == pytest.approx(temperature, abs=1e-3)
    found = standard_pressure(altitude) / (GAS_CONSTANT * standard_temperature(altitude))
    assert found == pytest.approx(dense, abs=1e-5)


def test_4000_m_of_the_printed_table() -> None:
    # US Standard Atmosphere 1976, table in the test suite of `fluids`: 61660 Pa (rounded).
    assert standard_pressure(4000) == pytest.approx(61660, abs=5)


# All three of `ambiance`, `fluids` and `ussa1976` agree to 0.05 Pa on these.
@pytest.mark.parametrize(
    ("altitude", "pressure"),
    [(500, 95461.3), (1500, 84559.7), (1609, 83435.3), (3000, 70121.2)],
)
def test_figures_of_three_libraries(altitude: float, pressure: float) -> None:
    assert standard_pressure(altitude) == pytest.approx(pressure, abs=0.1)


@given(ALTITUDES)
def test_against_fluids_and_ambiance(altitude: float) -> None:
    assert standard_pressure(altitude) == pytest.approx(ATMOSPHERE_1976(altitude).P, rel=2e-6)
    assert standard_pressure(altitude) == pytest.approx(Atmosphere(altitude).pressure[0], rel=2e-6)
    assert standard_temperature(altitude) == pytest.approx(ATMOSPHERE_1976(altitude).T, rel=2e-6)


@given(ALTITUDES)
def test_altitude_of_a_pressure_returns(altitude: float) -> None:
    assert standard_altitude(standard_pressure(altitude)) == pytest.approx(altitude, abs=1e-6)


@given(ALTITUDES, st.floats(0.1, 500))
def test_pressure_falls_with_altitude(altitude: float, more: float) -> None:
    assert standard_pressure(altitude + more) < standard_pressure(altitude)


@given(st.floats(1e3, 3e5), st.floats(230, 400))
def test_density_against_a_real_gas(pressure: float, temperature: float) -> None:
    from CoolProp.CoolProp import PropsSI  # takes seconds

    # CoolProp's dry air: the ideal gas is within 0.5 % of it in this range.
    real = PropsSI("D", "P", pressure, "T", temperature, "Air")
    assert pressure / (GAS_CONSTANT * temperature) == pytest.approx(real, rel=0.005)


def test_gas_constant_is_the_molar_one_over_the_mass_of_air() -> None:
    # US Standard Atmosphere 1976: R* 8314.32 N m/(kmol K), M 28.9644 kg/kmol.
    assert pytest.approx(8314.32 / 28.9644, rel=1e-6) == GAS_CONSTANT
    assert SEA_LEVEL_PRESSURE == 101325

"""Reduction of a barometer to sea level against published reports and the standard atmosphere."""

import math

import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from baycalc.physics.air import SEA_LEVEL_PRESSURE, standard_pressure, standard_temperature
from baycalc.physics.weather import altimeter_setting, reduction_factor, station_pressure

INHG = 3386.389
FOOT = 0.3048


# Worked cases of a published page on barometry from airfield reports: altitude in ft, report in
# inHg, pressure at the place in Pa (it uses the constants 0.1903 and 1.313e-5).
@pytest.mark.parametrize(
    ("altitude", "report", "pressure"), [(5045, 30.20, 84977), (7014, 30.37, 79375)]
)
def test_pressure_from_an_airfield_report(altitude: float, report: float, pressure: float) -> None:
    found = station_pressure(report * INHG, altitude * FOOT)
    assert found == pytest.approx(pressure, rel=2e-4)


def test_altimeter_setting_of_a_low_place() -> None:
    # 30.36 inHg at 100 ft gives 30.4696 inHg by (P^0.1903 + 1.313e-5 Z)^(1/0.1903), Z in ft, P in
    # inHg: a weather station maker's note, as a forum restates it.
    assert altimeter_setting(30.36 * INHG, 100 * FOOT) / INHG == pytest.approx(30.46958, abs=2e-3)


# The definition: at the place the standard atmosphere, shifted in height, has this pressure; the
# height by the library `fluids`.
@pytest.mark.parametrize(("altitude", "pressure"), [(300, 97e3), (1600, 84e3), (2500, 75e3)])
def test_altimeter_setting_by_its_definition(altitude: float, pressure: float) -> None:
    height = brentq(lambda place: ATMOSPHERE_1976(place).P - pressure, -500, 11000)
    shifted = ATMOSPHERE_1976(height - altitude).P
    assert altimeter_setting(pressure, altitude) == pytest.approx(shifted, rel=3e-5)


@given(st.floats(-500, 6000), st.floats(60e3, 106e3))
def test_report_and_place_return(altitude: float, pressure: float) -> None:
    report = altimeter_setting(pressure, altitude)
    assert station_pressure(report, altitude) == pytest.approx(pressure, rel=1e-12)


@given(st.floats(-500, 11000))
def test_the_standard_atmosphere_reports_its_sea_level(altitude: float) -> None:
    report = altimeter_setting(standard_pressure(altitude), altitude)
    assert report == pytest.approx(SEA_LEVEL_PRESSURE, rel=1e-9)


def test_hypsometric_equation() -> None:
    # Hypsometric equation by hand, 1000 m at 288.15 K: g H/(R (T + 3.25 K)), H = 999.843 m.
    exponent = 9.80665 * 999.8427 / (287.05287 * (288.15 + 0.0065 * 999.8427 / 2))
    assert reduction_factor(1000, 288.15) == pytest.approx(math.exp(exponent), rel=1e-8)


@given(st.floats(0, 3000))
def test_both_reductions_agree_in_standard_weather(altitude: float) -> None:
    here = standard_pressure(altitude)
    warm = here * reduction_factor(altitude, standard_temperature(altitude))
    assert warm == pytest.approx(SEA_LEVEL_PRESSURE, rel=5e-4)


@given(st.floats(10, 3000), st.floats(230, 310), st.floats(1, 20))
def test_a_cold_column_is_heavier(altitude: float, temperature: float, warmer: float) -> None:
    cold = reduction_factor(altitude, temperature)
    assert cold > reduction_factor(altitude, temperature + warmer) > 1

"""Flow through a hole against 40 CFR, API 520, ISO 5167, Perry, Weisbach and `fluids`."""

import math

import pytest
from fluids.compressible import P_critical_flow
from fluids.flow_meter import nozzle_expansibility
from fluids.safety_valve import API520_C
from hypothesis import given
from hypothesis import strategies as st

from baycalc.physics.orifice import (
    STILL_COEFFICIENT,
    circle_area,
    circle_diameter,
    critical_ratio,
    flow_function,
    is_choked,
    mass_flow,
    sharp_coefficient,
    sharp_flow,
)

RATIOS = st.floats(0, 1)
KAPPAS = st.floats(1.05, 1.67)


def test_critical_ratio_and_choked_flow_of_air() -> None:
    # Textbook formula for k = 1.4: 0.52828 and 0.684731.
    assert critical_ratio(1.4) == pytest.approx(0.52828, abs=5e-6)
    assert flow_function(0.3) == pytest.approx(0.684731, abs=5e-7)


@given(KAPPAS)
def test_critical_ratio_against_fluids(kappa: float) -> None:
    assert critical_ratio(kappa) == pytest.approx(P_critical_flow(1.0, kappa), rel=1e-12)


def test_choked_venturi_of_40_cfr_1065_642() -> None:
    # 40 CFR 1065.642: Cd 0.985, Cf 0.7219, A 0.00456 m2, p 98836 Pa. From memory: M 28.7805 g/mol,
    # T 378.15 K, kappa 1.385 and the flow of 33.690 mol/s. Cf holds the speed of approach as well
    # as the flow function.
    kappa, molar_mass = 1.385, 0.0287805
    coefficient = 0.985 * 0.7219 / flow_function(0, kappa)
    flow = mass_flow(0.00456, 98836, 0, 378.15, coefficient, 8.314472 / molar_mass, kappa)
    assert flow / molar_mass == pytest.approx(33.690, abs=2e-3)


def test_relief_valve_of_api_520() -> None:
    # API 520-1 example 1 (docstring of `fluids`): 24270 kg/h, 348 K, Z 0.90, M 51, k 1.11, 670 kPa,
    # Kd 0.975 need 3699 mm2.
    gas_constant = 0.90 * 8314.46 / 51
    flow = mass_flow(3699e-6, 670e3, 0, 348, 0.975, gas_constant, 1.11)
    assert flow * 3600 == pytest.approx(24270, rel=2e-3)


@given(KAPPAS)
def test_choked_flow_against_the_coefficient_of_api_520(kappa: float) -> None:
    # C of API 520 is 0.03948 sqrt(k (2/(k+1))^((k+1)/(k-1))), our function with its constant.
    assert API520_C(kappa) == pytest.approx(0.03948 * flow_function(0, kappa), rel=1e-3)


@given(st.floats(0.75, 0.9999), KAPPAS)
def test_subsonic_flow_against_iso_5167(ratio: float, kappa: float) -> None:
    # ISO 5167 nozzle with a small beta: m = A eps sqrt(2 rho dp); its expansibility in `fluids`.
    expansibility = nozzle_expansibility(D=1.0, Do=1e-4, P1=1e5, P2=1e5 * ratio, k=kappa)
    ideal = expansibility * math.sqrt(2 * (1 - ratio))
    assert flow_function(ratio, kappa) == pytest.approx(ideal, rel=1e-6)


def perry(ratio: float) -> float:
    """Perry's coefficient of a sharp-edged orifice, as the help of MapleSim restates it."""
    factors = (0.8414, -0.1002, 0.8415, -3.9, 4.6001, -1.6827)
    return sum(factor * ratio**power for power, factor in enumerate(factors))


@given(RATIOS)
def test_coefficient_of_a_sharp_edge_against_perry(ratio: float) -> None:
    # Perry, Trans. ASME 71 (1949) 757, as a polynomial: within 4 %, the stated uncertainty is 5 %.
    assert sharp_coefficient(ratio) == pytest.approx(perry(ratio), rel=0.04)


def test_coefficient_of_a_sharp_edge_against_weisbach() -> None:
    # Weisbach (Encyclopaedia Britannica 1911, Hydraulics): 0.788 at an effective pressure of 1.1
    # atmospheres, so at a ratio of 1/2.1.
    assert sharp_coefficient(1 / 2.1) == pytest.approx(0.788, rel=0.04)


def test_coefficient_of_a_slow_jet() -> None:
    # ISO 5167-2 case in `fluids`: 0.59903; 0.61 of the textbooks is within 2 % of it.
    assert sharp_coefficient(1.0) == STILL_COEFFICIENT == pytest.approx(0.59903, rel=0.02)
    assert sharp_coefficient(1 - 1e-9) == pytest.approx(STILL_COEFFICIENT, abs=1e-6)


def test_a_fixed_coefficient_understates_a_leak_at_high_vacuum() -> None:
    assert sharp_flow(0.05) > 1.35 * 0.61 * flow_function(0.05)


@given(RATIOS, RATIOS)
def test_more_difference_passes_more(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert sharp_flow(low) >= sharp_flow(high) - 1e-12
    assert sharp_coefficient(low) >= sharp_coefficient(high) - 1e-12


@given(st.floats(0.1, 0.999))
def test_coefficient_balances_momentum(ratio: float) -> None:
    """Jobson's balance, written out: thrust of the jet = pressures on the wall and its pull."""
    kappa = 1.4
    found = sharp_coefficient(ratio)
    throat = max(ratio, critical_ratio(kappa))
    density = throat ** (1 / kappa)
    speed_squared = 2 * kappa / (kappa - 1) * (1 - throat ** ((kappa - 1) / kappa))
    flow = found * density * math.sqrt(speed_squared)
    pull = (1 / 0.61 - 0.5 / 0.61**2) * flow**2
    jet = flow * math.sqrt(speed_squared) + found * (throat - ratio)
    assert jet == pytest.approx(1 - ratio + pull, rel=1e-9)


@given(st.floats(1e-9, 1e-3), st.floats(2e4, 1e6), RATIOS, st.floats(230, 400))
def test_scaling(area: float, upstream: float, ratio: float, temperature: float) -> None:
    flow = mass_flow(area, upstream, ratio * upstream, temperature)
    twice = mass_flow(2 * area, upstream, ratio * upstream, temperature)
    denser = mass_flow(area, 2 * upstream, 2 * ratio * upstream, temperature)
    hotter = mass_flow(area, upstream, ratio * upstream, 4 * temperature)
    assert twice == pytest.approx(2 * flow, rel=1e-12)
    assert denser == pytest.approx(2 * flow, rel=1e-9, abs=1e-18)
    assert hotter == pytest.approx(flow / 2, rel=1e-12)


def test_choked_from_the_critical_ratio_down() -> None:
    assert is_choked(100e3, 52.8e3)
    assert not is_choked(100e3, 52.9e3)


@given(st.floats(1e-6, 1))
def test_circle_returns(diameter: float) -> None:
    assert circle_diameter(circle_area(diameter)) == pytest.approx(diameter, rel=1e-12)
    assert circle_area(diameter) == pytest.approx(math.pi * (diameter / 2) ** 2, rel=1e-12)

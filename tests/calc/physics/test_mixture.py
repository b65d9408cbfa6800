"""Exhaust gas and lambda against a university's script, atom balances and textbook ratios."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.physics.mixture import (
    INERT_PER_OXYGEN,
    OXYGEN_IN_AIR,
    Analysis,
    added_air_from_oxygen,
    added_air_lambda,
    added_air_oxygen,
    exhaust,
    lambda_parts,
    oxygen_needed,
)

MIXTURES = st.floats(0.6, 2)
HYDROGEN = st.floats(1.5, 4)
OXYGEN = st.floats(0, 0.4)


def course_script(hydrogen: float, mixture: float, constant: float) -> tuple[float, ...]:
    """CO2, CO, H2O and H2 of a rich mixture by the script of MIT course 2.61 (2017)."""
    z = 2 * mixture * (1 + 0.25 * hydrogen)
    a = 0.5 * hydrogen * (1 - constant)
    b = 2 + (0.5 * hydrogen - 1) * constant - (1 - constant) * z
    c = constant * (1 - z)
    share = (-b + math.sqrt(b * b - 4 * a * c)) / (2 * a)
    dioxide = share / (constant + (1 - constant) * share)
    half = 0.5 * hydrogen
    return dioxide, 1 - dioxide, half * share, half * (1 - share)


@pytest.mark.parametrize("mixture", [0.6, 0.7, 0.8, 0.9, 0.95, 0.99])
def test_rich_exhaust_against_the_course_script(mixture: float) -> None:
    gas = exhaust(mixture, hydrogen=1.87, water_gas=3.7)
    found = (gas.carbon_dioxide, gas.carbon_monoxide, gas.water, gas.hydrogen)
    assert found == pytest.approx(course_script(1.87, mixture, 3.7), abs=1e-12)


@given(MIXTURES, HYDROGEN, OXYGEN)
def test_atoms_balance(mixture: float, hydrogen: float, oxygen: float) -> None:
    gas = exhaust(mixture, hydrogen, oxygen)
    supplied = mixture * oxygen_needed(hydrogen, oxygen)
    atoms = 2 * gas.carbon_dioxide + gas.carbon_monoxide + gas.water + 2 * gas.oxygen
    assert gas.carbon_dioxide + gas.carbon_monoxide == pytest.approx(1)
    assert 2 * (gas.water + gas.hydrogen) == pytest.approx(hydrogen)
    assert atoms == pytest.approx(2 * supplied + oxygen)
    assert gas.inert == pytest.approx(supplied * INERT_PER_OXYGEN)


@given(st.floats(0.6, 0.999), HYDROGEN)
def test_water_gas_equilibrium(mixture: float, hydrogen: float) -> None:
    gas = exhaust(mixture, hydrogen)
    constant = gas.carbon_monoxide * gas.water / (gas.carbon_dioxide * gas.hydrogen)
    assert constant == pytest.approx(3.5, rel=1e-6)


# Textbook ratios (J. B. Heywood, appendix D, from memory): isooctane C8H18 15.1, methane 17.2,
# propane 15.7, methanol 6.5, ethanol 9.0; gasoline 14.5 to 14.7.
@pytest.mark.parametrize(
    ("hydrogen", "oxygen", "ratio"),
    [(2.25, 0, 15.1), (4, 0, 17.2), (8 / 3, 0, 15.7), (4, 1, 6.5), (3, 0.5, 9.0), (1.87, 0, 14.6)],
)
def test_stoichiometric_ratios(hydrogen: float, oxygen: float, ratio: float) -> None:
    # Molar masses of IUPAC; air of 20.95 % oxygen weighs 28.96 g/mol.
    air = oxygen_needed(hydrogen, oxygen) / OXYGEN_IN_AIR * 28.96
    fuel = 12.011 + 1.008 * hydrogen + 15.999 * oxygen
    assert air / fuel == pytest.approx(ratio, abs=0.07)


def test_stoichiometric_exhaust_of_isooctane() -> None:
    # C8H18 + 12.5 (O2 + 3.773 N2) -> 8 CO2 + 9 H2O + 47.2 N2: dry CO2 8/55.2 = 14.5 %.
    gas = exhaust(1.0, hydrogen=2.25)
    assert gas.carbon_dioxide / gas.dry() == pytest.approx(8 / (8 + 12.5 * 3.773), rel=1e-3)


@given(st.floats(0.7, 1.8), st.floats(1.5, 2.6), st.floats(0, 0.1))
def test_brettschneider_finds_the_mixture_of_a_burnt_gas(
    mixture: float, hydrogen: float, oxygen: float
) -> None:
    gas = exhaust(mixture, hydrogen, oxygen)
    dry = gas.dry()
    seen = Analysis(gas.carbon_monoxide / dry, gas.carbon_dioxide / dry, gas.oxygen / dry, 0)
    there, needed = lambda_parts(seen, hydrogen, oxygen, 6)
    assert there / needed == pytest.approx(mixture, rel=1e-9)


def test_brettschneider_written_out() -> None:
    # The formula as Brettschneider gives it, with 1.7261, 0.0176 and 6, by hand in per cent.
    carbon, monoxide, oxygen, hydrocarbons = 14.7, 0.5, 0.6, 0.012
    top = (
        carbon
        + monoxide / 2
        + oxygen
        + (1.7261 / 4 * 3.5 / (3.5 + monoxide / carbon) - 0.0176 / 2) * (carbon + monoxide)
    )
    bottom = (1 + 1.7261 / 4 - 0.0176 / 2) * (carbon + monoxide + 6 * hydrocarbons)
    there, needed = lambda_parts(Analysis(0.005, 0.147, 0.006, 1.2e-4), 1.7261, 0.0176, 6)
    assert there / needed == pytest.approx(top / bottom, rel=1e-12)


@given(MIXTURES, st.floats(0, 1), st.booleans())
def test_added_air_and_oxygen_return(mixture: float, added: float, burns: bool) -> None:
    oxygen = added_air_oxygen(mixture, added, burns)
    if burns and added_air_lambda(mixture, added) <= 1:
        assert oxygen == 0
    else:
        assert added_air_from_oxygen(mixture, oxygen, burns) == pytest.approx(added, abs=1e-9)


def test_oxygen_by_the_balance_of_two_streams() -> None:
    # Mass balance: (n_e O2_e + 20.95 n_a)/(n_e + n_a), amounts from the stoichiometric gas.
    gas = exhaust(1.2)
    air = 0.3 * 1.2 * oxygen_needed() / OXYGEN_IN_AIR
    expected = (gas.oxygen + OXYGEN_IN_AIR * air) / (gas.dry() + air)
    assert added_air_oxygen(1.2, 0.3, burns=False) == pytest.approx(expected, rel=1e-12)


@given(st.floats(1, 2), st.floats(0, 1))
def test_in_a_lean_gas_nothing_is_left_to_burn(mixture: float, added: float) -> None:
    burnt = added_air_oxygen(mixture, added, burns=True)
    assert added_air_oxygen(mixture, added, burns=False) == pytest.approx(burnt, abs=1e-12)


@given(MIXTURES, st.floats(0, 1), st.floats(0.001, 0.5), st.booleans())
def test_more_air_leaves_more_oxygen(
    mixture: float, added: float, more: float, burns: bool
) -> None:
    less = added_air_oxygen(mixture, added, burns)
    assert less <= added_air_oxygen(mixture, added + more, burns) < OXYGEN_IN_AIR

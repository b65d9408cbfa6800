"""Air and fuel: what an exhaust gas is made of, and the mixture that it came from."""

import math
from dataclasses import dataclass

OXYGEN_IN_AIR = 0.2095
"""Oxygen in dry air, by volume, US Standard Atmosphere 1976 [-]."""

INERT_PER_OXYGEN = (1 - OXYGEN_IN_AIR) / OXYGEN_IN_AIR
"""Nitrogen and the rest per oxygen in dry air, by volume [-]."""

WATER_GAS = 3.5
"""CO times H2O over CO2 times H2 in exhaust gas, as Brettschneider takes it [-]."""

HYDROGEN = 1.85
"""Hydrogen per carbon of gasoline, by atoms [-]."""


@dataclass(frozen=True, slots=True)
class Exhaust:
    """Amounts of exhaust gas per amount of carbon in the fuel.

    Parameters
    ----------
    carbon_dioxide : float
        CO2 [mol/mol]
    carbon_monoxide : float
        CO [mol/mol]
    hydrogen : float
        H2 [mol/mol]
    oxygen : float
        O2 [mol/mol]
    inert : float
        Nitrogen and the rest of the air [mol/mol]
    water : float
        H2O [mol/mol]
    """

    carbon_dioxide: float
    carbon_monoxide: float
    hydrogen: float
    oxygen: float
    inert: float
    water: float

    def dry(self) -> float:
        """Return the amount of gas without its water.

        Returns
        -------
        float
            Dry gas per carbon [mol/mol]
        """
        burnt = self.carbon_dioxide + self.carbon_monoxide + self.hydrogen
        return burnt + self.oxygen + self.inert


def oxygen_needed(hydrogen: float = HYDROGEN, oxygen: float = 0.0) -> float:
    """Return the oxygen that burns a fuel completely.

    Parameters
    ----------
    hydrogen : float
        Hydrogen per carbon of the fuel, by atoms [-]
    oxygen : float
        Oxygen per carbon of the fuel, by atoms [-]

    Returns
    -------
    float
        O2 per carbon [mol/mol]
    """
    return 1 + hydrogen / 4 - oxygen / 2


def exhaust(
    mixture: float, hydrogen: float = HYDROGEN, oxygen: float = 0.0, water_gas: float = WATER_GAS
) -> Exhaust:
    """Return the exhaust gas of a mixture that has burnt to its equilibrium.

    Parameters
    ----------
    mixture : float
        Lambda, above about 0.5 [-]
    hydrogen : float
        Hydrogen per carbon of the fuel, by atoms [-]
    oxygen : float
        Oxygen per carbon of the fuel, by atoms [-]
    water_gas : float
        Equilibrium constant of the water gas reaction [-]

    Returns
    -------
    Exhaust
        Complete burning from lambda 1 on; CO and H2 by the water gas reaction below.
    """
    supplied = mixture * oxygen_needed(hydrogen, oxygen)
    inert = supplied * INERT_PER_OXYGEN
    half = hydrogen / 2
    if mixture >= 1:
        left = supplied - oxygen_needed(hydrogen, oxygen)
        return Exhaust(1.0, 0.0, 0.0, left, inert, half)
    bound = 2 * supplied + oxygen - 1
    # With c = CO2: CO = 1 - c, H2O = bound - c, H2 = half - H2O; a quadratic in c.
    square = water_gas - 1
    linear = 1 + bound + water_gas * (half - bound)
    root = math.sqrt(linear**2 + 4 * square * bound)
    dioxide = 2 * bound / (linear + root)
    water = bound - dioxide
    return Exhaust(dioxide, 1 - dioxide, half - water, 0.0, inert, water)


def added_air_lambda(mixture: float, added: float) -> float:
    """Return the lambda behind a place where air is added.

    Parameters
    ----------
    mixture : float
        Lambda before [-]
    added : float
        Air added per air that the engine takes, by mass [-]

    Returns
    -------
    float
        Lambda behind [-]
    """
    return mixture * (1 + added)


def added_air_oxygen(mixture: float, added: float, burns: bool) -> float:
    """Return the oxygen in the dry gas behind a place where air is added.

    Parameters
    ----------
    mixture : float
        Lambda before [-]
    added : float
        Air added per air that the engine takes, by mass [-]
    burns : bool
        Whether the added air burns the CO and H2 that is left

    Returns
    -------
    float
        O2 in the dry gas, by volume [-]
    """
    if burns:
        gas = exhaust(added_air_lambda(mixture, added))
        return gas.oxygen / gas.dry()
    gas = exhaust(mixture)
    air = added * (gas.inert / (1 - OXYGEN_IN_AIR))
    return (gas.oxygen + OXYGEN_IN_AIR * air) / (gas.dry() + air)


def added_air_from_oxygen(mixture: float, oxygen: float, burns: bool) -> float:
    """Return the share of added air that leaves so much oxygen in the dry gas.

    Parameters
    ----------
    mixture : float
        Lambda before [-]
    oxygen : float
        O2 in the dry gas behind, by volume, below that of air [-]
    burns : bool
        Whether the added air burns the CO and H2 that is left

    Returns
    -------
    float
        Air added per air that the engine takes, by mass [-]
    """
    if burns:
        needed = oxygen_needed()
        behind = (needed + oxygen * (1 - needed)) / (needed * (1 - oxygen / OXYGEN_IN_AIR))
        return behind / mixture - 1
    gas = exhaust(mixture)
    air = (oxygen * gas.dry() - gas.oxygen) / (OXYGEN_IN_AIR - oxygen)
    return air / (gas.inert / (1 - OXYGEN_IN_AIR))


@dataclass(frozen=True, slots=True)
class Analysis:
    """Dry exhaust gas as an analyzer shows it, all as shares by volume.

    Parameters
    ----------
    carbon_monoxide : float
        CO [-]
    carbon_dioxide : float
        CO2 [-]
    oxygen : float
        O2 [-]
    hydrocarbons : float
        HC, as hexane [-]
    nitric_oxide : float
        NO [-]
    """

    carbon_monoxide: float
    carbon_dioxide: float
    oxygen: float
    hydrocarbons: float
    nitric_oxide: float = 0.0


def lambda_parts(
    gas: Analysis, hydrogen: float, oxygen: float, carbon_of_hydrocarbons: float
) -> tuple[float, float]:
    """Return the oxygen in an exhaust gas and the oxygen that its fuel needed.

    Parameters
    ----------
    gas : Analysis
        The gas
    hydrogen : float
        Hydrogen per carbon of the fuel, by atoms [-]
    oxygen : float
        Oxygen per carbon of the fuel, by atoms [-]
    carbon_of_hydrocarbons : float
        Carbon atoms per molecule of HC as the analyzer counts it [-]

    Returns
    -------
    there : float
        Oxygen in the gas, that of the fuel taken off [-]
    needed : float
        Oxygen for complete burning [-]; lambda is the first over the second

    References
    ----------
    J. Brettschneider, Bosch Technische Berichte 6 (1979) 177.
    """
    carbon = gas.carbon_dioxide + gas.carbon_monoxide
    # H2 is not measured; the water gas constant gives it from CO and CO2.
    share = WATER_GAS * gas.carbon_dioxide
    water = hydrogen / 4 * share / (share + gas.carbon_monoxide) if carbon else 0.0
    there = (
        gas.carbon_dioxide
        + gas.carbon_monoxide / 2
        + gas.oxygen
        + gas.nitric_oxide / 2
        + (water - oxygen / 2) * carbon
    )
    needed = oxygen_needed(hydrogen, oxygen) * (carbon + carbon_of_hydrocarbons * gas.hydrocarbons)
    return there, needed


OXYGEN_IN_AIR_BY_MASS = 0.2314
"""Oxygen in dry air, by mass (20.95 % by volume of 31.999 g/mol in 28.965 g/mol) [-]."""


def oxygen_over(mixture: float) -> float:
    """Return the oxygen that a mixture leaves over, as a mass per mass of its air.

    Parameters
    ----------
    mixture : float
        Lambda, above zero [-]

    Returns
    -------
    float
        Oxygen over; below zero where it is lacking [-]
    """
    return OXYGEN_IN_AIR_BY_MASS * (mixture - 1) / mixture

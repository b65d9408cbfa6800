"""Lambda of an exhaust gas analysis: fuels, classes of analyzers, uncertainty, fresh air."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from baycalc.physics.mixture import OXYGEN_IN_AIR, Analysis, lambda_parts

FUELS: Mapping[str, tuple[float, float]] = {
    "petrol": (1.7261, 0.0176),
    "e5": (1.89, 0.016),
    "e10": (1.93, 0.033),
    "lpg": (2.525, 0.0),
    "cng": (4.0, 0.0),
}
"""Hydrogen and oxygen per carbon of fuels, UN Regulation 83; gasoline by Brettschneider [-]."""

ANALYSERS: Mapping[str, tuple[float, float, float, float]] = {
    "00": (0.0002, 0.003, 0.001, 4e-6),
    "0": (0.0003, 0.005, 0.001, 10e-6),
    "I": (0.0006, 0.005, 0.001, 12e-6),
}
"""Greatest errors of CO, CO2, O2 and HC by class, OIML R 99:2008, from memory [-]."""

_NAMES = ("carbon_monoxide", "carbon_dioxide", "oxygen", "hydrocarbons")
_SHARE_OF_READING = 0.05


@dataclass(frozen=True, slots=True)
class Brettschneider:
    """Brettschneider's formula with the constants of a fuel and an analyzer.

    Parameters
    ----------
    hydrogen : float
        Hydrogen per carbon of the fuel [-]
    oxygen : float
        Oxygen per carbon of the fuel [-]
    carbon_of_hydrocarbons : float
        Carbon atoms that one molecule of HC stands for [-]
    """

    hydrogen: float
    oxygen: float
    carbon_of_hydrocarbons: float

    def _parts(self, gas: Analysis) -> tuple[float, float]:
        return lambda_parts(gas, self.hydrogen, self.oxygen, self.carbon_of_hydrocarbons)

    def value(self, gas: Analysis) -> float:
        """Return lambda [-]."""
        there, needed = self._parts(gas)
        return there / needed

    def uncertainty(self, gas: Analysis, analyser: str) -> float:
        """Return the standard uncertainty of lambda: each gas by its slope (GUM 5.1.2).

        Parameters
        ----------
        gas : Analysis
            The gas
        analyser : str
            Class of the analyzer, one of `ANALYSERS`

        Returns
        -------
        float
            Standard uncertainty [-]
        """
        total = 0.0
        for name, least in zip(_NAMES, ANALYSERS[analyser], strict=True):
            there = getattr(gas, name)
            greatest = max(least, _SHARE_OF_READING * there)
            more = self.value(replace(gas, **{name: there + greatest / 2}))
            less = self.value(replace(gas, **{name: there - greatest / 2}))
            total += (more - less) ** 2 / 3
        return math.sqrt(total)

    def fresh_air(self, gas: Analysis, sensor_lambda: float) -> float:
        """Return the share of fresh air that makes a sensor's lambda look like this gas.

        Parameters
        ----------
        gas : Analysis
            The gas, with the air in it
        sensor_lambda : float
            Lambda before the air came to it [-]

        Returns
        -------
        float
            Share of the sample, 0 or more [-]
        """
        there, needed = self._parts(gas)
        return max(0.0, (there - sensor_lambda * needed) / OXYGEN_IN_AIR)


def without_air(gas: Analysis, fresh_air: float) -> Analysis:
    """Return the gas before fresh air came to it.

    Parameters
    ----------
    gas : Analysis
        The gas, with the air in it
    fresh_air : float
        Share of fresh air in the sample, below 1 [-]
    """
    left = 1 - fresh_air
    return Analysis(
        carbon_monoxide=gas.carbon_monoxide / left,
        carbon_dioxide=gas.carbon_dioxide / left,
        oxygen=(gas.oxygen - fresh_air * OXYGEN_IN_AIR) / left,
        hydrocarbons=gas.hydrocarbons / left,
        nitric_oxide=gas.nitric_oxide / left,
    )

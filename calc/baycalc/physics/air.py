"""Air: the standard atmosphere and the gas constant of dry air."""

import math

SEA_LEVEL_PRESSURE = 101325.0
"""Standard pressure at sea level, US Standard Atmosphere 1976 [Pa]."""

SEA_LEVEL_TEMPERATURE = 288.15
"""Standard temperature at sea level, US Standard Atmosphere 1976 [K]."""

GAS_CONSTANT = 287.05287
"""Specific gas constant of dry air, ISO 2533 [J/(kg K)]."""

HEAT_CAPACITY_RATIO = 1.4
"""Ratio of the heat capacities of air [-]."""

LAPSE_RATE = 0.0065
"""Fall of temperature with geopotential height up to 11 km [K/m]."""

_GRAVITY = 9.80665
_EARTH_RADIUS = 6356766.0
_EXPONENT = _GRAVITY / (GAS_CONSTANT * LAPSE_RATE)

LOWEST = -500.0
"""Least altitude that the formulas here are used for [m]."""

HIGHEST = 11000.0
"""Greatest altitude that the formulas here hold for [m]."""


def geopotential(altitude: float) -> float:
    """Return the geopotential height of a geometric altitude.

    Parameters
    ----------
    altitude : float
        Altitude above sea level [m]

    Returns
    -------
    float
        Geopotential height [m]
    """
    return _EARTH_RADIUS * altitude / (_EARTH_RADIUS + altitude)


def standard_temperature(altitude: float) -> float:
    """Return the temperature of the standard atmosphere.

    Parameters
    ----------
    altitude : float
        Altitude above sea level, -500 to 11000 m [m]

    Returns
    -------
    float
        Temperature [K]

    References
    ----------
    US Standard Atmosphere 1976; ISO 2533:1975.
    """
    return SEA_LEVEL_TEMPERATURE - LAPSE_RATE * geopotential(altitude)


def standard_pressure(altitude: float) -> float:
    """Return the pressure of the standard atmosphere.

    Parameters
    ----------
    altitude : float
        Altitude above sea level, -500 to 11000 m [m]

    Returns
    -------
    float
        Absolute pressure [Pa]

    References
    ----------
    US Standard Atmosphere 1976; ISO 2533:1975.
    """
    ratio = standard_temperature(altitude) / SEA_LEVEL_TEMPERATURE
    return SEA_LEVEL_PRESSURE * math.pow(ratio, _EXPONENT)


def standard_altitude(pressure: float) -> float:
    """Return the altitude at which the standard atmosphere has a pressure.

    Parameters
    ----------
    pressure : float
        Absolute pressure, 22.6 to 107.5 kPa [Pa]

    Returns
    -------
    float
        Altitude above sea level [m]
    """
    ratio = math.pow(pressure / SEA_LEVEL_PRESSURE, 1 / _EXPONENT)
    height = SEA_LEVEL_TEMPERATURE * (1 - ratio) / LAPSE_RATE
    return _EARTH_RADIUS * height / (_EARTH_RADIUS - height)

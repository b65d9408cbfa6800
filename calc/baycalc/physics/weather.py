"""Air pressure in a weather report, reduced to sea level, and at the place itself."""

import math

from baycalc.physics.air import (
    GAS_CONSTANT,
    LAPSE_RATE,
    SEA_LEVEL_PRESSURE,
    SEA_LEVEL_TEMPERATURE,
    geopotential,
)

_GRAVITY = 9.80665
_EXPONENT = GAS_CONSTANT * LAPSE_RATE / _GRAVITY
_ROOT_PER_METRE = math.pow(SEA_LEVEL_PRESSURE, _EXPONENT) * LAPSE_RATE / SEA_LEVEL_TEMPERATURE


def altimeter_setting(pressure: float, altitude: float) -> float:
    """Return what a report by the standard atmosphere (QNH) gives for a pressure at a place.

    Parameters
    ----------
    pressure : float
        Pressure at the place [Pa]
    altitude : float
        Altitude of the place [m]

    Returns
    -------
    float
        Pressure reduced to sea level [Pa]

    Notes
    -----
    The altitude by which the standard atmosphere is shifted is the same at sea level.

    References
    ----------
    Smithsonian Meteorological Tables (1951), p. 269; US Standard Atmosphere 1976.
    """
    root = math.pow(pressure, _EXPONENT) + _ROOT_PER_METRE * geopotential(altitude)
    return math.pow(root, 1 / _EXPONENT)


def station_pressure(setting: float, altitude: float) -> float:
    """Return the pressure at a place from a report by the standard atmosphere (QNH).

    Parameters
    ----------
    setting : float
        Pressure reduced to sea level [Pa]
    altitude : float
        Altitude of the place [m]

    Returns
    -------
    float
        Pressure at the place [Pa]
    """
    root = math.pow(setting, _EXPONENT) - _ROOT_PER_METRE * geopotential(altitude)
    return math.pow(root, 1 / _EXPONENT)


def reduction_factor(altitude: float, temperature: float) -> float:
    """Return by what a report that knows the temperature raises the pressure of a place.

    Parameters
    ----------
    altitude : float
        Altitude of the place [m]
    temperature : float
        Temperature of the air at the place [K]

    Returns
    -------
    float
        Pressure reduced to sea level over pressure at the place [-]

    Notes
    -----
    Barometric formula with the mean temperature of the missing column of air, which warms
    by the standard lapse rate downwards; the water vapor in it is left out.

    References
    ----------
    WMO-No. 8, Guide to Instruments, part I, chapter 3 (reduction to sea level).
    """
    height = geopotential(altitude)
    mean = temperature + LAPSE_RATE * height / 2
    return math.exp(_GRAVITY * height / (GAS_CONSTANT * mean))

"""Relays: the coil at its temperature, the voltage that pulls it in, what the contact carries."""

import math

from baycalc.physics.copper import resistance_factor
from baycalc.physics.tables import between


def coil_resistance_at(resistance: float, measured_at: float, temperature: float) -> float:
    """Return the resistance of a coil at another temperature.

    Parameters
    ----------
    resistance : float
        Resistance of the coil as measured [ohm]
    measured_at : float
        Temperature of the coil then [K]
    temperature : float
        Temperature to know it at [K]

    Returns
    -------
    float
        Resistance [ohm]

    References
    ----------
    IEC 60028: copper, 0.00393 per kelvin from 20 °C.
    """
    return resistance * resistance_factor(temperature) / resistance_factor(measured_at)


def pull_in_voltage_at(voltage: float, stated_at: float, temperature: float) -> float:
    """Return the voltage that pulls a relay in at another temperature of its coil.

    Parameters
    ----------
    voltage : float
        Pull-in voltage of the data sheet [V]
    stated_at : float
        Temperature of the coil that it is stated for [K]
    temperature : float
        Temperature of the coil [K]

    Returns
    -------
    float
        Voltage: the relay needs the same current, so it rises with the resistance [V]
    """
    return voltage * resistance_factor(temperature) / resistance_factor(stated_at)


def contact_limit(
    cool_limit: float, cool: float, hot_limit: float, hot: float, temperature: float
) -> float:
    """Return the steady current that a contact may carry at a temperature.

    Parameters
    ----------
    cool_limit : float
        Current of the data sheet at the lower temperature [A]
    cool : float
        That temperature [K]
    hot_limit : float
        Current of the data sheet at the higher temperature [A]
    hot : float
        That temperature, above the lower one [K]
    temperature : float
        Temperature of the air at the relay [K]

    Returns
    -------
    float
        Allowed current; below the lower temperature no more than there [A]

    Notes
    -----
    The heat of the contact, and so the square of the current, goes with the temperature left:
    the squares lie on a straight line through the two points. It ends at no current.
    """
    if temperature <= cool:
        return cool_limit
    squared = between(((cool, cool_limit**2), (hot, hot_limit**2)), temperature)
    return math.sqrt(max(0.0, squared))

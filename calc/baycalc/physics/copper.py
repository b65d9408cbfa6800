"""Copper conductors: wire gauges, resistance, temperature."""

import math

from baycalc.physics.constants import ROOM

RESISTIVITY_20 = 1.7241e-8
"""Annealed copper at 20 °C, IEC 60028 [ohm m]."""

TEMPERATURE_COEFFICIENT = 0.00393
"""Change of the resistance of annealed copper per kelvin from 20 °C, IEC 60028 [1/K]."""


def area_from_awg(size: float) -> float:
    """Return the cross-section of a solid conductor of an American wire gauge size.

    Parameters
    ----------
    size : float
        Gauge number; 0 for 1/0, -1 for 2/0 [-]

    Returns
    -------
    float
        Cross-section [m2]

    References
    ----------
    ASTM B258: d = 0.127 mm x 92^((36 - n)/39).
    """
    diameter = 0.127e-3 * math.pow(92, (36 - size) / 39)
    return math.pi / 4 * diameter**2


def awg_from_area(area: float) -> float:
    """Return the (fractional) American wire gauge size of a cross-section.

    Parameters
    ----------
    area : float
        Cross-section, above zero [m2]

    Returns
    -------
    float
        Gauge number [-]
    """
    diameter = math.sqrt(4 * area / math.pi)
    return 36 - 39 * math.log(diameter / 0.127e-3) / math.log(92)


def resistance_factor(temperature: float) -> float:
    """Return the ratio of a copper resistance at a temperature to that at 20 °C.

    Parameters
    ----------
    temperature : float
        Temperature of the copper [K]

    Returns
    -------
    float
        R(T)/R(20 °C) [-]
    """
    return 1 + TEMPERATURE_COEFFICIENT * (temperature - ROOM)


def wire_resistance(area: float, length: float, temperature: float = ROOM) -> float:
    """Return the resistance of a copper wire.

    Parameters
    ----------
    area : float
        Cross-section of the copper [m2]
    length : float
        Length of the wire, one way [m]
    temperature : float
        Temperature of the copper [K]

    Returns
    -------
    float
        Resistance [ohm]
    """
    return RESISTIVITY_20 * length / area * resistance_factor(temperature)

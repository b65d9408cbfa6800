"""Amounts of gas: what a change of pressure in a closed volume says about a leak."""

from baycalc.physics.air import SEA_LEVEL_PRESSURE
from baycalc.physics.constants import ICE_POINT, ROOM

REFERENCES = {"20C": ROOM, "0C": ICE_POINT, "25C": 298.15, "60F": 288.70555555555555}
"""Temperatures that volume flows are stated at, with 101.325 kPa [K]."""


def at_first_temperature(pressure: float, first: float, now: float) -> float:
    """Return the pressure that a closed gas would have at the temperature it had before.

    Parameters
    ----------
    pressure : float
        Absolute pressure now [Pa]
    first : float
        Temperature before [K]
    now : float
        Temperature now [K]

    Returns
    -------
    float
        Absolute pressure at the first temperature [Pa]
    """
    return pressure * first / now


def volume_flow_at(
    leak: float,
    temperature: float,
    reference_temperature: float,
    pressure: float = SEA_LEVEL_PRESSURE,
) -> float:
    """Return a leak as volume flow of gas at a stated temperature and pressure.

    Parameters
    ----------
    leak : float
        Leak [Pa m3/s]
    temperature : float
        Temperature it was found at [K]
    reference_temperature : float
        Temperature the volume is stated at [K]
    pressure : float
        Pressure the volume is stated at [Pa]

    Returns
    -------
    float
        Volume flow [m3/s]
    """
    return leak * reference_temperature / temperature / pressure

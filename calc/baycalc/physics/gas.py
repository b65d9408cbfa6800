"""Amounts of gas: what a change of pressure in a closed volume says about a leak."""

from baycalc.physics.air import GAS_CONSTANT, SEA_LEVEL_PRESSURE

MOLAR_GAS_CONSTANT = 8.31446261815324
"""Molar gas constant, SI 2019 (CODATA 2018) [J/(mol K)]."""

REFERENCES = {"20C": 293.15, "0C": 273.15, "25C": 298.15, "60F": 288.70555555555555}
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


def leak_rate(
    volume: float, start: float, end: float, time: float, first: float, now: float
) -> float:
    """Return the leak into a closed volume from its change of pressure.

    Parameters
    ----------
    volume : float
        Volume [m3]
    start : float
        Absolute pressure at the start [Pa]
    end : float
        Absolute pressure at the end [Pa]
    time : float
        Time between, above zero [s]
    first : float
        Temperature of the gas at the start [K]
    now : float
        Temperature of the gas at the end [K]

    Returns
    -------
    float
        Leak, positive inwards, at the first temperature [Pa m3/s]

    References
    ----------
    40 CFR 1065.644 (vacuum-decay leak rate), times the molar gas constant and temperature.
    """
    return volume * (at_first_temperature(end, first, now) - start) / time


def molar_rate(leak: float, temperature: float) -> float:
    """Return a leak as amount of substance.

    Parameters
    ----------
    leak : float
        Leak [Pa m3/s]
    temperature : float
        Temperature it was found at [K]

    Returns
    -------
    float
        Leak [mol/s]
    """
    return leak / (MOLAR_GAS_CONSTANT * temperature)


def mass_rate(leak: float, temperature: float) -> float:
    """Return a leak of air as mass.

    Parameters
    ----------
    leak : float
        Leak [Pa m3/s]
    temperature : float
        Temperature it was found at [K]

    Returns
    -------
    float
        Mass flow [kg/s]
    """
    return leak / (GAS_CONSTANT * temperature)


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

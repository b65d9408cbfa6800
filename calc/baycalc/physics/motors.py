"""Direct-current motors with permanent magnets: winding, counter voltage, power, heat."""


def winding_resistance(supply: float, stall_current: float) -> float:
    """Return the resistance of winding and brushes from the current at standstill.

    Parameters
    ----------
    supply : float
        Voltage at the motor while it stands [V]
    stall_current : float
        Current at standstill, above zero [A]

    Returns
    -------
    float
        Resistance [ohm]
    """
    return supply / stall_current


def counter_voltage(supply: float, current: float, resistance: float) -> float:
    """Return the voltage that the turning motor makes against its supply.

    Parameters
    ----------
    supply : float
        Voltage at the motor [V]
    current : float
        Current [A]
    resistance : float
        Resistance of winding and brushes [ohm]

    Returns
    -------
    float
        Voltage, proportional to the speed [V]
    """
    return supply - current * resistance


def heat(current: float, resistance: float) -> float:
    """Return the power that turns into heat in winding and brushes.

    Parameters
    ----------
    current : float
        Current [A]
    resistance : float
        Resistance of winding and brushes [ohm]

    Returns
    -------
    float
        Power [W]
    """
    return current**2 * resistance

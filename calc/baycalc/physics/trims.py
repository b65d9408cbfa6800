"""Fuel trims: short and long ones are factors on the fuel, one upon the other."""

from dataclasses import dataclass

TRIM_STEP = 1 / 128
"""Step of a trim in service 01, SAE J1979: (A - 128)/128 [-]."""


@dataclass(frozen=True, slots=True)
class Bank:
    """The trims of one bank.

    Parameters
    ----------
    idle_short : float
        Short trim at idle [-]
    idle_long : float
        Long trim at idle [-]
    cruise_short : float
        Short trim at cruise, or ``None`` [-]
    cruise_long : float
        Long trim at cruise, or ``None`` [-]
    """

    idle_short: float
    idle_long: float
    cruise_short: float | None
    cruise_long: float | None

    def idle(self) -> float:
        """Return the total trim at idle: both are factors on the fuel [-]."""
        return (1 + self.idle_short) * (1 + self.idle_long) - 1

    def cruise(self) -> float | None:
        """Return the total trim at cruise, or ``None`` [-]."""
        if self.cruise_short is None or self.cruise_long is None:
            return None
        return (1 + self.cruise_short) * (1 + self.cruise_long) - 1

    def half_missing(self) -> str:
        """Return which trim at cruise is missing while the other one is there."""
        if (self.cruise_short is None) == (self.cruise_long is None):
            return ""
        return "cruise_short" if self.cruise_short is None else "cruise_long"

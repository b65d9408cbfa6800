"""Kinds of quantity with the units that are offered for them: one value, not a name and a list."""

from dataclasses import dataclass

from baycalc.quantities.units import written


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity and the units offered for it.

    Parameters
    ----------
    name : str
        Kind of quantity, as the unit table calls it
    units : tuple
        Units offered: first the US one, then the metric one, then others
    """

    name: str
    units: tuple[str, ...] = ()

    @property
    def pair(self) -> tuple[str, ...]:
        """Return the US and the metric unit, or the one unit of both."""
        return self.units[:2]

    @property
    def difference(self) -> "Kind":
        """Return the kind of a difference between two such figures, in the same units."""
        return Kind("temperature difference", self.units) if self.name == "temperature" else self

    def written(self, si: float, digits: int = 3, step: float = 0.0) -> str:
        """Write a figure for a sentence, in the US unit with the metric one in brackets.

        Parameters
        ----------
        si : float
            The figure [SI unit of the kind]
        digits : int
            Significant digits, at least [-]
        step : float
            Smallest difference that must not be rounded away, or 0 [SI unit of the kind]
        """
        return written(self.name, si, *self.pair, digits=digits, step=step)


def kind(name: str, *units: str) -> Kind:
    """Return a kind of quantity with the units offered for it."""
    return Kind(name, units)


PER_CENT = kind("ratio", "%")
NUMBER = kind("ratio", "1")
CURRENT = kind("current", "A", "mA")
AMPERES = kind("current", "A")
VOLTAGE = kind("voltage", "V", "mV")
VOLTS = kind("voltage", "V")
RESISTANCE = kind("resistance", "ohm", "kohm")
OHMS = kind("resistance", "ohm")
MILLIOHMS = kind("resistance", "mohm")
WATTS = kind("power", "W")
WIRE_SIZE = kind("area", "AWG", "mm2")
TEMPERATURE = kind("temperature", "°F", "°C")
TEMPERATURE_DIFFERENCE = kind("temperature difference", "°F", "°C")
LENGTH = kind("length", "ft", "m")
SMALL_LENGTH = kind("length", "in", "mm")
DISTANCE = kind("distance", "mi", "km")
SECONDS = kind("time", "s")
TIME = kind("time", "s", "min")
TANK_VOLUME = kind("volume", "gal", "L")
VACUUM = kind("pressure", "inHg", "kPa")
SMALL_PRESSURE = kind("pressure", "inH2O", "kPa")
LEAK = kind("leak rate", "Pa L/s", "mbar L/s")
MASS_FLOW = kind("mass flow", "lb/min", "g/s")
AIR_FLOW = kind("mass flow", "lb/min", "g/s", "kg/h")
VOLUME_FLOW = kind("volume flow", "cfm", "L/min")

"""A measuring instrument: how far its readings and their differences may be off."""

import math
from dataclasses import dataclass

_GRADES = {
    "4A": (0.001, 0.001, 0.001),
    "3A": (0.0025, 0.0025, 0.0025),
    "2A": (0.005, 0.005, 0.005),
    "1A": (0.01, 0.01, 0.01),
    "A": (0.02, 0.01, 0.02),
    "B": (0.03, 0.02, 0.03),
    "C": (0.04, 0.03, 0.04),
    "D": (0.05, 0.05, 0.05),
}
GRADES = tuple(_GRADES)
"""Accuracy grades of dial gauges (ASME B40.100; A published, the others from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """A measuring instrument.

    Parameters
    ----------
    span : float
        Length of the scale [SI unit of the reading]
    grade : str
        Accuracy grade of ASME B40.100, or empty
    resolution : float
        Smallest step that can be read [SI unit of the reading]
    of_reading : float
        Greatest error as a share of the reading, as meters state it [-]
    start : float
        Reading at the start of the scale [SI unit of the reading]
    """

    span: float = 0.0
    grade: str = ""
    resolution: float = 0.0
    of_reading: float = 0.0
    start: float = 0.0

    def greatest_error(self, reading: float) -> float:
        """Return the greatest error allowed at a reading.

        Parameters
        ----------
        reading : float
            Where on the scale [SI unit of the reading]

        Returns
        -------
        float
            Half width of the band of error [SI unit of the reading]
        """
        error = abs(reading) * self.of_reading
        if self.grade:
            place = (reading - self.start) / self.span if self.span else 0.5
            low, middle, high = _GRADES[self.grade]
            error += self.span * (low if place < 0.25 else high if place > 0.75 else middle)
        return error

    def uncertainty(self, reading: float) -> float:
        """Return the standard uncertainty of one reading: grade and resolution, rectangular.

        Parameters
        ----------
        reading : float
            Where on the scale [SI unit of the reading]

        Returns
        -------
        float
            Standard uncertainty [SI unit of the reading]

        References
        ----------
        GUM (JCGM 100:2008) 4.3.7 (a / sqrt 3) and F.2.2.1 (r / (2 sqrt 3)).
        """
        return math.hypot(self.greatest_error(reading) / math.sqrt(3), self.step_uncertainty())

    def difference_uncertainty(self, first: float, second: float) -> float:
        """Return the standard uncertainty of the difference of two readings of this gauge.

        Both ends bring their resolution. The errors of grade at two places of one scale are
        alike where the places are near and independent where they are a whole span apart:
        their correlation is taken as ``1 - distance / span``.

        Parameters
        ----------
        first : float
            One reading [SI unit of the reading]
        second : float
            The other reading [SI unit of the reading]

        Returns
        -------
        float
            Standard uncertainty [SI unit of the reading]

        References
        ----------
        GUM (JCGM 100:2008) 5.2.2 (correlated input quantities); the correlation: common
        practice, no source.
        """
        one = self.greatest_error(first) / math.sqrt(3)
        other = self.greatest_error(second) / math.sqrt(3)
        apart = min(1.0, abs(first - second) / self.span) if self.span else 0.0
        grade = one**2 + other**2 - 2 * (1 - apart) * one * other
        return math.sqrt(max(0.0, grade) + 2 * self.step_uncertainty() ** 2)

    def step_uncertainty(self) -> float:
        """Return the standard uncertainty that the resolution alone brings.

        Returns
        -------
        float
            Standard uncertainty [SI unit of the reading]
        """
        return self.resolution / (2 * math.sqrt(3))

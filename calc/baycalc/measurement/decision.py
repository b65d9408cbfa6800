"""Pass, fail, or too close to call: a reading with its uncertainty held against a limit."""

import math
from dataclasses import dataclass

PASS = "pass"
FAIL = "fail"
TOO_CLOSE = "too close to call"

GUARD_FACTOR = 2.0
"""Guard band as a multiple of the standard uncertainty (ILAC-G8:09/2019, w = U at k = 2) [-]."""

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
        Accuracy grade of ASME B40.100, or empty [-]
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """The bounds that a reading is held against; at least one of them is given.

    Parameters
    ----------
    low : float
        Least value that passes, or ``None`` [SI unit of the reading]
    high : float
        Greatest value that passes, or ``None`` [SI unit of the reading]
    """

    low: float | None = None
    high: float | None = None

    def __post_init__(self) -> None:
        if self.low is None and self.high is None:
            raise ValueError("a limit needs a low or a high bound")
        if self.low is not None and self.high is not None and self.low > self.high:
            raise ValueError(f"the low bound {self.low} lies above the high bound {self.high}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """A verdict with the figures it stands on.

    Parameters
    ----------
    outcome : str
        ``pass``, ``fail`` or ``too close to call`` [-]
    reading : float
        The reading [SI unit of the reading]
    uncertainty : float
        Its standard uncertainty [SI unit of the reading]
    limit : Limit
        What it was held against [SI unit of the reading]
    guard : float
        Width of the guard band [SI unit of the reading]
    conformity : float
        Probability that the true value lies inside the limit (JCGM 106) [-]
    kind : str
        Kind of quantity of the reading, for writing it; may be empty [-]
    advice : str
        What would settle it, when it is too close to call [-]
    units : tuple
        US and metric unit to write it in, where they are not those of the result [-]
    """

    outcome: str
    reading: float
    uncertainty: float
    limit: Limit
    guard: float
    conformity: float
    kind: str = ""
    advice: str = ""
    units: tuple[str, ...] = ()


def judge(
    reading: float,
    uncertainty: float,
    limit: Limit,
    *,
    guard_factor: float = GUARD_FACTOR,
    kind: str = "",
    advice: str = "repeat the reading, or use a finer gauge",
    units: tuple[str, ...] = (),
) -> Verdict:
    """Hold a reading against a limit with a guard band on both sides of each bound.

    Parameters
    ----------
    reading : float
        The reading [SI unit of the reading]
    uncertainty : float
        Its standard uncertainty, zero or more [SI unit of the reading]
    limit : Limit
        The bounds [SI unit of the reading]
    guard_factor : float
        Guard band as a multiple of the standard uncertainty [-]
    kind : str
        Kind of quantity, for writing the figures [-]
    advice : str
        What would settle a verdict that is too close to call [-]
    units : tuple
        US and metric unit to write it in [-]

    Returns
    -------
    Verdict
        Pass only inside the limit by the guard band, fail only outside it by as much.

    References
    ----------
    ISO 14253-1; ILAC-G8:09/2019; JCGM 106:2012.
    """
    guard = guard_factor * uncertainty
    inside = margin(reading, limit)
    if inside >= guard:
        outcome = PASS
    elif inside < -guard:
        outcome = FAIL
    else:
        outcome = TOO_CLOSE
    return Verdict(
        outcome=outcome,
        reading=reading,
        uncertainty=uncertainty,
        limit=limit,
        guard=guard,
        conformity=conformity(reading, uncertainty, limit),
        kind=kind,
        advice=advice if outcome == TOO_CLOSE else "",
        units=units,
    )


def margin(reading: float, limit: Limit) -> float:
    """Return how far a reading lies inside a limit; outside it is negative.

    Parameters
    ----------
    reading : float
        The reading [SI unit of the reading]
    limit : Limit
        The bounds [SI unit of the reading]

    Returns
    -------
    float
        Distance to the nearer bound [SI unit of the reading]
    """
    margins = []
    if limit.low is not None:
        margins.append(reading - limit.low)
    if limit.high is not None:
        margins.append(limit.high - reading)
    return min(margins)


def conformity(reading: float, uncertainty: float, limit: Limit) -> float:
    """Return the probability that the true value lies inside the limit.

    Parameters
    ----------
    reading : float
        The reading [SI unit of the reading]
    uncertainty : float
        Its standard uncertainty, zero or more [SI unit of the reading]
    limit : Limit
        The bounds [SI unit of the reading]

    Returns
    -------
    float
        Probability of conformity, normal distribution [-]

    References
    ----------
    JCGM 106:2012, 7.2 to 7.4.
    """
    if uncertainty == 0:
        return 1.0 if margin(reading, limit) >= 0 else 0.0
    below_high = 1.0 if limit.high is None else _normal((limit.high - reading) / uncertainty)
    below_low = 0.0 if limit.low is None else _normal((limit.low - reading) / uncertainty)
    return max(0.0, below_high - below_low)


def likelihood(reading: float, uncertainty: float, limit: Limit) -> tuple[float, float]:
    """Return how well a reading fits a bad part and a good part, for fault isolation.

    Parameters
    ----------
    reading : float
        The reading [SI unit of the reading]
    uncertainty : float
        Its standard uncertainty [SI unit of the reading]
    limit : Limit
        The bounds [SI unit of the reading]

    Returns
    -------
    abnormal : float
        Probability that the true value lies outside the limit [-]
    normal : float
        Probability that it lies inside [-]
    """
    inside = conformity(reading, uncertainty, limit)
    return 1 - inside, inside


def _normal(z: float) -> float:
    return 0.5 * math.erfc(-z / math.sqrt(2))

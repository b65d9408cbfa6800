"""Pass, fail, or too close to call: a reading with its uncertainty held against a limit."""

import math
from dataclasses import dataclass

from baycalc.quantities.kinds import NUMBER, Kind

PASS = "pass"
FAIL = "fail"
TOO_CLOSE = "too close to call"

GUARD_FACTOR = 2.0
"""Guard band as a multiple of the standard uncertainty (ILAC-G8:09/2019, w = U at k = 2) [-]."""


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
        ``pass``, ``fail`` or ``too close to call``
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
    kind : Kind
        Kind of quantity of the reading with the units to write it in
    advice : str
        What would settle it, when it is too close to call
    """

    outcome: str
    reading: float
    uncertainty: float
    limit: Limit
    guard: float
    conformity: float
    kind: Kind = NUMBER
    advice: str = ""


def judge(
    reading: float,
    uncertainty: float,
    limit: Limit,
    *,
    guard_factor: float = GUARD_FACTOR,
    kind: Kind = NUMBER,
    advice: str = "repeat the reading, or use a finer gauge",
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
    kind : Kind
        Kind of quantity with the units to write the figures in
    advice : str
        What would settle a verdict that is too close to call

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

"""Pass, fail, or too close to call: a reading with its uncertainty held against a limit."""

import math
from dataclasses import dataclass

from baycalc.quantities.kinds import NUMBER, Kind

PASS = "pass"
FAIL = "fail"
TOO_CLOSE = "too close to call"

GUARD_FACTOR = 2.0
"""Guard band as a multiple of the standard uncertainty (ILAC-G8:09/2019, w = U at k = 2) [-]."""


_HOPELESS = "take a finer instrument: with this one no reading can pass so narrow a band"


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
    if limit.low is not None and limit.high is not None and guard > (limit.high - limit.low) / 2:
        advice = _HOPELESS
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


def likelihood(
    reading: float, uncertainty: float, limit: Limit, span: float = 0.0
) -> tuple[float, float]:
    """Return how well a reading fits a bad part and a good part, for fault isolation.

    Parameters
    ----------
    reading : float
        The reading [SI unit of the reading]
    uncertainty : float
        Its standard uncertainty, zero or more [SI unit of the reading]
    limit : Limit
        The bounds [SI unit of the reading]
    span : float
        Length of the scale of what reads, or 0 [SI unit of the reading]

    Returns
    -------
    abnormal : float
        Likelihood of the reading where the true value lies outside the limit [-]
    normal : float
        Likelihood where it lies inside; the greater of the two is 1 [-]

    Notes
    -----
    Values inside are spread evenly over the band, values outside over as much again around it,
    as far as the reading at least; beside a limit of one side both spreads are as wide as the
    limit, the span, or the way to the reading, whichever is most. The reading is spread about
    the true value by a normal distribution. So an instrument that knows nothing gives (1, 1), and
    a reading on the limit itself says nothing. That spread of values is common practice, no source.
    """
    if uncertainty == 0:
        return (0.0, 1.0) if margin(reading, limit) >= 0 else (1.0, 0.0)
    inside, outside = _spreads(reading, uncertainty, limit, span)
    normal = _density(reading, uncertainty, inside)
    abnormal = _density(reading, uncertainty, *outside)
    most = max(normal, abnormal)
    return _share(abnormal / most), _share(normal / most)


_Range = tuple[float, float]
"""From and to [SI unit of the reading]."""

_NARROWEST = 1e-3
"""Width of a spread that can be told from a point, in standard uncertainties [-]."""

_NOTHING = 1e-9
"""Likelihood, as a share of the other one, below which it counts as none [-]."""


def _spreads(
    reading: float, uncertainty: float, limit: Limit, span: float
) -> tuple[_Range, tuple[_Range, ...]]:
    """Return where values lie with a good part and with a bad one."""
    low, high = limit.low, limit.high
    beyond = max(0.0, -margin(reading, limit))
    if low is not None and high is not None:
        width = max(high - low, _NARROWEST * uncertainty)
        around = max(width / 2, beyond)
        middle = (low + high) / 2
        inside = (middle - width / 2, middle + width / 2)
        return inside, ((inside[0] - around, inside[0]), (inside[1], inside[1] + around))
    bound = low if low is not None else high
    assert bound is not None
    width = max(abs(bound), span, abs(reading - bound), _NARROWEST * uncertainty)
    below, above = (bound - width, bound), (bound, bound + width)
    return (above, (below,)) if low is not None else (below, (above,))


def _density(reading: float, uncertainty: float, *ranges: _Range) -> float:
    """Return how likely a reading is where the true value lies evenly in some ranges."""
    mass = sum(_mass((a - reading) / uncertainty, (b - reading) / uncertainty) for a, b in ranges)
    return mass / sum(b - a for a, b in ranges)


def _mass(low: float, high: float) -> float:
    """Return the share of a normal distribution between two places, exact in its tails too."""
    return _normal(-low) - _normal(-high) if low > 0 else _normal(high) - _normal(low)


def _share(value: float) -> float:
    return 0.0 if value < _NOTHING else value


def _normal(z: float) -> float:
    return 0.5 * math.erfc(-z / math.sqrt(2))

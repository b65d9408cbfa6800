"""A signal that goes up and down: its two levels, the times of its edges, how often it switches."""

import math
from dataclasses import dataclass

from baycalc.records.curve import Curve

LOW_SHARE, HIGH_SHARE = 0.1, 0.9
"""Shares of the way from the lower to the upper level between which an edge is timed [-]."""


@dataclass(frozen=True, slots=True)
class Levels:
    """The two levels that a signal goes between.

    Parameters
    ----------
    low : float
        Lower level: one sample in twenty lies below it [SI unit of the signal]
    high : float
        Upper level: one sample in twenty lies above it [SI unit of the signal]
    """

    low: float
    high: float

    def at(self, share: float) -> float:
        """Return a place between the levels.

        Parameters
        ----------
        share : float
            Share of the way up [-]

        Returns
        -------
        float
            Value [SI unit of the signal]
        """
        return self.low + share * (self.high - self.low)


def levels(curve: Curve) -> Levels:
    """Return the levels of a curve: its 5th and 95th percentile."""
    ordered = sorted(curve.values)
    last = len(ordered) - 1
    return Levels(ordered[round(0.05 * last)], ordered[round(0.95 * last)])


@dataclass(frozen=True, slots=True)
class Timing:
    """The times that edges take.

    Parameters
    ----------
    count : int
        Edges seen whole [-]
    mean : float
        Mean time from one share of the way to the other [s]
    uncertainty : float
        Its standard uncertainty, by the scatter and by the sampling [s]
    """

    count: int
    mean: float
    uncertainty: float


def edges(curve: Curve, rising: bool) -> Timing | None:
    """Time the rising or the falling edges from 10 to 90 % of the way; none where there is none.

    Parameters
    ----------
    curve : Curve
        The signal
    rising : bool
        Whether edges upwards are timed

    Notes
    -----
    Both ends are read on straight lines between samples. Each may be off by half an interval
    either way (rectangular), so one edge has a standard uncertainty of interval / sqrt(6); the
    scatter of several edges counts beside it (GUM 4.2.3).
    """
    span = levels(curve)
    values = curve.values if rising else tuple(span.low + span.high - each for each in curve.values)
    low, high = span.at(LOW_SHARE), span.at(HIGH_SHARE)
    found: list[float] = []
    left: float | None = None
    steps = zip(curve.times, curve.times[1:], values, values[1:], strict=False)
    for t0, t1, v0, v1 in steps:
        if v0 <= low < v1:
            left = t0 + (t1 - t0) * (low - v0) / (v1 - v0)
        if left is not None and v0 < high <= v1:
            found.append(t0 + (t1 - t0) * (high - v0) / (v1 - v0) - left)
            left = None
        elif v1 <= low:
            left = None
    return _timing(found, curve.interval())


def _timing(found: list[float], interval: float) -> Timing | None:
    count = len(found)
    if not count:
        return None
    mean = sum(found) / count
    sampling = interval / math.sqrt(6 * count)
    if count == 1:
        return Timing(1, mean, sampling)
    scatter = math.sqrt(sum((each - mean) * (each - mean) for each in found) / (count - 1) / count)
    return Timing(count, mean, math.hypot(sampling, scatter))


def switches(curve: Curve) -> int:
    """Count how often a signal crosses the middle of its levels, with a gap against noise [-]."""
    span = levels(curve)
    low, high = span.at(0.35), span.at(0.65)
    count, above = 0, None
    for value in curve.values:
        if value >= high:
            count, above = count + (above is False), True
        elif value <= low:
            count, above = count + (above is True), False
    return count

"""The reading that a hidden car shows: its true value, and what the gauge makes of it."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from statistics import NormalDist
from typing import Any

from baycalc.measurement.decision import Limit
from baycalc.measurement.instrument import Gauge
from baycalc.physics.air import SEA_LEVEL_PRESSURE
from baycalc.quantities import units
from baycalc.quantities.units import significant

Json = Mapping[str, Any]

ABOVE_LEAST = 0.25
"""How far good values reach above a least one, as a part of it [-]; common practice, no source."""

HALF = 0.5
"""How far bad values reach beyond a band, at least, as a part of its bound [-]; common practice,
no source."""

DEGREES = 25.0
"""How far temperatures reach beyond a bound [K]; common practice, no source."""

DEEPEST = 0.95
"""Deepest vacuum that a car shows, as a part of the air pressure [-]; common practice, no
source."""

DIGITS = 3
"""Significant digits of a gauge without a resolution [-]; common practice, no source."""

FIGURES = 4
"""Figures that a meter shows at most [-]; common practice, no source."""

_Range = tuple[float, float]
"""From and to [SI unit of the reading]."""


@dataclass(frozen=True)
class ShownReading:
    """A reading as it stands on the gauge.

    Attributes
    ----------
    text : str
        The figure without its unit.
    unit : str
        Its unit.
    """

    text: str
    unit: str


def shown_reading(
    asked: Json, is_good: bool, chance: Callable[[str], float], system: str
) -> ShownReading:
    """Give the reading that a gauge shows.

    Parameters
    ----------
    asked : Mapping
        What `measurement.reading.judge_reading` is asked, without the reading; at sea level.
    is_good : bool
        Whether the true value lies inside the limit.
    chance : callable
        Draws a chance for a purpose, from 0 up to 1 [-].
    system : str
        "us" or "metric".
    """
    limit = Limit(low=asked.get("low"), high=asked.get("high"))
    gauge = Gauge(**asked["gauge"])
    value = _placed(true_values(limit, asked, is_good), chance("value"))
    scatter = NormalDist().inv_cdf(min(max(chance("scatter"), 1e-9), 1.0 - 1e-9))
    least, greatest = _ends(limit, asked, gauge)
    read = value + scatter * gauge.uncertainty(value)
    symbol = asked["units"][0 if system == "us" else -1]
    unit = units.installed().unit(asked["kind"], symbol)
    return ShownReading(
        _written(unit, min(max(read, least), greatest), gauge.resolution), unit.symbol
    )


def true_values(limit: Limit, asked: Json, is_good: bool) -> list[_Range]:
    """Give where the true value of a reading lies.

    Parameters
    ----------
    limit : Limit
        The bounds [SI unit of the reading]
    asked : Mapping
        What the reading is: ``kind``, ``reference``.
    is_good : bool
        Whether it lies inside the limit.

    Notes
    -----
    Even over the band where both bounds are known, over as much again on both sides outside it;
    beside one bound from zero to it, or as far as `ABOVE_LEAST` beyond it. Common practice, no
    source.
    """
    low, high = limit.low, limit.high
    if low is not None and high is not None:
        if is_good:
            return [(low, high)]
        return [
            (low - _reach(asked, low, high - low), low),
            (high, high + _reach(asked, high, high - low)),
        ]
    if low is not None:
        return (
            [(low, low + _good_reach(asked, low))] if is_good else [(low - _whole(asked, low), low)]
        )
    assert high is not None
    return [(high - _whole(asked, high), high)] if is_good else [(high, high + _whole(asked, high))]


def _reach(asked: Json, bound: float, width: float) -> float:
    return max(width, DEGREES if asked["kind"] == "temperature" else HALF * abs(bound))


def _good_reach(asked: Json, low: float) -> float:
    return DEGREES if asked["kind"] == "temperature" else ABOVE_LEAST * abs(low) or 1.0


def _whole(asked: Json, bound: float) -> float:
    """Give the way from a bound to zero; beside a bound of zero the length of the scale."""
    if asked["kind"] == "temperature":
        return DEGREES
    return abs(bound) or float(asked["gauge"].get("span") or 1.0)


def _ends(limit: Limit, asked: Json, gauge: Gauge) -> _Range:
    """Give the least and the greatest that can be read."""
    bounds = [bound for bound in (limit.low, limit.high) if bound is not None]
    least = 0.0 if min(bounds) >= 0.0 else float("-inf")
    greatest = gauge.start + gauge.span if gauge.span else float("inf")
    if asked.get("reference") == "vacuum":
        greatest = min(greatest, DEEPEST * SEA_LEVEL_PRESSURE)
    return least, max(greatest, *bounds)


def _placed(ranges: list[_Range], chance: float) -> float:
    """Give the place in some ranges that a chance stands for; nothing lies below zero for two."""
    lengths = [high - low for low, high in ranges]
    left = chance * sum(lengths)
    for (low, high), length in zip(ranges, lengths, strict=True):
        if left <= length:
            return low + left
        left -= length
        last = high
    return last


def _written(unit: units.Unit, si: float, resolution: float) -> str:
    """Write a reading in the steps that the gauge can be read in."""
    value = unit.from_si(si)
    if not resolution:
        return significant(value, DIGITS)
    # A meter of four figures reads a large value in coarser steps.
    coarsest = 10.0 ** (math.floor(math.log10(abs(value))) - FIGURES + 1) if value else 0.0
    step = max(resolution / unit.factor, coarsest)
    decimals = next(many for many in range(12) if abs(round(step, many) - step) <= 0.02 * step)
    return f"{round(value / step) * step + 0.0:.{decimals}f}"

"""The hole that fits a whole record of a decay, by least squares."""

import math
from dataclasses import dataclass

from baycalc.measurement.closed_system import ClosedSystem
from baycalc.records.curve import Curve

_STEPS = 24
_PASSES = 6


@dataclass(frozen=True, slots=True)
class HoleFit:
    """A hole that fits a record.

    Parameters
    ----------
    area : float
        Area of the hole, 0 where the reading does not fall [m2]
    uncertainty : float
        Its standard uncertainty by the noise [m2]
    misfit : float
        Root mean square of record less fit [Pa]
    """

    area: float
    uncertainty: float
    misfit: float


def fit_hole(system: ClosedSystem, curve: Curve, noise: float) -> HoleFit:
    """Fit the area of a hole and the reading at the start to a record.

    Parameters
    ----------
    system : ClosedSystem
        What leaks
    curve : Curve
        Readings against time [s, Pa]
    noise : float
        Standard deviation of one reading, above zero [Pa]

    Notes
    -----
    Gauss and Newton: the model's slope by the area is taken by a difference, the start shifts the
    whole curve. The standard uncertainty is that of the area in the linear fit of both (GUM H.3).
    """
    until = curve.length()
    first = curve.times[0]
    times = [time - first for time in curve.times]
    readings = [abs(value) for value in curve.values]
    step = 0.02 * system.limit
    area, shift = system.hole_of(readings[-1], until), 0.0
    uncertainty = 0.0
    for _ in range(_PASSES):
        at, beside = _along(system, area, times), _along(system, area + step, times)
        slopes = [(b - a) / step for a, b in zip(at, beside, strict=True)]
        rest = [seen - model for seen, model in zip(readings, at, strict=True)]
        area_change, shift, uncertainty = _solve(slopes, rest, noise)
        area = max(0.0, area + area_change)
    model = _along(system, area, times)
    misfits = [seen - at - shift for seen, at in zip(readings, model, strict=True)]
    misfit = math.sqrt(sum(each * each for each in misfits) / len(misfits))
    return HoleFit(_rounded(area), _rounded(uncertainty), _rounded(misfit))


def _rounded(value: float) -> float:
    """Round to nine digits: a fit has no more, and the last ones differ between machines."""
    return float(f"{value:.9g}")


def _solve(slopes: list[float], rest: list[float], noise: float) -> tuple[float, float, float]:
    """Return the change of the area, the shift, and the standard uncertainty of the area."""
    many = len(slopes)
    mean_slope, mean_rest = sum(slopes) / many, sum(rest) / many
    spread = sum((slope - mean_slope) * (slope - mean_slope) for slope in slopes)
    if spread <= 0.0:
        return 0.0, mean_rest, math.inf
    moved = sum(
        (slope - mean_slope) * (each - mean_rest) for slope, each in zip(slopes, rest, strict=True)
    )
    change = moved / spread
    return change, mean_rest - change * mean_slope, noise / math.sqrt(spread)


def _along(system: ClosedSystem, area: float, times: list[float]) -> list[float]:
    """Return the readings of a hole at some times, between steps on straight lines [Pa]."""
    until = times[-1]
    run = system.run(area, until, steps=_STEPS)
    found, place = [], 0
    for time in times:
        while place < len(run) - 2 and run[place + 1][0] < time:
            place += 1
        (t0, p0), (t1, p1) = run[place], run[place + 1]
        found.append(p0 + (p1 - p0) * (time - t0) / (t1 - t0))
    return found

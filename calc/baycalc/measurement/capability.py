"""Whether a gauge can prove a limit at all: the readings that pass and fail most clearly."""

import functools

from baycalc.measurement.decision import Limit, Verdict, judge, margin
from baycalc.measurement.instrument import Gauge

QUARTERS = (0.25, 0.75)
"""Places on the scale where the errors of the grades of ASME B40.100 change [-]."""


@functools.lru_cache(maxsize=4096)  # many cars share a limit, and many limits a gauge
def clearest(gauge: Gauge, limit: Limit, least: float, greatest: float) -> tuple[Verdict, Verdict]:
    """Judge the two readings that can pass and that can fail most clearly.

    Parameters
    ----------
    gauge : Gauge
        What reads
    limit : Limit
        The bounds [SI unit of the reading]
    least : float
        Least reading that can come [SI unit of the reading]
    greatest : float
        Greatest reading that can come [SI unit of the reading]

    Returns
    -------
    good : Verdict
        Where this does not pass, no reading does
    bad : Verdict
        Where this does not fail, no reading does

    Notes
    -----
    Only the ends of the readings, the bounds, the middle between them and the places where the
    grade changes are tried. In between the guard band grows more slowly than the distance to a
    bound, as long as the error is no more than 86 % of the reading (sqrt 3 / 2, for k = 2): no
    reading there can be clearer than the ends.
    """
    readings = {least, greatest, *_bends(gauge, limit)}
    verdicts = [
        judge(reading, gauge.uncertainty(reading), limit)
        for reading in sorted(readings)
        if least <= reading <= greatest
    ]
    return (
        max(verdicts, key=lambda verdict: margin(verdict.reading, limit) - verdict.guard),
        min(verdicts, key=lambda verdict: margin(verdict.reading, limit) + verdict.guard),
    )


def _bends(gauge: Gauge, limit: Limit) -> list[float]:
    """Return the readings at which margin or grade change their course."""
    bounds = [bound for bound in (limit.low, limit.high) if bound is not None]
    middle = sum(bounds) / len(bounds)
    return [*bounds, middle, *(gauge.start + gauge.span * place for place in QUARTERS)]

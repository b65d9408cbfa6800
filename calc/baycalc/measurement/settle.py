"""What would settle a reading that is too close to call: a finer gauge, another reading."""

from collections.abc import Callable
from dataclasses import replace

from baycalc.measurement.decision import TOO_CLOSE, Limit, judge
from baycalc.measurement.instrument import GRADES, Gauge
from baycalc.quantities.kinds import Kind

_FINER = (1.0, 0.5, 0.2, 0.1)


def finer_gauge(gauge: Gauge, decides: Callable[[Gauge], bool]) -> Gauge | None:
    """Return the coarsest better gauge of the same span that would decide, or none.

    Parameters
    ----------
    gauge : Gauge
        The gauge in hand
    decides : Callable
        Whether a gauge would decide
    """
    here = GRADES.index(gauge.grade) if gauge.grade else 0
    for grade in [gauge.grade, *reversed(GRADES[:here])]:
        for share in _FINER:
            better = replace(gauge, grade=grade, resolution=gauge.resolution * share)
            if better != gauge and decides(better):
                return better
    return None


def ways_to_settle(reading: float, gauge: Gauge, limit: Limit, kind: Kind) -> list[str]:
    """Return what would settle a reading that is too close to call, the easiest way first.

    Parameters
    ----------
    reading : float
        The reading [SI unit of the reading]
    gauge : Gauge
        What read it
    limit : Limit
        The bounds [SI unit of the reading]
    kind : Kind
        Kind of quantity with the units to write in

    Returns
    -------
    list
        Sentences
    """

    def decides(better: Gauge) -> bool:
        return judge(reading, better.uncertainty(reading), limit).outcome != TOO_CLOSE

    ways = ["Read it again, with the needle or the figure at rest."]
    if (better := finer_gauge(gauge, decides)) is not None:
        step = kind.difference.written(better.resolution, digits=2)
        named = f" of grade {better.grade}" if better.grade != gauge.grade else ""
        finer = f" that can be read to {step}" if better.resolution != gauge.resolution else ""
        ways.append(f"Use a gauge{named}{finer}: it would decide.")
    elif gauge.of_reading and decides(replace(gauge, of_reading=gauge.of_reading / 4)):
        ways.append("Use a meter with a quarter of this error: it would decide.")
    else:
        ways.append("Compare this gauge with a better one just at the limit.")
    return ways

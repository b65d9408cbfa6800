"""A curve out of a record: time and signal in SI, a part of it, its noise, its slope."""

import bisect
import functools
import itertools
import math
from dataclasses import dataclass

from baycalc.quantities import units
from baycalc.records.table import RecordError, read_table

_FEWEST = 4


@dataclass(frozen=True, slots=True)
class Curve:
    """A signal against time.

    Parameters
    ----------
    times : tuple
        Times, rising [s]
    values : tuple
        Signal at these times [SI unit of the signal]
    """

    times: tuple[float, ...]
    values: tuple[float, ...]

    def part(self, start: float | None, end: float | None) -> "Curve":
        """Return the part from one time to another, both counted from the first sample.

        Parameters
        ----------
        start : float
            Where the part begins, or ``None`` for the beginning [s]
        end : float
            Where it ends, or ``None`` for the end [s]

        Raises
        ------
        RecordError
            When fewer than four samples lie in it.
        """
        first = self.times[0]
        low = 0 if start is None else bisect.bisect_left(self.times, first + start - 1e-9)
        high = (
            len(self.times) if end is None else bisect.bisect_right(self.times, first + end + 1e-9)
        )
        if high - low < _FEWEST:
            raise RecordError(f"Only {max(0, high - low)} samples lie in this part: take more.")
        return Curve(self.times[low:high], self.values[low:high])

    def interval(self) -> float:
        """Return the usual time from one sample to the next: the median [s]."""
        gaps = sorted(b - a for a, b in itertools.pairwise(self.times))
        return gaps[len(gaps) // 2]

    def length(self) -> float:
        """Return the time from the first to the last sample [s]."""
        return self.times[-1] - self.times[0]

    def noise(self) -> float:
        """Return the standard deviation of the noise, from the second differences.

        Returns
        -------
        float
            Standard deviation; a straight line has none [SI unit of the signal]

        Notes
        -----
        The second difference of white noise has six times its variance. Half of the differences
        that are greatest are left out and the rest scaled, so that edges do not count as noise.
        """
        v = self.values
        seconds = sorted(abs(a - 2 * b + c) for a, b, c in zip(v, v[1:], v[2:], strict=False))
        middle = seconds[len(seconds) // 2]
        return middle / 0.6745 / math.sqrt(6)

    def thinned(self, most: int) -> tuple["Curve", int]:
        """Return the curve as means of blocks, few enough, and how many samples a block has.

        Parameters
        ----------
        most : int
            Greatest number of blocks [-]

        Returns
        -------
        curve : Curve
            Means of time and signal
        size : int
            Samples of a block [-]
        """
        size = max(1, math.ceil(len(self.times) / most))
        if size == 1:
            return self, 1
        starts = range(0, len(self.times) - size + 1, size)
        times = tuple(sum(self.times[at : at + size]) / size for at in starts)
        return Curve(times, tuple(sum(self.values[at : at + size]) / size for at in starts)), size


@functools.lru_cache(maxsize=4)
def read_curve(text: str, time: str, signal: str, time_unit: str, scale: tuple[str, str]) -> Curve:
    """Read two columns of a record as a curve.

    Parameters
    ----------
    text : str
        The whole record
    time : str
        Name or number of the column of time; empty for the first
    signal : str
        Name or number of the column of the signal; empty for the second
    time_unit : str
        Unit of the time
    scale : tuple
        Kind of quantity and unit of the signal

    Raises
    ------
    RecordError
        When a column is not there, an entry is no number, or the time does not rise.
    """
    table = read_table(text)
    at, of = table.place(time, 0), table.place(signal, 1)
    if at == of:
        raise RecordError("Time and signal are the same column.")
    second = units.installed().unit("time", time_unit).factor
    unit = units.installed().unit(*scale)
    times = [value * second for value in table.numbers(at)]
    for place, (before, after) in enumerate(itertools.pairwise(times)):
        if not after > before:
            line = table.rows[place + 1][0]
            raise RecordError(f"Line {line}: the time does not rise.")
    if len(times) < _FEWEST:
        raise RecordError(f"The record has only {len(times)} samples: it needs {_FEWEST} and more.")
    values = tuple(value * unit.factor + unit.offset for value in table.numbers(of))
    return Curve(tuple(times), values)

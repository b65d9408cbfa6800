"""A closed space that leaks through a hole, as a gauge shows it: readings, holes, times."""

import itertools
import math
from dataclasses import dataclass

from baycalc.measurement.decay_test import STOPWATCH
from baycalc.measurement.decision import GUARD_FACTOR
from baycalc.measurement.instrument import Gauge
from baycalc.physics.decay import decay_curve, decay_time, hole_area, throughput
from baycalc.physics.orifice import COEFFICIENT_UNCERTAINTY

_STEPS = 16
_FEW_STEPS = 8

_Point = tuple[float, ...]
"""Time, reading with a hole, reading with the limit's hole [s, Pa, Pa]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosedSystem:
    """A closed space, what is in it at the start, and what reads it.

    Parameters
    ----------
    volume : float
        Volume of the gas [m3]
    start : float
        Reading at the start, without a sign [Pa]
    air : float
        Pressure of the air around [Pa]
    temperature : float
        Temperature of the gas [K]
    side : int
        -1 under vacuum, 1 under pressure [-]
    gauge : Gauge
        What reads it
    relative : float
        Relative standard uncertainty of the volume [-]
    limit : float
        Area of the hole that it is held against [m2]
    """

    volume: float
    start: float
    air: float
    temperature: float
    side: int
    gauge: Gauge
    relative: float
    limit: float

    def absolute(self, shown: float) -> float:
        """Return the absolute pressure of a reading.

        Parameters
        ----------
        shown : float
            Reading, without a sign [Pa]

        Returns
        -------
        float
            Absolute pressure [Pa]
        """
        return self.air + self.side * shown

    def run(self, area: float, until: float, steps: int = _STEPS) -> list[tuple[float, float]]:
        """Return readings against time with a hole.

        Parameters
        ----------
        area : float
            Area of the hole [m2]
        until : float
            Time of the last reading [s]
        steps : int
            Steps on the way [-]

        Returns
        -------
        list
            Time and reading, from the start on [s, Pa]
        """
        start = self.absolute(self.start)
        if not area:
            return [(until * step / steps, self.start) for step in range(steps + 1)]
        curve = decay_curve(self.volume, area, start, self.air, self.temperature, until, steps)
        return [(time, abs(pressure - self.air)) for time, pressure in curve]

    def left(self, area: float, time: float) -> float:
        """Return the reading that a hole leaves.

        Parameters
        ----------
        area : float
            Area of the hole [m2]
        time : float
            Time since the start [s]

        Returns
        -------
        float
            Reading [Pa]
        """
        return self.run(area, time, steps=_FEW_STEPS)[-1][1]

    def time_to(self, area: float, shown: float) -> float:
        """Return the time to a reading with a hole.

        Parameters
        ----------
        area : float
            Area of the hole [m2]
        shown : float
            Reading [Pa]

        Returns
        -------
        float
            Time [s]
        """
        start, end = self.absolute(self.start), self.absolute(shown)
        return decay_time(self.volume, area, start, end, self.air, self.temperature)

    def hole_of(self, shown: float, time: float) -> float:
        """Return the area of the hole that leaves a reading.

        Parameters
        ----------
        shown : float
            Reading [Pa]
        time : float
            Time since the start [s]

        Returns
        -------
        float
            Area, 0 where the reading did not fall [m2]
        """
        if shown >= self.start:
            return 0.0
        start, end = self.absolute(self.start), self.absolute(max(0.0, shown))
        return hole_area(self.volume, time, start, end, self.air, self.temperature)

    def uncertainty(self, left: float, time: float) -> float:
        """Return the standard uncertainty of a reading against that of the limit's hole.

        Parameters
        ----------
        left : float
            Reading that the limit's hole leaves [Pa]
        time : float
            Time since the start, above zero [s]

        Returns
        -------
        float
            Standard uncertainty [Pa]

        Notes
        -----
        The gauge at both ends, and what volume, coefficient and stopwatch do to the reading
        that the hole would leave: it depends on area times time over volume only.
        """
        flow = throughput(self.absolute(left), self.air, self.temperature) * self.limit
        known = math.hypot(self.relative, COEFFICIENT_UNCERTAINTY, STOPWATCH / time)
        gauge = self.gauge.difference_uncertainty(self.start, left)
        return math.hypot(gauge, flow / self.volume * time * known)

    def apart(self, time: float, reading: float, left: float) -> bool:
        """Return whether a reading differs for certain from that of the limit's hole.

        Parameters
        ----------
        time : float
            Time since the start [s]
        reading : float
            The reading [Pa]
        left : float
            Reading that the limit's hole leaves [Pa]
        """
        return time > 0 and abs(reading - left) >= GUARD_FACTOR * self.uncertainty(left, time)

    def decides(self, area: float) -> float | None:
        """Return the shortest time after which a hole and the limit's hole read apart.

        Parameters
        ----------
        area : float
            Area of the hole, 0 for a tight system [m2]

        Returns
        -------
        float
            Time, or ``None`` where none does [s]
        """
        emptied = self.time_to(self.limit, 0.0)
        pairs = zip(self.run(area, emptied), self.run(self.limit, emptied), strict=True)
        points = [(time, ours, theirs) for (time, ours), (_, theirs) in pairs]
        for before, after in itertools.pairwise(points):
            if self.apart(*after):
                return self._between(before, after)
        return None

    def _between(self, early: _Point, late: _Point) -> float:
        """Return where on straight lines between two times the readings come apart [s]."""
        for _ in range(12):
            middle = tuple((one + other) / 2 for one, other in zip(early, late, strict=True))
            if self.apart(*middle):
                late = middle
            else:
                early = middle
        return late[0]

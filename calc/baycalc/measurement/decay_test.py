"""A hold test: a gauge read twice, the change held against a limit, and what would decide it."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from baycalc.measurement.decision import GUARD_FACTOR, Limit, Verdict, judge
from baycalc.measurement.instrument import Gauge
from baycalc.measurement.settle import finer_gauge
from baycalc.quantities.kinds import Kind
from baycalc.quantities.units import duration
from baycalc.text import sentence

STOPWATCH = 0.5 / math.sqrt(3)
"""Standard uncertainty of a time taken by hand, half a second either way [s]."""

LONGEST = 4 * 3600.0
"""Longest hold that is worth advising [s]."""

_MANY_HOLDS = 10
_SCAN = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """A gauge that read ``first`` and then fell at a steady ``rate`` for a ``time``.

    Parameters
    ----------
    first : float
        First reading [Pa]
    rate : float
        Fall of the reading that a leak accounts for [Pa/s]
    time : float
        Time between the readings, above zero [s]
    gauge : Gauge
        What was read
    limit : float
        Greatest value of ``rate * scale`` that passes [limit's unit]
    scale : float
        What turns the rate into the quantity that is limited [limit's unit s/Pa]
    disturbance : float
        Standard uncertainty of the fall from other causes, such as temperature [Pa]
    relative : float
        Relative standard uncertainty of ``scale`` [-]
    """

    first: float
    rate: float
    time: float
    gauge: Gauge
    limit: float
    scale: float
    disturbance: float = 0.0
    relative: float = 0.0

    def drop_uncertainty(self) -> float:
        """Return the standard uncertainty of the fall.

        Returns
        -------
        float
            Gauge at both ends, stopwatch and other causes together [Pa]
        """
        return math.hypot(self._grade_part(), self._random_part())

    def value(self) -> float:
        """Return the quantity that is limited.

        Returns
        -------
        float
            Rate times scale [limit's unit]
        """
        return self.rate * self.scale

    def uncertainty(self) -> float:
        """Return the standard uncertainty of `value`.

        Returns
        -------
        float
            Standard uncertainty [limit's unit]
        """
        of_drop = self.scale * self.drop_uncertainty() / self.time
        return math.hypot(of_drop, self.relative * self.value())

    def decided(self) -> bool:
        """Return whether the value lies outside the guard band."""
        return abs(self.value() - self.limit) >= GUARD_FACTOR * self.uncertainty()

    def smallest_rate(self) -> float | None:
        """Return the smallest rate that the gauge can tell from none in this time.

        Returns
        -------
        float
            Rate, or ``None`` where the whole first reading would not show it [Pa/s]
        """
        greatest = self.first / self.time

        def shows(rate: float) -> bool:
            seen = replace(self, rate=rate)
            return rate * self.time >= GUARD_FACTOR * seen.drop_uncertainty()

        return _least(shows, greatest * 1e-6, greatest)

    def needed_time(self) -> float | None:
        """Return the shortest hold that would decide, if the leak goes on as it did.

        Returns
        -------
        float
            Time, or ``None`` where none decides before the reading runs out [s]
        """
        longest = min(LONGEST, self.first / self.rate) if self.rate > 0 else LONGEST
        if longest <= 1:
            return None
        return _least(lambda time: replace(self, time=time).decided(), 1.0, longest)

    def verdict(self, kind: Kind, gauge_kind: Kind) -> Verdict:
        """Return the verdict, with advice where it is too close to call.

        Parameters
        ----------
        kind : Kind
            Kind of quantity of the limit, with its units
        gauge_kind : Kind
            Kind of quantity of the gauge, with its units

        Returns
        -------
        Verdict
            The value held against the limit
        """
        limit = Limit(high=self.limit)
        verdict = judge(self.value(), self.uncertainty(), limit, kind=kind)
        if not verdict.advice:
            return verdict
        return replace(verdict, advice=self._advice(gauge_kind))

    def _advice(self, kind: Kind) -> str:
        ways = list(self._ways(kind))
        if not ways:
            return (
                "The reading lies so near the limit that no longer hold and no finer gauge "
                "would settle it: shut off one branch after the other and hold each alone."
            )
        return sentence(", or ".join(ways))

    def _ways(self, kind: Kind) -> Iterator[str]:
        time = self.needed_time()
        if time is not None:
            yield f"hold for at least {duration(practical(time))}"
        if (better := finer_gauge(self.gauge, self._decides)) is not None:
            yield f"use {_say_gauge(self.gauge, better, kind)}"
        if self.disturbance and replace(self, disturbance=0.0).decided():
            yield "let everything come to one temperature and hold again"
        if (holds := self._repeats()) is not None:
            yield f"take the mean of {holds} holds"

    def _decides(self, gauge: Gauge) -> bool:
        return replace(self, gauge=gauge).decided()

    def _repeats(self) -> int | None:
        """Return how many holds have a mean that decides; the errors of grade do not average."""
        share = self.scale / self.time
        common = math.hypot(share * self._grade_part(), self.relative * self.value())
        room = ((self.value() - self.limit) / GUARD_FACTOR) ** 2 - common**2
        if room <= 0:
            return None
        holds = math.ceil((share * self._random_part()) ** 2 / room)
        return holds if 2 <= holds <= _MANY_HOLDS else None

    def _grade_part(self) -> float:
        whole = self.gauge.difference_uncertainty(self.first, self.first - self.rate * self.time)
        return math.sqrt(max(0.0, whole**2 - 2 * self.gauge.step_uncertainty() ** 2))

    def _random_part(self) -> float:
        steps = math.sqrt(2) * self.gauge.step_uncertainty()
        return math.hypot(steps, self.rate * STOPWATCH, self.disturbance)


def practical(time: float) -> float:
    """Return a time that a person would set, no shorter: in 5 s, 30 s, or whole minutes.

    Parameters
    ----------
    time : float
        Time, above zero [s]

    Returns
    -------
    float
        Time [s]
    """
    step = 5.0 if time <= 115 else 30.0 if time <= 1200 else 60.0
    return step * math.ceil(time / step)


def _say_gauge(now: Gauge, better: Gauge, kind: Kind) -> str:
    parts = []
    if better.grade != now.grade:
        parts.append(f"of grade {better.grade}")
    if better.resolution != now.resolution:
        parts.append(f"that can be read to {kind.written(better.resolution, digits=2)}")
    return f"a gauge {' '.join(parts)}"


def _least(holds: Callable[[float], bool], low: float, high: float) -> float | None:
    """Return the least value from low to high for which something holds: scan, then halve."""
    growth = math.pow(high / low, 1 / _SCAN)
    found = next((number for number in range(_SCAN + 1) if holds(low * growth**number)), None)
    if not found:
        return low if found == 0 else None
    below, above = low * growth ** (found - 1), low * growth**found
    for _ in range(16):
        middle = math.sqrt(below * above)
        below, above = (below, middle) if holds(middle) else (middle, above)
    return above

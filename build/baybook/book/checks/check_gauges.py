"""Gauges of readings: each can prove a good reading and a bad one, on every car.

Limits that fall with the air pressure are looked at as they are at sea level.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from msgspec import UnsetType

from baybook.book.car import CarLimit, CarProcedure, gauge_si
from baybook.book.figure_texts import show_pair
from baybook.book.source_model import Observation, Tool
from baybook.book.sources.problem_report import Report
from baybook.book.sources.problems import Problem
from baybook.book.sources.read import Path
from baycalc.measurement.capability import clearest
from baycalc.measurement.decision import FAIL, GUARD_FACTOR, PASS, Limit, Verdict, margin
from baycalc.measurement.instrument import Gauge
from baycalc.physics.air import SEA_LEVEL_PRESSURE

FAR = 10.0
"""How far a gauge without a span is taken to read, against the bounds of the limit [-]."""

_SIGNED = {
    "angle",
    "current",
    "mass flow",
    "power",
    "pressure rate",
    "ratio",
    "temperature coefficient",
    "temperature difference",
    "torque",
    "voltage",
    "volume flow",
}
"""Kinds that are below zero where an author's limit says so."""


@dataclass(frozen=True, slots=True)
class CarReading:
    """A reading on one car: where it stands, its limit, the tool that reads it."""

    path: Path
    car: CarProcedure
    seen: Observation
    bounds: CarLimit
    tool: str

    @property
    def limit(self) -> Limit:
        """The limit, in SI."""
        return Limit(low=self.bounds.low, high=self.bounds.high)

    def written(self, si: float) -> str:
        """Write a value in both units of the reading."""
        return str(show_pair(self.seen.kind, si, self.car.units(self.seen)))

    def difference(self, si: float) -> str:
        """Write a difference of two values in both units of the reading."""
        kind = "temperature difference" if self.seen.kind == "temperature" else self.seen.kind
        return str(show_pair(kind, si, self.car.units(self.seen), 2))


def check_gauges(bound: Iterable[CarProcedure], shared: Mapping[str, Tool]) -> list[Problem]:
    """Warn of gauges whose guard band leaves no reading good, or none bad beyond a bound."""
    problems: list[Problem] = []
    for _, each in groupby(bound, key=lambda car: car.source.id):
        of_procedure = list(each)
        source = of_procedure[0].source
        tools = {**shared, **source.data.tools}
        cars: dict[tuple[Path, str, str], list[str]] = {}
        for car in of_procedure:
            for reading in _readings(car):
                for text, hint in _warnings(reading, tools):
                    cars.setdefault((reading.path, text, hint), []).append(car.vehicle.id)
        report = Report(source.lines, problems)
        for (path, text, hint), served in cars.items():
            report.warning((*path, "gauge"), f"{text}; on {', '.join(served)}", hint)
    return problems


def _readings(car: CarProcedure) -> Iterator[CarReading]:
    for name, test in car.tests.items():
        for seen_name, seen in test.observations.items():
            if not isinstance(seen.limit, UnsetType) and not isinstance(seen.gauge, UnsetType):
                path = ("tests", name, "observations", seen_name)
                yield CarReading(path, car, seen, car.bounds(seen), seen.gauge)


def _warnings(reading: CarReading, tools: Mapping[str, Tool]) -> Iterator[tuple[str, str]]:
    """Say what a gauge can not prove on a car, each with a hint."""
    gauge = _gauge(reading, tools[reading.tool])
    unproved = _unproved(reading, gauge)
    fit = _fit(reading, tools) if unproved else []
    for part, verdict, what in unproved:
        hint = f"{', '.join(fit)} can" if fit else _hint(part, gauge, what)
        yield _told(part, verdict, what), hint


def _fit(reading: CarReading, tools: Mapping[str, Tool]) -> list[str]:
    """Return the tools that can prove all of a limit."""
    return [
        name
        for name, tool in tools.items()
        if reading.seen.kind in tool.gauges and not _unproved(reading, _gauge(reading, tool))
    ]


def _unproved(reading: CarReading, gauge: Gauge) -> list[tuple[CarReading, Verdict, str]]:
    """Return what a gauge can not prove: within the limit, or beyond one bound of it."""
    good, _ = _verdicts(reading, gauge)
    bad = [(side, _verdicts(side, gauge)[1], "bad") for side in _sides(reading)]
    wanted = {"good": PASS, "bad": FAIL}
    return [each for each in [(reading, good, "good"), *bad] if each[1].outcome != wanted[each[2]]]


def _sides(reading: CarReading) -> Iterator[CarReading]:
    """Give a reading with each bound of its limit alone."""
    bounds = reading.bounds
    if bounds.low is not None:
        yield replace(reading, bounds=replace(bounds, high=None, high_text=None))
    if bounds.high is not None:
        yield replace(reading, bounds=replace(bounds, low=None, low_text=None))


def _told(reading: CarReading, verdict: Verdict, what: str) -> str:
    u, guard = (reading.difference(si) for si in (verdict.uncertainty, verdict.guard))
    return (
        f"expected a gauge that can prove a {what} reading, got {reading.tool}: "
        f"at {reading.written(verdict.reading)} u is {u}, the guard band {guard}, "
        f"the limit {_words(reading.bounds)}"
    )


def _gauge(reading: CarReading, tool: Tool) -> Gauge:
    return Gauge(**gauge_si(tool.gauges[reading.seen.kind], reading.seen.kind))


def _verdicts(reading: CarReading, gauge: Gauge) -> tuple[Verdict, Verdict]:
    """Judge the readings that pass and fail most clearly, of those that can come."""
    bounds = [bound for bound in (reading.bounds.low, reading.bounds.high) if bound is not None]
    seen = reading.seen
    # A thermometer's span says how long its scale is, and not where it begins.
    greatest = 0.0 if seen.kind == "temperature" else gauge.span
    greatest = greatest or FAR * (1.0 + max(abs(b) + gauge.uncertainty(b) for b in bounds))
    if seen.reference == "vacuum":
        greatest = min(greatest, SEA_LEVEL_PRESSURE)
    signed = seen.reference == "gauge" or (seen.kind in _SIGNED and min(bounds) <= 0.0)
    return clearest(gauge, reading.limit, -greatest if signed else 0.0, greatest)


def _words(bounds: CarLimit) -> str:
    if bounds.low_text is None:
        return f"at most {bounds.high_text}"
    if bounds.high_text is None:
        return f"at least {bounds.low_text}"
    return f"{bounds.low_text} to {bounds.high_text}"


def _hint(reading: CarReading, gauge: Gauge, what: str) -> str:
    """Say what a gauge would have to be like."""
    room = _room(reading, Gauge(span=gauge.span), what)
    if room > 0.0:
        needed = reading.difference(room / GUARD_FACTOR)
        return f"give it a gauge with u of {needed} or less, or a wider limit"
    if _room(reading, Gauge(), what) > 0.0:
        return "give it a gauge with a longer scale"
    return "no reading can lie beyond this bound: give it another limit"


def _room(reading: CarReading, gauge: Gauge, what: str) -> float:
    """Return how far the clearest reading of a gauge without error lies from the bound."""
    good, bad = _verdicts(reading, gauge)
    if what == "good":
        return margin(good.reading, reading.limit)
    return -margin(bad.reading, reading.limit)

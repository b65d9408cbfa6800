"""How fast a sensor answers and how often it switches, from a record of its signal."""

import math
from collections.abc import Iterator

from baycalc.forms.declare import Answer, Calculator, Refusal, Value
from baycalc.forms.form import (
    choice,
    form,
    phrases,
    published,
    quantity,
    result,
    taking,
    text,
    verdict,
)
from baycalc.forms.shared_inputs import Recorded, recorded
from baycalc.measurement.decision import GUARD_FACTOR, Limit, judge
from baycalc.plot import Axis, Plot
from baycalc.quantities.kinds import NUMBER, Kind, kind
from baycalc.quantities.units import duration
from baycalc.records.curve import Curve
from baycalc.records.switching import HIGH_SHARE, LOW_SHARE, Levels, Timing, edges, levels, switches
from baycalc.text import percent

_UNITS = {
    "V": "voltage",
    "mV": "voltage",
    "1": "ratio",
    "%": "ratio",
    "mA": "current",
    "kPa": "pressure",
}
_WAVE = (0.12, 0.12, 0.13, 0.30, 0.62, 0.80, 0.82, 0.82, 0.81, 0.60, 0.31, 0.14)
_DEMO = "time (s); signal (V)\n" + "\n".join(
    f"{0.05 * number:.2f}; {_WAVE[number % len(_WAVE)]:.2f}" for number in range(81)
)
TIMES = kind("time", "ms", "s")
MILLISECONDS = kind("time", "ms")
_MOST_POINTS = 400
_COARSE = 2.0
_WINDOW = 10.0


@form
class Response:
    """A record of a signal, and what is asked of it."""

    wanted: str = choice(
        "Find",
        {
            "rise": "the time upwards, 10 to 90 %",
            "fall": "the time downwards, 90 to 10 %",
            "switches": "how often it switches in ten seconds",
        },
    )
    recorded: Recorded = recorded(_DEMO, "Signal", _UNITS)
    slowest: float | None = quantity(
        "Greatest time allowed", TIMES, "150 ms", "0.1 ms to 60 s", optional=True
    ).says("From the vehicle's data; 150 ms is an example. May stay empty.", "wanted=rise|fall")
    fewest: float | None = quantity(
        "Least switches in ten seconds", NUMBER, "8", "1 to 1000", optional=True
    ).says("From the vehicle's data; 8 is an example. May stay empty.", "wanted=switches")


def sensor_response(asked: Response) -> Answer:
    """Time the edges of a signal, or count how often it switches.

    Raises
    ------
    Refusal
        When the record cannot be read, or holds no whole edge.
    """
    curve = asked.recorded.curve(_UNITS)
    span = levels(curve)
    unit = kind(_UNITS[asked.recorded.signal_unit], asked.recorded.signal_unit)
    values: dict[str, Value] = {
        "low": unit.written(span.low),
        "high": unit.written(span.high),
        "noise": unit.written(curve.noise(), 2),
        "samples": str(len(curve.times)),
        "interval": curve.interval(),
        "length": curve.length(),
    }
    timing = None
    if asked.wanted == "switches":
        values |= _switching(asked, curve)
    else:
        timing = edges(curve, rising=asked.wanted == "rise")
        if timing is None:
            raise Refusal({"record": "This part holds no whole edge from 10 to 90 % of the way."})
        values |= _timed(asked, timing)
    return Answer(
        values=values,
        notes=tuple(_notes(curve, timing)),
        drawing=_draw(curve, span, unit),
    )


def _timed(asked: Response, timing: Timing) -> dict[str, Value]:
    values: dict[str, Value] = {
        "response": timing.mean,
        "response_uncertainty": GUARD_FACTOR * timing.uncertainty,
        "count": str(timing.count),
    }
    if asked.slowest is not None:
        values["response_verdict"] = judge(
            timing.mean,
            timing.uncertainty,
            Limit(high=asked.slowest),
            kind=MILLISECONDS,
            advice="record with a shorter time from sample to sample, or more edges",
        )
    return values


def _switching(asked: Response, curve: Curve) -> dict[str, Value]:
    rate = switches(curve) * _WINDOW / curve.length()
    values: dict[str, Value] = {"switches": rate, "count": str(switches(curve))}
    if asked.fewest is not None:
        values["switch_verdict"] = judge(
            rate,
            _WINDOW / curve.length() / math.sqrt(3),
            Limit(low=asked.fewest),
            kind=NUMBER,
            advice="record for longer: one switch more or less at the ends counts less then",
        )
    return values


def _notes(curve: Curve, timing: Timing | None) -> Iterator[str]:
    if timing and timing.mean < _COARSE * curve.interval():
        yield (
            "The samples stand too far apart for this edge: the signal may be faster than shown. "
            "A scan tool over the bus is mostly too slow; use a scope."
        )
    if timing and timing.count == 1:
        yield "One edge only: several make the figure surer."


def _draw(curve: Curve, span: Levels, unit: Kind) -> str:
    """Draw the record with the places between which edges are timed."""
    thin, _ = curve.thinned(_MOST_POINTS)
    first = curve.times[0]
    low, high = min(curve.values), max(curve.values)
    room = 0.1 * (high - low) or abs(high) or 1.0
    plot = Plot(
        "The record",
        f"The signal goes between {unit.written(span.low)} and {unit.written(span.high)} in "
        f"{duration(curve.length())}.",
        Axis("Time", 0, curve.length(), unit="s"),
        Axis.of("Signal", unit, low - room, high + room),
    )
    plot.curve([(time - first, value) for time, value in zip(thin.times, thin.values, strict=True)])
    for share in (LOW_SHARE, HIGH_SHARE):
        plot.limit(y=span.at(share), label=f"{percent(share)} of the way")
    return plot.svg()


RESULTS = (
    verdict("response_verdict", "Time against what is allowed", MILLISECONDS),
    verdict("switch_verdict", "Switches against what is asked", NUMBER),
    result("response", "Time from 10 to 90 %", MILLISECONDS, 3),
    result("response_uncertainty", "Its expanded uncertainty, k = 2", MILLISECONDS, 2),
    result("switches", "Switches in ten seconds", NUMBER, 3),
    text("count", "Edges or switches counted"),
    text("low", "Lower level"),
    text("high", "Upper level"),
    text("noise", "Noise"),
    text("samples", "Samples"),
    result("interval", "From sample to sample", MILLISECONDS, 3),
    result("length", "Length of the part", kind("time", "s"), 3),
)

CALCULATOR = Calculator(
    **taking(Response, sensor_response, question="wanted", limits="slowest fewest"),
    title="Response of a sensor from a record",
    summary="How fast a sensor goes from 10 to 90 % of the way, or how often it switches in ten "
    "seconds, from a record of a scope or a scan tool, with the uncertainty of its sampling.",
    job="Records",
    words=phrases(
        "oxygen sensor response, slow sensor, P0133, scope, CSV, rise time, cross counts"
    ),
    results=RESULTS,
    meaning="A sensor that is slow answers too late to steer the mixture, though its levels are "
    "right. Make the mixture jump (a little propane, or a closed throttle) and record, or let it "
    "switch by itself at a steady speed. The time from 10 to 90 % leaves out where an edge begins "
    "and ends, which no record shows well.",
    leaves_out="The delay of the gas on its way, and filters in the tool. The levels are those "
    "that one sample in twenty lies beyond: choose a part that holds nothing but the edges. Limits "
    "are the vehicle's; those that stand here first are an example.",
    sources=published(
        "IEEE Std 181 (levels, transition from 10 to 90 %)",
        "JCGM 100:2008, 4.2.3 and 4.3.7; ILAC-G8:09/2019 (guard band at k = 2)",
    ),
)

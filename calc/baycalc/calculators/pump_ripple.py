"""A fuel pump by the ripple of its current: speed, and whether current and speed fit together."""

import math
from collections.abc import Iterator

from baycalc.forms.declare import Answer, Calculator, Note, Value, refuse
from baycalc.forms.form import (
    form,
    hand_over,
    phrases,
    practice,
    published,
    quantity,
    result,
    taking,
    text,
    verdict,
)
from baycalc.forms.shared_inputs import FigureBand, Meter, band, electric_meter
from baycalc.forms.sources import UNCERTAINTY
from baycalc.measurement.decision import FAIL, Verdict, judge
from baycalc.quantities.kinds import AMPERES, CURRENT, NUMBER, VOLTS, WATTS, kind

MOMENT = kind("time", "ms", "s")
SPEED = kind("rotation", "rpm")
FREQUENCY = kind("frequency", "Hz")
_UNEVEN = 0.25

_SAYS = {
    ("", ""): "Current and speed lie inside their bands: the pump turns as it should.",
    ("high", "low"): "Much current and little speed: it drags. A worn bearing, dirt or a clogged "
    "filter behind it.",
    ("low", "high"): "Little current and much speed: it runs free. No fuel, a pick-up that draws "
    "air, or a worn pump that no longer builds pressure.",
    ("low", "low"): "Little of both: too little voltage reaches it, or its brushes are worn. "
    "Measure the drop of its feed and return.",
    ("high", "high"): "Much of both: too much voltage, or the return of a regulator is shut.",
    ("high", ""): "Much current at the usual speed: it begins to drag, or the pressure is high.",
    ("low", ""): "Little current at the usual speed: the pressure is low, or the load is missing.",
    ("", "low"): "The usual current at little speed: brushes or winding are worn.",
    ("", "high"): "The usual current at much speed: compare the supply with what the bands hold "
    "for.",
}


@form
class Ripple:
    """The ripple of the current on a scope, and the figures of the pump."""

    current: float = quantity("Mean current", CURRENT, "5.2 A", "0.05 A to 60 A").says(
        "With the engine idling, by a clamp on the feed."
    )
    humps: float = quantity("Humps counted", NUMBER, "16", "2 to 1000").says(
        "From one hump to the same point of another; a dip that comes back each turn shows a turn."
    )
    time: float = quantity("Time of these humps", MOMENT, "22 ms", "0.1 ms to 10 s")
    segments: float = quantity("Segments of the commutator", NUMBER, "8", "3 to 40").says(
        "Mostly 8; one hump each. Some pumps have 7, 10 or 12: count the humps of one turn."
    )
    highest: float = quantity("Highest hump above the mean", CURRENT, "0.5 A", "0 A to 60 A")
    lowest: float = quantity("Lowest hump above the mean", CURRENT, "0.45 A", "0 A to 60 A").says(
        "Uneven humps are a worn commutator; 0 in both leaves that out."
    )
    supply: float = quantity("Voltage at the pump", VOLTS, "13.2 V", "4 V to 60 V")
    current_band: FigureBand = band(
        "current", "mean current", CURRENT, ("4 A", "8 A"), "0.05 A to 60 A"
    )
    speed_band: FigureBand = band(
        "speed", "speed", SPEED, ("4500 rpm", "6500 rpm"), "100 rpm to 20000 rpm"
    )
    clamp: Meter = electric_meter("current meter", AMPERES, "3 %", "0.05 A", "clamp_{}")
    time_error: float = quantity("The time may be off by", MOMENT, "0.2 ms", "0 ms to 1 s").says(
        "Half a division of the scope, or the time from one sample to the next."
    )

    def speed(self) -> float:
        """Return the speed [1/s]."""
        return self.humps / self.segments / self.time


def pump_ripple(asked: Ripple) -> Answer:
    """Find the speed of a pump from the ripple of its current, and judge both.

    Raises
    ------
    Refusal
        When a count is not a whole number, or the humps stand upside down.
    """
    refuse(
        humps=asked.humps != round(asked.humps) and "Expected a whole number.",
        segments=asked.segments != round(asked.segments) and "Expected a whole number.",
        lowest=asked.lowest > asked.highest and "The lowest hump cannot be above the highest one.",
    )
    current, speed = _judge_current(asked), _judge_speed(asked)
    values: dict[str, Value] = {
        "speed": asked.speed(),
        "finding": _finding(current, speed),
        "speed_verdict": speed,
        "current_verdict": current,
        "turn": 1 / asked.speed(),
        "ripple": asked.humps / asked.time,
        "turns": asked.humps / asked.segments,
        "power": asked.supply * asked.current,
    }
    return Answer(values=values, notes=tuple(_notes(asked)))


def _judge_current(asked: Ripple) -> Verdict | None:
    limit = asked.current_band.limit("current")
    if limit is None:
        return None
    return judge(
        asked.current,
        asked.clamp.gauge().uncertainty(asked.current),
        limit,
        kind=AMPERES,
        advice="zero the clamp beside the lead, take the mean of a whole second, and use a range "
        "that fits",
    )


def _judge_speed(asked: Ripple) -> Verdict | None:
    limit = asked.speed_band.limit("speed")
    if limit is None:
        return None
    share = asked.time_error / asked.time / math.sqrt(3)
    return judge(
        asked.speed(),
        asked.speed() * share,
        limit,
        kind=SPEED,
        advice="count more humps: ten turns instead of two make the error of the time a fifth",
    )


def _finding(current: Verdict | None, speed: Verdict | None) -> str:
    if current is None and speed is None:
        return "No band was given: hold current and speed against the vehicle's figures."
    return _SAYS[_side(current), _side(speed)]


def _side(verdict: Verdict | None) -> str:
    if verdict is None or verdict.outcome != FAIL:
        return ""
    high = verdict.limit.high
    return "high" if high is not None and verdict.reading > high else "low"


def _notes(asked: Ripple) -> Iterator[Note | str]:
    yield Note(
        "Fuel burns. Measure at the fuse or the relay, not at an open fuel line, and keep sparks "
        "away.",
        signal="warning",
    )
    if asked.highest > 0 and asked.highest - asked.lowest > _UNEVEN * asked.highest:
        yield (
            "The humps are uneven by more than a quarter: a segment or a brush is worn (common "
            "practice). Such a pump may stop when it is hot."
        )
    if asked.humps < 2 * asked.segments:
        yield "Less than two turns were counted: more of them make the speed surer."


RESULTS = (
    text("finding", "Finding"),
    result("speed", "Speed", SPEED, 3),
    verdict("speed_verdict", "Speed against its band", SPEED),
    verdict("current_verdict", "Current against its band", AMPERES),
    result("turn", "One turn takes", kind("time", "ms"), 3),
    result("turns", "Turns counted", NUMBER, 3),
    result("ripple", "Humps a second", FREQUENCY, 3),
    result("power", "Power taken", WATTS, 3),
)

CALCULATOR = Calculator(
    **taking(Ripple, pump_ripple, limits="segments"),
    title="Fuel pump by the ripple of its current",
    summary="The speed of a fuel pump from the humps of its current, and what current and speed "
    "say together: dragging, running free, worn brushes, too little voltage.",
    job="Electrical",
    words=phrases("fuel pump current, current ramping, commutator, scope, low amps clamp, rpm"),
    results=RESULTS,
    meaning="Each segment of the commutator that passes a brush makes one hump of the current, so "
    "the humps of one turn are the segments. Speed and current together tell what a pressure gauge "
    "alone does not: a pump that drags takes more and turns slower; one that has no load takes "
    "less and turns faster. No fuel line is opened for it.",
    leaves_out="Brushless pumps: their ripple comes from their driver. Pumps that are driven by "
    "pulses: measure at full duty. The bands are the vehicle's; those that stand here first are "
    "an example. The findings are common practice.",
    sources=published("Ohm's law; a commutator of n segments makes n humps a turn")
    + UNCERTAINTY
    + practice("What current and speed say together"),
    hands_over=hand_over("voltage_drop", "Drop in its feed and return", "load=current")
    + hand_over("fuse", "Fuse for this pump", "load=current supply", duty="continuous"),
)

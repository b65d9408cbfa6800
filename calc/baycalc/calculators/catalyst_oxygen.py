"""What a catalyst still stores, from the sensors before and behind it."""

import math
from collections.abc import Iterator

from baycalc.forms.declare import Answer, Calculator, Note, Value, refuse
from baycalc.forms.form import (
    choice,
    form,
    phrases,
    practice,
    published,
    quantity,
    result,
    taking,
    text,
    verdict,
)
from baycalc.forms.shared_inputs import Meter, electric_meter
from baycalc.forms.sources import UNCERTAINTY
from baycalc.measurement.decision import FAIL, PASS, Limit, Verdict, judge
from baycalc.physics.mixture import oxygen_over
from baycalc.quantities.kinds import AIR_FLOW, NUMBER, PER_CENT, SECONDS, VOLTAGE, VOLTS, kind

MASS = kind("mass", "g")
_TEMPERATURE_HINT = "Warm, at a steady 2500 r/min or so, in closed loop; the car not moving."
_LEAST_SWING = 0.3


@form
class Sensors:
    """How front and rear sensor swing, or how long the rear one waits after a change."""

    by: str = choice(
        "Judged by", {"swing": "the swing of both sensors", "delay": "the delay after a change"}
    )
    front_high: float = quantity("Front, highest", VOLTAGE, "0.82 V", "0 V to 1.3 V").says(
        _TEMPERATURE_HINT, "by=swing"
    )
    front_low: float = quantity("Front, lowest", VOLTAGE, "0.12 V", "0 V to 1.3 V").says(
        "Of the same ten seconds.", "by=swing"
    )
    rear_high: float = quantity("Rear, highest", VOLTAGE, "0.71 V", "0 V to 1.3 V").says(
        "Of the same ten seconds.", "by=swing"
    )
    rear_low: float = quantity("Rear, lowest", VOLTAGE, "0.62 V", "0 V to 1.3 V").says(
        "A good catalyst keeps it still.", "by=swing"
    )
    front_switches: float | None = quantity(
        "Front crosses the middle", NUMBER, "20", "1 to 1000", optional=True
    ).says("Times in these seconds. May stay empty.", "by=swing")
    rear_switches: float | None = quantity(
        "Rear crosses the middle", NUMBER, "1", "0 to 1000", optional=True
    ).says("Times in the same seconds. May stay empty.", "by=swing")
    greatest_share: float = quantity("Rear swing allowed", PER_CENT, "50 %", "5 % to 100 %").says(
        "Of the front's; half of it is common practice where the maker is silent.", "by=swing"
    )
    air_flow: float = quantity(
        "Air flow of the engine", AIR_FLOW, "15 g/s", "0.5 g/s to 300 g/s"
    ).says("Off the scan tool (MAF), while the mixture changes.", "by=delay")
    mixture: float = quantity("Lambda after the change", NUMBER, "1.05", "0.7 to 1.5").says(
        "From 1 or rich to this, on a wide-band front sensor; a step to lean fills, one to rich "
        "empties.",
        "by=delay",
    )
    delay: float = quantity("Rear follows after", SECONDS, "1.8 s", "0 s to 60 s").says(
        "From the front sensor's change to the rear sensor's.", "by=delay"
    )
    delay_error: float = quantity("This time may be off by", SECONDS, "0.2 s", "0 s to 5 s").says(
        "The time from one sample of the record to the next, at least.", "by=delay"
    )
    mixture_error: float = quantity("Lambda may be off by", NUMBER, "0.005", "0 to 0.1").says(
        "Of a wide-band sensor near 1.", "by=delay"
    )
    least_oxygen: float | None = quantity(
        "Oxygen it must store", MASS, None, "0.01 g to 20 g"
    ).says("From the maker, or from a like car that is good.", "by=delay")
    meter: Meter = electric_meter("voltmeter", VOLTS, "1 %", "0.005 V")


def catalyst_oxygen(asked: Sensors) -> Answer:
    """Judge a catalyst by the swing of its rear sensor, or size the oxygen that it stores.

    Raises
    ------
    Refusal
        When a sensor's highest value lies below its lowest, or the mixture did not change.
    """
    return _by_swing(asked) if asked.by == "swing" else _by_delay(asked)


def _by_swing(asked: Sensors) -> Answer:
    front, rear = asked.front_high - asked.front_low, asked.rear_high - asked.rear_low
    refuse(
        front_high=front <= 0 and "The front sensor does not swing: no catalyst can be judged.",
        rear_high=rear < 0 and "The highest value lies below the lowest one.",
    )
    share = rear / front
    step = asked.meter.gauge()
    of_front = math.hypot(step.uncertainty(asked.front_high), step.uncertainty(asked.front_low))
    of_rear = math.hypot(step.uncertainty(asked.rear_high), step.uncertainty(asked.rear_low))
    held = judge(
        share,
        math.hypot(of_rear, share * of_front) / front,
        Limit(high=asked.greatest_share),
        kind=PER_CENT,
        advice="record half a minute at a steady 2500 r/min with the catalyst hot, and take the "
        "swing of each ten seconds",
    )
    values: dict[str, Value] = {
        "swing_share": share,
        "verdict": held,
        "front_swing": front,
        "rear_swing": rear,
        "finding": _finding(held),
    }
    if asked.front_switches and asked.rear_switches is not None:
        values["switch_share"] = asked.rear_switches / asked.front_switches
    return Answer(values=values, notes=tuple(_notes(front)))


def _finding(held: Verdict) -> str:
    if held.outcome == PASS:
        return "The rear sensor keeps still: the catalyst takes up the swings of the mixture."
    if held.outcome == FAIL:
        return (
            "The rear sensor swings with the front one: little oxygen is stored. Rule out a leak "
            "in the exhaust, a misfire and a fuel trim far from 0 before you blame the catalyst."
        )
    return "The swing lies too close to what is allowed to call."


def _by_delay(asked: Sensors) -> Answer:
    refuse(mixture=asked.mixture == 1 and "At lambda 1 nothing is stored: type the new mixture.")
    rate = asked.air_flow * oxygen_over(asked.mixture)
    stored = abs(rate) * asked.delay
    slope = oxygen_over(asked.mixture + 1e-4) - oxygen_over(asked.mixture - 1e-4)
    of_mixture = asked.air_flow * asked.delay * slope / 2e-4 * asked.mixture_error
    uncertainty = math.hypot(of_mixture, rate * asked.delay_error) / math.sqrt(3)
    values: dict[str, Value] = {"stored": stored, "stored_uncertainty": 2 * uncertainty}
    values["rate"] = abs(rate)
    if asked.least_oxygen is not None:
        values["oxygen_verdict"] = judge(
            stored,
            uncertainty,
            Limit(low=asked.least_oxygen),
            kind=MASS,
            advice="make the change several times at the same air flow and take the mean",
        )
    filled = "filled with" if rate > 0 else "emptied of"
    values["finding"] = f"It was {filled} {MASS.written(stored, 2)} of oxygen before it gave way."
    return Answer(values=values, notes=tuple(_notes(1.0)))


def _notes(front: float) -> Iterator[Note | str]:
    if front < _LEAST_SWING:
        yield (
            "The front sensor itself hardly swings: a wide-band sensor, open loop, or a sensor "
            "that is worn. Judge by the delay, or mend that first."
        )
    yield Note(
        "A catalyst is hot enough to burn skin and to set light to dry grass. Run the engine only "
        "where its exhaust is drawn off.",
        signal="warning",
    )


RESULTS = (
    text("finding", "Finding"),
    verdict("verdict", "Rear swing against what is allowed", PER_CENT),
    result("swing_share", "Rear swing, share of the front's", PER_CENT, 3),
    result("switch_share", "Rear crossings, share of the front's", PER_CENT, 2),
    result("front_swing", "Front swing", VOLTS, 3),
    result("rear_swing", "Rear swing", VOLTS, 3),
    result("stored", "Oxygen stored or given", MASS, 2),
    result("stored_uncertainty", "Its expanded uncertainty, k = 2", MASS, 2),
    verdict("oxygen_verdict", "Oxygen against what it must store", MASS),
    result("rate", "Oxygen flow of the change", kind("mass flow", "g/s"), 2),
)

CALCULATOR = Calculator(
    **taking(
        Sensors,
        catalyst_oxygen,
        question="by",
        limits="greatest_share least_oxygen",
        gauge="delay_error mixture_error",
    ),
    title="Oxygen that a catalyst stores",
    summary="Whether a catalyst still takes up the swings of the mixture, from front and rear "
    "sensor; or how much oxygen it stores, from the delay of the rear one after a change.",
    job="Mixture and exhaust",
    words=phrases("P0420, P0430, catalyst efficiency, oxygen storage, rear sensor, switching"),
    results=RESULTS,
    meaning="A good catalyst stores oxygen while the mixture is lean and gives it back while it is "
    "rich, so the sensor behind it keeps still. As it ages it stores less, and the rear sensor "
    "begins to follow the front one. The swing says that it is worn; the delay says how much is "
    "left, and the maker's monitor does the same.",
    leaves_out="The delay of the gas itself, some tenths of a second; the first seconds after a "
    "change of load; hydrogen, which rear sensors feel before the rest. Half of the front's swing "
    "is common practice: what the car's own monitor asks for is its maker's.",
    sources=published(
        "Balance of oxygen: air holds 23.14 % by mass; surplus = air (lambda - 1)/lambda",
        "13 CCR 1968.2(e)(1) (what a catalyst monitor must find)",
    )
    + UNCERTAINTY
    + practice("Rear swing of at most half of the front's"),
)

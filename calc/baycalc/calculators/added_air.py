"""Air added behind the engine: what it does to the mixture, and how much the pump must give."""

import math
from collections.abc import Iterator

from baycalc.forms.declare import Answer, Calculator, Refusal
from baycalc.forms.form import (
    choice,
    flag,
    form,
    from_memory,
    phrases,
    practice,
    published,
    quantity,
    result,
    taking,
    text,
    verdict,
)
from baycalc.measurement.decision import Limit, Verdict, judge
from baycalc.physics.mixture import added_air_from_oxygen, added_air_lambda, added_air_oxygen
from baycalc.quantities.kinds import AIR_FLOW, MASS_FLOW, NUMBER, PER_CENT, kind

READING_ERROR = kind("ratio", "%", "1")
_EXAMPLE = "What stands here first is an example: use the figures of the car."
_RICH, _LEAN = 0.99, 1.01
_MOST_TRIM = 0.25


@form
class Injection:
    """The engine, the pump, and the shift that is seen behind the injection."""

    find: str = choice(
        "Find",
        {
            "mixture": "what the pump does to the mixture",
            "pump": "what the pump gives, from the shift seen",
        },
    ).says("Both ways use the same balance of air and fuel.")
    engine_air: float = quantity(
        "Air flow of the engine", AIR_FLOW, "0.8 lb/min", "0.5 g/s to 500 g/s"
    ).says(
        "Off the scan tool (MAF), at the speed of the test. What stands here first is an "
        "example: use the figures of the car."
    )
    air_uncertainty: float = quantity(
        "Air flow may be off by", PER_CENT, "5 %", "0 % to 50 %"
    ).says("An air flow sensor in good order is within some 5 %.")
    mixture: float = quantity("Lambda before the injection", NUMBER, "0.95", "0.6 to 2").says(
        "1 in closed loop, below 1 while a cold engine warms up."
    )
    pump_air: float = quantity(
        "Air flow of the pump", AIR_FLOW, "0.2 lb/min", "0 g/s to 200 g/s"
    ).says(
        "From the vehicle's data. What stands here first is an example: use the figures "
        "of the car.",
        "find=mixture",
    )
    seen_as: str = choice(
        "The shift is seen on",
        {
            "lambda": "a wide-band sensor",
            "trim": "the fuel trims, in closed loop",
            "oxygen": "a gas analyzer (oxygen)",
        },
    ).says("Behind the place where the air goes in, before any catalyst.", "find=pump")
    lambda_after: float = quantity("Lambda behind the injection", NUMBER, "1.2", "0.6 to 5").says(
        "With the pump running.", "seen_as=lambda"
    )
    trim_before: float = quantity(
        "Total trim without the pump", PER_CENT, "0 %", "-60 % to 60 %"
    ).says("Short and long trim together.", "seen_as=trim")
    trim_after: float = quantity(
        "Total trim with the pump", PER_CENT, "20 %", "-60 % to 99 %"
    ).says("Read it while the pump runs, before the control unit gives up.", "seen_as=trim")
    oxygen_after: float = quantity(
        "Oxygen behind the injection, dry", PER_CENT, "4 %", "0 % to 20 %"
    ).says("By volume, on a gas analyzer that has come to rest.", "seen_as=oxygen")
    reading_error: float = quantity(
        "This reading may be off by", READING_ERROR, "1 %", "0 % to 20 %"
    ).says("1 % is 0.01 of lambda, one point of trim, or one part in 100 of oxygen.", "find=pump")
    burns: bool = flag("The added air burns what is left", True).says(
        "Hot exhaust close to the valves: yes. A cold manifold: no."
    )
    ratio: float = quantity("Stoichiometric ratio of the fuel", NUMBER, "14.7", "5 to 20").says(
        "Gasoline 14.5 to 14.7, E10 13.9 to 14.1: sources differ."
    )
    least_flow: float | None = quantity(
        "Least pump flow allowed, if you know it", AIR_FLOW, None, "0 g/s to 200 g/s"
    ).says("From the vehicle's data; a flow found from a shift is held against it.", "find=pump")

    def reading(self) -> float:
        """Return what is seen behind the injection: lambda, trim or oxygen [-]."""
        seen = {"lambda": self.lambda_after, "trim": self.trim_after}
        return seen.get(self.seen_as, self.oxygen_after)


def added_air(asked: Injection) -> Answer:
    """Relate the flow of an air pump and the mixture that the sensors see.

    Raises
    ------
    Refusal
        When the reading behind the injection says that no air was added.
    """
    if asked.find == "mixture":
        added = asked.pump_air / asked.engine_air
    else:
        added = _share(asked, asked.reading())
    if added < 0:
        told = "This is leaner before the injection than behind it."
        raise Refusal({f"{asked.seen_as}_after": told})
    behind = added_air_lambda(asked.mixture, added)
    return Answer(
        values={
            "verdict": _judge(asked, added),
            "pump_flow": added * asked.engine_air,
            "share": added,
            "lambda_behind": behind,
            "ratio_behind": behind * asked.ratio,
            "oxygen_behind": added_air_oxygen(asked.mixture, added, asked.burns),
            "trim_shift": added,
            "narrow_band": _narrow_band(behind),
            "fuel_flow": asked.engine_air / (asked.mixture * asked.ratio),
        },
        notes=tuple(_notes(asked, added, behind)),
    )


def _share(asked: Injection, reading: float) -> float:
    """Return the added air per air of the engine that a reading means [-]."""
    if asked.seen_as == "lambda":
        return reading / asked.mixture - 1
    if asked.seen_as == "trim":
        return (1 + reading) / (1 + asked.trim_before) - 1
    return added_air_from_oxygen(asked.mixture, max(0.0, reading), asked.burns)


def _judge(asked: Injection, added: float) -> Verdict | None:
    if asked.find == "mixture" or asked.least_flow is None:
        return None
    seen = asked.reading()
    slope = (_share(asked, seen + 1e-4) - _share(asked, seen - 1e-4)) / 2e-4
    errors = math.hypot(added * asked.air_uncertainty, slope * asked.reading_error)
    return judge(
        added * asked.engine_air,
        errors / math.sqrt(3) * asked.engine_air,
        Limit(low=asked.least_flow),
        kind=MASS_FLOW,
        advice="Repeat with the engine warm and steady, and take the mean of several runs of the "
        "pump; or read the shift on a wide-band sensor.",
    )


def _narrow_band(behind: float) -> str:
    if behind < _RICH:
        return "stays above 0.6 V: still rich"
    if behind > _LEAN:
        return "falls below 0.3 V: lean"
    return "swings between 0.3 V and 0.6 V or so: about stoichiometric"


def _notes(asked: Injection, added: float, behind: float) -> Iterator[str]:
    if added > _MOST_TRIM:
        yield (
            "In closed loop the trims would need more than 25 %, which most control units do not "
            "give: they stop there, or do not listen while the pump runs."
        )
    if asked.mixture < behind < 0.999:
        yield "Even with the air of the pump the gas is rich: the catalyst gets no oxygen."
    if asked.burns and asked.seen_as == "oxygen" and asked.oxygen_after == 0:
        yield "With no oxygen left behind the injection the flow is at most this much: use lambda."


RESULTS = (
    verdict("verdict", "Verdict", MASS_FLOW, 4).says(
        "The pump flow held against its least value with a guard band at k = 2."
    ),
    result("pump_flow", "Air flow of the pump", MASS_FLOW, 3).says("What reaches the exhaust."),
    result("share", "Added air per air of the engine", PER_CENT, 3).says("By mass."),
    result("lambda_behind", "Lambda behind the injection", NUMBER, 3).says(
        "What a wide-band sensor shows."
    ),
    result("ratio_behind", "Air-fuel ratio behind it", NUMBER, 3).says(
        "Lambda times the stoichiometric ratio."
    ),
    result("oxygen_behind", "Oxygen behind it, dry", PER_CENT, 3).says(
        "What a gas analyzer shows, by volume."
    ),
    text("narrow_band", "A narrow-band sensor").says("Its usual voltages; it cannot say how lean."),
    result("trim_shift", "Trims would rise by", PER_CENT, 3).says(
        "If the control unit listened and had no stop: factor on the fuel, less one."
    ),
    result("fuel_flow", "Fuel flow of the engine", MASS_FLOW, 3).says(
        "Air flow over lambda and ratio."
    ),
)

CALCULATOR = Calculator(
    **taking(Injection, added_air),
    title="Air added to the exhaust",
    summary="What the air of a secondary air pump does to lambda, oxygen, sensors and trims; or "
    "how much the pump gives, from the shift that is seen.",
    job="Mixture and exhaust",
    words=phrases("secondary air, air injection, P0410, P0411, AIR pump flow, smog pump"),
    results=RESULTS,
    meaning="A front sensor behind the injection is the witness of the pump: with the pump on it "
    "must go lean, or the trims must rise. If it does not move, no air arrives: pump, valve, hose "
    "or a plugged port. If it moves too little, air is lost on the way or the pump is weak. Read "
    "the flow of the engine and the shift at the same moment.",
    leaves_out="The delay of the gas; air that goes in behind the sensor, which that sensor "
    "cannot see; cylinders that get more than others. The gas is reckoned for a fuel of 1.85 "
    "hydrogen per carbon; for another fuel the oxygen changes by a few per cent of itself. "
    "Voltages and the stop of the trims are common practice, no source.",
    sources=published("Balance of air and fuel: lambda behind = lambda before (1 + added/engine)")
    + from_memory(
        "J. B. Heywood, Internal Combustion Engine Fundamentals, chapter 4 (exhaust gas "
        "of rich mixtures by the water gas reaction)"
    )
    + published("13 CCR 1968.2(e)(5) (what a secondary air monitor must find)")
    + practice("0.6 V rich, 0.3 V lean; trims stop near 25 %"),
)

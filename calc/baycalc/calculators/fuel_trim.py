"""Fuel trims at idle and at cruise: what they say together, and the air leak they mean."""

import itertools
import math
from collections.abc import Iterator, Mapping
from typing import Any

from baycalc.forms.declare import Answer, Calculator, Result, Value, refuse
from baycalc.forms.form import (
    Group,
    choice,
    form,
    hand_over,
    part,
    phrases,
    practice,
    published,
    quantity,
    result,
    taking,
    text,
    verdict,
)
from baycalc.forms.shared_inputs import PLACE, Place, air_here
from baycalc.forms.sources import SHARP_EDGE, UNCERTAINTY
from baycalc.measurement.decision import FAIL, TOO_CLOSE, Limit, Verdict, judge
from baycalc.physics.orifice import circle_diameter, mass_flow
from baycalc.physics.trims import TRIM_STEP, Bank
from baycalc.quantities.kinds import AIR_FLOW, MASS_FLOW, PER_CENT, SMALL_LENGTH, TEMPERATURE, kind

MANIFOLD = kind("pressure", "inHg", "kPa", "mbar")
_APART = 0.08
_SPEEDS = ("idle", "cruise")
_WHICH = ("short", "long")
_EXAMPLE = "What stands here first is an example: read yours off the scan tool."

_PATTERNS = {
    ("lean", "good"): "Lean at idle, good at cruise: air gets in behind the air flow sensor. Look "
    "at hoses, gaskets, crankcase ventilation, brake booster, and purge or EGR valves that do not "
    "shut.",
    ("good", "lean"): "Good at idle, lean at cruise: the fuel does not keep up, or the air flow "
    "sensor reads low at high flow. Look at fuel pressure under load, filter, pump and sensor.",
    ("lean", "lean"): "Lean everywhere: fuel pressure low, air flow sensor dirty, an exhaust leak "
    "ahead of the oxygen sensor, or fuel with more alcohol than the engine expects.",
    ("rich", "good"): "Rich at idle, good at cruise: a little too much fuel counts most at idle. "
    "Look at purge flow, a leaking injector or pressure regulator, and fuel in the oil.",
    ("good", "rich"): "Good at idle, rich at cruise: air flow sensor reads high at high flow, or "
    "fuel pressure too high under load.",
    ("rich", "rich"): "Rich everywhere: fuel pressure too high, injectors that leak, air flow "
    "sensor reads high, or an oxygen sensor that lies.",
    ("lean", "rich"): "Lean at idle and rich at cruise: two faults, or an air flow sensor with a "
    "bent curve. Clean or compare the sensor first.",
    ("rich", "lean"): "Rich at idle and lean at cruise: two faults, or an air flow sensor with a "
    "bent curve. Clean or compare the sensor first.",
    ("good", "good"): "Good at idle and at cruise.",
    ("lean", ""): "Lean at idle. Read the trims at cruise too: an air leak fades there, a lack of "
    "fuel does not.",
    ("rich", ""): "Rich at idle. Read the trims at cruise too.",
    ("good", ""): "Good at idle.",
}


def _bank(number: int, *defaults: str | None) -> Any:
    shown = "banks=two" if number == 2 else ""
    asked = {}
    for (speed, which), default in zip(itertools.product(_SPEEDS, _WHICH), defaults, strict=True):
        label = f"{which.capitalize()} trim at {speed}, bank {number}"
        optional = speed == "cruise"
        help = "Off the scan tool; more fuel counts positive." + " May stay empty." * optional
        field = quantity(label, PER_CENT, default, "-100 % to 100 %", optional=optional)
        asked[f"{speed}_{which}"] = field.says(help, shown)
    return Group(Bank, asked, f"{{}}_{number}")


@form
class Trims:
    """The trims at idle and at cruise, and the air that the engine takes."""

    banks: str = choice("Banks", {"one": "one", "two": "two"}).says(
        "Inline engines mostly have one, V engines two."
    )
    first: Bank = _bank(1, "5.5 %", "10.2 %", "0.8 %", "2.3 %")
    second: Bank = _bank(2, "0 %", "0 %", None, None)
    allowed_trim: float = quantity(
        "Total trim allowed, either way", PER_CENT, "10 %", "1 % to 50 %"
    ).says("From the vehicle's data; 10 % is common practice where it is silent.")
    swing: float = quantity(
        "The short trim swings by, either way", PER_CENT, "2 %", "0 % to 50 %"
    ).says("Around the value typed above; type the middle of the swing there.")
    air_flow: float | None = quantity(
        "Air flow at idle", AIR_FLOW, "0.5 lb/min", "0.1 g/s to 200 g/s", optional=True
    ).says(
        "What the air flow sensor measures (MAF). What stands here first is an example: "
        "read yours off the scan tool."
    )
    cruise_air_flow: float | None = quantity(
        "Air flow at cruise", AIR_FLOW, "2 lb/min", "0.1 g/s to 500 g/s", optional=True
    ).says(
        "At the speed where the cruise trims were read. What stands here first is an "
        "example: read yours off the scan tool."
    )
    manifold_vacuum: float = quantity(
        "Manifold vacuum at idle", MANIFOLD, "18 inHg", "0 Pa to 110 kPa"
    ).says("Barometer less manifold pressure (BARO less MAP).")
    place: Place = part(Place)
    temperature: float = quantity(
        "Temperature of the air around", TEMPERATURE, "68 °F", "-40 °C to 80 °C"
    ).says("Of the air that leaks in.")

    def found(self) -> dict[int, Bank]:
        """Return the banks that there are, by their number."""
        return {1: self.first} | ({2: self.second} if self.banks == "two" else {})


def fuel_trim(trims: Trims) -> Answer:
    """Add up the trims, name their pattern, and size the air leak that they mean.

    Raises
    ------
    Refusal
        When one trim of a pair is missing, or the vacuum is deeper than the air pressure.
    """
    air, found = trims.place.air(), trims.found()
    half = [
        f"{missing}_{number}" for number, bank in found.items() if (missing := bank.half_missing())
    ]
    refuse(
        **dict.fromkeys(half, "Short and long trim belong together: type both or none."),
        manifold_vacuum=trims.manifold_vacuum >= air
        and f"No vacuum can be as deep as {air_here(air)}.",
    )
    values: dict[str, Value] = {}
    for number, bank in found.items():
        values |= _of_bank(trims, number, bank)
    mean = sum(bank.idle() for bank in found.values()) / len(found)
    values["unmetered_share"] = mean / (1 + mean) if mean > 0 else None
    values |= _leak(trims, mean, air)
    values["pattern"] = _pattern(values, found)
    return Answer(values=values, notes=tuple(_notes(trims, found)))


def _of_bank(trims: Trims, number: int, bank: Bank) -> dict[str, Value]:
    values: dict[str, Value] = {}
    for speed, total in (("idle", bank.idle()), ("cruise", bank.cruise())):
        if total is not None:
            values[f"{speed}_{number}"] = total
            values[f"{speed}_verdict_{number}"] = _judge(trims, total)
    return values


def _judge(trims: Trims, total: float) -> Verdict:
    steps = math.sqrt(2) * TRIM_STEP / (2 * math.sqrt(3))
    return judge(
        total,
        math.hypot(steps, trims.swing / math.sqrt(3)),
        Limit(low=-trims.allowed_trim, high=trims.allowed_trim),
        kind=PER_CENT,
        advice="Hold the engine warm and steady for some minutes more, until the long trim has "
        "taken over what the short one shows, and take the mean of the swings.",
    )


def _leak(trims: Trims, mean: float, air: float) -> dict[str, Value]:
    """Return the unmetered air at idle, its hole, and what it would do at cruise."""
    if mean <= 0 or trims.air_flow is None:
        return {}
    unmetered = trims.air_flow * mean
    values: dict[str, Value] = {"unmetered_flow": unmetered}
    if trims.manifold_vacuum:
        per_area = mass_flow(1.0, air, air - trims.manifold_vacuum, trims.temperature)
        values["hole"] = circle_diameter(unmetered / per_area)
    if trims.cruise_air_flow:
        values["expected_cruise"] = unmetered / trims.cruise_air_flow
    return values


def _pattern(values: Mapping[str, Value], found: Mapping[int, Bank]) -> str:
    told = {
        number: _PATTERNS[_side(values, "idle", number), _side(values, "cruise", number)]
        for number in found
    }
    if len(set(told.values())) == 1:
        return told[1]
    return " ".join(f"Bank {number}: {text}" for number, text in told.items())


def _side(values: Mapping[str, Value], speed: str, number: int) -> str:
    verdict = values.get(f"{speed}_verdict_{number}")
    if not isinstance(verdict, Verdict):
        return ""
    if verdict.outcome == FAIL or (verdict.outcome == TOO_CLOSE and verdict.conformity < 0.5):
        return "lean" if verdict.reading > 0 else "rich"
    return "good"


def _notes(trims: Trims, found: Mapping[int, Bank]) -> Iterator[str]:
    if len(found) == 2 and abs(found[1].idle() - found[2].idle()) > _APART:
        yield (
            "The banks differ at idle: look at what only one bank has, its gasket, its injectors, "
            "its oxygen sensor, an exhaust leak ahead of that sensor, and its share of purge or "
            "crankcase gas."
        )
    if trims.air_flow is None:
        yield (
            "Without an air flow no leak can be sized. An engine that reckons its air from the "
            "manifold pressure sees most of a leak, and its trims stay small."
        )


def _results_of(bank: int) -> Iterator[Result]:
    for speed in _SPEEDS:
        yield verdict(f"{speed}_verdict_{bank}", f"Bank {bank} at {speed}", PER_CENT, 4).says(
            "The total trim held against its limit with a guard band at k = 2."
        )
        yield result(f"{speed}_{bank}", f"Total trim at {speed}, bank {bank}", PER_CENT, 3).says(
            "Both trims as factors on the fuel, less one."
        )


RESULTS = (
    text("pattern", "Pattern").says(
        "Common practice; the verdicts below say how sure each total is."
    ),
    *_results_of(1),
    *_results_of(2),
    result("unmetered_share", "Unmetered air", PER_CENT, 3).says(
        "Share of all the air, if an air leak alone makes the trims."
    ),
    result("unmetered_flow", "Unmetered air flow", MASS_FLOW, 3).says(
        "At idle, if an air leak alone makes the trims."
    ),
    result("hole", "Hole that lets it in", SMALL_LENGTH, 2).says(
        "One round hole with a sharp edge under the manifold vacuum."
    ),
    result("expected_cruise", "The same leak at cruise would take", PER_CENT, 2).says(
        "Total trim, at most: the vacuum is less there."
    ),
)

CALCULATOR = Calculator(
    **taking(Trims, fuel_trim),
    title="Fuel trims",
    summary="Short and long trims of each bank together, what their pattern at idle and cruise "
    "says, and the size of the air leak that they mean.",
    job="Mixture and exhaust",
    words=phrases("STFT, LTFT, P0171, P0174, lean, rich, unmetered air, vacuum leak"),
    results=RESULTS,
    meaning="An air leak lets in about the same air at every speed, so it weighs most at idle, "
    "where the engine takes least. If the trims at cruise are as high as at idle, or higher, do "
    "not look for a hose: look at fuel and sensor. Read the trims warm, in closed loop, with all "
    "loads off, and write down both speeds before anything is unplugged.",
    leaves_out="Engines that reckon their air from the manifold pressure; purge and crankcase "
    "gas, which bring fuel as well; trims kept in cells for each load. The patterns, the limit of "
    "10 % and the difference of banks of 8 points are common practice, no source.",
    sources=published("SAE J1979 / ISO 15031-5: trim = (A - 128)/128")
    + SHARP_EDGE
    + practice("Patterns and limits")
    + UNCERTAINTY,
    hands_over=hand_over(
        "leak_orifice",
        "The flow through this hole under other vacuums",
        f"diameter=hole inside=manifold_vacuum {PLACE} temperature",
        find="flow",
        side="vacuum",
    ),
)

"""Fuel trims at idle and at cruise: what they say together, and the air leak they mean."""

import math
from dataclasses import dataclass

from baycalc.forms.declare import (
    Answer,
    Calculator,
    Choice,
    HandOver,
    Note,
    Option,
    Quantity,
    Refusal,
    Result,
    Shown,
    Source,
    Value,
)
from baycalc.forms.shared_inputs import PLACE, air_here, air_pressure, barometer_inputs
from baycalc.measurement.decision import FAIL, TOO_CLOSE, Limit, Verdict, judge
from baycalc.physics.orifice import circle_diameter, mass_flow

TRIM_STEP = 1 / 128
"""Step of a trim in service 01, SAE J1979: (A - 128)/128 [-]."""

_APART = 0.08
_FLOWS = ("lb/min", "g/s", "kg/h")
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


@dataclass(frozen=True, slots=True)
class _Bank:
    """The trims of one bank, short and long at one speed, added up as factors on the fuel."""

    number: int
    idle: float
    cruise: float | None


def fuel_trim(
    banks: str,
    idle_short_1: float,
    idle_long_1: float,
    cruise_short_1: float | None,
    cruise_long_1: float | None,
    idle_short_2: float,
    idle_long_2: float,
    cruise_short_2: float | None,
    cruise_long_2: float | None,
    allowed_trim: float,
    swing: float,
    air_flow: float | None,
    cruise_air_flow: float | None,
    manifold_vacuum: float,
    barometer_from: str,
    altitude: float,
    barometer: float,
    temperature: float,
) -> Answer:
    """Add up the trims, name their pattern, and size the air leak that they mean.

    Parameters
    ----------
    banks : str
        ``one`` or ``two`` [-]
    idle_short_1 : float
        Short trim of bank 1 at idle [-]
    idle_long_1 : float
        Long trim of bank 1 at idle [-]
    cruise_short_1 : float
        Short trim of bank 1 at cruise, or ``None`` [-]
    cruise_long_1 : float
        Long trim of bank 1 at cruise, or ``None`` [-]
    idle_short_2 : float
        Short trim of bank 2 at idle, used with ``two`` [-]
    idle_long_2 : float
        Long trim of bank 2 at idle, used with ``two`` [-]
    cruise_short_2 : float
        Short trim of bank 2 at cruise, used with ``two``, or ``None`` [-]
    cruise_long_2 : float
        Long trim of bank 2 at cruise, used with ``two``, or ``None`` [-]
    allowed_trim : float
        Greatest total trim either way [-]
    swing : float
        How far the short trim swings either way [-]
    air_flow : float
        Air flow that the sensor measures at idle, or ``None`` [kg/s]
    cruise_air_flow : float
        Air flow that the sensor measures at cruise, or ``None`` [kg/s]
    manifold_vacuum : float
        Vacuum in the manifold at idle [Pa]
    barometer_from : str
        ``altitude`` or ``measured`` [-]
    altitude : float
        Altitude above sea level, used with ``altitude`` [m]
    barometer : float
        Pressure of the air around, used with ``measured`` [Pa]
    temperature : float
        Temperature of the air around [K]

    Returns
    -------
    Answer
        Total trims with verdicts, the pattern, the unmetered air and the hole for it.

    Raises
    ------
    Refusal
        When one trim of a pair is missing, or the vacuum is deeper than the air pressure.
    """
    air = air_pressure(barometer_from, altitude, barometer)
    _refuse(
        {"cruise_short_1": cruise_short_1, "cruise_long_1": cruise_long_1},
        {"cruise_short_2": cruise_short_2, "cruise_long_2": cruise_long_2},
        banks,
        manifold_vacuum,
        air,
    )
    found = [_bank(1, idle_short_1, idle_long_1, cruise_short_1, cruise_long_1)]
    if banks == "two":
        found.append(_bank(2, idle_short_2, idle_long_2, cruise_short_2, cruise_long_2))
    values: dict[str, Value] = {}
    for bank in found:
        values |= _of_bank(bank, allowed_trim, swing)
    mean = sum(bank.idle for bank in found) / len(found)
    values["unmetered_share"] = mean / (1 + mean) if mean > 0 else None
    values |= _leak(mean, air_flow, cruise_air_flow, air, manifold_vacuum, temperature)
    values["pattern"] = _pattern(values, found)
    return Answer(values=values, notes=_notes(found, air_flow))


def _bank(
    number: int, short: float, long: float, cruise_short: float | None, cruise_long: float | None
) -> _Bank:
    cruise = None
    if cruise_short is not None and cruise_long is not None:
        cruise = _total(cruise_short, cruise_long)
    return _Bank(number, _total(short, long), cruise)


def _total(short: float, long: float) -> float:
    """Return what both trims do to the fuel together: they are factors on one another."""
    return (1 + short) * (1 + long) - 1


def _refuse(
    first: dict[str, float | None],
    second: dict[str, float | None],
    banks: str,
    manifold_vacuum: float,
    air: float,
) -> None:
    problems = {}
    for pair in (first, second) if banks == "two" else (first,):
        missing = [name for name, trim in pair.items() if trim is None]
        if len(missing) == 1:
            problems[missing[0]] = "Short and long trim belong together: type both or none."
    if manifold_vacuum >= air:
        problems["manifold_vacuum"] = f"No vacuum can be as deep as {air_here(air)}."
    if problems:
        raise Refusal(problems)


def _of_bank(bank: _Bank, allowed_trim: float, swing: float) -> dict[str, Value]:
    values: dict[str, Value] = {
        f"idle_{bank.number}": bank.idle,
        f"idle_verdict_{bank.number}": _judge(bank.idle, allowed_trim, swing),
    }
    if bank.cruise is not None:
        values[f"cruise_{bank.number}"] = bank.cruise
        values[f"cruise_verdict_{bank.number}"] = _judge(bank.cruise, allowed_trim, swing)
    return values


def _judge(total: float, allowed_trim: float, swing: float) -> Verdict:
    steps = math.sqrt(2) * TRIM_STEP / (2 * math.sqrt(3))
    return judge(
        total,
        math.hypot(steps, swing / math.sqrt(3)),
        Limit(low=-allowed_trim, high=allowed_trim),
        kind="ratio",
        advice="Hold the engine warm and steady for some minutes more, until the long trim has "
        "taken over what the short one shows, and take the mean of the swings.",
    )


def _leak(
    mean: float,
    air_flow: float | None,
    cruise_air_flow: float | None,
    air: float,
    manifold_vacuum: float,
    temperature: float,
) -> dict[str, Value]:
    """Return the unmetered air at idle, its hole, and what it would do at cruise."""
    if mean <= 0 or air_flow is None:
        return {}
    unmetered = air_flow * mean
    values: dict[str, Value] = {"unmetered_flow": unmetered}
    if manifold_vacuum:
        per_area = mass_flow(1.0, air, air - manifold_vacuum, temperature)
        values["hole"] = circle_diameter(unmetered / per_area)
    if cruise_air_flow:
        values["expected_cruise"] = unmetered / cruise_air_flow
    return values


def _pattern(values: dict[str, Value], found: list[_Bank]) -> str:
    told = []
    for bank in found:
        idle = _side(bank.idle, values[f"idle_verdict_{bank.number}"])
        cruise = _side(bank.cruise or 0.0, values.get(f"cruise_verdict_{bank.number}"))
        told.append(_PATTERNS[idle, cruise])
    if len(set(told)) == 1:
        return told[0]
    return " ".join(f"Bank {bank.number}: {text}" for bank, text in zip(found, told, strict=True))


def _side(total: float, verdict: Value) -> str:
    if not isinstance(verdict, Verdict):
        return ""
    if verdict.outcome == FAIL or (verdict.outcome == TOO_CLOSE and verdict.conformity < 0.5):
        return "lean" if total > 0 else "rich"
    return "good"


def _notes(found: list[_Bank], air_flow: float | None) -> tuple[Note, ...]:
    told = []
    if len(found) == 2 and abs(found[0].idle - found[1].idle) > _APART:
        told.append(
            "The banks differ at idle: look at what only one bank has, its gasket, its injectors, "
            "its oxygen sensor, an exhaust leak ahead of that sensor, and its share of purge or "
            "crankcase gas."
        )
    if air_flow is None:
        told.append(
            "Without an air flow no leak can be sized. An engine that reckons its air from the "
            "manifold pressure sees most of a leak, and its trims stay small."
        )
    return tuple(Note(text=text) for text in told)


def _trim(id: str, label: str, default: str | None, bank: int, optional: bool) -> Quantity:
    return Quantity(
        id=id,
        label=label,
        kind="ratio",
        units=("%",),
        default=default,
        low="-100 %",
        high="100 %",
        optional=optional,
        help="Off the scan tool; more fuel counts positive." + (" May stay empty." * optional),
        shown=Shown(choice="banks", values=("two",)) if bank == 2 else None,
    )


def _of_one_bank(bank: int, defaults: tuple[str | None, ...]) -> tuple[Quantity, ...]:
    told = [
        ("idle", "short", "Short trim at idle", False),
        ("idle", "long", "Long trim at idle", False),
        ("cruise", "short", "Short trim at cruise", True),
        ("cruise", "long", "Long trim at cruise", True),
    ]
    return tuple(
        _trim(f"{speed}_{which}_{bank}", f"{label}, bank {bank}", default, bank, optional)
        for (speed, which, label, optional), default in zip(told, defaults, strict=True)
    )


def _results_of(bank: int) -> tuple[Result, ...]:
    found = []
    for speed in ("idle", "cruise"):
        found.append(
            Result(
                id=f"{speed}_verdict_{bank}",
                label=f"Bank {bank} at {speed}",
                kind="verdict",
                units=("%",),
                help="The total trim held against its limit with a guard band at k = 2.",
            )
        )
        found.append(
            Result(
                id=f"{speed}_{bank}",
                label=f"Total trim at {speed}, bank {bank}",
                kind="ratio",
                units=("%",),
                digits=3,
                help="Both trims as factors on the fuel, less one.",
            )
        )
    return tuple(found)


CALCULATOR = Calculator(
    id="fuel_trim",
    title="Fuel trims",
    summary="Short and long trims of each bank together, what their pattern at idle and cruise "
    "says, and the size of the air leak that they mean.",
    job="Mixture and exhaust",
    words=("STFT", "LTFT", "P0171", "P0174", "lean", "rich", "unmetered air", "vacuum leak"),
    inputs=(
        Choice(
            id="banks",
            label="Banks",
            options=(Option(value="one", label="one"), Option(value="two", label="two")),
            default="one",
            help="Inline engines mostly have one, V engines two.",
        ),
        *_of_one_bank(1, ("5.5 %", "10.2 %", "0.8 %", "2.3 %")),
        *_of_one_bank(2, ("0 %", "0 %", None, None)),
        Quantity(
            id="allowed_trim",
            label="Total trim allowed, either way",
            kind="ratio",
            units=("%",),
            default="10 %",
            low="1 %",
            high="50 %",
            help="From the vehicle's data; 10 % is common practice where it is silent.",
        ),
        Quantity(
            id="swing",
            label="The short trim swings by, either way",
            kind="ratio",
            units=("%",),
            default="2 %",
            low="0 %",
            high="50 %",
            help="Around the value typed above; type the middle of the swing there.",
        ),
        Quantity(
            id="air_flow",
            label="Air flow at idle",
            kind="mass flow",
            units=_FLOWS,
            default="0.5 lb/min",
            low="0.1 g/s",
            high="200 g/s",
            optional=True,
            help=f"What the air flow sensor measures (MAF). {_EXAMPLE}",
        ),
        Quantity(
            id="cruise_air_flow",
            label="Air flow at cruise",
            kind="mass flow",
            units=_FLOWS,
            default="2 lb/min",
            low="0.1 g/s",
            high="500 g/s",
            optional=True,
            help=f"At the speed where the cruise trims were read. {_EXAMPLE}",
        ),
        Quantity(
            id="manifold_vacuum",
            label="Manifold vacuum at idle",
            kind="pressure",
            units=("inHg", "kPa", "mbar"),
            default="18 inHg",
            low="0 Pa",
            high="110 kPa",
            help="Barometer less manifold pressure (BARO less MAP).",
        ),
        *barometer_inputs(),
        Quantity(
            id="temperature",
            label="Temperature of the air around",
            kind="temperature",
            units=("°F", "°C"),
            default="68 °F",
            low="-40 °C",
            high="80 °C",
            help="Of the air that leaks in.",
        ),
    ),
    results=(
        Result(
            id="pattern",
            label="Pattern",
            kind="text",
            help="Common practice; the verdicts below say how sure each total is.",
        ),
        *_results_of(1),
        *_results_of(2),
        Result(
            id="unmetered_share",
            label="Unmetered air",
            kind="ratio",
            units=("%",),
            digits=3,
            help="Share of all the air, if an air leak alone makes the trims.",
        ),
        Result(
            id="unmetered_flow",
            label="Unmetered air flow",
            kind="mass flow",
            units=("lb/min", "g/s"),
            digits=3,
            help="At idle, if an air leak alone makes the trims.",
        ),
        Result(
            id="hole",
            label="Hole that lets it in",
            kind="length",
            units=("in", "mm"),
            digits=2,
            help="One round hole with a sharp edge under the manifold vacuum.",
        ),
        Result(
            id="expected_cruise",
            label="The same leak at cruise would take",
            kind="ratio",
            units=("%",),
            digits=2,
            help="Total trim, at most: the vacuum is less there.",
        ),
    ),
    compute=fuel_trim,
    meaning="An air leak lets in about the same air at every speed, so it weighs most at idle, "
    "where the engine takes least. If the trims at cruise are as high as at idle, or higher, do "
    "not look for a hose: look at fuel and sensor. Read the trims warm, in closed loop, with all "
    "loads off, and write down both speeds before anything is unplugged.",
    leaves_out="Engines that reckon their air from the manifold pressure; purge and crankcase "
    "gas, which bring fuel as well; trims kept in cells for each load. The patterns, the limit of "
    "10 % and the difference of banks of 8 points are common practice, no source.",
    sources=(
        Source(text="SAE J1979 / ISO 15031-5: trim = (A - 128)/128"),
        Source(
            text="D. A. Jobson, Proc. I. Mech. E. 169 (1955) 767 (coefficient of a sharp-edged "
            "hole), with 0.61 at small differences"
        ),
        Source(text="Patterns and limits", standing="practice"),
        Source(text="JCGM 100:2008; ILAC-G8:09/2019 (guard band at k = 2)"),
    ),
    hands_over=(
        HandOver(
            to="leak_orifice",
            label="The flow through this hole under other vacuums",
            carries={
                "diameter": "hole",
                "inside": "manifold_vacuum",
                **PLACE,
                "temperature": "temperature",
            },
            sets={"find": "flow", "side": "vacuum"},
        ),
    ),
    examples=(
        {},
        {"idle_short_1": "2 %", "idle_long_1": "1 %"},
        {
            "idle_short_1": "1 %",
            "idle_long_1": "2 %",
            "cruise_short_1": "6 %",
            "cruise_long_1": "12 %",
        },
        {"cruise_short_1": "4 %", "cruise_long_1": "14 %"},
        {"idle_short_1": "-8 %", "idle_long_1": "-11 %", "cruise_short_1": "", "cruise_long_1": ""},
        {
            "idle_short_1": "-8 %",
            "idle_long_1": "-11 %",
            "cruise_short_1": "-3 %",
            "cruise_long_1": "-12,5 %",
        },
        {
            "banks": "two",
            "idle_short_2": "5 %",
            "idle_long_2": "9 %",
            "cruise_short_2": "1 %",
            "cruise_long_2": "2 %",
        },
        {"banks": "two", "idle_short_2": "0 %", "idle_long_2": "-1.6 %"},
        {"idle_short_1": "3 %", "idle_long_1": "6.25 %", "swing": "4 %"},
        {"air_flow": "", "cruise_air_flow": ""},
        {"air_flow": "0.4 lb/min", "manifold_vacuum": "10 inHg", "altitude": "5280 ft"},
        {"manifold_vacuum": "0 inHg", "barometer_from": "measured", "barometer": "99 kPa"},
        {
            "idle_short_1": "12 %",
            "idle_long_1": "10 %",
            "cruise_short_1": "-10 %",
            "cruise_long_1": "-9 %",
        },
    ),
)

"""Air added behind the engine: what it does to the mixture, and how much the pump must give."""

import math

from baycalc.forms.declare import (
    Answer,
    Calculator,
    Choice,
    Flag,
    Note,
    Option,
    Quantity,
    Refusal,
    Result,
    Shown,
    Source,
)
from baycalc.measurement.decision import Limit, Verdict, judge
from baycalc.physics.mixture import (
    added_air_from_oxygen,
    added_air_lambda,
    added_air_oxygen,
)

_FLOWS = ("lb/min", "g/s", "kg/h")
_EXAMPLE = "What stands here first is an example: use the figures of the car."
_RICH, _LEAN = 0.99, 1.01
_MOST_TRIM = 0.25
_SEEN = {"lambda": "lambda_after", "trim": "trim_after", "oxygen": "oxygen_after"}


def added_air(
    find: str,
    engine_air: float,
    air_uncertainty: float,
    mixture: float,
    pump_air: float,
    seen_as: str,
    lambda_after: float,
    trim_before: float,
    trim_after: float,
    oxygen_after: float,
    reading_error: float,
    burns: bool,
    ratio: float,
    least_flow: float | None,
) -> Answer:
    """Relate the flow of an air pump and the mixture that the sensors see.

    Parameters
    ----------
    find : str
        ``mixture`` behind the injection, or ``pump`` flow from the shift seen [-]
    engine_air : float
        Air flow of the engine [kg/s]
    air_uncertainty : float
        How far it may be off, as a share of it [-]
    mixture : float
        Lambda before the place of injection [-]
    pump_air : float
        Air flow of the pump, used to find the mixture [kg/s]
    seen_as : str
        ``lambda``, ``trim`` or ``oxygen``: where the shift is seen [-]
    lambda_after : float
        Lambda behind the injection, used with ``lambda`` [-]
    trim_before : float
        Total fuel trim without the pump, used with ``trim`` [-]
    trim_after : float
        Total fuel trim with the pump, used with ``trim`` [-]
    oxygen_after : float
        O2 in the dry gas behind the injection, used with ``oxygen`` [-]
    reading_error : float
        How far the reading of the shift may be off, in its own measure [-]
    burns : bool
        Whether the added air burns the CO and H2 that is left [-]
    ratio : float
        Mass of air that burns a mass of fuel completely [-]
    least_flow : float
        Least pump flow that passes, or ``None`` [kg/s]

    Returns
    -------
    Answer
        Pump flow, lambda, oxygen, trims, and what both kinds of sensor show.

    Raises
    ------
    Refusal
        When the reading behind the injection says that no air was added.
    """
    seen = {"lambda": lambda_after, "trim": trim_after, "oxygen": oxygen_after}[seen_as]

    def share_of(reading: float) -> float:
        return _share(seen_as, reading, mixture, trim_before, burns)

    added = pump_air / engine_air if find == "mixture" else share_of(seen)
    if added < 0:
        raise Refusal({_SEEN[seen_as]: "This is leaner before the injection than behind it."})
    behind = added_air_lambda(mixture, added)
    verdict = None
    if find == "pump" and least_flow is not None:
        slope = (share_of(seen + 1e-4) - share_of(seen - 1e-4)) / 2e-4
        relative = math.hypot(added * air_uncertainty, slope * reading_error) / math.sqrt(3)
        verdict = _judge(added * engine_air, relative * engine_air, least_flow)
    return Answer(
        values={
            "verdict": verdict,
            "pump_flow": added * engine_air,
            "share": added,
            "lambda_behind": behind,
            "ratio_behind": behind * ratio,
            "oxygen_behind": added_air_oxygen(mixture, added, burns),
            "trim_shift": added,
            "narrow_band": _narrow_band(behind),
            "fuel_flow": engine_air / (mixture * ratio),
        },
        notes=_notes(added, behind, mixture, burns, oxygen_after if seen_as == "oxygen" else 1.0),
    )


def _share(seen_as: str, reading: float, mixture: float, trim_before: float, burns: bool) -> float:
    """Return the added air per air of the engine that a reading means."""
    if seen_as == "lambda":
        return reading / mixture - 1
    if seen_as == "trim":
        return (1 + reading) / (1 + trim_before) - 1
    return added_air_from_oxygen(mixture, max(0.0, reading), burns)


def _judge(flow: float, uncertainty: float, least_flow: float) -> Verdict:
    return judge(
        flow,
        uncertainty,
        Limit(low=least_flow),
        kind="mass flow",
        advice="Repeat with the engine warm and steady, and take the mean of several runs of the "
        "pump; or read the shift on a wide-band sensor.",
    )


def _narrow_band(behind: float) -> str:
    if behind < _RICH:
        return "stays above 0.6 V: still rich"
    if behind > _LEAN:
        return "falls below 0.3 V: lean"
    return "swings between 0.3 V and 0.6 V or so: about stoichiometric"


def _notes(
    added: float, behind: float, mixture: float, burns: bool, oxygen: float
) -> tuple[Note, ...]:
    found = []
    if added > _MOST_TRIM:
        found.append(
            "In closed loop the trims would need more than 25 %, which most control units do not "
            "give: they stop there, or do not listen while the pump runs."
        )
    if mixture < behind < 0.999:
        found.append("Even with the air of the pump the gas is rich: the catalyst gets no oxygen.")
    if burns and oxygen == 0:
        found.append(
            "With no oxygen left behind the injection the flow is at most this much: use lambda."
        )
    return tuple(Note(text=text) for text in found)


CALCULATOR = Calculator(
    id="added_air",
    title="Air added to the exhaust",
    summary="What the air of a secondary air pump does to lambda, oxygen, sensors and trims; or "
    "how much the pump gives, from the shift that is seen.",
    job="Mixture and exhaust",
    words=("secondary air", "air injection", "P0410", "P0411", "AIR pump flow", "smog pump"),
    inputs=(
        Choice(
            id="find",
            label="Find",
            options=(
                Option(value="mixture", label="what the pump does to the mixture"),
                Option(value="pump", label="what the pump gives, from the shift seen"),
            ),
            default="mixture",
            help="Both ways use the same balance of air and fuel.",
        ),
        Quantity(
            id="engine_air",
            label="Air flow of the engine",
            kind="mass flow",
            units=_FLOWS,
            default="0.8 lb/min",
            low="0.5 g/s",
            high="500 g/s",
            help=f"Off the scan tool (MAF), at the speed of the test. {_EXAMPLE}",
        ),
        Quantity(
            id="air_uncertainty",
            label="Air flow may be off by",
            kind="ratio",
            units=("%",),
            default="5 %",
            low="0 %",
            high="50 %",
            help="An air flow sensor in good order is within some 5 %.",
        ),
        Quantity(
            id="mixture",
            label="Lambda before the injection",
            kind="ratio",
            units=("1",),
            default="0.95",
            low="0.6",
            high="2",
            help="1 in closed loop, below 1 while a cold engine warms up.",
        ),
        Quantity(
            id="pump_air",
            label="Air flow of the pump",
            kind="mass flow",
            units=_FLOWS,
            default="0.2 lb/min",
            low="0 g/s",
            high="200 g/s",
            help=f"From the vehicle's data. {_EXAMPLE}",
            shown=Shown(choice="find", values=("mixture",)),
        ),
        Choice(
            id="seen_as",
            label="The shift is seen on",
            options=(
                Option(value="lambda", label="a wide-band sensor"),
                Option(value="trim", label="the fuel trims, in closed loop"),
                Option(value="oxygen", label="a gas analyser (oxygen)"),
            ),
            default="lambda",
            help="Behind the place where the air goes in, before any catalyst.",
            shown=Shown(choice="find", values=("pump",)),
        ),
        Quantity(
            id="lambda_after",
            label="Lambda behind the injection",
            kind="ratio",
            units=("1",),
            default="1.2",
            low="0.6",
            high="5",
            help="With the pump running.",
            shown=Shown(choice="seen_as", values=("lambda",)),
        ),
        Quantity(
            id="trim_before",
            label="Total trim without the pump",
            kind="ratio",
            units=("%",),
            default="0 %",
            low="-60 %",
            high="60 %",
            help="Short and long trim together.",
            shown=Shown(choice="seen_as", values=("trim",)),
        ),
        Quantity(
            id="trim_after",
            label="Total trim with the pump",
            kind="ratio",
            units=("%",),
            default="20 %",
            low="-60 %",
            high="99 %",
            help="Read it while the pump runs, before the control unit gives up.",
            shown=Shown(choice="seen_as", values=("trim",)),
        ),
        Quantity(
            id="oxygen_after",
            label="Oxygen behind the injection, dry",
            kind="ratio",
            units=("%",),
            default="4 %",
            low="0 %",
            high="20 %",
            help="By volume, on a gas analyser that has come to rest.",
            shown=Shown(choice="seen_as", values=("oxygen",)),
        ),
        Quantity(
            id="reading_error",
            label="This reading may be off by",
            kind="ratio",
            units=("%", "1"),
            default="1 %",
            low="0 %",
            high="20 %",
            help="1 % is 0.01 of lambda, one point of trim, or one part in 100 of oxygen.",
            shown=Shown(choice="find", values=("pump",)),
        ),
        Flag(
            id="burns",
            label="The added air burns what is left",
            default=True,
            help="Hot exhaust close to the valves: yes. A cold manifold: no.",
        ),
        Quantity(
            id="ratio",
            label="Stoichiometric ratio of the fuel",
            kind="ratio",
            units=("1",),
            default="14.7",
            low="5",
            high="20",
            help="Gasoline 14.5 to 14.7, E10 13.9 to 14.1: sources differ.",
        ),
        Quantity(
            id="least_flow",
            label="Least pump flow allowed, if you know it",
            kind="mass flow",
            units=_FLOWS,
            default=None,
            low="0 g/s",
            high="200 g/s",
            help="From the vehicle's data; a flow found from a shift is held against it.",
            shown=Shown(choice="find", values=("pump",)),
        ),
    ),
    results=(
        Result(
            id="verdict",
            label="Verdict",
            kind="verdict",
            units=("lb/min", "g/s"),
            help="The pump flow held against its least value with a guard band at k = 2.",
        ),
        Result(
            id="pump_flow",
            label="Air flow of the pump",
            kind="mass flow",
            units=("lb/min", "g/s"),
            digits=3,
            help="What reaches the exhaust.",
        ),
        Result(
            id="share",
            label="Added air per air of the engine",
            kind="ratio",
            units=("%",),
            digits=3,
            help="By mass.",
        ),
        Result(
            id="lambda_behind",
            label="Lambda behind the injection",
            kind="ratio",
            units=("1",),
            digits=3,
            help="What a wide-band sensor shows.",
        ),
        Result(
            id="ratio_behind",
            label="Air-fuel ratio behind it",
            kind="ratio",
            units=("1",),
            digits=3,
            help="Lambda times the stoichiometric ratio.",
        ),
        Result(
            id="oxygen_behind",
            label="Oxygen behind it, dry",
            kind="ratio",
            units=("%",),
            digits=3,
            help="What a gas analyser shows, by volume.",
        ),
        Result(
            id="narrow_band",
            label="A narrow-band sensor",
            kind="text",
            help="Its usual voltages; it cannot say how lean.",
        ),
        Result(
            id="trim_shift",
            label="Trims would rise by",
            kind="ratio",
            units=("%",),
            digits=3,
            help="If the control unit listened and had no stop: factor on the fuel, less one.",
        ),
        Result(
            id="fuel_flow",
            label="Fuel flow of the engine",
            kind="mass flow",
            units=("lb/min", "g/s"),
            digits=3,
            help="Air flow over lambda and ratio.",
        ),
    ),
    compute=added_air,
    meaning="A front sensor behind the injection is the witness of the pump: with the pump on it "
    "must go lean, or the trims must rise. If it does not move, no air arrives: pump, valve, hose "
    "or a plugged port. If it moves too little, air is lost on the way or the pump is weak. Read "
    "the flow of the engine and the shift at the same moment.",
    leaves_out="The delay of the gas; air that goes in behind the sensor, which that sensor "
    "cannot see; cylinders that get more than others. The gas is reckoned for a fuel of 1.85 "
    "hydrogen per carbon; for another fuel the oxygen changes by a few per cent of itself. "
    "Voltages and the stop of the trims are common practice, no source.",
    sources=(
        Source(text="Balance of air and fuel: lambda behind = lambda before (1 + added/engine)"),
        Source(
            text="J. B. Heywood, Internal Combustion Engine Fundamentals, chapter 4 (exhaust gas "
            "of rich mixtures by the water gas reaction)",
            standing="memory",
        ),
        Source(text="13 CCR 1968.2(e)(5) (what a secondary air monitor must find)"),
        Source(text="0.6 V rich, 0.3 V lean; trims stop near 25 %", standing="practice"),
    ),
    examples=(
        {},
        {"mixture": "1", "pump_air": "2 g/s"},
        {"mixture": "0.8", "pump_air": "0.5 g/s"},
        {"mixture": "0.85", "pump_air": "0.9 g/s", "burns": "false"},
        {"engine_air": "0.8 lb/min", "pump_air": "10 kg/h", "ratio": "14.1"},
        {"mixture": "1.1", "pump_air": "0 g/s"},
        {"find": "pump", "lambda_after": "1.25", "least_flow": "1.2 g/s"},
        {"find": "pump", "lambda_after": "1.1", "least_flow": "1.2 g/s"},
        {"find": "pump", "lambda_after": "1,14", "least_flow": "1.2 g/s"},
        {"find": "pump", "seen_as": "trim", "mixture": "1", "trim_before": "2.3 %"},
        {"find": "pump", "seen_as": "oxygen", "reading_error": "0.2 %", "least_flow": "5 kg/h"},
        {"find": "pump", "seen_as": "oxygen", "burns": "false", "oxygen_after": "3 %"},
        {"find": "pump", "seen_as": "oxygen", "oxygen_after": "0 %"},
    ),
)

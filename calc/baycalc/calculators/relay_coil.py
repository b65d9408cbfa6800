"""A relay's coil: its resistance at 20 °C, and whether it still pulls in hot and at low battery."""

import math

from baycalc.forms.declare import (
    Answer,
    Calculator,
    HandOver,
    Note,
    Quantity,
    Result,
    Source,
    Value,
)
from baycalc.forms.shared_inputs import band_inputs, band_limit, meter_inputs
from baycalc.measurement.decision import PASS, TOO_CLOSE, Gauge, Limit, Verdict, judge
from baycalc.physics.copper import TEMPERATURE_COEFFICIENT
from baycalc.physics.relays import coil_resistance_at, pull_in_voltage_at

_TWENTY = 293.15
_OPEN = 5.0
_SHORTED = 0.3
_OHM_BOUNDS = ("0.1 ohm", "10000 kohm")


def relay_coil(
    resistance: float,
    coil_temperature: float,
    temperature_error: float,
    resistance_low: float | None,
    resistance_high: float | None,
    supply: float,
    pull_in: float,
    pull_in_temperature: float,
    ambient: float,
    coil_rise: float,
    low_supply: float,
    meter_error: float,
    meter_step: float,
) -> Answer:
    """Bring a coil's resistance to 20 °C, judge it, and find its margin when it is hot.

    Parameters
    ----------
    resistance : float
        Resistance measured between 85 and 86 [ohm]
    coil_temperature : float
        Temperature of the coil when it was measured [K]
    temperature_error : float
        How far that temperature may be off [K]
    resistance_low : float
        Least resistance allowed at 20 °C, or ``None`` [ohm]
    resistance_high : float
        Greatest resistance allowed at 20 °C, or ``None`` [ohm]
    supply : float
        Voltage at the coil in operation [V]
    pull_in : float
        Greatest pull-in voltage of the data sheet [V]
    pull_in_temperature : float
        Temperature that it is stated for [K]
    ambient : float
        Hottest air at the relay [K]
    coil_rise : float
        How much warmer the coil gets by its own power [K]
    low_supply : float
        Lowest voltage at the coil at which it must still pull in [V]
    meter_error : float
        Greatest error of the ohmmeter as a share of the reading [-]
    meter_step : float
        Smallest step of the ohmmeter [ohm]

    Returns
    -------
    Answer
        Resistances in ohm, ``current`` in A, ``power`` in W, ``pull_in_hot`` and ``margin`` in V.

    Raises
    ------
    Refusal
        When the band of the resistance is upside down.
    """
    band = band_limit("resistance", resistance_low, resistance_high)
    at_20 = coil_resistance_at(resistance, coil_temperature, _TWENTY)
    meter = Gauge(of_reading=meter_error, resolution=meter_step).uncertainty(resistance)
    warm = temperature_error / math.sqrt(3) * TEMPERATURE_COEFFICIENT
    uncertainty = math.hypot(meter * at_20 / resistance, at_20 * warm)
    verdict = None if band is None else _judge_resistance(at_20, uncertainty, band)
    hot = ambient + coil_rise
    pull_in_hot = pull_in_voltage_at(pull_in, pull_in_temperature, hot)
    hot_resistance = coil_resistance_at(resistance, coil_temperature, hot)
    values: dict[str, Value] = {
        "resistance_20": at_20,
        "resistance_verdict": verdict,
        "finding": _finding(verdict),
        "current": supply / resistance,
        "power": supply**2 / resistance,
        "hot_resistance": hot_resistance,
        "hot_current": supply / hot_resistance,
        "pull_in_hot": pull_in_hot,
        "margin": low_supply - pull_in_hot,
        "pull_in_verdict": judge(
            low_supply,
            pull_in * warm,
            Limit(low=pull_in_hot),
            kind="voltage",
            advice="measure the voltage at the coil itself while the engine is cranked",
        ),
    }
    return Answer(values=values, notes=_notes(low_supply, pull_in_hot, supply))


def _judge_resistance(at_20: float, uncertainty: float, band: Limit) -> Verdict:
    return judge(
        at_20,
        uncertainty,
        band,
        kind="resistance",
        advice="let relay and workshop take the same temperature for an hour, measure that "
        "temperature, and use a better ohmmeter",
    )


def _finding(verdict: Verdict | None) -> str:
    if verdict is None:
        return "No band was given: hold the resistance at 20 °C against the data sheet."
    at_20, low, high = verdict.reading, verdict.limit.low, verdict.limit.high
    if high is not None and at_20 > _OPEN * high:
        return "The coil is open: a broken wire or lead, or a bad contact of the probes."
    if low is not None and at_20 < _SHORTED * low:
        return "The coil is shorted. It can have taken its driver with it: check that too."
    if verdict.outcome == TOO_CLOSE:
        return "The resistance lies too close to the edge of its band to call."
    if verdict.outcome == PASS:
        return "Nothing is wrong with the coil that its resistance would show."
    if low is not None and at_20 < low:
        return "Less resistance than allowed: shorted turns, or a part in parallel with the coil."
    return "More resistance than allowed: a bad joint inside, or another type of relay."


def _notes(low_supply: float, pull_in_hot: float, supply: float) -> tuple[Note, ...]:
    told = [
        Note(
            text="A resistor inside the relay lies in parallel and lowers the reading. With a "
            "diode inside, measure both ways round and take the higher reading."
        )
    ]
    if low_supply < pull_in_hot:
        told.append(
            Note(
                text="Hot and at this low voltage the relay may not pull in, though it is sound: "
                "look for the drop in its supply and in its driver first."
            )
        )
    if supply < pull_in_hot:
        told.append(Note(text="It would not even pull in at the ordinary voltage when hot."))
    return tuple(told)


def _volts(id: str, label: str, default: str, help: str) -> Quantity:
    return Quantity(
        id=id,
        label=label,
        kind="voltage",
        units=("V",),
        default=default,
        low="0.5 V",
        high="60 V",
        help=help,
    )


def _degrees(id: str, label: str, default: str, help: str = "") -> Quantity:
    return Quantity(
        id=id,
        label=label,
        kind="temperature",
        units=("°F", "°C"),
        default=default,
        low="-50 °C",
        high="180 °C",
        help=help,
    )


CALCULATOR = Calculator(
    id="relay_coil",
    title="Relay coil",
    summary="A coil's resistance at 20 °C held against its band, its current and power, and "
    "whether it still pulls in when hot and at a low battery.",
    job="Electrical",
    words=("coil resistance", "pull-in", "pick-up voltage", "relay clicks", "85", "86", "solenoid"),
    inputs=(
        Quantity(
            id="resistance",
            label="Resistance measured",
            kind="resistance",
            units=("ohm", "kohm"),
            default="88 ohm",
            low=_OHM_BOUNDS[0],
            high=_OHM_BOUNDS[1],
            help="Between 85 and 86, with the relay removed.",
        ),
        _degrees(
            "coil_temperature",
            "Temperature of the coil then",
            "25 °C",
            "The workshop's, when the relay lay there for an hour.",
        ),
        Quantity(
            id="temperature_error",
            label="This temperature may be off by",
            kind="temperature difference",
            units=("°F", "°C"),
            default="5 °F",
            low="0 °C",
            high="40 °C",
        ),
        *band_inputs(
            "resistance",
            "resistance at 20 °C",
            "resistance",
            ("ohm", "kohm"),
            ("75 ohm", "95 ohm"),
            _OHM_BOUNDS,
        ),
        _volts("supply", "Voltage at the coil", "13.5 V", "In operation, measured at 85 and 86."),
        _volts(
            "pull_in",
            "Greatest pull-in voltage",
            "7.2 V",
            "From the data sheet; 7.2 V at 23 °C is an example.",
        ),
        _degrees("pull_in_temperature", "Pull-in voltage stated at", "23 °C"),
        _degrees("ambient", "Hottest air at the relay", "85 °C"),
        Quantity(
            id="coil_rise",
            label="Coil warmer than that by",
            kind="temperature difference",
            units=("°F", "°C"),
            default="40 °C",
            low="0 °C",
            high="120 °C",
            help="By its own power, after it was on for a while; 40 °C is an example.",
        ),
        _volts(
            "low_supply",
            "Lowest voltage it must work at",
            "10.5 V",
            "At the coil, less what the driver keeps.",
        ),
        *meter_inputs("ohmmeter", "resistance", ("ohm",), "0.8 %", "0.1 ohm"),
    ),
    results=(
        Result(id="resistance_20", label="Resistance at 20 °C", kind="resistance", units=("ohm",)),
        Result(
            id="resistance_verdict",
            label="Resistance against its band",
            kind="verdict",
            units=("ohm",),
            digits=3,
        ),
        Result(id="finding", label="Finding", kind="text"),
        Result(id="current", label="Current", kind="current", units=("A",), digits=3),
        Result(id="power", label="Power", kind="power", units=("W",), digits=3),
        Result(
            id="hot_resistance", label="Resistance hot", kind="resistance", units=("ohm",), digits=3
        ),
        Result(id="hot_current", label="Current hot", kind="current", units=("A",), digits=3),
        Result(id="pull_in_hot", label="Pulls in hot from", kind="voltage", units=("V",), digits=3),
        Result(
            id="margin", label="Margin at the low voltage", kind="voltage", units=("V",), digits=3
        ),
        Result(
            id="pull_in_verdict",
            label="Low voltage against pull-in",
            kind="verdict",
            units=("V",),
            digits=3,
        ),
    ),
    compute=relay_coil,
    meaning="Copper gains 0.4 % of resistance for each degree, so compare resistances only at one "
    "temperature. A relay pulls in by its current: hot, the same current needs more voltage. That "
    "is why a relay that clicks on the bench may stay silent in a hot bay at a weak battery.",
    leaves_out="Pull-in depends on position and shaking too. A data sheet's pull-in voltage is "
    "the greatest of all samples; most relays pull in sooner. A coil that is kept by a reduced "
    "voltage (pulse width) is not treated.",
    sources=(
        Source(text="IEC 60028 (copper, 0.00393 per kelvin from 20 °C)"),
        Source(text="DIN 72552 (terminals 85, 86)"),
        Source(text="Relay data sheets: pick-up at most 7.2 V at 23 °C for a coil of 260 ohm"),
    ),
    hands_over=(
        HandOver(
            to="relay_exchange",
            label="Can another relay stand in for it",
            carries={"original_coil": "resistance", "supply": "supply", "ambient": "ambient"},
        ),
    ),
    examples=(
        {},
        {"resistance": "260 ohm", "resistance_low": "234 ohm", "resistance_high": "286 ohm"},
        {"resistance": "119", "resistance_low": "", "resistance_high": ""},
        {"resistance": "96.5 ohm", "coil_temperature": "104 °F", "temperature_error": "9 °F"},
        {"resistance": "50 ohm"},
        {"resistance": "4 ohm"},
        {"resistance": "2000 kohm"},
        {"resistance": "120 ohm"},
        {"low_supply": "6 V", "supply": "8 V", "ambient": "125 °C"},
        {
            "resistance": "330 ohm",
            "resistance_low": "300 ohm",
            "resistance_high": "360 ohm",
            "supply": "27 V",
            "pull_in": "14.4 V",
            "low_supply": "18 V",
        },
        {"low_supply": "9.95 V", "pull_in": "7.1 V"},
        {"resistance": "88 ohm", "resistance_low": ""},
    ),
)

"""The heater of an oxygen sensor: cold resistance, hot current, power, against their bands."""

import math

from baycalc.forms.declare import (
    Answer,
    Calculator,
    HandOver,
    Note,
    Quantity,
    Refusal,
    Result,
    Source,
    Value,
)
from baycalc.forms.shared_inputs import band_inputs, band_limit, meter_inputs
from baycalc.measurement.decision import FAIL, TOO_CLOSE, Gauge, Limit, Verdict, judge

_TWENTY = 293.15
_OPEN = 5.0
_SHORTED = 0.3
_NO_CURRENT = 0.05
_HEATING = 1.2
_OHM_BOUNDS = ("0.1 ohm", "10000 kohm")


def oxygen_heater(
    resistance: float | None,
    lead_resistance: float,
    sensor_temperature: float,
    temperature_error: float,
    coefficient: float,
    resistance_low: float | None,
    resistance_high: float | None,
    current: float | None,
    supply: float,
    pulse_share: float,
    current_low: float | None,
    current_high: float | None,
    meter_error: float,
    meter_step: float,
    clamp_error: float,
    clamp_step: float,
) -> Answer:
    """Judge a heater by its cold resistance and its hot current.

    Parameters
    ----------
    resistance : float
        Resistance measured at the sensor's own pins, connector open, or ``None`` [ohm]
    lead_resistance : float
        What the ohmmeter shows with its tips together [ohm]
    sensor_temperature : float
        Temperature of the sensor when it was measured [K]
    temperature_error : float
        How far that temperature may be off [K]
    coefficient : float
        Change of the resistance per kelvin from 20 °C [1/K]
    resistance_low : float
        Least resistance allowed at 20 °C, or ``None`` [ohm]
    resistance_high : float
        Greatest resistance allowed at 20 °C, or ``None`` [ohm]
    current : float
        Mean current with the heater hot, or ``None`` [A]
    supply : float
        Voltage at the connector while the heater is on [V]
    pulse_share : float
        Share of the time that the heater is switched on [-]
    current_low : float
        Least mean current allowed hot, or ``None`` [A]
    current_high : float
        Greatest mean current allowed hot, or ``None`` [A]
    meter_error : float
        Greatest error of the ohmmeter as a share of the reading [-]
    meter_step : float
        Smallest step of the ohmmeter [ohm]
    clamp_error : float
        Greatest error of the current meter as a share of the reading [-]
    clamp_step : float
        Smallest step of the current meter [A]

    Returns
    -------
    Answer
        Resistances in ohm, currents in A, ``power`` in W, verdicts, ``finding``.

    Raises
    ------
    Refusal
        When nothing was measured, a band is upside down, or the leads take the whole reading.
    """
    _refuse_impossible(resistance, lead_resistance, current)
    own = None if resistance is None else resistance - lead_resistance
    factor = 1 + coefficient * (sensor_temperature - _TWENTY)
    at_20 = None if own is None else own / factor
    resistance_verdict = _judge_resistance(
        at_20,
        _cold_uncertainty(
            Gauge(of_reading=meter_error, resolution=meter_step),
            resistance or 0.0,
            at_20 or 0.0,
            factor,
            coefficient * temperature_error,
        ),
        band_limit("resistance", resistance_low, resistance_high),
    )
    current_verdict = _judge_current(
        current,
        Gauge(of_reading=clamp_error, resolution=clamp_step),
        band_limit("current", current_low, current_high),
    )
    values: dict[str, Value] = {
        "finding": _finding(resistance_verdict, current_verdict),
        "resistance_20": at_20,
        "resistance_verdict": resistance_verdict,
        "inrush": None if own is None else supply / own,
        "current_verdict": current_verdict,
    }
    values |= _hot(current, supply, pulse_share, at_20)
    return Answer(values=values, notes=_notes(values))


def _refuse_impossible(
    resistance: float | None, lead_resistance: float, current: float | None
) -> None:
    if resistance is None and current is None:
        raise Refusal({"resistance": "Type a resistance, a current, or both."})
    if resistance is not None and resistance <= lead_resistance:
        raise Refusal(
            {
                "resistance": "The test leads alone take this reading: a shorted heater, or the "
                "leads were not read with their tips together."
            }
        )


def _cold_uncertainty(
    meter: Gauge, reading: float, at_20: float, factor: float, warm: float
) -> float:
    """Ohmmeter twice (reading and leads), and the temperature, by GUM [ohm]."""
    read = math.hypot(meter.uncertainty(reading), meter.step_uncertainty()) / factor
    return math.hypot(read, at_20 * warm / math.sqrt(3) / factor)


def _judge_resistance(
    at_20: float | None, uncertainty: float, band: Limit | None
) -> Verdict | None:
    if at_20 is None or band is None:
        return None
    return judge(
        at_20,
        uncertainty,
        band,
        kind="resistance",
        advice="let the sensor take the temperature of the workshop, measure that temperature, and "
        "use a finer range of the ohmmeter",
    )


def _judge_current(current: float | None, clamp: Gauge, band: Limit | None) -> Verdict | None:
    if current is None or band is None:
        return None
    return judge(
        current,
        clamp.uncertainty(current),
        band,
        kind="current",
        advice="wait until the current has settled, zero the clamp beside the lead, or put an "
        "ammeter in the line",
    )


def _hot(
    current: float | None, supply: float, pulse_share: float, at_20: float | None
) -> dict[str, Value]:
    if not current:
        return {}
    hot = supply * pulse_share / current
    return {
        "hot_resistance": hot,
        "hot_share": None if at_20 is None else hot / at_20,
        "power": supply * current,
    }


def _finding(resistance: Verdict | None, current: Verdict | None) -> str:
    cold = _cold_finding(resistance)
    hot = _hot_finding(current, bool(cold))
    if cold or hot:
        return " ".join(text for text in (cold, hot) if text)
    outcomes = [verdict.outcome for verdict in (resistance, current) if verdict]
    if not outcomes:
        return "No band was given: hold the figures against the vehicle's."
    if TOO_CLOSE in outcomes:
        return "A reading lies too close to the edge of its band to call."
    return "Nothing is wrong with the heater that these readings would show."


def _cold_finding(verdict: Verdict | None) -> str:
    if verdict is None or verdict.outcome != FAIL:
        return ""
    low, high = verdict.limit.low, verdict.limit.high
    if high is not None and verdict.reading > _OPEN * high:
        return "The heater is open."
    if low is not None and verdict.reading < _SHORTED * low:
        return "The heater is shorted: it can have blown its fuse or hurt its driver."
    if low is not None and verdict.reading < low:
        return "The heater has less resistance than allowed: part of it is shorted."
    return "The heater has more resistance than allowed: it ages, or a joint in it is bad."


def _hot_finding(verdict: Verdict | None, heater_is_bad: bool) -> str:
    if verdict is None or verdict.outcome != FAIL:
        return ""
    low, high = verdict.limit.low, verdict.limit.high
    if high is not None and verdict.reading > high:
        return "It takes more current than allowed: it is not hot yet, or partly shorted."
    if heater_is_bad:
        return "It takes too little current."
    if low is not None and verdict.reading < _NO_CURRENT * low:
        return (
            "No current flows: look for the fuse, the supply and the driver of the heater, and at "
            "the connector."
        )
    return "It takes too little current: a joint in feed or return holds voltage back."


def _notes(values: dict[str, Value]) -> tuple[Note, ...]:
    told = [
        Note(
            text="A sensor sits in hot exhaust: touching it burns. Let it cool before you unplug "
            "or measure it by hand.",
            signal="caution",
        )
    ]
    share = values.get("hot_share")
    if isinstance(share, float) and share < _HEATING:
        told.append(
            Note(
                text="Hot it has hardly more resistance than cold: it was not hot when the current "
                "was read, or a current of pulses was taken for a steady one."
            )
        )
    return tuple(told)


CALCULATOR = Calculator(
    id="oxygen_heater",
    title="Oxygen sensor heater",
    summary="The heater of an oxygen sensor by its cold resistance and its hot current, each held "
    "against its band; its power at the connector.",
    job="Electrical",
    words=("lambda sensor", "O2 sensor", "heater circuit", "P0135", "P0141", "ohm", "PTC"),
    inputs=(
        Quantity(
            id="resistance",
            label="Resistance cold",
            kind="resistance",
            units=("ohm", "kohm"),
            default="9.4 ohm",
            low=_OHM_BOUNDS[0],
            high=_OHM_BOUNDS[1],
            optional=True,
            help="At the sensor's own heater pins, connector open. May stay empty.",
        ),
        Quantity(
            id="lead_resistance",
            label="Test leads, tips together",
            kind="resistance",
            units=("ohm",),
            default="0.2 ohm",
            low="0 ohm",
            high="5 ohm",
        ),
        Quantity(
            id="sensor_temperature",
            label="Temperature of the sensor then",
            kind="temperature",
            units=("°F", "°C"),
            default="25 °C",
            low="-40 °C",
            high="100 °C",
        ),
        Quantity(
            id="temperature_error",
            label="This temperature may be off by",
            kind="temperature difference",
            units=("°F", "°C"),
            default="5 °C",
            low="0 °C",
            high="50 °C",
        ),
        Quantity(
            id="coefficient",
            label="Its resistance rises by",
            kind="temperature coefficient",
            units=("%/°F", "%/°C"),
            default="0.17 %/°F",
            low="0 %/°C",
            high="0.6 %/°C",
            help="From 20 °C (68 °F) on. 0.17 %/°F (0.3 %/°C) is an example; pure platinum has "
            "0.20 %/°F (0.36 %/°C).",
        ),
        *band_inputs(
            "resistance",
            "resistance at 20 °C",
            "resistance",
            ("ohm", "kohm"),
            ("7 ohm", "12 ohm"),
            _OHM_BOUNDS,
        ),
        Quantity(
            id="current",
            label="Mean current hot",
            kind="current",
            units=("A", "mA"),
            default="0.8 A",
            low="0 A",
            high="20 A",
            optional=True,
            help="After a few minutes. May stay empty.",
        ),
        Quantity(
            id="supply",
            label="Voltage at the connector",
            kind="voltage",
            units=("V",),
            default="13.2 V",
            low="4 V",
            high="60 V",
            help="Across both heater pins, plugged in and switched on.",
        ),
        Quantity(
            id="pulse_share",
            label="Switched on for",
            kind="ratio",
            units=("%",),
            default="100 %",
            low="1 %",
            high="100 %",
            help="Less than 100 % where the control unit pulses it.",
        ),
        *band_inputs(
            "current",
            "mean current hot",
            "current",
            ("A", "mA"),
            ("0.5 A", "1.5 A"),
            ("1 mA", "20 A"),
        ),
        *meter_inputs("ohmmeter", "resistance", ("ohm",), "0.8 %", "0.1 ohm"),
        *meter_inputs("current meter", "current", ("A",), "2 %", "0.01 A", name="clamp"),
    ),
    results=(
        Result(id="finding", label="Finding", kind="text"),
        Result(
            id="resistance_20",
            label="Resistance at 20 °C",
            kind="resistance",
            units=("ohm",),
            digits=3,
        ),
        Result(
            id="resistance_verdict",
            label="Resistance against its band",
            kind="verdict",
            units=("ohm",),
            digits=3,
        ),
        Result(
            id="inrush", label="Current in the first moment", kind="current", units=("A",), digits=3
        ),
        Result(
            id="current_verdict",
            label="Current against its band",
            kind="verdict",
            units=("A",),
            digits=3,
        ),
        Result(
            id="hot_resistance", label="Resistance hot", kind="resistance", units=("ohm",), digits=3
        ),
        Result(id="hot_share", label="Hot to cold (20 °C)", kind="ratio", units=("%",), digits=3),
        Result(id="power", label="Power at the connector", kind="power", units=("W",), digits=3),
    ),
    compute=oxygen_heater,
    meaning="A heater's metal gains resistance as it gets hot, so it takes a large current first "
    "and settles lower. A cold resistance in its band says that the heater is whole; a hot current "
    "in its band says that supply, ground and driver are too. Good resistance and no current point "
    "away from the sensor.",
    leaves_out="The bands are the vehicle's: heaters differ by a factor of three and more. "
    "Wide-band sensors have their heater pulsed hard and watched by the control unit; there the "
    "current says more than the resistance. A heater that is whole can still heat a dead sensor.",
    sources=(
        Source(text="Ohm's law; GUM (JCGM 100:2008) for the uncertainty"),
        Source(text="IEC 60751 (platinum: 107.79 ohm at 20 °C, 138.51 ohm at 100 °C)"),
        Source(text="Open above 5 times the band, no current below 5 % of it", standing="practice"),
    ),
    hands_over=(
        HandOver(
            to="voltage_drop",
            label="Drop in its feed and return",
            carries={"load": "current", "supply": "supply"},
        ),
        HandOver(
            to="fuse",
            label="Fuse for this heater",
            carries={"load": "current", "inrush": "inrush", "supply": "supply"},
            sets={"shape": "rectangle"},
        ),
    ),
    examples=(
        {},
        {"resistance": "2000 kohm", "current": "0"},
        {"resistance": "1.1 ohm", "current": ""},
        {"resistance": "9.4 ohm", "current": "0 A"},
        {"resistance": "6 ohm", "current": ""},
        {"resistance": "15 ohm", "current": "0.4 A"},
        {"resistance": "", "current": "900 mA"},
        {"resistance": "12.3", "sensor_temperature": "77 °F", "current": "0.7 A"},
        {"current": "1.9 A"},
        {
            "resistance": "3.5 ohm",
            "resistance_low": "2.5 ohm",
            "resistance_high": "4 ohm",
            "current": "1.2 A",
            "pulse_share": "60 %",
            "current_low": "",
            "current_high": "2 A",
        },
        {"resistance_low": "", "resistance_high": "", "current_low": "", "current_high": ""},
        {"resistance": "9.4 ohm", "current": "0.4 A"},
    ),
)

"""The heater of an oxygen sensor: cold resistance, hot current, power, against their bands."""

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
from baycalc.measurement.decision import FAIL, TOO_CLOSE, Verdict, judge
from baycalc.measurement.resistance import is_low, is_open, is_shorted
from baycalc.physics.constants import ROOM
from baycalc.quantities.kinds import (
    AMPERES,
    CURRENT,
    OHMS,
    PER_CENT,
    RESISTANCE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    VOLTS,
    WATTS,
    kind,
)

COEFFICIENT = kind("temperature coefficient", "%/°F", "%/°C")
_NO_CURRENT = 0.05
_HEATING = 1.2
_OHM_BOUNDS = "0.1 ohm to 10000 kohm"


@form
class Heater:
    """A heater measured cold and hot, and the bands for both."""

    resistance: float | None = quantity(
        "Resistance cold", RESISTANCE, "9.4 ohm", _OHM_BOUNDS, optional=True
    ).says("At the sensor's own heater pins, connector open. May stay empty.")
    lead_resistance: float = quantity(
        "Test leads, tips together", OHMS, "0.2 ohm", "0 ohm to 5 ohm"
    )
    sensor_temperature: float = quantity(
        "Temperature of the sensor then", TEMPERATURE, "25 °C", "-40 °C to 100 °C"
    )
    temperature_error: float = quantity(
        "This temperature may be off by", TEMPERATURE_DIFFERENCE, "5 °C", "0 °C to 50 °C"
    )
    coefficient: float = quantity(
        "Its resistance rises by", COEFFICIENT, "0.17 %/°F", "0 %/°C to 0.6 %/°C"
    ).says(
        "From 20 °C (68 °F) on. 0.17 %/°F (0.3 %/°C) is an example; pure platinum has "
        "0.20 %/°F (0.36 %/°C)."
    )
    resistance_band: FigureBand = band(
        "resistance", "resistance at 20 °C", RESISTANCE, ("7 ohm", "12 ohm"), _OHM_BOUNDS
    )
    current: float | None = quantity(
        "Mean current hot", CURRENT, "0.8 A", "0 A to 20 A", optional=True
    ).says("After a few minutes. May stay empty.")
    supply: float = quantity("Voltage at the connector", VOLTS, "13.2 V", "4 V to 60 V").says(
        "Across both heater pins, plugged in and switched on."
    )
    pulse_share: float = quantity("Switched on for", PER_CENT, "100 %", "1 % to 100 %").says(
        "Less than 100 % where the control unit pulses it."
    )
    current_band: FigureBand = band(
        "current", "mean current hot", CURRENT, ("0.5 A", "1.5 A"), "1 mA to 20 A"
    )
    meter: Meter = electric_meter("ohmmeter", OHMS, "0.8 %", "0.1 ohm")
    clamp: Meter = electric_meter("current meter", AMPERES, "2 %", "0.01 A", "clamp_{}")

    def own(self) -> float | None:
        """Return the resistance without the test leads, or ``None`` [ohm]."""
        return None if self.resistance is None else self.resistance - self.lead_resistance

    def warmth(self) -> float:
        """Return the resistance when it was measured over that at 20 °C [-]."""
        return 1 + self.coefficient * (self.sensor_temperature - ROOM)


def oxygen_heater(heater: Heater) -> Answer:
    """Judge a heater by its cold resistance and its hot current.

    Raises
    ------
    Refusal
        When nothing was measured, a band is upside down, or the leads take the whole reading.
    """
    _refuse_impossible(heater)
    own = heater.own()
    at_20 = None if own is None else own / heater.warmth()
    resistance_verdict = _judge_resistance(heater, at_20)
    current_verdict = _judge_current(heater)
    values: dict[str, Value] = {
        "finding": _finding(resistance_verdict, current_verdict),
        "resistance_20": at_20,
        "resistance_verdict": resistance_verdict,
        "inrush": None if own is None else heater.supply / own,
        "current_verdict": current_verdict,
    }
    if heater.current:
        hot = heater.supply * heater.pulse_share / heater.current
        values["hot_resistance"] = hot
        values["hot_share"] = None if at_20 is None else hot / at_20
        values["power"] = heater.supply * heater.current
    return Answer(values=values, notes=tuple(_notes(values.get("hot_share"))))


def _refuse_impossible(heater: Heater) -> None:
    own = heater.own()
    problem: str | bool = False
    if own is None and heater.current is None:
        problem = "Type a resistance, a current, or both."
    elif own is not None and own <= 0:
        problem = (
            "The test leads alone take this reading: a shorted heater, or the leads were not read "
            "with their tips together."
        )
    refuse(resistance=problem)


def _judge_resistance(heater: Heater, at_20: float | None) -> Verdict | None:
    """Hold the cold resistance against its band; ohmmeter twice, and the temperature, by GUM."""
    limit = heater.resistance_band.limit("resistance")
    if at_20 is None or limit is None:
        return None
    meter, warmth = heater.meter.gauge(), heater.warmth()
    read = math.hypot(meter.uncertainty(heater.resistance or 0.0), meter.step_uncertainty())
    warm = heater.coefficient * heater.temperature_error
    return judge(
        at_20,
        math.hypot(read / warmth, at_20 * warm / math.sqrt(3) / warmth),
        limit,
        kind=OHMS,
        advice="let the sensor take the temperature of the workshop, measure that temperature, and "
        "use a finer range of the ohmmeter",
    )


def _judge_current(heater: Heater) -> Verdict | None:
    limit = heater.current_band.limit("current")
    if heater.current is None or limit is None:
        return None
    return judge(
        heater.current,
        heater.clamp.gauge().uncertainty(heater.current),
        limit,
        kind=AMPERES,
        advice="wait until the current has settled, zero the clamp beside the lead, or put an "
        "ammeter in the line",
    )


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
    if is_open(verdict):
        return "The heater is open."
    if is_shorted(verdict):
        return "The heater is shorted: it can have blown its fuse or hurt its driver."
    if is_low(verdict):
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


def _notes(hot_share: Value) -> Iterator[Note | str]:
    yield Note(
        "A sensor sits in hot exhaust: touching it burns. Let it cool before you unplug "
        "or measure it by hand.",
        signal="caution",
    )
    if isinstance(hot_share, float) and hot_share < _HEATING:
        yield (
            "Hot it has hardly more resistance than cold: it was not hot when the current "
            "was read, or a current of pulses was taken for a steady one."
        )


RESULTS = (
    text("finding", "Finding"),
    result("resistance_20", "Resistance at 20 °C", OHMS, 3),
    verdict("resistance_verdict", "Resistance against its band", OHMS),
    result("inrush", "Current in the first moment", AMPERES, 3),
    verdict("current_verdict", "Current against its band", AMPERES),
    result("hot_resistance", "Resistance hot", OHMS, 3),
    result("hot_share", "Hot to cold (20 °C)", PER_CENT, 3),
    result("power", "Power at the connector", WATTS, 3),
)

CALCULATOR = Calculator(
    **taking(Heater, oxygen_heater),
    title="Oxygen sensor heater",
    summary="The heater of an oxygen sensor by its cold resistance and its hot current, each held "
    "against its band; its power at the connector.",
    job="Electrical",
    words=phrases("lambda sensor, O2 sensor, heater circuit, P0135, P0141, ohm, PTC"),
    results=RESULTS,
    meaning="A heater's metal gains resistance as it gets hot, so it takes a large current first "
    "and settles lower. A cold resistance in its band says that the heater is whole; a hot current "
    "in its band says that supply, ground and driver are too. Good resistance and no current point "
    "away from the sensor.",
    leaves_out="The bands are the vehicle's: heaters differ by a factor of three and more. "
    "Wide-band sensors have their heater pulsed hard and watched by the control unit; there the "
    "current says more than the resistance. A heater that is whole can still heat a dead sensor.",
    sources=published(
        "Ohm's law; GUM (JCGM 100:2008) for the uncertainty",
        "IEC 60751 (platinum: 107.79 ohm at 20 °C, 138.51 ohm at 100 °C)",
    )
    + practice("Open above 5 times the band, no current below 5 % of it"),
    hands_over=hand_over("voltage_drop", "Drop in its feed and return", "load=current supply")
    + hand_over("fuse", "Fuse for this heater", "load=current inrush supply", shape="rectangle"),
)

"""A relay's coil: its resistance at 20 °C, and whether it still pulls in hot and at low battery."""

import math
from collections.abc import Iterator
from typing import Any

from baycalc.forms.declare import Answer, Calculator
from baycalc.forms.form import (
    form,
    hand_over,
    phrases,
    published,
    quantity,
    result,
    taking,
    text,
    verdict,
)
from baycalc.forms.shared_inputs import FigureBand, Meter, band, electric_meter, relay_temperature
from baycalc.measurement.decision import PASS, TOO_CLOSE, Limit, Verdict, judge
from baycalc.measurement.resistance import is_low, is_open, is_shorted
from baycalc.physics.constants import ROOM
from baycalc.physics.copper import TEMPERATURE_COEFFICIENT
from baycalc.physics.relays import coil_resistance_at, pull_in_voltage_at
from baycalc.quantities.kinds import AMPERES, OHMS, RESISTANCE, TEMPERATURE_DIFFERENCE, VOLTS, WATTS

_OHM_BOUNDS = "0.1 ohm to 10000 kohm"


def _volts(label: str, default: str) -> Any:
    return quantity(label, VOLTS, default, "0.5 V to 60 V")


@form
class Coil:
    """A relay's coil as measured, and where it has to work."""

    resistance: float = quantity("Resistance measured", RESISTANCE, "88 ohm", _OHM_BOUNDS).says(
        "Between 85 and 86, with the relay removed."
    )
    coil_temperature: float = relay_temperature("Temperature of the coil then", "25 °C").says(
        "The workshop's, when the relay lay there for an hour."
    )
    temperature_error: float = quantity(
        "This temperature may be off by", TEMPERATURE_DIFFERENCE, "5 °F", "0 °C to 40 °C"
    )
    resistance_band: FigureBand = band(
        "resistance", "resistance at 20 °C", RESISTANCE, ("75 ohm", "95 ohm"), _OHM_BOUNDS
    )
    supply: float = _volts("Voltage at the coil", "13.5 V").says(
        "In operation, measured at 85 and 86."
    )
    pull_in: float = _volts("Greatest pull-in voltage", "7.2 V").says(
        "From the data sheet; 7.2 V at 23 °C is an example."
    )
    pull_in_temperature: float = relay_temperature("Pull-in voltage stated at", "23 °C")
    ambient: float = relay_temperature("Hottest air at the relay", "85 °C")
    coil_rise: float = quantity(
        "Coil warmer than that by", TEMPERATURE_DIFFERENCE, "40 °C", "0 °C to 120 °C"
    ).says("By its own power, after it was on for a while; 40 °C is an example.")
    low_supply: float = _volts("Lowest voltage it must work at", "10.5 V").says(
        "At the coil, less what the driver keeps."
    )
    meter: Meter = electric_meter("ohmmeter", OHMS, "0.8 %", "0.1 ohm")

    def warmth_error(self) -> float:
        """Return what the doubt about the temperature does to a resistance, as a share [-]."""
        return self.temperature_error / math.sqrt(3) * TEMPERATURE_COEFFICIENT


def relay_coil(coil: Coil) -> Answer:
    """Bring a coil's resistance to 20 °C, judge it, and find its margin when it is hot.

    Raises
    ------
    Refusal
        When the band of the resistance is upside down.
    """
    verdict = _judge_resistance(coil)
    hot = coil.ambient + coil.coil_rise
    pull_in_hot = pull_in_voltage_at(coil.pull_in, coil.pull_in_temperature, hot)
    return Answer(
        values={
            "resistance_20": _resistance_at(coil, ROOM),
            "resistance_verdict": verdict,
            "finding": _finding(verdict),
            "current": coil.supply / coil.resistance,
            "power": coil.supply**2 / coil.resistance,
            "hot_resistance": _resistance_at(coil, hot),
            "hot_current": coil.supply / _resistance_at(coil, hot),
            "pull_in_hot": pull_in_hot,
            "margin": coil.low_supply - pull_in_hot,
            "pull_in_verdict": judge(
                coil.low_supply,
                coil.pull_in * coil.warmth_error(),
                Limit(low=pull_in_hot),
                kind=VOLTS,
                advice="measure the voltage at the coil itself while the engine is cranked",
            ),
        },
        notes=tuple(_notes(coil, pull_in_hot)),
    )


def _resistance_at(coil: Coil, temperature: float) -> float:
    """Return the resistance of the coil at a temperature [ohm]."""
    return coil_resistance_at(coil.resistance, coil.coil_temperature, temperature)


def _judge_resistance(coil: Coil) -> Verdict | None:
    limit = coil.resistance_band.limit("resistance")
    if limit is None:
        return None
    at_20 = _resistance_at(coil, ROOM)
    meter = coil.meter.gauge().uncertainty(coil.resistance)
    return judge(
        at_20,
        math.hypot(meter * at_20 / coil.resistance, at_20 * coil.warmth_error()),
        limit,
        kind=OHMS,
        advice="let relay and workshop take the same temperature for an hour, measure that "
        "temperature, and use a better ohmmeter",
    )


def _finding(verdict: Verdict | None) -> str:
    if verdict is None:
        return "No band was given: hold the resistance at 20 °C against the data sheet."
    if is_open(verdict):
        return "The coil is open: a broken wire or lead, or a bad contact of the probes."
    if is_shorted(verdict):
        return "The coil is shorted. It can have taken its driver with it: check that too."
    if verdict.outcome == TOO_CLOSE:
        return "The resistance lies too close to the edge of its band to call."
    if verdict.outcome == PASS:
        return "Nothing is wrong with the coil that its resistance would show."
    if is_low(verdict):
        return "Less resistance than allowed: shorted turns, or a part in parallel with the coil."
    return "More resistance than allowed: a bad joint inside, or another type of relay."


def _notes(coil: Coil, pull_in_hot: float) -> Iterator[str]:
    yield (
        "A resistor inside the relay lies in parallel and lowers the reading. With a "
        "diode inside, measure both ways round and take the higher reading."
    )
    if coil.low_supply < pull_in_hot:
        yield (
            "Hot and at this low voltage the relay may not pull in, though it is sound: "
            "look for the drop in its supply and in its driver first."
        )
    if coil.supply < pull_in_hot:
        yield "It would not even pull in at the ordinary voltage when hot."


RESULTS = (
    result("resistance_20", "Resistance at 20 °C", OHMS),
    verdict("resistance_verdict", "Resistance against its band", OHMS),
    text("finding", "Finding"),
    result("current", "Current", AMPERES, 3),
    result("power", "Power", WATTS, 3),
    result("hot_resistance", "Resistance hot", OHMS, 3),
    result("hot_current", "Current hot", AMPERES, 3),
    result("pull_in_hot", "Pulls in hot from", VOLTS, 3),
    result("margin", "Margin at the low voltage", VOLTS, 3),
    verdict("pull_in_verdict", "Low voltage against pull-in", VOLTS),
)

CALCULATOR = Calculator(
    **taking(Coil, relay_coil),
    title="Relay coil",
    summary="A coil's resistance at 20 °C held against its band, its current and power, and "
    "whether it still pulls in when hot and at a low battery.",
    job="Electrical",
    words=phrases("coil resistance, pull-in, pick-up voltage, relay clicks, 85, 86, solenoid"),
    results=RESULTS,
    meaning="Copper gains 0.4 % of resistance for each degree, so compare resistances only at one "
    "temperature. A relay pulls in by its current: hot, the same current needs more voltage. That "
    "is why a relay that clicks on the bench may stay silent in a hot bay at a weak battery.",
    leaves_out="Pull-in depends on position and shaking too. A data sheet's pull-in voltage is "
    "the greatest of all samples; most relays pull in sooner. A coil that is kept by a reduced "
    "voltage (pulse width) is not treated.",
    sources=published(
        "IEC 60028 (copper, 0.00393 per kelvin from 20 °C)",
        "DIN 72552 (terminals 85, 86)",
        "Relay data sheets: pick-up at most 7.2 V at 23 °C for a coil of 260 ohm",
    ),
    hands_over=hand_over(
        "relay_exchange",
        "Can another relay stand in for it",
        "original_coil=resistance supply ambient",
    ),
)

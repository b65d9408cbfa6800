"""A pump's motor from its current: open, dragging, stalled, running free or good."""

from collections.abc import Iterator
from dataclasses import replace

from baycalc.forms.declare import Answer, Calculator, Note, Value, refuse
from baycalc.forms.form import (
    YES_IS_GOOD,
    choice,
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
    yes_or_no,
)
from baycalc.forms.shared_inputs import FigureBand, Meter, band, electric_meter
from baycalc.measurement.decision import FAIL, PASS, TOO_CLOSE, Verdict, judge
from baycalc.physics.fuses import pulse_integral
from baycalc.physics.motors import counter_voltage, heat, winding_resistance
from baycalc.quantities.kinds import AMPERES, CURRENT, MILLIOHMS, VOLTS, WATTS, kind

RUN_TIME = kind("time", "s", "ms", "min")
MELTING_INTEGRAL = kind("melting integral", "A2 s")
_OPEN_SHARE = 0.05
_STALL_SHARE = 0.8
_STALL_MULTIPLE = 3.0
_OTHER_VOLTAGE = 0.05

_SAYS = {
    "open": "Voltage is there and no current flows: the motor or its lead is open (brushes, "
    "winding, thermal switch). Check for continuity at the motor itself.",
    "stalled": "It takes the current of a motor that stands still: seized, or blocked by water, "
    "ice or rust. Switch off: the winding burns in seconds. Find how the water came in before "
    "another pump is fitted.",
    "dragging": "It takes more than allowed: a bearing or vane drags, water is inside, or the "
    "outlet is shut.",
    "running free": "It takes less than allowed: it moves no load. The hose is off or split, the "
    "impeller slips, or a joint in the feed holds voltage back.",
    "good": "The current lies inside the band: the motor is good.",
    "hose off": "It runs free with its hose off, as it should. The band holds with the hose on: "
    "fit it and measure again for a verdict.",
    "close": "The current lies so near the edge of the band that this meter cannot tell.",
    "unknown": "No band was given: hold the current against the vehicle's figures.",
}


@form
class Motor:
    """A motor as measured, and the figures of the vehicle."""

    supply: float = quantity("Voltage at the motor", VOLTS, "12.8 V", "4 V to 60 V").says(
        "Between both pins of its connector, with the motor switched on."
    )
    current: float = quantity("Steady current", CURRENT, "18 A", "0 A to 500 A").says(
        "After a few seconds of running."
    )
    hose: str = choice("Air hose at the outlet", {"on": "on", "off": "off"})
    current_band: FigureBand = band(
        "current", "current, hose on", CURRENT, ("12 A", "22 A"), "0.01 A to 500 A"
    )
    band_supply: float | None = quantity(
        "The band holds for", VOLTS, "13 V", "4 V to 60 V", optional=True
    ).says("May stay empty.")
    inrush: float = quantity("Inrush, peak", AMPERES, "60 A", "0 A to 1000 A").says(
        "Highest current as it starts from standstill; 0 where it was not measured."
    )
    inrush_time: float = quantity("Inrush lasts", RUN_TIME, "0.15 s", "1 ms to 1 h").says(
        "Until the current has settled."
    )
    stall_current: float | None = quantity(
        "Current at standstill", AMPERES, None, "0.1 A to 1000 A"
    ).says("From the vehicle's figures. Empty: the inrush is taken for it.")
    run_time: float = quantity("Runs in one go", RUN_TIME, "45 s", "1 ms to 1 h").says(
        "As heard or seen on the scan tool."
    )
    run_limit: float | None = quantity(
        "May run in one go", RUN_TIME, "90 s", "1 ms to 1 h", optional=True
    ).says("From the vehicle's figures; 90 s is an example. May stay empty.")
    meter: Meter = electric_meter("current meter", AMPERES, "2 %", "0.1 A")

    def verdict(self) -> Verdict | None:
        """Return the current against its band; with the hose off only against its upper end."""
        band = self.current_band.limit("current")
        if self.hose == "off" and band is not None:
            band = replace(self.current_band, low=None).limit("current")
        if band is None:
            return None
        return judge(
            self.current,
            self.meter.gauge().uncertainty(self.current),
            band,
            kind=AMPERES,
            advice="let it run warm at full voltage, zero the clamp beside the lead, and use a "
            "finer range or a meter of a smaller error",
        )

    def stall(self) -> float | None:
        """Return the current at standstill, from figures or from the inrush, or ``None`` [A]."""
        return self.stall_current if self.stall_current is not None else self.inrush or None

    def state(self, verdict: Verdict | None) -> str:
        """Name the state that the current shows."""
        least = self.current_band.low or 0.0
        if self.current <= max(verdict.guard if verdict else 0.0, _OPEN_SHARE * least):
            return "open"
        if self._is_stalled(verdict):
            return "stalled"
        if verdict is None:
            return "unknown"
        if verdict.outcome == TOO_CLOSE:
            return "close"
        if verdict.outcome == PASS:
            return "good" if self.hose == "on" else "hose off"
        return "running free" if self.current < least else "dragging"

    def _is_stalled(self, verdict: Verdict | None) -> bool:
        if (stall := self.stall()) is not None:
            return self.current >= _STALL_SHARE * stall
        high = verdict.limit.high if verdict else None
        return high is not None and self.current >= _STALL_MULTIPLE * high


def pump_motor(motor: Motor) -> Answer:
    """Judge a motor by its steady current and tell what its inrush shows.

    Raises
    ------
    Refusal
        When the band is upside down, or the inrush is below the steady current.
    """
    verdict = motor.verdict()
    refuse(
        inrush=0 < motor.inrush < motor.current
        and "The inrush is the peak at the start and cannot be less than the steady "
        "current; type 0 where it was not measured."
    )
    state = motor.state(verdict)
    values: dict[str, Value] = {
        "state": {"hose off": "running free", "close": TOO_CLOSE}.get(state, state),
        "finding": _SAYS[state],
        "current_verdict": verdict,
        "power": motor.supply * motor.current,
        "duty_ok": None if motor.run_limit is None else motor.run_time <= motor.run_limit,
    }
    if state != "open":
        values |= _inside(motor)
        values["inrush_integral"] = pulse_integral(motor.inrush, motor.inrush_time, "ramp") or None
    return Answer(values=values, notes=tuple(_notes(motor, state)))


def _inside(motor: Motor) -> dict[str, Value]:
    stall = motor.stall()
    if stall is None:
        return {}
    resistance = winding_resistance(motor.supply, stall)
    return {
        "winding": resistance,
        "counter_voltage": max(0.0, counter_voltage(motor.supply, motor.current, resistance)),
        "winding_heat": heat(motor.current, resistance),
    }


def _notes(motor: Motor, state: str) -> Iterator[Note | str]:
    band_supply, limit = motor.band_supply, motor.run_limit
    if band_supply is not None and abs(motor.supply / band_supply - 1) > _OTHER_VOLTAGE:
        yield (
            f"The band holds for {VOLTS.written(band_supply)}: measure again "
            "with a charged battery, or at a charger that keeps this voltage."
        )
    if limit is not None and motor.run_time > limit:
        yield Note(
            "It runs longer than it may: the motor overheats and its plastic melts. "
            "Let it cool, and find out why it is not switched off (relay stuck, control).",
            signal="caution",
        )
    if state in ("stalled", "dragging"):
        yield (
            "The fuse, the relay and the connector carried this current too: check them "
            "for heat before and after a new pump is fitted."
        )
    if state == "stalled":
        yield Note(
            "A stalled motor gets hot enough to burn skin and to set light to oily dirt. "
            "Switch it off now, and let it cool before you touch it.",
            signal="warning",
        )


RESULTS = (
    text("state", "State").concludes(dict.fromkeys(("open", "stalled", "dragging"), FAIL)),
    text("finding", "Finding"),
    verdict("current_verdict", "Current against its band", AMPERES),
    result("power", "Power taken", WATTS, 3),
    result("winding", "Winding and brushes", MILLIOHMS, 3),
    result("counter_voltage", "Counter voltage of the turning motor", VOLTS, 3),
    result("winding_heat", "Heat in it", WATTS, 3),
    result("inrush_integral", "Inrush that fuse and relay see", MELTING_INTEGRAL, 3),
    yes_or_no("duty_ok", "Runs no longer than it may").concludes(YES_IS_GOOD),
)

CALCULATOR = Calculator(
    **taking(Motor, pump_motor),
    title="Pump motor",
    summary="What a pump's current says: open, dragging, stalled, running free or good; its power, "
    "its winding, and what fuse and relay see.",
    job="Electrical",
    words=phrases("air pump, secondary air, clamp meter, amps, seized, noisy pump, blower"),
    results=RESULTS,
    meaning="The current tells the motor's load. At standstill only the winding holds the current "
    "back; the faster it turns, the more it pushes against its supply and the less it takes. So a "
    "motor that drags takes more, one that moves no air takes less, and one that stands takes as "
    "much as at the first instant of a start.",
    leaves_out="The band is the vehicle's: there is no common figure for pump currents. A "
    "blower of the fan type takes more with its hose off, not less: then read the band's edges the "
    "other way. A clamp that is too slow shows less than the true inrush, and the winding then "
    "looks larger than it is.",
    sources=published(
        "Ohm's law and the counter voltage of a motor (OpenStax College Physics, 23.6)",
        "A fuse maker's selection guide (ramp: peak squared times time over three)",
    )
    + practice("Open below 5 % of the band, stalled above 80 % of the current at standstill"),
    hands_over=hand_over(
        "fuse",
        "Fuse for this motor",
        "load=current inrush inrush_time supply",
        shape="ramp",
        duty="short",
    )
    + hand_over("relay_exchange", "Relay for this motor", "load=current inrush")
    + hand_over("voltage_drop", "Drop in its feed and return", "load=current"),
)

"""A pump's motor from its current: open, dragging, stalled, running free or good."""

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
    Source,
    Value,
)
from baycalc.forms.shared_inputs import band_inputs, band_limit, meter_inputs
from baycalc.measurement.decision import PASS, TOO_CLOSE, Gauge, Limit, Verdict, judge
from baycalc.physics.fuses import pulse_integral
from baycalc.physics.motors import counter_voltage, heat, winding_resistance
from baycalc.quantities.units import written

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


@dataclass(frozen=True, slots=True)
class _Motor:
    """The motor as measured."""

    supply: float
    current: float
    stall_current: float | None
    verdict: Verdict | None
    hose: str
    least: float

    def state(self) -> str:
        """Name the state that the current shows."""
        if self._is_open():
            return "open"
        if self._is_stalled():
            return "stalled"
        if self.verdict is None:
            return "unknown"
        if self.verdict.outcome == TOO_CLOSE:
            return "close"
        if self.verdict.outcome == PASS:
            return "good" if self.hose == "on" else "hose off"
        return "running free" if self.current < self.least else "dragging"

    def _is_open(self) -> bool:
        guard = self.verdict.guard if self.verdict else 0.0
        return self.current <= max(guard, _OPEN_SHARE * self.least)

    def _is_stalled(self) -> bool:
        if self.stall_current is not None:
            return self.current >= _STALL_SHARE * self.stall_current
        high = self.verdict.limit.high if self.verdict else None
        return high is not None and self.current >= _STALL_MULTIPLE * high


def pump_motor(
    supply: float,
    current: float,
    hose: str,
    current_low: float | None,
    current_high: float | None,
    band_supply: float | None,
    inrush: float,
    inrush_time: float,
    stall_current: float | None,
    run_time: float,
    run_limit: float | None,
    meter_error: float,
    meter_step: float,
) -> Answer:
    """Judge a motor by its steady current and tell what its inrush shows.

    Parameters
    ----------
    supply : float
        Voltage at the motor's connector while it is switched on [V]
    current : float
        Steady current [A]
    hose : str
        ``on`` or ``off``: the air hose at the outlet [-]
    current_low : float
        Least current allowed with the hose on, or ``None`` [A]
    current_high : float
        Greatest current allowed with the hose on, or ``None`` [A]
    band_supply : float
        Voltage that the band is stated for, or ``None`` [V]
    inrush : float
        Peak of the current at the start; 0 where it was not measured [A]
    inrush_time : float
        How long the inrush lasts [s]
    stall_current : float
        Current at standstill from the vehicle's figures, or ``None`` [A]
    run_time : float
        How long it runs in one go [s]
    run_limit : float
        How long it may run in one go, or ``None`` [s]
    meter_error : float
        Greatest error of the current meter as a share of the reading [-]
    meter_step : float
        Smallest step of the current meter [A]

    Returns
    -------
    Answer
        ``state``, ``finding``, ``current_verdict``, powers in W, ``winding`` in ohm.

    Raises
    ------
    Refusal
        When the band is upside down, or the inrush is below the steady current.
    """
    band = band_limit("current", current_low, current_high)
    if 0 < inrush < current:
        raise Refusal(
            {
                "inrush": "The inrush is the peak at the start and cannot be less than the steady "
                "current; type 0 where it was not measured."
            }
        )
    gauge = Gauge(of_reading=meter_error, resolution=meter_step)
    if hose == "off" and band is not None:
        band = band_limit("current", None, current_high)
    verdict = None if band is None else _judge_current(current, gauge, band)
    stall = stall_current if stall_current is not None else (inrush or None)
    motor = _Motor(
        supply=supply,
        current=current,
        stall_current=stall,
        verdict=verdict,
        hose=hose,
        least=current_low or 0.0,
    )
    state = motor.state()
    values: dict[str, Value] = {
        "state": {"hose off": "running free", "close": TOO_CLOSE}.get(state, state),
        "finding": _SAYS[state],
        "current_verdict": verdict,
        "power": supply * current,
        "duty_ok": None if run_limit is None else run_time <= run_limit,
    }
    if state != "open":
        values |= _inside(motor)
        values["inrush_integral"] = pulse_integral(inrush, inrush_time, "ramp") or None
    return Answer(values=values, notes=_notes(motor, band_supply, run_time, run_limit, state))


def _judge_current(current: float, gauge: Gauge, band: Limit) -> Verdict:
    return judge(
        current,
        gauge.uncertainty(current),
        band,
        kind="current",
        advice="let it run warm at full voltage, zero the clamp beside the lead, and use a finer "
        "range or a meter of a smaller error",
    )


def _inside(motor: _Motor) -> dict[str, Value]:
    if motor.stall_current is None:
        return {}
    resistance = winding_resistance(motor.supply, motor.stall_current)
    return {
        "winding": resistance,
        "counter_voltage": max(0.0, counter_voltage(motor.supply, motor.current, resistance)),
        "winding_heat": heat(motor.current, resistance),
    }


def _notes(
    motor: _Motor, band_supply: float | None, run_time: float, run_limit: float | None, state: str
) -> tuple[Note, ...]:
    told = []
    if band_supply is not None and abs(motor.supply / band_supply - 1) > _OTHER_VOLTAGE:
        told.append(
            Note(
                text=f"The band holds for {written('voltage', band_supply, 'V')}: measure again "
                "with a charged battery, or at a charger that keeps this voltage."
            )
        )
    if run_limit is not None and run_time > run_limit:
        told.append(
            Note(
                text="It runs longer than it may: the motor overheats and its plastic melts. "
                "Let it cool, and find out why it is not switched off (relay stuck, control).",
                signal="caution",
            )
        )
    if state in ("stalled", "dragging"):
        told.append(
            Note(
                text="The fuse, the relay and the connector carried this current too: check them "
                "for heat before and after a new pump is fitted."
            )
        )
    if state == "stalled":
        told.append(
            Note(
                text="A stalled motor gets hot enough to burn skin and to set light to oily dirt. "
                "Switch it off now, and let it cool before you touch it.",
                signal="warning",
            )
        )
    return tuple(told)


def _optional_current(id: str, label: str, help: str) -> Quantity:
    return Quantity(
        id=id,
        label=label,
        kind="current",
        units=("A",),
        default=None,
        low="0.1 A",
        high="1000 A",
        help=help,
    )


def _seconds(id: str, label: str, default: str, help: str, optional: bool = False) -> Quantity:
    return Quantity(
        id=id,
        label=label,
        kind="time",
        units=("s", "ms", "min"),
        default=default,
        low="1 ms",
        high="1 h",
        optional=optional,
        help=help,
    )


CALCULATOR = Calculator(
    id="pump_motor",
    title="Pump motor",
    summary="What a pump's current says: open, dragging, stalled, running free or good; its power, "
    "its winding, and what fuse and relay see.",
    job="Electrical",
    words=("air pump", "secondary air", "clamp meter", "amps", "seized", "noisy pump", "blower"),
    inputs=(
        Quantity(
            id="supply",
            label="Voltage at the motor",
            kind="voltage",
            units=("V",),
            default="12.8 V",
            low="4 V",
            high="60 V",
            help="Between both pins of its connector, with the motor switched on.",
        ),
        Quantity(
            id="current",
            label="Steady current",
            kind="current",
            units=("A", "mA"),
            default="18 A",
            low="0 A",
            high="500 A",
            help="After a few seconds of running.",
        ),
        Choice(
            id="hose",
            label="Air hose at the outlet",
            options=(Option(value="on", label="on"), Option(value="off", label="off")),
            default="on",
        ),
        *band_inputs(
            "current",
            "current, hose on",
            "current",
            ("A", "mA"),
            ("12 A", "22 A"),
            ("0.01 A", "500 A"),
        ),
        Quantity(
            id="band_supply",
            label="The band holds for",
            kind="voltage",
            units=("V",),
            default="13 V",
            low="4 V",
            high="60 V",
            optional=True,
            help="May stay empty.",
        ),
        Quantity(
            id="inrush",
            label="Inrush, peak",
            kind="current",
            units=("A",),
            default="60 A",
            low="0 A",
            high="1000 A",
            help="Highest current as it starts from standstill; 0 where it was not measured.",
        ),
        _seconds("inrush_time", "Inrush lasts", "0.15 s", "Until the current has settled."),
        _optional_current(
            "stall_current",
            "Current at standstill",
            "From the vehicle's figures. Empty: the inrush is taken for it.",
        ),
        _seconds("run_time", "Runs in one go", "45 s", "As heard or seen on the scan tool."),
        _seconds(
            "run_limit",
            "May run in one go",
            "90 s",
            "From the vehicle's figures; 90 s is an example. May stay empty.",
            optional=True,
        ),
        *meter_inputs("current meter", "current", ("A",), "2 %", "0.1 A"),
    ),
    results=(
        Result(id="state", label="State", kind="text"),
        Result(id="finding", label="Finding", kind="text"),
        Result(
            id="current_verdict",
            label="Current against its band",
            kind="verdict",
            units=("A",),
            digits=3,
        ),
        Result(id="power", label="Power taken", kind="power", units=("W",), digits=3),
        Result(
            id="winding",
            label="Winding and brushes",
            kind="resistance",
            units=("mohm",),
            digits=3,
        ),
        Result(
            id="counter_voltage",
            label="Counter voltage of the turning motor",
            kind="voltage",
            units=("V",),
            digits=3,
        ),
        Result(id="winding_heat", label="Heat in it", kind="power", units=("W",), digits=3),
        Result(
            id="inrush_integral",
            label="Inrush that fuse and relay see",
            kind="melting integral",
            units=("A2 s",),
            digits=3,
        ),
        Result(id="duty_ok", label="Runs no longer than it may", kind="flag"),
    ),
    compute=pump_motor,
    meaning="The current tells the motor's load. At standstill only the winding holds the current "
    "back; the faster it turns, the more it pushes against its supply and the less it takes. So a "
    "motor that drags takes more, one that moves no air takes less, and one that stands takes as "
    "much as at the first instant of a start.",
    leaves_out="The band is the vehicle's: there is no common figure for pump currents. A "
    "blower of the fan type takes more with its hose off, not less: then read the band's edges the "
    "other way. A clamp that is too slow shows less than the true inrush, and the winding then "
    "looks larger than it is.",
    sources=(
        Source(
            text="Ohm's law and the counter voltage of a motor (OpenStax College Physics, 23.6)"
        ),
        Source(text="A fuse maker's selection guide (ramp: peak squared times time over three)"),
        Source(
            text="Open below 5 % of the band, stalled above 80 % of the current at standstill",
            standing="practice",
        ),
    ),
    hands_over=(
        HandOver(
            to="fuse",
            label="Fuse for this motor",
            carries={
                "load": "current",
                "inrush": "inrush",
                "inrush_time": "inrush_time",
                "supply": "supply",
            },
            sets={"shape": "ramp", "duty": "short"},
        ),
        HandOver(
            to="relay_exchange",
            label="Relay for this motor",
            carries={"load": "current", "inrush": "inrush"},
        ),
        HandOver(
            to="voltage_drop",
            label="Drop in its feed and return",
            carries={"load": "current"},
        ),
    ),
    examples=(
        {},
        {"current": "0 A"},
        {"current": "0.3 A"},
        {"current": "28 A"},
        {"current": "55 A"},
        {"current": "8 A"},
        {"current": "8 A", "hose": "off"},
        {"current": "22 A"},
        {"current": "70 A", "inrush": "0"},
        {"current": "58 A", "inrush": "0", "stall_current": "65 A"},
        {"current_low": "", "current_high": "", "inrush": "0"},
        {"run_time": "4 min"},
        {"supply": "11.2 V", "run_limit": ""},
        {
            "current": "9500 mA",
            "current_low": "5 A",
            "current_high": "12 A",
            "inrush": "40 A",
            "inrush_time": "120 ms",
            "band_supply": "",
        },
    ),
)

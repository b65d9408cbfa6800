"""A hold test: how tight a diaphragm, valve or hose is, from the fall of a vacuum."""

import math

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
)
from baycalc.forms.shared_inputs import (
    PLACE,
    air_here,
    air_pressure,
    barometer_inputs,
    gauge_inputs,
    gauge_of,
)
from baycalc.measurement.decay_test import Hold
from baycalc.physics.decay import decay_curve, hole_area
from baycalc.physics.gas import REFERENCES, at_first_temperature, volume_flow_at
from baycalc.physics.orifice import circle_area, circle_diameter, is_choked
from baycalc.plot import Axis, Plot
from baycalc.quantities.units import duration, installed, written

_UNITS = ("inHg", "kPa")
_PRESSURES = ("inHg", "kPa", "mmHg", "mbar", "psi")
_LEAKS = ("Pa L/s", "mbar L/s")
_SMALLEST_HOLE = 20e-6


def vacuum_hold(
    start: float,
    end: float,
    time: float,
    barometer_from: str,
    altitude: float,
    barometer: float,
    limit_by: str,
    allowed_drop: float,
    allowed_time: float,
    allowed_leak: float,
    volume_from: str,
    volume: float,
    hose_bore: float,
    hose_length: float,
    actuator_volume: float,
    volume_uncertainty: float,
    gauge_span: float,
    gauge_grade: str,
    gauge_resolution: float,
    temperature: float,
    temperature_drift: float,
    drift_uncertainty: float,
    reference: str,
) -> Answer:
    """Judge a hold test and say how large the leak and its hole are.

    Parameters
    ----------
    start : float
        Vacuum at the start [Pa]
    end : float
        Vacuum at the end [Pa]
    time : float
        Time between [s]
    barometer_from : str
        ``altitude`` or ``measured`` [-]
    altitude : float
        Altitude above sea level, used with ``altitude`` [m]
    barometer : float
        Pressure of the air around, used with ``measured`` [Pa]
    limit_by : str
        ``drop`` or ``leak`` [-]
    allowed_drop : float
        Greatest fall of the vacuum in the allowed time, used with ``drop`` [Pa]
    allowed_time : float
        Time of that fall, used with ``drop`` [s]
    allowed_leak : float
        Greatest leak, used with ``leak`` [Pa m3/s]
    volume_from : str
        ``hose`` or ``given`` [-]
    volume : float
        Volume under vacuum, used with ``given`` [m3]
    hose_bore : float
        Inner diameter of the hose, used with ``hose`` [m]
    hose_length : float
        Length of the hose, used with ``hose`` [m]
    actuator_volume : float
        Volume of the chamber at its end, used with ``hose`` [m3]
    volume_uncertainty : float
        How far the volume may be off, as a share of it [-]
    gauge_span : float
        Length of the scale [Pa]
    gauge_grade : str
        Accuracy grade, or ``none`` [-]
    gauge_resolution : float
        Smallest step that can be read [Pa]
    temperature : float
        Temperature of the air and of the part at the start [K]
    temperature_drift : float
        How much warmer the part is at the end [K]
    drift_uncertainty : float
        How far the drift may be off [K]
    reference : str
        Temperature that the volume flow is stated at, ``20C`` or ``0C`` [-]

    Returns
    -------
    Answer
        Drop, rate, leak, hole, verdict, and what this gauge can show in this time.

    Raises
    ------
    Refusal
        When a vacuum is deeper than the air pressure, or there is no volume.

    Notes
    -----
    ``Q = V dp/dt`` at one temperature; the hole from the whole decay, so that it is right
    whether the flow in it is choked or not. The volume enters the hole and the leak only.
    """
    air = air_pressure(barometer_from, altitude, barometer)
    if volume_from == "hose":
        volume = circle_area(hose_bore) * hose_length + actuator_volume
    _refuse(start, end, air, volume, allowed_drop if limit_by == "drop" else None)
    later = at_first_temperature(air - end, temperature, temperature + temperature_drift)
    drop = later - (air - start)
    leak = volume * drop / time
    scale, limit = (allowed_time, allowed_drop) if limit_by == "drop" else (volume, allowed_leak)
    hold = Hold(
        first=start,
        rate=drop / time,
        time=time,
        gauge=gauge_of(gauge_span, gauge_grade, gauge_resolution),
        limit=limit,
        scale=scale,
        disturbance=(air - end) / temperature * drift_uncertainty / math.sqrt(3),
        relative=volume_uncertainty / math.sqrt(3) if limit_by == "leak" else 0.0,
    )
    area = _area(volume, time, air - start, later, air, temperature)
    kind, units = ("pressure", _UNITS) if limit_by == "drop" else ("leak rate", _LEAKS)
    smallest = hold.smallest_rate()
    return Answer(
        values={
            "drop": start - end,
            "temperature_drop": start - end - drop if temperature_drift else None,
            "drop_rate": drop / time,
            "drop_uncertainty": hold.drop_uncertainty(),
            "volume_held": volume,
            "leak": leak,
            "leak_volume_flow": volume_flow_at(leak, temperature, REFERENCES[reference])
            if leak > 0
            else None,
            "hole": circle_diameter(area) if area else None,
            "regime": _regime(air - start, later, air) if area else None,
            "verdict": hold.verdict(kind, units, _UNITS),
            "smallest_leak": None if smallest is None else volume * smallest,
            "hold_time": hold.needed_time(),
            "mean_vacuum": (start + end) / 2,
        },
        notes=tuple(_notes(hold, drop, end, area)),
        drawing=_draw(hold, end, volume, area, air, temperature),
    )


def _refuse(
    start: float, end: float, air: float, volume: float, allowed_drop: float | None
) -> None:
    problems = {}
    for name, reading in (("start", start), ("end", end)):
        if reading >= air:
            problems[name] = f"No vacuum can be as deep as {air_here(air)}."
    if volume <= 0:
        problems["actuator_volume"] = "The hose and the chamber together have no volume."
    if allowed_drop is not None and allowed_drop > start:
        problems["allowed_drop"] = "More than the vacuum at the start cannot be lost."
    if problems:
        raise Refusal(problems)


def _area(
    volume: float, time: float, first: float, later: float, air: float, temperature: float
) -> float:
    """Return the area of the hole, zero where the pressure did not rise."""
    if later <= first:
        return 0.0
    return hole_area(volume, time, first, min(later, air), air, temperature)


def _regime(first: float, later: float, air: float) -> str:
    if is_choked(air, later):
        return "choked: the air passes the hole at the speed of sound"
    if is_choked(air, first):
        return "choked at first, then slower than sound"
    return "slower than sound"


def _notes(hold: Hold, drop: float, end: float, area: float) -> list[Note]:
    found = []
    if drop < 0:
        found.append(
            "The vacuum rose. A part that cools does that, or a gauge that sticks: tap the "
            "gauge, wait until nothing changes, and start again."
        )
    elif drop < 2 * hold.drop_uncertainty():
        found.append(
            "This gauge cannot tell the fall from none in this time; the leak and the hole are "
            "the most likely values, not proven ones."
        )
    if end == 0:
        found.append(
            "All the vacuum is gone, so the leak is at least this large. Read again after a "
            "shorter time."
        )
    if 0 < circle_diameter(area) < _SMALLEST_HOLE:
        found.append(
            "A hole so small is rather a pore or the rubber itself; the diameter is only a measure."
        )
    return [Note(text=text) for text in found]


def _draw(
    hold: Hold, end: float, volume: float, area: float, air: float, temperature: float
) -> str:
    """Draw the vacuum against time: expected, what the gauge may show, and the limit."""
    to_gauge = installed().unit("pressure", _UNITS[0]).from_si
    kilopascals = installed().unit("pressure", _UNITS[1]).from_si(1) / to_gauge(1)
    until = 1.2 * hold.time
    still = [(until * step / 24, air - hold.first) for step in range(25)]
    decay = decay_curve(volume, area, air - hold.first, air, temperature, until) if area else still
    lost = [(moment, pressure - (air - hold.first)) for moment, pressure in decay]
    at_both = hold.gauge.difference_uncertainty
    guards = [2 * at_both(hold.first, hold.first - fall) for _, fall in lost]
    allowed = hold.limit / hold.scale
    deepest = max(fall + guard for (_, fall), guard in zip(lost, guards, strict=True))
    low = hold.first - 1.3 * max(deepest, allowed * hold.time, hold.first - end)
    high = hold.first + 2 * max(guards) + 0.05 * (hold.first - low)
    plot = Plot(
        "Vacuum against time",
        _describe(hold, end, allowed),
        Axis("Time", 0, until, unit="s"),
        Axis(
            "Vacuum",
            max(0.0, to_gauge(low)),
            to_gauge(high),
            unit=_UNITS[0],
            also=(_UNITS[1], kilopascals),
        ),
    )
    seen = [(moment, to_gauge(hold.first - fall)) for moment, fall in lost]
    spread = [to_gauge(guard) for guard in guards]
    plot.band(
        [(moment, vacuum - wide) for (moment, vacuum), wide in zip(seen, spread, strict=True)],
        [(moment, vacuum + wide) for (moment, vacuum), wide in zip(seen, spread, strict=True)],
        "what the gauge may show (k = 2)",
    )
    plot.curve(seen, "vacuum with this leak")
    plot.limit(
        points=[(0, to_gauge(hold.first)), (until, to_gauge(hold.first - allowed * until))],
        label="least vacuum allowed",
    )
    without = hold.first - hold.rate * hold.time
    drifted = abs(without - end) > 1
    plot.mark(hold.time, to_gauge(without), "end, without drift" if drifted else "end")
    return plot.svg()


def _describe(hold: Hold, end: float, allowed: float) -> str:
    return (
        f"The vacuum goes from {written('pressure', hold.first, *_UNITS)} to "
        f"{written('pressure', end, *_UNITS)} in {duration(hold.time)}; at the limit it would go "
        f"to {written('pressure', max(0.0, hold.first - allowed * hold.time), *_UNITS)}."
    )


CALCULATOR = Calculator(
    id="vacuum_hold",
    title="Vacuum hold test",
    summary="From a vacuum that falls: does the part hold, how large is the leak, and how long "
    "must you wait to be sure.",
    job="Vacuum and pressure",
    words=(
        "slow leak",
        "vacuum decay",
        "leak down",
        "hand vacuum pump",
        "diaphragm",
        "inches of mercury",
        "hold vacuum",
    ),
    inputs=(
        Quantity(
            id="start",
            label="Vacuum at the start",
            kind="pressure",
            units=_PRESSURES,
            default="20 inHg",
            low="1 Pa",
            high="110 kPa",
            help="Read it once the needle has come to rest, without a minus sign.",
        ),
        Quantity(
            id="end",
            label="Vacuum at the end",
            kind="pressure",
            units=_PRESSURES,
            default="19.5 inHg",
            low="0 Pa",
            high="110 kPa",
            help="Read it on the same gauge, with the pump still connected and at rest.",
        ),
        Quantity(
            id="time",
            label="Time between",
            kind="time",
            units=("s", "min", "h"),
            default="60 s",
            low="1 s",
            high="1 d",
            help="By a stopwatch; half a second either way is counted for the hand.",
        ),
        *barometer_inputs(),
        Choice(
            id="limit_by",
            label="Limit",
            options=(
                Option(value="drop", label="greatest fall in a time"),
                Option(value="leak", label="greatest leak"),
            ),
            default="drop",
            help="As the maker's manual or the procedure states it.",
        ),
        Quantity(
            id="allowed_drop",
            label="Allowed fall",
            kind="pressure",
            units=_PRESSURES,
            default="1 inHg",
            low="1 Pa",
            high="110 kPa",
            help="For “no visible fall” type the smallest step that can be seen on the dial.",
            shown=Shown(choice="limit_by", values=("drop",)),
        ),
        Quantity(
            id="allowed_time",
            label="In a time of",
            kind="time",
            units=("s", "min", "h"),
            default="60 s",
            low="1 s",
            high="1 d",
            help="The measured fall is scaled to this time.",
            shown=Shown(choice="limit_by", values=("drop",)),
        ),
        Quantity(
            id="allowed_leak",
            label="Allowed leak",
            kind="leak rate",
            units=("Pa L/s", "mbar L/s", "inHg in3/min", "Pa m3/s"),
            default="1 Pa L/s",
            low="1e-6 Pa L/s",
            high="1e6 Pa L/s",
            help="Pressure times volume per time; 1 Pa L/s is about 0.6 cm3/min of outside air.",
            shown=Shown(choice="limit_by", values=("leak",)),
        ),
        Choice(
            id="volume_from",
            label="Volume under vacuum",
            options=(
                Option(value="hose", label="from the hose and the chamber"),
                Option(value="given", label="known"),
            ),
            default="hose",
            help="It turns the fall into a leak; the verdict on a fall does not need it.",
        ),
        Quantity(
            id="volume",
            label="Volume",
            kind="volume",
            units=("in3", "mL", "cm3", "L"),
            default="2.5 in3",
            low="0.1 mL",
            high="1000 L",
            help="Everything between the pump's valve and the part, pump and gauge included.",
            shown=Shown(choice="volume_from", values=("given",)),
        ),
        Quantity(
            id="hose_bore",
            label="Hose bore",
            kind="length",
            units=("in", "mm"),
            default="0.16 in",
            low="0.5 mm",
            high="50 mm",
            help="Inner diameter; common vacuum hose has 3.2 to 6.4 mm (1/8 to 1/4 in).",
            shown=Shown(choice="volume_from", values=("hose",)),
        ),
        Quantity(
            id="hose_length",
            label="Hose length",
            kind="length",
            units=("ft", "in", "m", "cm"),
            default="3 ft",
            low="0 m",
            high="20 m",
            help="All hoses under vacuum, that of the pump included.",
            shown=Shown(choice="volume_from", values=("hose",)),
        ),
        Quantity(
            id="actuator_volume",
            label="Chamber volume",
            kind="volume",
            units=("in3", "mL", "cm3", "L"),
            default="1.8 in3",
            low="0 mL",
            high="100 L",
            help="Behind the diaphragm with the valve pulled; none for a hose alone.",
            shown=Shown(choice="volume_from", values=("hose",)),
        ),
        Quantity(
            id="volume_uncertainty",
            label="Volume may be off by",
            kind="ratio",
            units=("%",),
            default="10 %",
            low="0 %",
            high="50 %",
            help="Counts in the verdict only where the limit is a leak.",
        ),
        *gauge_inputs("30 inHg", "B", "0.5 inHg", _PRESSURES),
        Quantity(
            id="temperature",
            label="Temperature",
            kind="temperature",
            units=("°F", "°C"),
            default="68 °F",
            low="-40 °C",
            high="120 °C",
            help="Of the part and the air around it at the start.",
        ),
        Quantity(
            id="temperature_drift",
            label="Warmer at the end by",
            kind="temperature difference",
            units=("°F", "°C"),
            default="0 °F",
            low="-50 °C",
            high="50 °C",
            help="A part that warms by 3 °C loses 1 % of its absolute pressure as vacuum; negative "
            "where it cools.",
        ),
        Quantity(
            id="drift_uncertainty",
            label="Drift may be off by",
            kind="temperature difference",
            units=("°F", "°C"),
            default="1 °F",
            low="0 °C",
            high="50 °C",
            help="Type zero only where part and room have stood together for an hour.",
        ),
        Choice(
            id="reference",
            label="State the air flow at",
            options=(
                Option(value="20C", label="20 °C (68 °F), 101.325 kPa"),
                Option(value="0C", label="0 °C (32 °F), 101.325 kPa"),
            ),
            default="20C",
            help="A flow of gas says little without its reference; leak standards use 0 °C.",
        ),
    ),
    results=(
        Result(
            id="verdict",
            label="Verdict",
            kind="verdict",
            units=_UNITS,
            digits=3,
            help="The measured fall, or leak, held against its limit with a guard band at k = 2.",
        ),
        Result(
            id="drop",
            label="Fall of the vacuum",
            kind="pressure",
            units=_UNITS,
            digits=3,
            help="As read: start less end.",
        ),
        Result(
            id="drop_uncertainty",
            label="Its standard uncertainty",
            kind="pressure",
            units=_UNITS,
            digits=2,
            help="Grade and resolution at both ends, the stopwatch, the temperature.",
        ),
        Result(
            id="temperature_drop",
            label="Of it by temperature",
            kind="pressure",
            units=_UNITS,
            digits=2,
            help="What the drift would do with no leak at all; the leak is the rest.",
        ),
        Result(
            id="drop_rate",
            label="Fall by the leak",
            kind="pressure rate",
            units=("inHg/min", "kPa/min"),
            digits=3,
            help="Per time, without what the temperature did.",
        ),
        Result(
            id="leak",
            label="Leak",
            kind="leak rate",
            units=_LEAKS,
            digits=3,
            help="Pressure times volume per time, at the temperature of the part.",
        ),
        Result(
            id="leak_volume_flow",
            label="Leak as air flow at the reference",
            kind="volume flow",
            units=("cm3/min",),
            digits=3,
            help="At 101.325 kPa and the temperature chosen above.",
        ),
        Result(
            id="hole",
            label="Hole that leaks so much",
            kind="length",
            units=("in", "mm"),
            digits=2,
            help="One round hole with a sharp edge; within about 3 % for such a hole.",
        ),
        Result(id="regime", label="Flow in it", kind="text", help="Choked or slower than sound."),
        Result(
            id="smallest_leak",
            label="Smallest leak this gauge shows in this time",
            kind="leak rate",
            units=_LEAKS,
            digits=2,
            help="A fall of two standard uncertainties.",
        ),
        Result(
            id="hold_time",
            label="Shortest hold that decides",
            kind="time",
            units=("s", "min"),
            digits=2,
            help="If the leak goes on as it did; nothing where no hold decides before the "
            "vacuum is gone.",
        ),
        Result(
            id="volume_held",
            label="Volume under vacuum",
            kind="volume",
            units=("in3", "mL"),
            digits=3,
            help="What the leak is reckoned with.",
        ),
        Result(
            id="mean_vacuum",
            label="Mean vacuum",
            kind="pressure",
            units=_UNITS,
            digits=3,
            help="Between start and end.",
        ),
    ),
    compute=vacuum_hold,
    meaning="Pump the part down, close the valve, read, wait, read again. The same small leak "
    "makes a short hose fall quickly and a large chamber slowly, so the leak, not the fall, "
    "compares parts; the fall is what the manual limits. Two readings of one dial close "
    "together share most of the dial's error, so a fall is known better than either reading. "
    "If the verdict is too close to call, waiting longer is nearly always the cheapest way out.",
    leaves_out="The air pressure is taken as steady during the hold. Hoses that still give way, "
    "fuel or water that boils off under vacuum, and a pump valve that leaks itself all look "
    "like a leak of the part: hold the pump with its end plugged first. The correlation of the "
    "errors along one dial (one less the distance as a share of the span) is common practice.",
    sources=(
        Source(text="40 CFR 1065.644 (vacuum-decay leak rate)"),
        Source(
            text="D. A. Jobson, Proc. I. Mech. E. 169 (1955) 767 (coefficient of a sharp-edged "
            "hole, subsonic to choked), with 0.61 at small differences"
        ),
        Source(
            text="40 CFR 85 Subpart V, Appendix I (a vacuum unit holds 457 mmHg with no visible "
            "fall in 15 s)"
        ),
        Source(text="GUM, JCGM 100:2008; JCGM 106:2012; ILAC-G8:09/2019 (guard band at k = 2)"),
        Source(text="ASME B40.100 (grade A; the other grades from memory)", standing="memory"),
    ),
    hands_over=(
        HandOver(
            to="leak_orifice",
            label="The hole of this leak under other pressures",
            carries={
                "flow": "leak_volume_flow",
                "reference": "reference",
                "inside": "mean_vacuum",
                **PLACE,
                "temperature": "temperature",
            },
            sets={"find": "diameter", "side": "vacuum"},
        ),
        HandOver(
            to="gauge",
            label="What this gauge can prove",
            carries={
                "gauge_span": "gauge_span",
                "gauge_grade": "gauge_grade",
                "gauge_resolution": "gauge_resolution",
                "reading": "start",
            },
        ),
    ),
    examples=(
        {},
        {
            "start": "18 inHg",
            "end": "18 inHg",
            "time": "15 s",
            "allowed_drop": "0.5 inHg",
            "allowed_time": "15 s",
        },
        {"start": "20 inHg", "end": "12 inHg", "time": "30 s"},
        {"start": "20 inHg", "end": "0 inHg", "time": "10 s", "altitude": "1600 m"},
        {
            "start": "5 inHg",
            "end": "4 inHg",
            "time": "2 min",
            "gauge_grade": "2A",
            "gauge_resolution": "0.05 inHg",
        },
        {
            "start": "75.9",
            "start.unit": "kPa",
            "end": "50.6",
            "end.unit": "kPa",
            "time": "70 s",
            "volume_from": "given",
            "volume": "2 L",
            "temperature": "20 °C",
            "limit_by": "leak",
            "allowed_leak": "1 Pa m3/s",
        },
        {
            "start": "20 inHg",
            "end": "19 inHg",
            "limit_by": "leak",
            "allowed_leak": "2 Pa L/s",
            "reference": "0C",
        },
        {
            "start": "20 inHg",
            "end": "19.2 inHg",
            "temperature_drift": "5 °C",
            "drift_uncertainty": "0.5 °C",
        },
        {"start": "20 inHg", "end": "20.4 inHg", "temperature_drift": "-3 °C"},
        {
            "start": "680 mbar",
            "end": "675 mbar",
            "time": "10 min",
            "gauge_grade": "none",
            "gauge_resolution": "1 mbar",
            "barometer_from": "measured",
            "barometer": "985 mbar",
        },
        {"start": "20 inHg", "end": "19.1 inHg"},
        {"start": "29.9 inHg", "end": "29.8 inHg", "altitude": "-100 ft"},
        {
            "start": "0,5 psi",
            "end": "0.4 psi",
            "time": "5 min",
            "gauge_span": "1 psi",
            "gauge_resolution": "0.01 psi",
            "allowed_drop": "0.2 psi",
            "allowed_time": "5 min",
        },
    ),
)

"""The fuse that a load needs, whether its inrush lets it live, and whether a short opens it."""

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
    Source,
    Value,
)
from baycalc.measurement.decision import Gauge, Limit, Verdict, judge
from baycalc.physics.copper import wire_resistance
from baycalc.physics.fuses import (
    COLOURS,
    CONTINUOUS_SHARE,
    OPENING,
    PULSE_SHARES,
    RATINGS,
    ambient_factor,
    melting_integral,
    next_rating,
    opening_times,
    pulse_integral,
    rating_needed,
)
from baycalc.physics.harness import (
    INSULATIONS,
    allowed_current,
    conductor_temperature,
    fault_integral,
    insulation_limit,
)
from baycalc.plot import Axis, Plot, Point
from baycalc.quantities.units import written

_QUICKLY = 0.5
_SYMPTOM = Note(
    text="A fuse that blows again is a symptom: a short, a seized motor, a chafed lead. A larger "
    "one lets the harness overheat and burn. Find the cause, and never fit a larger fuse than "
    "the vehicle's diagram names.",
    signal="warning",
)


@dataclass(frozen=True, slots=True)
class _Fuse:
    """The fuse that is looked at: the one fitted, or the one that the load needs."""

    style: str
    rating: float
    integral: float
    share: float
    carries: float
    short_times: tuple[float, float]


def fuse(
    load: float,
    inrush: float,
    inrush_time: float,
    shape: str,
    starts: str,
    duty: str,
    ambient: float,
    style: str,
    fitted: float | None,
    conductor: float,
    insulation: str,
    length: float,
    supply: float,
    source_resistance: float,
    meter_error: float,
) -> Answer:
    """Choose a fuse for a load and hold it against inrush, conductor and a dead short.

    Parameters
    ----------
    load : float
        Steady current [A]
    inrush : float
        Peak of the current when the load starts; 0 where there is none [A]
    inrush_time : float
        How long the inrush lasts [s]
    shape : str
        ``ramp``, ``half sine`` or ``rectangle`` [-]
    starts : str
        How many starts the fuse has to live through, as a text [-]
    duty : str
        ``continuous`` or ``short`` [-]
    ambient : float
        Temperature of the air at the fuse and the conductor [K]
    style : str
        ``blade`` or ``high current`` [-]
    fitted : float
        Rating of the fuse that is fitted, or ``None`` [A]
    conductor : float
        Cross-section of the conductor [m2]
    insulation : str
        Temperature that its insulation bears, as a text [°C]
    length : float
        Length of the conductor from the fuse to the load [m]
    supply : float
        Voltage at the fuse [V]
    source_resistance : float
        Resistance of battery, joints and return path [ohm]
    meter_error : float
        Greatest error of the current reading as a share of it [-]

    Returns
    -------
    Answer
        ``rating``, ``rating_needed``, ``short_current``, ``conductor_limit`` in A, times in s,
        ``drop`` in V, shares [-].

    Raises
    ------
    Refusal
        When the inrush is below the load, or the place is hotter than the insulation bears.
    """
    _refuse_impossible(load, inrush, ambient, insulation)
    needed = rating_needed(load, ambient, duty)
    integral = pulse_integral(inrush, inrush_time, shape)
    rating = _choose(style, needed, integral / PULSE_SHARES[starts], inrush_time)
    values: dict[str, Value] = {
        "rating": rating,
        "why": _why(load, needed, rating, style, duty, ambient),
        "rating_needed": needed,
    }
    values |= _line(load, conductor, insulation, ambient, length, supply)
    short = supply / (source_resistance + wire_resistance(conductor, length, ambient))
    values["short_current"] = short
    looked_at = rating if fitted is None else fitted
    if looked_at is None:
        return Answer(values=values, notes=(_no_fuse(style), _SYMPTOM))
    allowed = melting_integral(style, looked_at, inrush_time) * PULSE_SHARES[starts]
    seen = _Fuse(
        style=style,
        rating=looked_at,
        integral=integral,
        share=integral / allowed,
        carries=allowed_current(conductor, insulation, ambient),
        short_times=opening_times(style, short / looked_at),
    )
    survives = short**2 * seen.short_times[1] <= fault_integral(conductor, ambient)
    values["load_verdict"] = _judge_load(load, meter_error, seen, ambient, duty)
    values |= _fuse_values(seen, survives)
    return Answer(
        values=values,
        notes=(*_notes(seen, needed, rating), *_short_notes(seen, survives), _SYMPTOM),
        drawing=_draw(seen, load, inrush, inrush_time, short),
    )


def _refuse_impossible(load: float, inrush: float, ambient: float, insulation: str) -> None:
    if 0 < inrush < load:
        raise Refusal(
            {
                "inrush": "The inrush is the peak when the load starts and cannot be less than "
                f"the steady load of {_amperes(load)}; type 0 where there is none."
            }
        )
    if ambient >= insulation_limit(insulation):
        raise Refusal(
            {
                "ambient": f"This place is hotter than an insulation for {insulation} °C bears: no "
                "current is allowed here."
            }
        )


def _choose(style: str, needed: float, integral: float, time: float) -> float | None:
    rating = next_rating(style, needed)
    while rating is not None and melting_integral(style, rating, time) < integral:
        rating = next_rating(style, rating * 1.001)
    return rating


def _line(
    load: float, conductor: float, insulation: str, ambient: float, length: float, supply: float
) -> dict[str, Value]:
    warm = conductor_temperature(load, conductor, insulation, ambient)
    drop = load * wire_resistance(conductor, length, warm)
    return {
        "conductor_limit": allowed_current(conductor, insulation, ambient),
        "conductor_temperature": warm,
        "drop": drop,
        "drop_share": drop / supply,
    }


def _fuse_values(seen: _Fuse, survives: bool) -> dict[str, Value]:
    least, greatest = seen.short_times
    return {
        "inrush_share": seen.share,
        "inrush_ok": seen.share <= 1,
        "conductor_protected": seen.rating <= seen.carries,
        "short_opens": greatest <= _QUICKLY and survives,
        "opening_least": least if math.isfinite(least) else None,
        "opening_greatest": greatest if math.isfinite(greatest) else None,
    }


def _judge_load(load: float, meter_error: float, seen: _Fuse, ambient: float, duty: str) -> Verdict:
    allowed = CONTINUOUS_SHARE[duty] * ambient_factor(ambient) * seen.rating
    return judge(
        load,
        Gauge(of_reading=meter_error).uncertainty(load),
        Limit(high=allowed),
        kind="current",
        advice="measure the load with a meter of a smaller error, warm and at full voltage",
    )


def _why(
    load: float, needed: float, rating: float | None, style: str, duty: str, ambient: float
) -> str:
    share = CONTINUOUS_SHARE[duty] * ambient_factor(ambient)
    text = (
        f"A {duty} load may take {_percent(share)} of the rating at this temperature: "
        f"{_amperes(load)} needs {_amperes(needed)}."
    )
    steady = next_rating(style, needed)
    if rating is None or steady is None:
        return f"{text} The series ends at {RATINGS[style][-1]:g} A."
    if rating > steady:
        return f"{text} {steady:g} A would do for that, but the inrush asks for {rating:g} A."
    return f"{text} The next of the series is {rating:g} A."


def _no_fuse(style: str) -> Note:
    return Note(
        text=f"No {style} fuse carries this load and its inrush: check the figures, or look at "
        "another style of fuse."
    )


def _notes(seen: _Fuse, needed: float, rating: float | None) -> list[Note]:
    told = []
    colour = COLOURS.get(seen.rating) if seen.style == "blade" else None
    if colour:
        told.append(Note(text=f"A blade fuse of {seen.rating:g} A is {colour}."))
    if seen.rating > seen.carries:
        told.append(
            Note(
                text=f"A fuse of {seen.rating:g} A does not protect a conductor that may carry "
                f"{_amperes(seen.carries)}: an overload burns the harness before the fuse "
                "opens. Check the conductor and the vehicle's diagram.",
                signal="warning",
            )
        )
    if seen.rating < needed:
        told.append(
            Note(
                text="This load is too much for the fuse that is looked at: expect it to age and "
                "open. First ask why the load is so high."
            )
        )
    elif rating is not None and seen.rating > rating:
        told.append(Note(text=f"The load and its inrush need no more than {rating:g} A."))
    return told


def _short_notes(seen: _Fuse, survives: bool) -> list[Note]:
    if seen.short_times[1] > _QUICKLY:
        text = (
            "A dead short at the far end does not open this fuse quickly: the line is too thin or "
            "too long for it, and heats up meanwhile."
        )
    elif not survives:
        text = "A dead short opens this fuse, but may hurt the insulation before it does."
    else:
        return []
    return [Note(text=text, signal="caution")]


def _draw(seen: _Fuse, load: float, inrush: float, inrush_time: float, short: float) -> str:
    low = min(load, seen.rating) * 0.7
    high = max(seen.rating * 8, inrush * 1.3, short * 1.3)
    plot = Plot(
        "Load against the opening time of the fuse",
        _read_off(seen, load, short),
        x=Axis("Current", low, high, log=True, unit="A"),
        y=Axis("Time", 0.001, 2000, log=True, unit="s"),
    )
    plot.band(*_band(seen, high), f"opening time of {seen.rating:g} A (ISO 8820-3)")
    plot.limit(x=load, label="steady load")
    if inrush:
        plot.mark(math.sqrt(seen.integral / inrush_time), inrush_time, "inrush, as a block")
    if math.isfinite(seen.short_times[1]):
        plot.mark(short, seen.short_times[1], "dead short")
    return plot.svg()


def _band(seen: _Fuse, high: float) -> tuple[list[Point], list[Point]]:
    """The least and the greatest opening time against the current [A, s]."""
    multiples = [*(row[0] for row in OPENING[seen.style]), high / seen.rating]
    lower, upper = [], []
    for multiple in multiples:
        least, greatest = opening_times(seen.style, multiple)
        lower.append((multiple * seen.rating, least))
        if math.isfinite(greatest):
            upper.append((multiple * seen.rating, greatest))
    return lower, upper


def _read_off(seen: _Fuse, load: float, short: float) -> str:
    greatest = seen.short_times[1]
    opens = (
        f"within {written('time', greatest, 's', digits=2)}"
        if math.isfinite(greatest)
        else "not surely"
    )
    return (
        f"The load of {_amperes(load)} is {_percent(load / seen.rating)} of a fuse of "
        f"{seen.rating:g} A. The inrush uses {_percent(seen.share)} of what it lives through. A "
        f"dead short of {_amperes(short)} opens it {opens}."
    )


def _amperes(current: float) -> str:
    return written("current", current, "A")


def _percent(share: float) -> str:
    return written("ratio", share, "%", digits=2)


def _options(values: tuple[str, ...], label: str) -> tuple[Option, ...]:
    return tuple(Option(value=value, label=label.format(value)) for value in values)


CALCULATOR = Calculator(
    id="fuse",
    title="Fuse for a load",
    summary="The rating that a load needs, whether its inrush lets the fuse live, and whether a "
    "short at the far end opens it.",
    job="Electrical",
    words=("amp", "amps", "blown fuse", "blade fuse", "inrush", "wire size", "short circuit"),
    inputs=(
        Quantity(
            id="load",
            label="Steady load",
            kind="current",
            units=("A", "mA"),
            default="18 A",
            low="0.01 A",
            high="100 A",
            help="Current when it runs, measured or from the vehicle's figures.",
        ),
        Quantity(
            id="inrush",
            label="Inrush, peak",
            kind="current",
            units=("A",),
            default="60 A",
            low="0 A",
            high="1000 A",
            help="Highest current when it starts; 0 where there is none.",
        ),
        Quantity(
            id="inrush_time",
            label="Inrush lasts",
            kind="time",
            units=("s", "ms"),
            default="0.15 s",
            low="1 ms",
            high="60 s",
        ),
        Choice(
            id="shape",
            label="Inrush looks like",
            options=(
                Option(value="ramp", label="a peak that falls away (motor)"),
                Option(value="half sine", label="a half sine"),
                Option(value="rectangle", label="a block (cold lamp or heater, held)"),
            ),
            default="ramp",
        ),
        Choice(
            id="starts",
            label="Starts to live through",
            options=_options(tuple(PULSE_SHARES), "{}"),
            default="10000",
            help="Two starts a day for 14 years are 10 000.",
        ),
        Choice(
            id="duty",
            label="Duty",
            options=(
                Option(value="continuous", label="continuous"),
                Option(value="short", label="short: a minute or two at each start"),
            ),
            default="continuous",
        ),
        Quantity(
            id="ambient",
            label="Temperature at the fuse",
            kind="temperature",
            units=("°F", "°C"),
            default="60 °C",
            low="-40 °C",
            high="124 °C",
        ),
        Choice(
            id="style",
            label="Style of fuse",
            options=(
                Option(value="blade", label="blade (ISO 8820-3 types C and F)"),
                Option(value="high current", label="high-current blade (ISO 8820-3 type E)"),
            ),
            default="blade",
        ),
        Quantity(
            id="fitted",
            label="Fuse fitted, if any",
            kind="current",
            units=("A",),
            default=None,
            low="0.5 A",
            high="100 A",
            help="Leave empty to look at the fuse that the load needs.",
        ),
        Quantity(
            id="conductor",
            label="Conductor",
            kind="area",
            units=("AWG", "mm2"),
            default="AWG 12",
            low="0.1 mm2",
            high="110 mm2",
        ),
        Choice(
            id="insulation",
            label="Insulation bears",
            options=_options(INSULATIONS, "{} °C"),
            default="90",
            help="Take the next lower one: an automotive cable of class B (100 °C) counts as 90.",
        ),
        Quantity(
            id="length",
            label="Length, fuse to load",
            kind="length",
            units=("ft", "m"),
            default="6 ft",
            low="0.05 m",
            high="50 m",
        ),
        Quantity(
            id="supply",
            label="Supply voltage",
            kind="voltage",
            units=("V",),
            default="13.5 V",
            low="4 V",
            high="60 V",
        ),
        Quantity(
            id="source_resistance",
            label="Resistance of battery, joints and return",
            kind="resistance",
            units=("mohm", "ohm"),
            default="20 mohm",
            low="1 mohm",
            high="1 ohm",
            help="Of all that is not this conductor; 20 mΩ is an example.",
        ),
        Quantity(
            id="meter_error",
            label="Error of the current meter",
            kind="ratio",
            units=("%",),
            default="2 %",
            low="0 %",
            high="20 %",
            help="Greatest error as a share of the reading, from the meter's booklet.",
        ),
    ),
    results=(
        Result(id="rating", label="Fuse from the series", kind="current", units=("A",), digits=2),
        Result(id="why", label="Why", kind="text"),
        Result(
            id="rating_needed",
            label="Rating the load needs",
            kind="current",
            units=("A",),
            digits=3,
        ),
        Result(
            id="load_verdict", label="Load on this fuse", kind="verdict", units=("A",), digits=3
        ),
        Result(
            id="inrush_share",
            label="Inrush, share of what the fuse lives through",
            kind="ratio",
            units=("%",),
            digits=2,
        ),
        Result(id="inrush_ok", label="Lives through the inrush", kind="flag"),
        Result(
            id="conductor_limit",
            label="Conductor may carry",
            kind="current",
            units=("A",),
            digits=3,
        ),
        Result(id="conductor_protected", label="Fuse protects the conductor", kind="flag"),
        Result(
            id="short_current",
            label="Dead short at the far end",
            kind="current",
            units=("A",),
            digits=3,
        ),
        Result(id="short_opens", label="Opens at once on a short", kind="flag"),
        Result(
            id="opening_least",
            label="Short opens it after at least",
            kind="time",
            units=("s",),
            digits=2,
        ),
        Result(id="opening_greatest", label="and at most", kind="time", units=("s",), digits=2),
        Result(id="drop", label="Drop in the line", kind="voltage", units=("V",), digits=3),
        Result(id="drop_share", label="Share of the supply", kind="ratio", units=("%",), digits=2),
        Result(
            id="conductor_temperature",
            label="Conductor warms to",
            kind="temperature",
            units=("°F", "°C"),
            digits=3,
        ),
    ),
    compute=fuse,
    meaning="A fuse guards the conductor, not the load. It must carry the load for years without "
    "ageing, live through each start, and still open at once on a short. The band of the drawing "
    "is where a fuse of the standard opens: the load and the inrush must stand left of it, a "
    "dead short to the right.",
    leaves_out="The melting integral is the least that the standard leaves to the weakest fuse; "
    "the data sheet of the fuse that you hold may show more. A hot fuse holder, corroded blades "
    "and a load that starts again while warm are not counted. The short is a metal one: a chafed "
    "lead that arcs draws less and may not open any fuse.",
    sources=(
        Source(text="ISO 8820-3 (ratings, opening times, colours)", standing="memory"),
        Source(text="Fuse makers' selection guides: 75 % of the rating at 25 °C, pulse shares"),
        Source(text="NASA EEE-INST-002 (0.2 % per degree above 25 °C)"),
        Source(text="33 CFR 183.425, Table 5 (allowed currents of copper conductors)"),
        Source(text="IEC 60028, ASTM B258 (copper, wire gauges)"),
        Source(text="IEC 60949, IEC 60364-4-43 (conductor in a short)"),
    ),
    hands_over=(
        HandOver(
            to="voltage_drop",
            label="Drop of this line, and where it sits",
            carries={
                "load": "load",
                "supply": "supply",
                "feed_conductor": "conductor",
                "feed_length": "length",
            },
        ),
    ),
    examples=(
        {"load": "15 A", "inrush": "0 A", "fitted": "20 A", "ambient": "25 °C"},
        {},
        {"load": "5 A", "inrush": "0", "conductor": "0.75 mm2", "length": "4 m"},
        {"load": "12", "duty": "short", "ambient": "176 °F", "conductor": "AWG 14"},
        {
            "load": "38 A",
            "inrush": "140 A",
            "inrush_time": "0.25 s",
            "style": "high current",
            "conductor": "6 mm2",
            "duty": "short",
        },
        {"load": "18 A", "fitted": "20 A"},
        {"load": "18 A", "fitted": "40 A", "conductor": "1 mm2"},
        {
            "load": "9 A",
            "shape": "rectangle",
            "inrush": "30 A",
            "inrush_time": "1 s",
            "starts": "1000",
        },
        {
            "load": "200 mA",
            "inrush": "400 mA",
            "conductor": "0.35 mm2",
            "length": "25 ft",
            "insulation": "105",
        },
        {"load": "90 A", "inrush": "90 A", "conductor": "16 mm2"},
        {"load": "10 A", "length": "30 m", "conductor": "1 mm2", "insulation": "80"},
        {
            "load": "15 A",
            "shape": "half sine",
            "starts": "100000",
            "supply": "27 V",
            "source_resistance": "0.05 ohm",
        },
        {
            "load": "4 A",
            "ambient": "-20 °C",
            "insulation": "60",
            "inrush": "8 A",
            "starts": "100",
            "meter_error": "0.5 %",
        },
    ),
)

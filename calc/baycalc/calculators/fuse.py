"""The fuse that a load needs, whether its inrush lets it live, and whether a short opens it."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from baycalc.forms.declare import Answer, Calculator, Note, Value, refuse
from baycalc.forms.form import (
    YES_IS_GOOD,
    choice,
    form,
    from_memory,
    hand_over,
    phrases,
    published,
    quantity,
    result,
    taking,
    text,
    verdict,
    yes_or_no,
)
from baycalc.forms.shared_inputs import meter_error
from baycalc.measurement.decision import GUARD_FACTOR, Limit, Verdict, judge
from baycalc.measurement.instrument import Gauge
from baycalc.physics.copper import wire_resistance
from baycalc.physics.fuses import (
    COLOURS,
    OPENING,
    PULSE_SHARES,
    RATINGS,
    melting_integral,
    next_rating,
    opening_times,
    pulse_integral,
    usual_share,
)
from baycalc.physics.harness import (
    INSULATIONS,
    allowed_current,
    conductor_temperature,
    fault_integral,
    insulation_limit,
)
from baycalc.plot import Axis, Plot, Point
from baycalc.quantities.kinds import (
    AMPERES,
    CURRENT,
    LENGTH,
    PER_CENT,
    SECONDS,
    TEMPERATURE,
    VOLTS,
    WIRE_SIZE,
    kind,
)

MOMENT = kind("time", "s", "ms")
SMALL_RESISTANCE = kind("resistance", "mohm", "ohm")
_QUICKLY = 0.5
_SYMPTOM = Note(
    "A fuse that blows again is a symptom: a short, a seized motor, a chafed lead. A larger "
    "one lets the harness overheat and burn. Find the cause, and never fit a larger fuse than "
    "the vehicle's diagram names.",
    signal="warning",
)


@form
class Circuit:
    """A load, its start, its line, and the fuse in it."""

    load: float = quantity("Steady load", CURRENT, "18 A", "0.01 A to 100 A").says(
        "Current when it runs, measured or from the vehicle's figures."
    )
    inrush: float = quantity("Inrush, peak", AMPERES, "60 A", "0 A to 1000 A").says(
        "Highest current when it starts; 0 where there is none."
    )
    inrush_time: float = quantity("Inrush lasts", MOMENT, "0.15 s", "1 ms to 60 s")
    shape: str = choice(
        "Inrush looks like",
        {
            "ramp": "a peak that falls away (motor)",
            "half sine": "a half sine",
            "rectangle": "a block (cold lamp or heater, held)",
        },
    )
    starts: str = choice(
        "Starts to live through", {pulses: pulses for pulses in PULSE_SHARES}, default="10000"
    ).says("Two starts a day for 14 years are 10 000.")
    duty: str = choice(
        "Duty", {"continuous": "continuous", "short": "short: a minute or two at each start"}
    )
    derating: str = choice(
        "Share of the rating",
        {"usual": "75 % for good, less above 25 °C", "given": "the fuse maker's own factors"},
    )
    own_share: float = quantity("Load may take", PER_CENT, "70 %", "10 % to 100 %").says(
        "Of the rating, for this duty, from the data sheet.", "derating=given"
    )
    own_factor: float = quantity(
        "Of that at this temperature", PER_CENT, "90 %", "10 % to 120 %"
    ).says("From the curve of the data sheet; 100 % at 23 or 25 °C.", "derating=given")
    ambient: float = quantity("Temperature at the fuse", TEMPERATURE, "60 °C", "-40 °C to 124 °C")
    style: str = choice(
        "Style of fuse",
        {
            "blade": "blade (ISO 8820-3 types C and F)",
            "high current": "high-current blade (ISO 8820-3 type E)",
        },
    )
    fitted: float | None = quantity("Fuse fitted, if any", AMPERES, None, "0.5 A to 100 A").says(
        "Leave empty to look at the fuse that the load needs."
    )
    conductor: float = quantity("Conductor", WIRE_SIZE, "AWG 12", "0.1 mm2 to 110 mm2")
    insulation: str = choice(
        "Insulation bears", {each: f"{each} °C" for each in INSULATIONS}, default="90"
    ).says("Take the next lower one: an automotive cable of class B (100 °C) counts as 90.")
    length: float = quantity("Length, fuse to load", LENGTH, "6 ft", "0.05 m to 50 m")
    supply: float = quantity("Supply voltage", VOLTS, "13.5 V", "4 V to 60 V")
    source_resistance: float = quantity(
        "Resistance of battery, joints and return", SMALL_RESISTANCE, "20 mohm", "1 mohm to 1 ohm"
    ).says("Of all that is not this conductor; 20 mΩ is an example.")
    meter_error: float = meter_error("current meter")

    def share(self) -> float:
        """Return the share of its rating that the load may take here [-]."""
        if self.derating == "given":
            return self.own_share * self.own_factor
        return usual_share(self.ambient, self.duty)

    def guard(self) -> float:
        """Return the guard band of the load [A]."""
        return GUARD_FACTOR * Gauge(of_reading=self.meter_error).uncertainty(self.load)

    def carries(self) -> float:
        """Return the current that the conductor may carry for good [A]."""
        return allowed_current(self.conductor, self.insulation, self.ambient)

    def integral(self) -> float:
        """Return the integral of the squared current of a start [A2 s]."""
        return pulse_integral(self.inrush, self.inrush_time, self.shape)

    def short(self) -> float:
        """Return the current of a dead short at the far end [A]."""
        line = wire_resistance(self.conductor, self.length, self.ambient)
        return self.supply / (self.source_resistance + line)


@dataclass(frozen=True, slots=True)
class _Fuse:
    """The fuse that is looked at: the one fitted, or the one that the load needs.

    Parameters
    ----------
    circuit : Circuit
        Where it sits
    rating : float
        Its rated current [A]
    """

    circuit: Circuit
    rating: float

    def inrush_share(self) -> float:
        """Return the inrush as a share of what the fuse lives through [-]."""
        melts = melting_integral(self.circuit.style, self.rating, self.circuit.inrush_time)
        return self.circuit.integral() / (melts * PULSE_SHARES[self.circuit.starts])

    def short_times(self) -> tuple[float, float]:
        """Return the least and the greatest time in which a dead short opens it [s]."""
        return opening_times(self.circuit.style, self.circuit.short() / self.rating)

    def conductor_survives(self) -> bool:
        """Return whether the insulation bears a dead short until the fuse has opened."""
        greatest = self.short_times()[1]
        bears = fault_integral(self.circuit.conductor, self.circuit.ambient)
        return self.circuit.short() ** 2 * greatest <= bears

    def values(self) -> dict[str, Value]:
        """Return the results of this fuse."""
        least, greatest = self.short_times()
        return {
            "load_verdict": self._load_verdict(),
            "inrush_share": self.inrush_share(),
            "inrush_ok": self.inrush_share() <= 1,
            "conductor_protected": self.rating <= self.circuit.carries(),
            "short_opens": greatest <= _QUICKLY and self.conductor_survives(),
            "opening_least": least if math.isfinite(least) else None,
            "opening_greatest": greatest if math.isfinite(greatest) else None,
        }

    def _load_verdict(self) -> Verdict:
        return judge(
            self.circuit.load,
            Gauge(of_reading=self.circuit.meter_error).uncertainty(self.circuit.load),
            Limit(high=self.circuit.share() * self.rating),
            kind=AMPERES,
            advice="measure the load with a meter of a smaller error, warm and at full voltage",
        )


def fuse(circuit: Circuit) -> Answer:
    """Choose a fuse for a load and hold it against inrush, conductor and a dead short.

    Raises
    ------
    Refusal
        When the inrush is below the load, or the place is hotter than the insulation bears.
    """
    _refuse_impossible(circuit)
    needed = circuit.load / circuit.share()
    rating = _choose(circuit)
    warm = conductor_temperature(
        circuit.load, circuit.conductor, circuit.insulation, circuit.ambient
    )
    drop = circuit.load * wire_resistance(circuit.conductor, circuit.length, warm)
    values: dict[str, Value] = {
        "rating": rating,
        "why": _why(circuit, needed, rating),
        "rating_needed": needed,
        "conductor_limit": circuit.carries(),
        "conductor_temperature": warm,
        "drop": drop,
        "drop_share": drop / circuit.supply,
        "short_current": circuit.short(),
    }
    looked_at = rating if circuit.fitted is None else circuit.fitted
    if looked_at is None:
        none = (
            f"No {circuit.style} fuse carries this load and its inrush: check the figures, or look "
            "at another style of fuse."
        )
        return Answer(values=values, notes=(none, _SYMPTOM))
    seen = _Fuse(circuit, looked_at)
    return Answer(
        values=values | seen.values(),
        notes=(*_notes(seen, needed, rating), *_short_notes(seen), _SYMPTOM),
        drawing=_draw(seen),
    )


def _refuse_impossible(circuit: Circuit) -> None:
    refuse(
        inrush=0 < circuit.inrush < circuit.load
        and "The inrush is the peak when the load starts and cannot be less than the steady load "
        f"of {AMPERES.written(circuit.load)}; type 0 where there is none.",
        ambient=circuit.ambient >= insulation_limit(circuit.insulation)
        and f"This place is hotter than an insulation for {circuit.insulation} °C bears: no "
        "current is allowed here.",
    )


def _steady(circuit: Circuit) -> float | None:
    """Return the least rating of the series that the load clears with its guard band [A]."""
    return next_rating(circuit.style, (circuit.load + circuit.guard()) / circuit.share())


def _choose(circuit: Circuit) -> float | None:
    rating = _steady(circuit)
    melts = circuit.integral() / PULSE_SHARES[circuit.starts]
    while (
        rating is not None and melting_integral(circuit.style, rating, circuit.inrush_time) < melts
    ):
        rating = next_rating(circuit.style, rating * 1.001)
    return rating


def _why(circuit: Circuit, needed: float, rating: float | None) -> str:
    steady = _steady(circuit)
    text = (
        f"A {circuit.duty} load may take {_percent(circuit.share())} of the rating at this "
        f"temperature: {AMPERES.written(circuit.load)} needs {AMPERES.written(needed)}."
    )
    if steady != next_rating(circuit.style, needed):
        text += f" With the error of the meter it may be {AMPERES.written(circuit.guard())} more."
    if rating is None or steady is None:
        return f"{text} The series ends at {RATINGS[circuit.style][-1]:g} A."
    if rating > steady:
        return f"{text} {steady:g} A would do for that, but the inrush asks for {rating:g} A."
    return f"{text} The next of the series is {rating:g} A."


def _notes(seen: _Fuse, needed: float, rating: float | None) -> Iterator[Note | str]:
    colour = COLOURS.get(seen.rating) if seen.circuit.style == "blade" else None
    if colour:
        yield f"A blade fuse of {seen.rating:g} A is {colour}."
    if seen.rating > seen.circuit.carries():
        yield Note(
            f"A fuse of {seen.rating:g} A does not protect a conductor that may carry "
            f"{AMPERES.written(seen.circuit.carries())}: an overload burns the harness before the "
            "fuse opens. Check the conductor and the vehicle's diagram.",
            signal="warning",
        )
    if seen.rating < needed:
        yield (
            "This load is too much for the fuse that is looked at: expect it to age and open. "
            "First ask why the load is so high."
        )
    elif rating is not None and seen.rating > rating:
        yield f"The load and its inrush need no more than {rating:g} A."


def _short_notes(seen: _Fuse) -> Iterator[Note]:
    if seen.short_times()[1] > _QUICKLY:
        yield Note(
            "A dead short at the far end does not open this fuse quickly: the line is too thin or "
            "too long for it, and heats up meanwhile.",
            signal="caution",
        )
    elif not seen.conductor_survives():
        yield Note(
            "A dead short opens this fuse, but may hurt the insulation before it does.",
            signal="caution",
        )


def _draw(seen: _Fuse) -> str:
    circuit, short = seen.circuit, seen.circuit.short()
    low = min(circuit.load, seen.rating) * 0.7
    high = max(seen.rating * 8, circuit.inrush * 1.3, short * 1.3)
    plot = Plot(
        "Load against the opening time of the fuse",
        _read_off(seen),
        x=Axis("Current", low, high, log=True, unit="A"),
        y=Axis("Time", 0.001, 2000, log=True, unit="s"),
    )
    plot.band(*_band(seen, high), f"opening time of {seen.rating:g} A (ISO 8820-3)")
    plot.limit(x=circuit.load, label="steady load")
    if circuit.inrush:
        block = math.sqrt(circuit.integral() / circuit.inrush_time)
        plot.mark(block, circuit.inrush_time, "inrush, as a block")
    if math.isfinite(seen.short_times()[1]):
        plot.mark(short, seen.short_times()[1], "dead short")
    return plot.svg()


def _band(seen: _Fuse, high: float) -> tuple[list[Point], list[Point]]:
    """The least and the greatest opening time against the current [A, s]."""
    multiples = [*(row[0] for row in OPENING[seen.circuit.style]), high / seen.rating]
    lower, upper = [], []
    for multiple in multiples:
        least, greatest = opening_times(seen.circuit.style, multiple)
        lower.append((multiple * seen.rating, least))
        if math.isfinite(greatest):
            upper.append((multiple * seen.rating, greatest))
    return lower, upper


def _read_off(seen: _Fuse) -> str:
    greatest = seen.short_times()[1]
    opens = f"within {SECONDS.written(greatest, 2)}" if math.isfinite(greatest) else "not surely"
    return (
        f"The load of {AMPERES.written(seen.circuit.load)} is "
        f"{_percent(seen.circuit.load / seen.rating)} of a fuse of {seen.rating:g} A. The inrush "
        f"uses {_percent(seen.inrush_share())} of what it lives through. A dead short of "
        f"{AMPERES.written(seen.circuit.short())} opens it {opens}."
    )


def _percent(share: float) -> str:
    return PER_CENT.written(share, digits=2)


RESULTS = (
    result("rating", "Fuse from the series", AMPERES, 2),
    text("why", "Why"),
    result("rating_needed", "Rating the load needs", AMPERES, 3),
    verdict("load_verdict", "Load on this fuse", AMPERES),
    result("inrush_share", "Inrush, share of what the fuse lives through", PER_CENT, 2),
    yes_or_no("inrush_ok", "Lives through the inrush").concludes(YES_IS_GOOD),
    result("conductor_limit", "Conductor may carry", AMPERES, 3),
    yes_or_no("conductor_protected", "Fuse protects the conductor").concludes(YES_IS_GOOD),
    result("short_current", "Dead short at the far end", AMPERES, 3),
    yes_or_no("short_opens", "Opens at once on a short").concludes(YES_IS_GOOD),
    result("opening_least", "Short opens it after at least", SECONDS, 2),
    result("opening_greatest", "and at most", SECONDS, 2),
    result("drop", "Drop in the line", VOLTS, 3),
    result("drop_share", "Share of the supply", PER_CENT, 2),
    result("conductor_temperature", "Conductor warms to", TEMPERATURE, 3),
)

CALCULATOR = Calculator(
    **taking(Circuit, fuse),
    title="Fuse for a load",
    summary="The rating that a load needs, whether its inrush lets the fuse live, and whether a "
    "short at the far end opens it.",
    job="Electrical",
    words=phrases("amp, amps, blown fuse, blade fuse, inrush, wire size, short circuit"),
    results=RESULTS,
    meaning="A fuse guards the conductor, not the load. It must carry the load for years without "
    "aging, live through each start, and still open at once on a short. The band of the drawing "
    "is where a fuse of the standard opens: the load and the inrush must stand left of it, a "
    "dead short to the right.",
    leaves_out="The melting integral is the least that the standard leaves to the weakest fuse; "
    "the data sheet of the fuse that you hold may show more. A hot fuse holder, corroded blades "
    "and a load that starts again while warm are not counted. The short is a metal one: a chafed "
    "lead that arcs draws less and may not open any fuse.",
    sources=from_memory("ISO 8820-3 (ratings, opening times, colors)")
    + published(
        "Fuse makers' selection guides: 75 % of the rating at 25 °C, pulse shares",
        "NASA EEE-INST-002 (0.2 % per degree above 25 °C)",
        "33 CFR 183.425, Table 5 (allowed currents of copper conductors)",
        "IEC 60028, ASTM B258 (copper, wire gauges)",
        "IEC 60949, IEC 60364-4-43 (conductor in a short)",
    ),
    hands_over=hand_over(
        "voltage_drop",
        "Drop of this line, and where it sits",
        "load supply feed_conductor=conductor feed_length=length",
    ),
)

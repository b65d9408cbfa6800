"""A hold test: how tight a diaphragm, valve or hose is, from the fall of a vacuum."""

import math
from collections.abc import Iterator

from baycalc.forms.declare import Answer, Calculator, refuse
from baycalc.forms.form import (
    choice,
    form,
    from_memory,
    hand_over,
    part,
    phrases,
    published,
    quantity,
    result,
    taking,
    text,
    verdict,
)
from baycalc.forms.shared_inputs import PLACE, DialGauge, Place, air_here, dial_gauge
from baycalc.forms.sources import SHARP_EDGE_CHOKED
from baycalc.measurement.decay_test import Hold
from baycalc.physics.decay import decay_curve, hole_area
from baycalc.physics.gas import REFERENCES, at_first_temperature, volume_flow_at
from baycalc.physics.orifice import circle_area, circle_diameter, flow_regime
from baycalc.plot import Axis, Plot
from baycalc.quantities.kinds import (
    LEAK,
    PER_CENT,
    SMALL_LENGTH,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TIME,
    VACUUM,
    kind,
)
from baycalc.quantities.units import duration

PRESSURE = kind("pressure", "inHg", "kPa", "mmHg", "mbar", "psi")
HOLD_TIME = kind("time", "s", "min", "h")
ALLOWED_LEAK = kind("leak rate", "Pa L/s", "mbar L/s", "inHg in3/min", "Pa m3/s")
VOLUME = kind("volume", "in3", "mL", "cm3", "L")
HOSE_LENGTH = kind("length", "ft", "in", "m", "cm")
FALL_RATE = kind("pressure rate", "inHg/min", "kPa/min")
SMALL_FLOW = kind("volume flow", "cm3/min")
SMALL_VOLUME = kind("volume", "in3", "mL")
_SMALLEST_HOLE = 20e-6


@form
class HoldTest:
    """What a technician reads and knows of a hold test."""

    start: float = quantity("Vacuum at the start", PRESSURE, "20 inHg", "1 Pa to 110 kPa").says(
        "Read it once the needle has come to rest, without a minus sign."
    )
    end: float = quantity("Vacuum at the end", PRESSURE, "19.5 inHg", "0 Pa to 110 kPa").says(
        "Read it on the same gauge, with the pump still connected and at rest."
    )
    time: float = quantity("Time between", HOLD_TIME, "60 s", "1 s to 1 d").says(
        "By a stopwatch; half a second either way is counted for the hand."
    )
    place: Place = part(Place)
    limit_by: str = choice(
        "Limit", {"drop": "greatest fall in a time", "leak": "greatest leak"}
    ).says("As the maker's manual or the procedure states it.")
    allowed_drop: float = quantity("Allowed fall", PRESSURE, "1 inHg", "1 Pa to 110 kPa").says(
        "For “no visible fall” type the smallest step that can be seen on the dial.",
        "limit_by=drop",
    )
    allowed_time: float = quantity("In a time of", HOLD_TIME, "60 s", "1 s to 1 d").says(
        "The measured fall is scaled to this time.", "limit_by=drop"
    )
    allowed_leak: float = quantity(
        "Allowed leak", ALLOWED_LEAK, "1 Pa L/s", "1e-6 Pa L/s to 1e6 Pa L/s"
    ).says(
        "Pressure times volume per time; 1 Pa L/s is about 0.6 cm3/min of outside air.",
        "limit_by=leak",
    )
    volume_from: str = choice(
        "Volume under vacuum", {"hose": "from the hose and the chamber", "given": "known"}
    ).says("It turns the fall into a leak; the verdict on a fall does not need it.")
    volume: float = quantity("Volume", VOLUME, "2.5 in3", "0.1 mL to 1000 L").says(
        "Everything between the pump's valve and the part, pump and gauge included.",
        "volume_from=given",
    )
    hose_bore: float = quantity("Hose bore", SMALL_LENGTH, "0.16 in", "0.5 mm to 50 mm").says(
        "Inner diameter; common vacuum hose has 3.2 to 6.4 mm (1/8 to 1/4 in).", "volume_from=hose"
    )
    hose_length: float = quantity("Hose length", HOSE_LENGTH, "3 ft", "0 m to 20 m").says(
        "All hoses under vacuum, that of the pump included.", "volume_from=hose"
    )
    actuator_volume: float = quantity("Chamber volume", VOLUME, "1.8 in3", "0 mL to 100 L").says(
        "Behind the diaphragm with the valve pulled; none for a hose alone.", "volume_from=hose"
    )
    volume_uncertainty: float = quantity(
        "Volume may be off by", PER_CENT, "10 %", "0 % to 50 %"
    ).says("Counts in the verdict only where the limit is a leak.")
    gauge: DialGauge = dial_gauge("30 inHg", "B", "0.5 inHg", PRESSURE)
    temperature: float = quantity("Temperature", TEMPERATURE, "68 °F", "-40 °C to 120 °C").says(
        "Of the part and the air around it at the start."
    )
    temperature_drift: float = quantity(
        "Warmer at the end by", TEMPERATURE_DIFFERENCE, "0 °F", "-50 °C to 50 °C"
    ).says(
        "A part that warms by 3 °C loses 1 % of its absolute pressure as vacuum; "
        "negative where it cools."
    )
    drift_uncertainty: float = quantity(
        "Drift may be off by", TEMPERATURE_DIFFERENCE, "1 °F", "0 °C to 50 °C"
    ).says("Type zero only where part and room have stood together for an hour.")
    reference: str = choice(
        "State the air flow at",
        {"20C": "20 °C (68 °F), 101.325 kPa", "0C": "0 °C (32 °F), 101.325 kPa"},
    ).says("A flow of gas says little without its reference; leak standards use 0 °C.")

    def held(self) -> float:
        """Return the volume under vacuum [m3]."""
        if self.volume_from == "given":
            return self.volume
        return circle_area(self.hose_bore) * self.hose_length + self.actuator_volume

    def later(self) -> float:
        """Return the absolute pressure at the end, at the temperature of the start [Pa]."""
        warm = self.temperature + self.temperature_drift
        return at_first_temperature(self.place.air() - self.end, self.temperature, warm)

    def hold(self) -> Hold:
        """Return the test as a gauge read twice."""
        air = self.place.air()
        by_drop = self.limit_by == "drop"
        return Hold(
            first=self.start,
            rate=(self.later() - (air - self.start)) / self.time,
            time=self.time,
            gauge=self.gauge.gauge(),
            limit=self.allowed_drop if by_drop else self.allowed_leak,
            scale=self.allowed_time if by_drop else self.held(),
            disturbance=(air - self.end) / self.temperature * self.drift_uncertainty / math.sqrt(3),
            relative=0.0 if by_drop else self.volume_uncertainty / math.sqrt(3),
        )


def vacuum_hold(test: HoldTest) -> Answer:
    """Judge a hold test and say how large the leak and its hole are.

    Raises
    ------
    Refusal
        When a vacuum is deeper than the air pressure, or there is no volume.

    Notes
    -----
    ``Q = V dp/dt`` at one temperature; the hole from the whole decay, so that it is right
    whether the flow in it is choked or not. The volume enters the hole and the leak only.
    """
    air, volume = test.place.air(), test.held()
    _refuse(test, air, volume)
    hold, later = test.hold(), test.later()
    drop = later - (air - test.start)
    leak = volume * drop / test.time
    area = _area(test, volume, air)
    kind = VACUUM if test.limit_by == "drop" else LEAK
    smallest = hold.smallest_rate()
    flow = volume_flow_at(leak, test.temperature, REFERENCES[test.reference])
    return Answer(
        values={
            "drop": test.start - test.end,
            "temperature_drop": test.start - test.end - drop if test.temperature_drift else None,
            "drop_rate": drop / test.time,
            "drop_uncertainty": hold.drop_uncertainty(),
            "volume_held": volume,
            "leak": leak,
            "leak_volume_flow": flow if leak > 0 else None,
            "hole": circle_diameter(area) if area else None,
            "regime": flow_regime(air, later, air - test.start) if area else None,
            "verdict": hold.verdict(kind, VACUUM),
            "smallest_leak": None if smallest is None else volume * smallest,
            "hold_time": hold.needed_time(),
            "mean_vacuum": (test.start + test.end) / 2,
        },
        notes=tuple(_notes(hold, drop, test.end, area)),
        drawing=_draw(test, hold, volume, area, air),
    )


def _refuse(test: HoldTest, air: float, volume: float) -> None:
    too_deep = f"No vacuum can be as deep as {air_here(air)}."
    refuse(
        start=test.start >= air and too_deep,
        end=test.end >= air and too_deep,
        actuator_volume=volume <= 0 and "The hose and the chamber together have no volume.",
        allowed_drop=test.limit_by == "drop"
        and test.allowed_drop > test.start
        and "More than the vacuum at the start cannot be lost.",
    )


def _area(test: HoldTest, volume: float, air: float) -> float:
    """Return the area of the hole, zero where the pressure did not rise [m2]."""
    first, later = air - test.start, test.later()
    if later <= first:
        return 0.0
    return hole_area(volume, test.time, first, min(later, air), air, test.temperature)


def _notes(hold: Hold, drop: float, end: float, area: float) -> Iterator[str]:
    if drop < 0:
        yield (
            "The vacuum rose. A part that cools does that, or a gauge that sticks: tap the "
            "gauge, wait until nothing changes, and start again."
        )
    elif drop < 2 * hold.drop_uncertainty():
        yield (
            "This gauge cannot tell the fall from none in this time; the leak and the hole are "
            "the most likely values, not proven ones."
        )
    if end == 0:
        yield (
            "All the vacuum is gone, so the leak is at least this large. Read again after a "
            "shorter time."
        )
    if 0 < circle_diameter(area) < _SMALLEST_HOLE:
        yield (
            "A hole so small is rather a pore or the rubber itself; the diameter is only a measure."
        )


def _draw(test: HoldTest, hold: Hold, volume: float, area: float, air: float) -> str:
    """Draw the vacuum against time: expected, what the gauge may show, and the limit."""
    until = 1.2 * hold.time
    still = [(until * step / 24, air - hold.first) for step in range(25)]
    first = air - hold.first
    decay = decay_curve(volume, area, first, air, test.temperature, until) if area else still
    seen = [(moment, hold.first - (pressure - first)) for moment, pressure in decay]
    guards = [2 * hold.gauge.difference_uncertainty(hold.first, vacuum) for _, vacuum in seen]
    allowed = hold.limit / hold.scale
    pairs = zip(seen, guards, strict=True)
    deepest = max(hold.first - vacuum + guard for (_, vacuum), guard in pairs)
    low = hold.first - 1.3 * max(deepest, allowed * hold.time, hold.first - test.end)
    high = hold.first + 2 * max(guards) + 0.05 * (hold.first - low)
    plot = Plot(
        "Vacuum against time",
        _describe(hold, test.end, allowed),
        Axis("Time", 0, until, unit="s"),
        Axis.of("Vacuum", VACUUM, max(0.0, low), high),
    )
    plot.around(seen, guards, "what the gauge may show (k = 2)")
    plot.curve(seen, "vacuum with this leak")
    plot.limit(
        points=[(0, hold.first), (until, hold.first - allowed * until)],
        label="least vacuum allowed",
    )
    without = hold.first - hold.rate * hold.time
    drifted = abs(without - test.end) > 1
    plot.mark(hold.time, without, "end, without drift" if drifted else "end")
    return plot.svg()


def _describe(hold: Hold, end: float, allowed: float) -> str:
    least = max(0.0, hold.first - allowed * hold.time)
    return (
        f"The vacuum goes from {VACUUM.written(hold.first)} to {VACUUM.written(end)} in "
        f"{duration(hold.time)}; at the limit it would go to {VACUUM.written(least)}."
    )


RESULTS = (
    verdict("verdict", "Verdict", VACUUM).says(
        "The measured fall, or leak, held against its limit with a guard band at k = 2."
    ),
    result("drop", "Fall of the vacuum", VACUUM, 3).says("As read: start less end."),
    result("drop_uncertainty", "Its standard uncertainty", VACUUM, 2).says(
        "Grade and resolution at both ends, the stopwatch, the temperature."
    ),
    result("temperature_drop", "Of it by temperature", VACUUM, 2).says(
        "What the drift would do with no leak at all; the leak is the rest."
    ),
    result("drop_rate", "Fall by the leak", FALL_RATE, 3).says(
        "Per time, without what the temperature did."
    ),
    result("leak", "Leak", LEAK, 3).says(
        "Pressure times volume per time, at the temperature of the part."
    ),
    result("leak_volume_flow", "Leak as air flow at the reference", SMALL_FLOW, 3).says(
        "At 101.325 kPa and the temperature chosen above."
    ),
    result("hole", "Hole that leaks so much", SMALL_LENGTH, 2).says(
        "One round hole with a sharp edge; within about 3 % for such a hole."
    ),
    text("regime", "Flow in it").says("Choked or slower than sound."),
    result("smallest_leak", "Smallest leak this gauge shows in this time", LEAK, 2).says(
        "A fall of two standard uncertainties."
    ),
    result("hold_time", "Shortest hold that decides", TIME, 2).says(
        "If the leak goes on as it did; nothing where no hold decides before the vacuum is gone."
    ),
    result("volume_held", "Volume under vacuum", SMALL_VOLUME, 3).says(
        "What the leak is reckoned with."
    ),
    result("mean_vacuum", "Mean vacuum", VACUUM, 3).says("Between start and end."),
)

CALCULATOR = Calculator(
    **taking(HoldTest, vacuum_hold),
    title="Vacuum hold test",
    summary="From a vacuum that falls: does the part hold, how large is the leak, and how long "
    "must you wait to be sure.",
    job="Vacuum and pressure",
    words=phrases(
        "slow leak, vacuum decay, leak down, hand vacuum pump, diaphragm, inches of "
        "mercury, hold vacuum"
    ),
    results=RESULTS,
    meaning="Pump the part down, close the valve, read, wait, read again. The same small leak "
    "makes a short hose fall quickly and a large chamber slowly, so the leak, not the fall, "
    "compares parts; the fall is what the manual limits. Two readings of one dial close "
    "together share most of the dial's error, so a fall is known better than either reading. "
    "If the verdict is too close to call, waiting longer is nearly always the cheapest way out.",
    leaves_out="The air pressure is taken as steady during the hold. Hoses that still give way, "
    "fuel or water that boils off under vacuum, and a pump valve that leaks itself all look "
    "like a leak of the part: hold the pump with its end plugged first. The correlation of the "
    "errors along one dial (one less the distance as a share of the span) is common practice.",
    sources=published("40 CFR 1065.644 (vacuum-decay leak rate)")
    + SHARP_EDGE_CHOKED
    + published(
        "40 CFR 85 Subpart V, Appendix I (a vacuum unit holds 457 mmHg with no visible "
        "fall in 15 s)",
        "GUM, JCGM 100:2008; JCGM 106:2012; ILAC-G8:09/2019 (guard band at k = 2)",
    )
    + from_memory("ASME B40.100 (grade A; the other grades from memory)"),
    hands_over=hand_over(
        "leak_orifice",
        "The hole of this leak under other pressures",
        f"flow=leak_volume_flow reference inside=mean_vacuum {PLACE} temperature",
        find="diameter",
        side="vacuum",
    )
    + hand_over(
        "gauge",
        "What this gauge can prove",
        "gauge_span gauge_grade gauge_resolution reading=start",
    ),
)

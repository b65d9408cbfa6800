"""How a fuel system loses pressure or vacuum through a hole, and the hole that a decay implies."""

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from baycalc.forms.declare import (
    Answer,
    Calculator,
    Choice,
    Note,
    Option,
    Quantity,
    Refusal,
    Result,
    Shown,
    Source,
    Value,
)
from baycalc.forms.shared_inputs import (
    air_here,
    air_pressure,
    barometer_inputs,
    gauge_inputs,
    gauge_of,
)
from baycalc.measurement.decay_test import STOPWATCH, practical
from baycalc.measurement.decision import GUARD_FACTOR, TOO_CLOSE, Gauge, Limit, Verdict, judge
from baycalc.physics.decay import decay_curve, decay_time, hole_area, throughput
from baycalc.physics.orifice import COEFFICIENT_UNCERTAINTY, circle_area, circle_diameter
from baycalc.plot import Axis, Plot
from baycalc.quantities.units import duration, installed, label, written

_UNITS = ("inH2O", "kPa")
_PRESSURES = ("inH2O", "kPa", "mbar", "psi", "inHg")
_FULLEST = 0.85
_EMPTIEST = 0.15
_HOLES = {"020": 0.020 * 0.0254, "040": 0.040 * 0.0254}
_STEPS = 16
_FUEL = Note(
    text="Fuel vapour burns and explodes. No flame, spark or hot lamp near an open fuel system; "
    "fresh air; nothing but the regulated low pressure of a tester: shop air bursts a tank.",
    signal="warning",
)


_Point = tuple[float, ...]
"""Time, reading with a hole, reading with the limit's hole."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _System:
    """A closed vapour space, what is in it at the start, and what reads it."""

    volume: float
    start: float
    air: float
    temperature: float
    side: int
    gauge: Gauge
    relative: float

    def absolute(self, shown: float) -> float:
        """Return the absolute pressure of a reading [Pa]."""
        return self.air + self.side * shown

    def run(self, area: float, until: float, steps: int = _STEPS) -> list[tuple[float, float]]:
        """Return readings against time with a hole."""
        start = self.absolute(self.start)
        if not area:
            return [(until * step / steps, self.start) for step in range(steps + 1)]
        curve = decay_curve(self.volume, area, start, self.air, self.temperature, until, steps)
        return [(time, abs(pressure - self.air)) for time, pressure in curve]

    def time_to(self, area: float, shown: float) -> float:
        """Return the time to a reading with a hole [s]."""
        start, end = self.absolute(self.start), self.absolute(shown)
        return decay_time(self.volume, area, start, end, self.air, self.temperature)

    def hole_of(self, shown: float, time: float) -> float:
        """Return the area of the hole that leaves a reading after a time; 0 where none does."""
        if shown >= self.start:
            return 0.0
        start, end = self.absolute(self.start), self.absolute(max(0.0, shown))
        return hole_area(self.volume, time, start, end, self.air, self.temperature)

    def uncertainty(self, shown: float, area: float, time: float) -> float:
        """Return the standard uncertainty of a reading against that of a hole [Pa].

        The gauge at both ends, and what volume, coefficient and stopwatch do to the reading
        that the hole would leave: it depends on area times time over volume only.
        """
        rate = throughput(self.absolute(shown), self.air, self.temperature) * area / self.volume
        known = math.hypot(self.relative, COEFFICIENT_UNCERTAINTY, STOPWATCH / time)
        gauge = self.gauge.difference_uncertainty(self.start, shown)
        return math.hypot(gauge, rate * time * known)


def evap_decay(
    find: str,
    tank: float,
    fill: float,
    extra_volume: float,
    volume_uncertainty: float,
    side: str,
    start: float,
    hole: float,
    end: float,
    time: float,
    vapour_rise: float,
    stop: float,
    limit_hole: str,
    barometer_from: str,
    altitude: float,
    barometer: float,
    temperature: float,
    gauge_span: float,
    gauge_grade: str,
    gauge_resolution: float,
) -> Answer:
    """Relate a hole in a fuel system and the decay of its pressure or vacuum.

    Parameters
    ----------
    find : str
        ``hole`` from a measured decay, or ``pressure`` that a hole would leave [-]
    tank : float
        Volume of the full tank [m3]
    fill : float
        How full it is, as a share [-]
    extra_volume : float
        Volume of pipes and canister [m3]
    volume_uncertainty : float
        How far the vapour space may be off, as a share of it [-]
    side : str
        ``vacuum`` or ``pressure`` [-]
    start : float
        Reading at the start [Pa]
    hole : float
        Diameter of the hole, used to find the pressure [m]
    end : float
        Reading at the end, used to find the hole [Pa]
    time : float
        Time between [s]
    vapour_rise : float
        Rise of pressure by fuel vapour in the closed system, used to find the hole [Pa/s]
    stop : float
        Reading at which a check ends [Pa]
    limit_hole : str
        ``020`` or ``040``: hole that the system is held against [-]
    barometer_from : str
        ``altitude`` or ``measured`` [-]
    altitude : float
        Altitude above sea level, used with ``altitude`` [m]
    barometer : float
        Pressure of the air around, used with ``measured`` [Pa]
    temperature : float
        Temperature of tank and air [K]
    gauge_span : float
        Length of the scale [Pa]
    gauge_grade : str
        Accuracy grade, or ``none`` [-]
    gauge_resolution : float
        Smallest step that can be read [Pa]

    Returns
    -------
    Answer
        Vapour space, readings, times, the hole, and the verdict.

    Raises
    ------
    Refusal
        Above the fill at which such checks are run, or where a reading is impossible.
    """
    air = air_pressure(barometer_from, altitude, barometer)
    volume = tank * (1 - fill) + extra_volume
    _refuse(fill, volume, side, start, stop, air)
    system = _System(
        volume=volume,
        start=start,
        air=air,
        temperature=temperature,
        side=-1 if side == "vacuum" else 1,
        gauge=gauge_of(gauge_span, gauge_grade, gauge_resolution),
        relative=volume_uncertainty / math.sqrt(3),
    )
    measured = find == "hole"
    without = end - system.side * vapour_rise * time if measured else None
    area = circle_area(hole) if without is None else system.hole_of(without, time)
    limit_area = circle_area(_HOLES[limit_hole])
    left = system.run(limit_area, time, steps=8)[-1][1]
    values: dict[str, Value] = {
        "vapour_space": volume,
        "found_hole": circle_diameter(area) if measured and area else None,
        "expected_end": None if measured else system.run(area, time, steps=8)[-1][1],
        "limit_end": left,
        "time_020": system.time_to(circle_area(_HOLES["020"]), stop),
        "time_040": system.time_to(circle_area(_HOLES["040"]), stop),
        "proof_time": _decides(system, 0.0, limit_area),
    }
    if without is not None:
        values["verdict"] = _judge(system, without, time, area, limit_area, left)
    return Answer(
        values=values,
        notes=(*_notes(fill, end if measured else None), _FUEL),
        drawing=_draw(system, area, time, without),
    )


def _refuse(fill: float, volume: float, side: str, start: float, stop: float, air: float) -> None:
    problems = {}
    if fill > _FULLEST:
        problems["fill"] = (
            "Above 85 % the vapour space is too small and the fuel moves too much: leak checks "
            "are not run there."
        )
    elif volume <= 0:
        problems["extra_volume"] = "There is no vapour space at all."
    if side == "vacuum" and start >= air:
        problems["start"] = f"No vacuum can be as deep as {air_here(air)}."
    if stop >= start:
        problems["stop"] = "The check has to end below the reading at the start."
    if problems:
        raise Refusal(problems)


def _judge(
    system: _System, without: float, time: float, area: float, limit_area: float, left: float
) -> Verdict:
    verdict = judge(
        without,
        system.uncertainty(left, limit_area, time),
        Limit(low=left),
        kind="pressure",
        units=_UNITS,
    )
    if verdict.outcome != TOO_CLOSE:
        return verdict
    return judge(
        without,
        verdict.uncertainty,
        verdict.limit,
        kind="pressure",
        units=_UNITS,
        advice=_advice(system, time, without, area, limit_area, left),
    )


def _advice(
    system: _System, time: float, without: float, area: float, limit_area: float, left: float
) -> str:
    ways = list(_ways(system, time, without, area, limit_area, left))
    text = ", or ".join(ways)
    return f"{text[0].upper()}{text[1:]}."


def _ways(
    system: _System, time: float, without: float, area: float, limit_area: float, left: float
) -> Iterator[str]:
    needed = _decides(system, area, limit_area)
    if needed is not None:
        when = f"at least {duration(practical(needed))}" if needed > time else duration(needed)
        yield f"close the system again and read after {when}"
    for better, way in (
        (replace(system, relative=0.0), "find out more closely how full the tank is"),
        (replace(system, gauge=Gauge()), "use a gauge of a better grade and a finer step"),
    ):
        if abs(without - left) >= GUARD_FACTOR * better.uncertainty(left, limit_area, time):
            yield way
    yield "put a calibrated hole of the limit's size on the same system and compare the two decays"


def _decides(system: _System, area: float, limit_area: float) -> float | None:
    """Return the shortest time after which a hole and the limit's hole read apart [s]."""
    emptied = system.time_to(limit_area, 0.0)
    points = list(zip(system.run(area, emptied), system.run(limit_area, emptied), strict=True))
    for (before, after), (ours, theirs) in itertools.pairwise(points):
        if _apart(system, limit_area, ours[0], ours[1], theirs[1]):
            return _between(system, limit_area, (*before, after[1]), (*ours, theirs[1]))
    return None


def _apart(system: _System, limit_area: float, time: float, reading: float, left: float) -> bool:
    if not time:
        return False
    return abs(reading - left) >= GUARD_FACTOR * system.uncertainty(left, limit_area, time)


def _between(system: _System, limit_area: float, early: _Point, late: _Point) -> float:
    """Return where on straight lines between two times the readings come apart [s]."""
    for _ in range(12):
        middle = tuple((one + other) / 2 for one, other in zip(early, late, strict=True))
        if _apart(system, limit_area, *middle):
            late = middle
        else:
            early = middle
    return late[0]


def _notes(fill: float, end: float | None) -> Iterator[Note]:
    if fill < _EMPTIEST:
        yield Note(
            text="Many monitors wait until the tank is at least 15 % full (common practice): a "
            "large vapour space makes every leak look smaller."
        )
    if end == 0:
        yield Note(
            text="Nothing is left, so the hole is at least this large. Read again after a "
            "shorter time."
        )


def _draw(system: _System, area: float, time: float, without: float | None) -> str:
    """Draw the reading against time with this hole and with those of the rules."""
    to_unit = installed().unit("pressure", _UNITS[0]).from_si
    kilopascals = installed().unit("pressure", _UNITS[1]).from_si(1) / to_unit(1)
    until = 1.2 * time
    ours = system.run(area, until)
    guards = [
        GUARD_FACTOR * system.gauge.difference_uncertainty(system.start, reading)
        for _, reading in ours
    ]
    highest = max(system.start, without or 0.0) + max(guards)
    name = "Vacuum" if system.side < 0 else "Pressure"
    plot = Plot(
        f"{name} in the fuel system against time",
        _describe(system, ours, area, until),
        Axis("Time", 0, until, unit="s"),
        Axis(
            name, 0, 1.05 * to_unit(highest), unit=label(_UNITS[0]), also=(_UNITS[1], kilopascals)
        ),
    )
    pairs = list(zip(ours, guards, strict=True))
    plot.band(
        [(moment, to_unit(reading - guard)) for (moment, reading), guard in pairs],
        [(moment, to_unit(reading + guard)) for (moment, reading), guard in pairs],
        "what the gauge may show (k = 2)",
    )
    plot.curve([(moment, to_unit(reading)) for moment, reading in ours], "this system")
    for size, style in (("020", "second"), ("040", "third")):
        curve = system.run(circle_area(_HOLES[size]), until)
        points = [(moment, to_unit(reading)) for moment, reading in curve]
        plot.curve(points, f"a hole of 0.{size} in", style)
    if without is not None:
        plot.mark(time, to_unit(without), "end")
    return plot.svg()


def _describe(system: _System, ours: list[tuple[float, float]], area: float, until: float) -> str:
    size = written("length", circle_diameter(area), "in", "mm", digits=2)
    hole = f"a hole of {size}" if area else "no hole"
    return (
        f"With {hole} the reading goes from {written('pressure', system.start, *_UNITS)} to "
        f"{written('pressure', ours[-1][1], *_UNITS)} in {duration(until)}."
    )


CALCULATOR = Calculator(
    id="evap_decay",
    title="Leak check of a fuel system",
    summary="How fast a fuel system loses its vacuum or pressure through a 0.020 in or 0.040 in "
    "hole, and how large the hole is that a measured decay means.",
    job="Vacuum and pressure",
    words=("EVAP", "P0442", "P0456", "P0455", "small leak", "gas cap", "0.020", "vapour space"),
    inputs=(
        Choice(
            id="find",
            label="Find",
            options=(
                Option(value="hole", label="the hole of a measured decay"),
                Option(value="pressure", label="the reading that a hole would leave"),
            ),
            default="hole",
            help="Both ways use the same formula.",
        ),
        Quantity(
            id="tank",
            label="Tank, full",
            kind="volume",
            units=("gal", "L"),
            default="16 gal",
            low="1 L",
            high="500 L",
            help="From the vehicle's data.",
        ),
        Quantity(
            id="fill",
            label="Filled",
            kind="ratio",
            units=("%",),
            default="50 %",
            low="0 %",
            high="100 %",
            help="As the fuel gauge or the scan tool shows it; checks are run up to 85 %.",
        ),
        Quantity(
            id="extra_volume",
            label="Pipes and canister",
            kind="volume",
            units=("gal", "L"),
            default="1 gal",
            low="0 L",
            high="100 L",
            help="Free volume; a canister holds some 2 to 4 L of air between its grains.",
        ),
        Quantity(
            id="volume_uncertainty",
            label="Vapour space may be off by",
            kind="ratio",
            units=("%",),
            default="10 %",
            low="0 %",
            high="50 %",
            help="Fuel gauges are coarse; this is mostly theirs.",
        ),
        Choice(
            id="side",
            label="Checked with",
            options=(
                Option(value="vacuum", label="vacuum"),
                Option(value="pressure", label="pressure"),
            ),
            default="vacuum",
            help="As the monitor or your tester does it.",
        ),
        Quantity(
            id="start",
            label="Reading at the start",
            kind="pressure",
            units=_PRESSURES,
            default="10 inH2O",
            low="1 Pa",
            high="20 kPa",
            help="Once the reading has come to rest, without a minus sign.",
        ),
        Quantity(
            id="hole",
            label="Diameter of the hole",
            kind="length",
            units=("in", "mm"),
            default="0.020 in",
            low="0.01 mm",
            high="20 mm",
            help="A round hole with a sharp edge.",
            shown=Shown(choice="find", values=("pressure",)),
        ),
        Quantity(
            id="end",
            label="Reading at the end",
            kind="pressure",
            units=_PRESSURES,
            default="9 inH2O",
            low="0 Pa",
            high="20 kPa",
            help="On the same gauge, or the tank pressure on the scan tool.",
            shown=Shown(choice="find", values=("hole",)),
        ),
        Quantity(
            id="time",
            label="Time between",
            kind="time",
            units=("s", "min"),
            default="60 s",
            low="1 s",
            high="2 h",
            help="By a stopwatch; half a second either way is counted for the hand.",
        ),
        Quantity(
            id="vapour_rise",
            label="Rise by fuel vapour",
            kind="pressure rate",
            units=("inH2O/min", "kPa/min"),
            default="0 inH2O/min",
            low="0 Pa/s",
            high="100 Pa/s",
            help="Close the vented system, wait a minute, and read how far its pressure rises.",
            shown=Shown(choice="find", values=("hole",)),
        ),
        Quantity(
            id="stop",
            label="The check ends at a reading of",
            kind="pressure",
            units=_PRESSURES,
            default="5 inH2O",
            low="0 Pa",
            high="20 kPa",
            help="The times of the two holes of the rules are given to this reading.",
        ),
        Choice(
            id="limit_hole",
            label="Leak to look for",
            options=(
                Option(value="020", label="0.020 in (0.51 mm)"),
                Option(value="040", label="0.040 in (1.02 mm)"),
            ),
            default="020",
            help="The leak sizes that the evaporative monitor must find.",
        ),
        *barometer_inputs(),
        Quantity(
            id="temperature",
            label="Temperature",
            kind="temperature",
            units=("°F", "°C"),
            default="68 °F",
            low="-40 °C",
            high="80 °C",
            help="Of tank and air; a tank that cools makes a vacuum of its own.",
        ),
        *gauge_inputs("15 inH2O", "1A", "0.1 inH2O", _PRESSURES),
    ),
    results=(
        Result(
            id="verdict",
            label="Verdict",
            kind="verdict",
            units=_UNITS,
            digits=3,
            help="The end reading held against the one that the hole of the limit would leave.",
        ),
        Result(
            id="found_hole",
            label="Hole that this decay means",
            kind="length",
            units=("in", "mm"),
            digits=2,
            help="One round hole with a sharp edge.",
        ),
        Result(
            id="expected_end",
            label="Reading left by the hole",
            kind="pressure",
            units=_UNITS,
            digits=3,
            help="After the time above.",
        ),
        Result(
            id="limit_end",
            label="Reading left by the hole of the limit",
            kind="pressure",
            units=_UNITS,
            digits=3,
            help="After the time above; a tight system reads more.",
        ),
        Result(
            id="time_020",
            label="A 0.020 in hole takes",
            kind="time",
            units=("s", "min"),
            digits=3,
            help="From the start to where the check ends.",
        ),
        Result(
            id="time_040",
            label="A 0.040 in hole takes",
            kind="time",
            units=("s", "min"),
            digits=3,
            help="From the start to where the check ends; a quarter of the time of the other.",
        ),
        Result(
            id="proof_time",
            label="Shortest time that clears a tight system",
            kind="time",
            units=("s", "min"),
            digits=2,
            help="With this gauge and this knowledge of the volume.",
        ),
        Result(
            id="vapour_space",
            label="Vapour space",
            kind="volume",
            units=("gal", "L"),
            digits=3,
            help="Tank above the fuel, pipes and canister.",
        ),
    ),
    compute=evap_decay,
    meaning="The fuller the tank, the smaller the space above the fuel and the faster the same "
    "hole empties it: compare decays only at the same fill. Warm or shaken fuel gives off vapour, "
    "which looks like a leak under vacuum and hides one under pressure, so measure its rise "
    "first and repeat the check when the fuel has come to rest.",
    leaves_out="The tank's walls give way under vacuum and pressure, which slows the decay; the "
    "vapour is taken as air and its rise as even; the temperature is taken as steady. A monitor "
    "of the car has its own times and thresholds, which this does not know.",
    sources=(
        Source(text="13 CCR 1968.2(e)(4.2.2)(B) and (C) (0.040 in and 0.020 in)"),
        Source(text="13 CCR 1968.2(e)(4.3.3) (no leak check above 85 % fill)"),
        Source(
            text="D. A. Jobson, Proc. I. Mech. E. 169 (1955) 767 (coefficient of a sharp-edged "
            "hole), with 0.61 at small differences"
        ),
        Source(text="JCGM 100:2008; JCGM 106:2012; ILAC-G8:09/2019 (guard band at k = 2)"),
        Source(text="Checks wait for 15 % fill: common practice", standing="practice"),
    ),
    examples=(
        {},
        {"end": "4 inH2O"},
        {"end": "7.5 inH2O"},
        {"end": "6.5 inH2O", "time": "60 s", "vapour_rise": "0.5 inH2O/min"},
        {"end": "0 inH2O", "time": "30 s"},
        {"end": "10.2 inH2O"},
        {"find": "pressure", "hole": "0.040 in", "time": "20 s"},
        {
            "find": "pressure",
            "hole": "0.020 in",
            "time": "2 min",
            "side": "pressure",
            "start": "14 inH2O",
            "stop": "7 inH2O",
        },
        {"fill": "85 %", "end": "6 inH2O"},
        {"fill": "10 %", "tank": "70 L", "end": "8,5 inH2O", "altitude": "2000 m"},
        {"limit_hole": "040", "end": "2 inH2O", "time": "30 s"},
        {
            "start": "2.5 kPa",
            "end": "2.2 kPa",
            "stop": "1 kPa",
            "side": "pressure",
            "temperature": "35 °C",
            "gauge_span": "5 kPa",
            "gauge_resolution": "0.01 kPa",
        },
        {"end": "8 inH2O", "gauge_grade": "B", "gauge_resolution": "0.5 inH2O"},
    ),
)

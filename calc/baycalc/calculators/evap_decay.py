"""How a fuel system loses pressure or vacuum through a hole, and the hole that a decay implies."""

import math
from collections.abc import Iterator
from dataclasses import replace

from baycalc.forms.declare import Answer, Calculator, Note, Value, refuse
from baycalc.forms.form import (
    choice,
    form,
    part,
    phrases,
    practice,
    published,
    quantity,
    result,
    taking,
    verdict,
)
from baycalc.forms.shared_inputs import DialGauge, Place, air_here, dial_gauge
from baycalc.forms.sources import FULLEST_TANK, INCHES, LEAK_SIZES, SHARP_EDGE
from baycalc.measurement.closed_system import ClosedSystem
from baycalc.measurement.decay_test import practical
from baycalc.measurement.decision import GUARD_FACTOR, TOO_CLOSE, Limit, Verdict, judge
from baycalc.measurement.instrument import Gauge
from baycalc.physics.orifice import REGULATORY_HOLES, circle_area, circle_diameter
from baycalc.plot import Axis, Plot
from baycalc.quantities.kinds import (
    PER_CENT,
    SMALL_LENGTH,
    SMALL_PRESSURE,
    TANK_VOLUME,
    TEMPERATURE,
    TIME,
    kind,
)
from baycalc.quantities.units import duration
from baycalc.text import sentence

PRESSURE = kind("pressure", "inH2O", "kPa", "mbar", "psi", "inHg")
RISE = kind("pressure rate", "inH2O/min", "kPa/min")
_FULLEST, _EMPTIEST = 0.85, 0.15
_HOLES = {size: circle_area(diameter) for size, diameter in REGULATORY_HOLES.items()}
_FUEL = Note(
    "Fuel vapor burns and explodes. No flame, spark or hot lamp near an open fuel system; "
    "fresh air; nothing but the regulated low pressure of a tester: shop air bursts a tank.",
    signal="warning",
)


@form
class LeakCheck:
    """A fuel system, closed, and how its pressure or vacuum fell."""

    find: str = choice(
        "Find",
        {"hole": "the hole of a measured decay", "pressure": "the reading that a hole would leave"},
    ).says("Both ways use the same formula.")
    tank: float = quantity("Tank, full", TANK_VOLUME, "16 gal", "1 L to 500 L").says(
        "From the vehicle's data."
    )
    fill: float = quantity("Filled", PER_CENT, "50 %", "0 % to 100 %").says(
        "As the fuel gauge or the scan tool shows it; checks are run up to 85 %."
    )
    extra_volume: float = quantity("Pipes and canister", TANK_VOLUME, "1 gal", "0 L to 100 L").says(
        "Free volume; a canister holds some 2 to 4 L of air between its grains."
    )
    volume_uncertainty: float = quantity(
        "Vapor space may be off by", PER_CENT, "10 %", "0 % to 50 %"
    ).says("Fuel gauges are coarse; this is mostly theirs.")
    side: str = choice("Checked with", {"vacuum": "vacuum", "pressure": "pressure"}).says(
        "As the monitor or your tester does it."
    )
    start: float = quantity("Reading at the start", PRESSURE, "10 inH2O", "1 Pa to 20 kPa").says(
        "Once the reading has come to rest, without a minus sign."
    )
    hole: float = quantity(
        "Diameter of the hole", SMALL_LENGTH, "0.020 in", "0.01 mm to 20 mm"
    ).says("A round hole with a sharp edge.", "find=pressure")
    end: float = quantity("Reading at the end", PRESSURE, "9 inH2O", "0 Pa to 20 kPa").says(
        "On the same gauge, or the tank pressure on the scan tool.", "find=hole"
    )
    time: float = quantity("Time between", TIME, "60 s", "1 s to 2 h").says(
        "By a stopwatch; half a second either way is counted for the hand."
    )
    vapour_rise: float = quantity(
        "Rise by fuel vapor", RISE, "0 inH2O/min", "0 Pa/s to 100 Pa/s"
    ).says(
        "Close the vented system, wait a minute, and read how far its pressure rises.", "find=hole"
    )
    stop: float = quantity(
        "The check ends at a reading of", PRESSURE, "5 inH2O", "0 Pa to 20 kPa"
    ).says("The times of the two holes of the rules are given to this reading.")
    limit_hole: str = choice(
        "Leak to look for", {"020": "0.020 in (0.51 mm)", "040": "0.040 in (1.02 mm)"}
    ).says("The leak sizes that the evaporative monitor must find.")
    place: Place = part(Place)
    temperature: float = quantity("Temperature", TEMPERATURE, "68 °F", "-40 °C to 80 °C").says(
        "Of tank and air; a tank that cools makes a vacuum of its own."
    )
    gauge: DialGauge = dial_gauge("15 inH2O", "1A", "0.1 inH2O", PRESSURE)

    def system(self) -> ClosedSystem:
        """Return the closed system that this describes."""
        return ClosedSystem(
            volume=self.tank * (1 - self.fill) + self.extra_volume,
            start=self.start,
            air=self.place.air(),
            temperature=self.temperature,
            side=-1 if self.side == "vacuum" else 1,
            gauge=self.gauge.gauge(),
            relative=self.volume_uncertainty / math.sqrt(3),
            limit=_HOLES[self.limit_hole],
        )


def evap_decay(check: LeakCheck) -> Answer:
    """Relate a hole in a fuel system and the decay of its pressure or vacuum.

    Raises
    ------
    Refusal
        Above the fill at which such checks are run, or where a reading is impossible.
    """
    system = check.system()
    _refuse(check, system)
    measured = check.find == "hole"
    without = check.end - system.side * check.vapour_rise * check.time if measured else None
    area = circle_area(check.hole) if without is None else system.hole_of(without, check.time)
    left = system.left(system.limit, check.time)
    values: dict[str, Value] = {
        "vapour_space": system.volume,
        "found_hole": circle_diameter(area) if measured and area else None,
        "expected_end": None if measured else system.left(area, check.time),
        "limit_end": left,
        "time_020": system.time_to(_HOLES["020"], check.stop),
        "time_040": system.time_to(_HOLES["040"], check.stop),
        "proof_time": system.decides(0.0),
    }
    if without is not None:
        values["verdict"] = _judge(system, without, check.time, area, left)
    return Answer(
        values=values,
        notes=(*_notes(check), _FUEL),
        drawing=_draw(system, area, check.time, without),
    )


def _refuse(check: LeakCheck, system: ClosedSystem) -> None:
    refuse(
        fill=check.fill > _FULLEST
        and "Above 85 % the vapor space is too small and the fuel moves too much: leak checks "
        "are not run there.",
        extra_volume=check.fill <= _FULLEST
        and system.volume <= 0
        and "There is no vapor space at all.",
        start=check.side == "vacuum"
        and check.start >= system.air
        and f"No vacuum can be as deep as {air_here(system.air)}.",
        stop=check.stop >= check.start and "The check has to end below the reading at the start.",
    )


def _judge(system: ClosedSystem, without: float, time: float, area: float, left: float) -> Verdict:
    verdict = judge(without, system.uncertainty(left, time), Limit(low=left), kind=SMALL_PRESSURE)
    if verdict.outcome != TOO_CLOSE:
        return verdict
    ways = _ways(system, time, without, area, left)
    return replace(verdict, advice=sentence(", or ".join(ways)))


def _ways(
    system: ClosedSystem, time: float, without: float, area: float, left: float
) -> Iterator[str]:
    needed = system.decides(area)
    if needed is not None:
        when = f"at least {duration(practical(needed))}" if needed > time else duration(needed)
        yield f"close the system again and read after {when}"
    if replace(system, relative=0.0).apart(time, without, left):
        yield "find out more closely how full the tank is"
    if replace(system, gauge=Gauge()).apart(time, without, left):
        yield "use a gauge of a better grade and a finer step"
    yield "put a calibrated hole of the limit's size on the same system and compare the two decays"


def _notes(check: LeakCheck) -> Iterator[str]:
    if check.fill < _EMPTIEST:
        yield (
            "Many monitors wait until the tank is at least 15 % full (common practice): a "
            "large vapor space makes every leak look smaller."
        )
    if check.find == "hole" and check.end == 0:
        yield (
            "Nothing is left, so the hole is at least this large. Read again after a shorter time."
        )


def _draw(system: ClosedSystem, area: float, time: float, without: float | None) -> str:
    """Draw the reading against time with this hole and with those of the rules."""
    until = 1.2 * time
    ours = system.run(area, until)
    both_ends = system.gauge.difference_uncertainty
    guards = [GUARD_FACTOR * both_ends(system.start, reading) for _, reading in ours]
    highest = max(system.start, without or 0.0) + max(guards)
    name = "Vacuum" if system.side < 0 else "Pressure"
    plot = Plot(
        f"{name} in the fuel system against time",
        _describe(system, ours[-1][1], area, until),
        Axis("Time", 0, until, unit="s"),
        Axis.of(name, SMALL_PRESSURE, 0, 1.05 * highest),
    )
    plot.around(ours, guards, "what the gauge may show (k = 2)")
    plot.curve(ours, "this system")
    plot.curve(system.run(_HOLES["020"], until), "a hole of 0.020 in", "second")
    plot.curve(system.run(_HOLES["040"], until), "a hole of 0.040 in", "third")
    if without is not None:
        plot.mark(time, without, "end")
    return plot.svg()


def _describe(system: ClosedSystem, end: float, area: float, until: float) -> str:
    size = SMALL_LENGTH.written(circle_diameter(area), digits=2)
    return (
        f"With {f'a hole of {size}' if area else 'no hole'} the reading goes from "
        f"{SMALL_PRESSURE.written(system.start)} to {SMALL_PRESSURE.written(end)} in "
        f"{duration(until)}."
    )


RESULTS = (
    verdict("verdict", "Verdict", SMALL_PRESSURE).says(
        "The end reading held against the one that the hole of the limit would leave."
    ),
    result("found_hole", "Hole that this decay means", SMALL_LENGTH, 2).says(
        "One round hole with a sharp edge."
    ),
    result("expected_end", "Reading left by the hole", SMALL_PRESSURE, 3).says(
        "After the time above."
    ),
    result("limit_end", "Reading left by the hole of the limit", SMALL_PRESSURE, 3).says(
        "After the time above; a tight system reads more."
    ),
    result("time_020", "A 0.020 in hole takes", TIME, 3).says(
        "From the start to where the check ends."
    ),
    result("time_040", "A 0.040 in hole takes", TIME, 3).says(
        "From the start to where the check ends; a quarter of the time of the other."
    ),
    result("proof_time", "Shortest time that clears a tight system", TIME, 2).says(
        "With this gauge and this knowledge of the volume."
    ),
    result("vapour_space", "Vapor space", TANK_VOLUME, 3).says(
        "Tank above the fuel, pipes and canister."
    ),
)

CALCULATOR = Calculator(
    **taking(LeakCheck, evap_decay),
    title="Leak check of a fuel system",
    summary="How fast a fuel system loses its vacuum or pressure through a 0.020 in or 0.040 in "
    "hole, and how large the hole is that a measured decay means.",
    job="Vacuum and pressure",
    words=phrases("EVAP, P0442, P0456, P0455, small leak, gas cap, 0.020, vapor space"),
    results=RESULTS,
    meaning="The fuller the tank, the smaller the space above the fuel and the faster the same "
    "hole empties it: compare decays only at the same fill. Warm or shaken fuel gives off vapor, "
    "which looks like a leak under vacuum and hides one under pressure, so measure its rise "
    "first and repeat the check when the fuel has come to rest.",
    leaves_out="The tank's walls give way under vacuum and pressure, which slows the decay; the "
    "vapor is taken as air and its rise as even; the temperature is taken as steady. A monitor "
    "of the car has its own times and thresholds, which this does not know.",
    sources=INCHES
    + LEAK_SIZES
    + FULLEST_TANK
    + SHARP_EDGE
    + published("JCGM 100:2008; JCGM 106:2012; ILAC-G8:09/2019 (guard band at k = 2)")
    + practice("Checks wait for 15 % fill: common practice"),
)

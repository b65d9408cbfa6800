"""The hole in a fuel system from a record of its pressure or vacuum."""

import math
from collections.abc import Iterator

from baycalc.forms.declare import Answer, Calculator, Note, Value, refuse
from baycalc.forms.form import (
    choice,
    form,
    part,
    phrases,
    published,
    quantity,
    result,
    taking,
    text,
    verdict,
)
from baycalc.forms.shared_inputs import Place, Recorded, air_here, recorded
from baycalc.forms.sources import LEAK_SIZES, SHARP_EDGE, UNCERTAINTY
from baycalc.measurement.closed_system import ClosedSystem
from baycalc.measurement.decision import Limit, judge
from baycalc.measurement.hole_fit import HoleFit, fit_hole
from baycalc.measurement.instrument import Gauge
from baycalc.physics.orifice import (
    COEFFICIENT_UNCERTAINTY,
    REGULATORY_HOLES,
    circle_area,
    circle_diameter,
)
from baycalc.plot import Axis, Plot
from baycalc.quantities.kinds import (
    PER_CENT,
    SMALL_LENGTH,
    SMALL_PRESSURE,
    TANK_VOLUME,
    TEMPERATURE,
    TIME,
)
from baycalc.quantities.units import duration
from baycalc.records.curve import Curve

_UNITS = {
    "inH2O": "pressure",
    "kPa": "pressure",
    "Pa": "pressure",
    "mbar": "pressure",
    "hPa": "pressure",
}
_MOST_POINTS = 120
_DEMO = "time (s); vacuum (inH2O)\n" + "\n".join(
    f"{5 * number}; {10 * (1 - 0.0026 * 5 * number) + 0.02 * (-1) ** number:.2f}"
    for number in range(13)
)
_FUEL = Note(
    "Fuel vapor burns and explodes. No flame, spark or hot lamp near an open fuel system; fresh "
    "air; nothing but the regulated low pressure of a tester.",
    signal="warning",
)


@form
class Decay:
    """A record of a fuel system that was closed, and what is known of it."""

    side: str = choice("Checked with", {"vacuum": "vacuum", "pressure": "pressure"})
    recorded: Recorded = recorded(_DEMO, "Signal", _UNITS)
    tank: float = quantity("Tank, full", TANK_VOLUME, "16 gal", "1 L to 500 L")
    fill: float = quantity("Filled", PER_CENT, "50 %", "0 % to 85 %").says(
        "As the fuel gauge or the scan tool shows it."
    )
    extra_volume: float = quantity("Pipes and canister", TANK_VOLUME, "1 gal", "0 L to 100 L")
    volume_uncertainty: float = quantity(
        "Vapor space may be off by", PER_CENT, "10 %", "0 % to 50 %"
    )
    limit_hole: str = choice(
        "Leak to look for", {"020": "0.020 in (0.51 mm)", "040": "0.040 in (1.02 mm)"}
    )
    place: Place = part(Place)
    temperature: float = quantity("Temperature", TEMPERATURE, "68 °F", "-40 °C to 80 °C")
    scale_error: float = quantity("Sensor may be off by", PER_CENT, "2 %", "0 % to 20 %").says(
        "Of the reading: a tank pressure sensor that shows nothing at rest."
    )

    def system(self, curve: Curve) -> ClosedSystem:
        """Return the closed system, as the record begins."""
        return ClosedSystem(
            volume=self.tank * (1 - self.fill) + self.extra_volume,
            start=abs(curve.values[0]),
            air=self.place.air(),
            temperature=self.temperature,
            side=-1 if self.side == "vacuum" else 1,
            gauge=Gauge(),
            relative=self.volume_uncertainty / math.sqrt(3),
            limit=circle_area(REGULATORY_HOLES[self.limit_hole]),
        )


def evap_record(asked: Decay) -> Answer:
    """Fit a hole to a record of a decay, with the uncertainty of its noise.

    Raises
    ------
    Refusal
        When the record cannot be read, or begins at nothing.
    """
    whole = asked.recorded.curve(_UNITS)
    curve, size = whole.thinned(_MOST_POINTS)
    system = asked.system(curve)
    refuse(
        record=(system.start < 1.0 and "The record begins at no vacuum or pressure.")
        or (
            asked.side == "vacuum"
            and system.start >= system.air
            and f"No vacuum can be as deep as {air_here(system.air)}."
        ),
        extra_volume=system.volume <= 0 and "There is no vapor space at all.",
    )
    noise = max(whole.noise() / math.sqrt(size), 1e-3)
    fit = fit_hole(system, curve, noise)
    diameter = circle_diameter(fit.area)
    values: dict[str, Value] = {
        "hole": diameter if fit.area else None,
        "noise": whole.noise(),
        "misfit": fit.misfit,
        "samples": str(len(whole.times)),
        "length": whole.length(),
        "vapour_space": system.volume,
        "verdict": judge(
            diameter,
            _uncertainty(asked, system, fit),
            Limit(high=REGULATORY_HOLES[asked.limit_hole]),
            kind=SMALL_LENGTH,
            advice="record for longer, find out more closely how full the tank is, or put a "
            "calibrated hole of the limit's size on the same system and compare",
        ),
    }
    return Answer(
        values=values, notes=(*_notes(fit, noise), _FUEL), drawing=_draw(whole, system, fit)
    )


def _uncertainty(asked: Decay, system: ClosedSystem, fit: HoleFit) -> float:
    """Return the standard uncertainty of the diameter [m]."""
    scale = asked.scale_error / math.sqrt(3)
    shares = math.hypot(system.relative, COEFFICIENT_UNCERTAINTY, scale)
    area = math.hypot(fit.uncertainty, fit.area * shares)
    if fit.area <= area:
        return circle_diameter(area) / 2
    return circle_diameter(fit.area) * area / fit.area / 2


def _notes(fit: HoleFit, noise: float) -> Iterator[str]:
    if fit.misfit > 3 * noise:
        yield (
            "The record does not fall as air through one hole would: fuel vapor, a tank that "
            "gives way, or a part that holds more than the decay. Choose the part that fits."
        )
    if not fit.area:
        yield "It does not fall in this part: no hole can be seen."


def _draw(whole: Curve, system: ClosedSystem, fit: HoleFit) -> str:
    """Draw the record, and what the hole that was found and that of the limit would do."""
    thin, _ = whole.thinned(400)
    first, until = thin.times[0], whole.length()
    seen = [(time - first, abs(value)) for time, value in zip(thin.times, thin.values, strict=True)]
    highest = max(value for _, value in seen)
    size = SMALL_LENGTH.written(circle_diameter(fit.area), digits=2)
    plot = Plot(
        "The record, and the hole that fits it",
        f"From {SMALL_PRESSURE.written(seen[0][1])} to {SMALL_PRESSURE.written(seen[-1][1])} in "
        f"{duration(until)}: {f'as by a hole of {size}' if fit.area else 'no hole'}.",
        Axis("Time", 0, until, unit="s"),
        Axis.of("Reading", SMALL_PRESSURE, 0, 1.1 * highest),
    )
    plot.curve(seen, "record")
    plot.curve(system.run(fit.area, until), "the hole that fits", "second")
    plot.curve(system.run(system.limit, until), "the hole of the limit", "third")
    return plot.svg()


RESULTS = (
    verdict("verdict", "Hole against the leak to look for", SMALL_LENGTH),
    result("hole", "Hole that fits the record", SMALL_LENGTH, 2),
    result("noise", "Noise of the record", SMALL_PRESSURE, 2),
    result("misfit", "Record less fit, on the average", SMALL_PRESSURE, 2),
    text("samples", "Samples"),
    result("length", "Length of the part", TIME, 3),
    result("vapour_space", "Vapor space", TANK_VOLUME, 3),
)

CALCULATOR = Calculator(
    **taking(Decay, evap_record),
    title="Leak-down of a fuel system from a record",
    summary="The hole in a fuel system from a record of its vacuum or pressure, fitted to all of "
    "it, with the uncertainty of noise, volume and sensor.",
    job="Records",
    words=phrases("EVAP, leak down, tank pressure record, P0442, P0456, CSV, scan tool record"),
    results=RESULTS,
    meaning="A record holds more than two readings: the whole decay is fitted, so noise averages "
    "out, and a curve that is not that of a hole shows itself. Choose the part in which the system "
    "was closed and at rest.",
    leaves_out="Fuel vapor that rises meanwhile, a tank that gives way, a temperature that moves: "
    "they bend the record. The sensor's zero must be right: it is not fitted.",
    sources=SHARP_EDGE
    + LEAK_SIZES
    + UNCERTAINTY
    + published("Least squares: JCGM 100:2008, H.3 (a fit and its uncertainty)"),
)

"""The conductor for a load: from current, length, allowed drop and heat to a size that is sold."""

from collections.abc import Iterator

from baycalc.forms.declare import Answer, Calculator, Note, Value, refuse
from baycalc.forms.form import (
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
)
from baycalc.forms.shared_inputs import meter_error
from baycalc.measurement.decision import GUARD_FACTOR, Limit, judge
from baycalc.measurement.instrument import Gauge
from baycalc.physics.copper import wire_resistance
from baycalc.physics.harness import (
    INSULATIONS,
    METRIC_SIZES,
    SOLD_GAUGES,
    allowed_current,
    area_for_current,
    conductor_temperature,
    insulation_limit,
    least_area,
)
from baycalc.quantities.kinds import (
    AMPERES,
    CURRENT,
    LENGTH,
    TEMPERATURE,
    VOLTAGE,
    VOLTS,
    WIRE_SIZE,
    kind,
)

CROSS_SECTION = kind("area", "mm2")
GAUGE = kind("area", "AWG")


@form
class Line:
    """A load, the way to it, and what the line may lose."""

    load: float = quantity("Steady load", CURRENT, "18 A", "0.01 A to 400 A").says(
        "The greatest current that flows for longer than a minute."
    )
    length: float = quantity("Length, one way", LENGTH, "12 ft", "0.1 m to 50 m").says(
        "Along the harness, not straight."
    )
    back: str = choice("The return is", {"wire": "a wire of the same size", "body": "the body"})
    allowed: float = quantity("Drop allowed in the line", VOLTAGE, "0.5 V", "1 mV to 10 V").says(
        "In all of its wire; 3 % of the supply for what must work, 10 % for other loads."
    )
    insulation: str = choice(
        "Insulation bears", {each: f"{each} °C" for each in INSULATIONS}, "90"
    ).says("Take the next lower one: an automotive cable of class B (100 °C) counts as 90.")
    ambient: float = quantity(
        "Hottest air around the line", TEMPERATURE, "60 °C", "-40 °C to 124 °C"
    )
    meter_error: float = meter_error("current meter")
    fitted: float | None = quantity(
        "Conductor there, if any", WIRE_SIZE, None, "0.1 mm2 to 110 mm2"
    )

    def way(self) -> float:
        """Return the length of wire that the current goes through [m]."""
        return self.length * (2 if self.back == "wire" else 1)

    def error(self) -> float:
        """Return the standard uncertainty of the load [A]."""
        return Gauge(of_reading=self.meter_error).uncertainty(self.load)


def conductor(line: Line) -> Answer:
    """Find the cross-section that neither drops too much nor gets too hot.

    Raises
    ------
    Refusal
        When the place is hotter than the insulation bears.
    """
    refuse(
        ambient=line.ambient >= insulation_limit(line.insulation)
        and f"This place is hotter than an insulation for {line.insulation} °C bears: no "
        "current is allowed here."
    )
    most = line.load + GUARD_FACTOR * line.error()
    by_heat = area_for_current(most, line.insulation, line.ambient)
    by_drop = _area_for_drop(line, most)
    needed = max(by_heat, by_drop)
    values: dict[str, Value] = {
        "metric_size": _next(METRIC_SIZES, needed),
        "gauge_size": _next(SOLD_GAUGES, needed),
        "by_drop": by_drop,
        "by_heat": by_heat,
        "why": _why(by_drop, by_heat),
    }
    chosen = line.fitted or _next(METRIC_SIZES, needed)
    if chosen is not None:
        values |= _of_conductor(line, chosen)
    return Answer(values=values, notes=tuple(_notes(line, chosen)))


def _of_conductor(line: Line, area: float) -> dict[str, Value]:
    """Return what the chosen or the fitted conductor does."""
    return {
        "drop": _drop(line, line.load, area),
        "drop_verdict": judge(
            _drop(line, line.load, area),
            _drop(line, line.load, area) * line.error() / line.load,
            Limit(high=line.allowed),
            kind=VOLTS,
            advice="measure the load with a meter of a smaller error, warm and at full voltage",
        ),
        "carries": allowed_current(area, line.insulation, line.ambient),
        "load_verdict": judge(
            line.load,
            line.error(),
            Limit(high=allowed_current(area, line.insulation, line.ambient)),
            kind=AMPERES,
            advice="measure the load with a meter of a smaller error, warm and at full voltage",
        ),
        "warms_to": conductor_temperature(line.load, area, line.insulation, line.ambient),
    }


def _drop(line: Line, load: float, area: float) -> float:
    """Return the drop of a cross-section at the temperature that the load brings it to [V]."""
    warm = conductor_temperature(load, area, line.insulation, line.ambient)
    bounded = min(warm, insulation_limit(line.insulation))
    return load * wire_resistance(area, line.way(), bounded)


def _area_for_drop(line: Line, load: float) -> float:
    """Return the cross-section that drops just what is allowed [m2]."""
    return least_area(lambda area: _drop(line, load, area) <= line.allowed)


def _next(sizes: tuple[float, ...], needed: float) -> float | None:
    return next((size for size in sizes if size >= needed * (1 - 1e-9)), None)


def _why(by_drop: float, by_heat: float) -> str:
    drop, heat = CROSS_SECTION.written(by_drop, 2), CROSS_SECTION.written(by_heat, 2)
    if by_drop > by_heat:
        return f"The drop asks for {drop}, the heat only for {heat}: the line is long for its load."
    return f"The heat asks for {heat}, the drop only for {drop}: the place is hot for its load."


def _notes(line: Line, chosen: float | None) -> Iterator[Note | str]:
    if chosen is None:
        yield "No size of the series is enough: take two lines, or a shorter way."
        return
    yield Note(
        "Fuse the line by the conductor, at its beginning. A wire without a fuse burns the car "
        "where it chafes through.",
        signal="warning",
    )
    if line.fitted is None:
        yield (
            "Next to the engine or a hot pipe take the next size. Never replace a wire of the car "
            "by a thinner one, and keep the twist and the shield of sensor leads."
        )


RESULTS = (
    result("metric_size", "Conductor to take", CROSS_SECTION, 3),
    result("gauge_size", "Or, of the wire gauges", GAUGE),
    text("why", "Why"),
    verdict("drop_verdict", "Drop of this conductor", VOLTS),
    verdict("load_verdict", "Load on this conductor", AMPERES),
    result("by_drop", "Needed for the drop", CROSS_SECTION, 3),
    result("by_heat", "Needed for the heat", CROSS_SECTION, 3),
    result("drop", "Drop in the line", VOLTS, 3),
    result("carries", "Conductor may carry", AMPERES, 3),
    result("warms_to", "Conductor warms to", TEMPERATURE, 3),
)

CALCULATOR = Calculator(
    **taking(Line, conductor, measured="load length", limits="allowed"),
    title="Conductor for a load",
    summary="The cross-section that a load needs: by its length and the drop allowed, and by the "
    "heat; the next metric size and the next wire gauge.",
    job="Electrical",
    words=phrases("wire size, wire gauge, AWG, cross-section, mm2, cable, voltage drop"),
    results=RESULTS,
    meaning="Two things size a wire. A short one is sized by its heat: what its insulation bears "
    "in the place where it lies. A long one is sized by its drop. The greater of the two counts; "
    "the next size that is sold stands above. With a conductor there, it is that one which is "
    "judged.",
    leaves_out="Bundles: six wires under load in one sleeve carry about 60 % of one alone. Joints "
    "and the fuse drop voltage too: see the calculator of the drop. Currents of a minute at a "
    "start are not the steady load. Sizes are those of the trade, from memory.",
    sources=published(
        "IEC 60028, ASTM B258 (annealed copper, wire gauges)",
        "33 CFR 183.425, Table 5 and note 1 (allowed currents)",
        "ABYC E-11 (3 % for critical loads, 10 % for others)",
    )
    + from_memory("ISO 6722-1 (metric sizes of automotive cables)"),
    hands_over=hand_over("fuse", "Fuse for this line", "load conductor=metric_size ambient length")
    + hand_over("voltage_drop", "What a drop measured in it says", "load feed_length=length"),
)

"""A hole and the air that goes through it, either way, choked or not."""

import math
from collections.abc import Iterator

from baycalc.forms.declare import Answer, Calculator, Value, refuse
from baycalc.forms.form import (
    choice,
    form,
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
from baycalc.forms.shared_inputs import Place, air_here
from baycalc.forms.sources import INCHES, LEAK_SIZES, SHARP_EDGE_CHOKED, UNCERTAINTY
from baycalc.measurement.decision import Limit, Verdict, judge
from baycalc.physics.air import GAS_CONSTANT
from baycalc.physics.gas import REFERENCES
from baycalc.physics.hole import BothSides
from baycalc.physics.orifice import (
    COEFFICIENT_UNCERTAINTY,
    REGULATORY_HOLES,
    circle_area,
    critical_ratio,
    flow_regime,
)
from baycalc.plot import Axis, Plot
from baycalc.quantities.kinds import (
    LEAK,
    MASS_FLOW,
    NUMBER,
    PER_CENT,
    SMALL_LENGTH,
    SMALL_PRESSURE,
    TEMPERATURE,
    VACUUM,
    VOLUME_FLOW,
    Kind,
    kind,
)

METERED_FLOW = kind("volume flow", "cfm", "L/min", "cm3/min", "m3/h")
PRESSURE = kind("pressure", "inHg", "inH2O", "psi", "kPa", "mbar")
COEFFICIENT = kind("ratio", "1", "%")
AREA = kind("area", "in2", "mm2")
_LITRES = kind("volume flow", "L/min", "cfm")
_FRICTION = 50e-6


@form
class Hole:
    """A hole or its flow, and the air on both sides."""

    find: str = choice(
        "Find", {"flow": "the flow of a hole", "diameter": "the hole of a flow"}
    ).says("Both ways use the same formula.")
    diameter: float = quantity(
        "Diameter of the hole", SMALL_LENGTH, "0.040 in", "0.001 mm to 100 mm"
    ).says("For another shape take a round hole of the same area.", "find=flow")
    flow: float = quantity(
        "Air flow at the reference", METERED_FLOW, "2 L/min", "0 L/min to 10000 L/min"
    ).says("As a flow meter shows it, turned to the reference below.", "find=diameter")
    flow_uncertainty: float = quantity("Flow may be off by", PER_CENT, "5 %", "0 % to 50 %").says(
        "A variable-area meter reads to about 5 % of its full scale.", "find=diameter"
    )
    side: str = choice(
        "Inside is", {"vacuum": "a vacuum: air leaks in", "pressure": "a pressure: air leaks out"}
    ).says("The hole cares about the pressure before and behind it, not about the way.")
    inside: float = quantity(
        "Vacuum or pressure inside", PRESSURE, "20 inHg", "0 Pa to 20 bar"
    ).says("Gauge reading, without a minus sign.")
    place: Place = part(Place)
    temperature: float = quantity(
        "Temperature of the air before the hole", TEMPERATURE, "68 °F", "-40 °C to 300 °C"
    ).says("Warm air is thin: its mass flow is smaller.")
    coefficient_from: str = choice(
        "Discharge coefficient", {"sharp": "of a sharp edge, by its regime", "given": "given"}
    ).says("A sharp edge narrows the jet: 0.61 at small differences, up to 0.87 into a vacuum.")
    coefficient: float = quantity("Coefficient", COEFFICIENT, "0.61", "0.1 to 1").says(
        "From a calibration; near 1 for a well-rounded nozzle.", "coefficient_from=given"
    )
    limit_hole: str = choice(
        "Hold the hole against",
        {"020": "0.020 in (0.51 mm)", "040": "0.040 in (1.02 mm)", "none": "nothing"},
    ).says("The leak sizes that the evaporative monitor of a car must find.", "find=diameter")
    reference: str = choice(
        "State the air flow at",
        {
            "20C": "20 °C (68 °F), 101.325 kPa",
            "0C": "0 °C (32 °F), 101.325 kPa",
            "25C": "25 °C (77 °F), 101.325 kPa",
            "60F": "60 °F (15.6 °C), 101.325 kPa",
        },
    ).says("Flow meters differ; theirs is on the plate.")


def leak_orifice(asked: Hole) -> Answer:
    """Find the flow through a hole, or the hole of a flow.

    Raises
    ------
    Refusal
        When the vacuum inside is deeper than the air pressure, or nothing can flow.
    """
    air = asked.place.air()
    refuse(
        inside=asked.side == "vacuum"
        and asked.inside > air
        and f"No vacuum can be deeper than {air_here(air)}."
    )
    refuse(
        inside=asked.find == "diameter"
        and asked.inside == 0
        and "With no difference of pressure no hole passes any air."
    )
    gas = _at(asked, asked.inside)
    hole = asked.diameter if asked.find == "flow" else gas.diameter(asked.flow)
    choked = critical_ratio()
    return Answer(
        values=_values(gas, hole)
        | {
            "chokes_at": air * (1 - choked if asked.side == "vacuum" else 1 / choked - 1),
            "verdict": _judge(asked, gas, hole),
        },
        notes=tuple(_notes(gas, hole)),
        drawing=_draw(asked, gas, hole),
    )


def _at(asked: Hole, inside: float) -> BothSides:
    """Return the air on both sides under a vacuum or pressure inside [Pa]."""
    air = asked.place.air()
    pressure = air - inside if asked.side == "vacuum" else air + inside
    return BothSides(
        upstream=max(air, pressure),
        downstream=min(air, pressure),
        temperature=asked.temperature,
        reference=REFERENCES[asked.reference],
        given=asked.coefficient if asked.coefficient_from == "given" else None,
    )


def _values(gas: BothSides, hole: float) -> dict[str, Value]:
    leak = gas.leak(circle_area(hole))
    return {
        "hole": hole,
        "area": circle_area(hole),
        "volume_flow": gas.flow(hole),
        "mass_flow": leak / (GAS_CONSTANT * gas.temperature),
        "leak": leak,
        "used_coefficient": gas.coefficient(),
        "regime": flow_regime(gas.upstream, gas.downstream),
        "flow_020": gas.flow(REGULATORY_HOLES["020"]),
        "flow_040": gas.flow(REGULATORY_HOLES["040"]),
    }


def _judge(asked: Hole, gas: BothSides, hole: float) -> Verdict | None:
    if asked.find != "diameter" or asked.limit_hole == "none":
        return None
    of_coefficient = COEFFICIENT_UNCERTAINTY if gas.given is None else 0.0
    of_flow = asked.flow_uncertainty / math.sqrt(3)
    return judge(
        hole,
        hole * math.hypot(of_coefficient, of_flow) / 2,
        Limit(high=REGULATORY_HOLES[asked.limit_hole]),
        kind=SMALL_LENGTH,
        advice="Put the flow beside that of a calibrated hole of the same size at the same "
        "pressure: then the coefficient drops out.",
    )


def _notes(gas: BothSides, hole: float) -> Iterator[str]:
    if gas.downstream == gas.upstream:
        yield "With no difference of pressure nothing flows."
    if 0 < hole < _FRICTION:
        yield (
            "In a hole so small friction counts: a real one passes less than this, and the wall "
            "is thicker than the hole is wide."
        )


def _draw(asked: Hole, gas: BothSides, hole: float) -> str:
    """Draw the flow through the hole and the regulatory ones against the pressure inside."""
    vacuum, inside = asked.side == "vacuum", asked.inside
    kind = VACUUM if inside > 10_000 or vacuum else SMALL_PRESSURE
    deepest = 1.25 * max(inside, 100.0)
    if vacuum:
        deepest = min(asked.place.air(), deepest)
    along = [deepest * (step / 24) ** 2 for step in range(25)]
    sizes = {"this hole": hole, "0.020 in": REGULATORY_HOLES["020"]}
    sizes["0.040 in"] = REGULATORY_HOLES["040"]
    flows = {name: [_at(asked, step).flow(size) for step in along] for name, size in sizes.items()}
    plot = Plot(
        "Flow through a hole against the pressure inside",
        f"At {kind.written(inside)} a hole of {SMALL_LENGTH.written(hole)} passes "
        f"{VOLUME_FLOW.written(gas.flow(hole))}.",
        Axis.of(f"{asked.side.capitalize()} inside", Kind("pressure", kind.units[:1]), 0, deepest),
        Axis.of("Flow", _LITRES, 0, 1.1 * max(max(each) for each in flows.values())),
    )
    for (name, flow), style in zip(flows.items(), ("", "second", "third"), strict=True):
        plot.curve(zip(along, flow, strict=True), name, style)
    plot.mark(inside, gas.flow(hole))
    return plot.svg()


RESULTS = (
    verdict("verdict", "Verdict", SMALL_LENGTH).says(
        "The hole held against the size chosen, with flow and coefficient uncertain."
    ),
    result("hole", "Diameter of the hole", SMALL_LENGTH, 3).says(
        "Of a round hole with a sharp edge, or with the coefficient given."
    ),
    result("area", "Its area", AREA, 3).says("A slit of the same area passes about as much."),
    result("volume_flow", "Air flow at the reference", VOLUME_FLOW, 3).says(
        "At 101.325 kPa and the temperature chosen."
    ),
    result("mass_flow", "Mass flow", MASS_FLOW, 3).says(
        "What an air flow sensor would show for it."
    ),
    result("leak", "Leak", LEAK, 3).says(
        "Pressure times volume per time, at the temperature before the hole."
    ),
    result("used_coefficient", "Discharge coefficient", NUMBER, 3).says(
        "Share of the ideal flow that passes."
    ),
    text("regime", "Flow").says("Choked or slower than sound."),
    result("chokes_at", "Chokes from", VACUUM, 3).says(
        "Vacuum or pressure inside from which the air passes at the speed of sound."
    ),
    result("flow_020", "A 0.020 in hole would pass", VOLUME_FLOW, 3).says(
        "Under the same pressures."
    ),
    result("flow_040", "A 0.040 in hole would pass", VOLUME_FLOW, 3).says(
        "Under the same pressures."
    ),
)

CALCULATOR = Calculator(
    **taking(Hole, leak_orifice),
    title="Flow through a hole",
    summary="How much air a hole lets through under a vacuum or pressure, or how large the hole "
    "is that lets so much through, beside the 0.020 in and 0.040 in of the rules.",
    job="Vacuum and pressure",
    words=phrases("orifice, leak size, smoke machine flow, 0.020, 0.040, vacuum leak, choked"),
    results=RESULTS,
    meaning="Below about half the outside pressure the air in the hole runs at the speed of "
    "sound, and more vacuum changes little: the same hole that idles an engine high at 20 inHg "
    "still leaks nearly as much at 14. Real leaks are cracks and loose seats: the diameter is "
    "the size of the one round hole that would leak as much.",
    leaves_out="Thick walls, long cracks and holes below 0.05 mm, where friction counts; moist "
    "air and fuel vapor; the speed of the air before the hole. The coefficient of a sharp edge "
    "is within about 5 % of experiments, so the diameter is within about 2.5 %.",
    sources=INCHES
    + published("Saint-Venant and Wantzel's formula, any textbook of gas dynamics")
    + SHARP_EDGE_CHOKED
    + LEAK_SIZES
    + UNCERTAINTY,
    hands_over=hand_over(
        "evap_decay", "How fast a fuel system loses pressure through it", "hole temperature side"
    ),
)

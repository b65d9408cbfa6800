"""A hole and the air that goes through it, either way, choked or not."""

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
    Shown,
    Source,
    Value,
)
from baycalc.forms.shared_inputs import air_here, air_pressure, barometer_inputs
from baycalc.measurement.decision import Limit, Verdict, judge
from baycalc.physics.air import GAS_CONSTANT
from baycalc.physics.gas import REFERENCES, volume_flow_at
from baycalc.physics.orifice import (
    COEFFICIENT_UNCERTAINTY,
    circle_area,
    circle_diameter,
    critical_ratio,
    flow_function,
    is_choked,
    sharp_coefficient,
)
from baycalc.plot import Axis, Plot
from baycalc.quantities.units import installed, label, written

_PRESSURES = ("inHg", "inH2O", "psi", "kPa", "mbar")
_FLOWS = ("cfm", "L/min", "cm3/min", "m3/h")
REGULATORY = {"020": 0.020 * 0.0254, "040": 0.040 * 0.0254}
"""Leak sizes that an evaporative monitor must find, 13 CCR 1968.2(e)(4.2.2) [m]."""


@dataclass(frozen=True, slots=True)
class _Side:
    """Air on both sides of the hole, and how its flow is stated."""

    upstream: float
    downstream: float
    temperature: float
    reference: float
    given: float | None

    def coefficient(self) -> float:
        if self.given is not None:
            return self.given
        return sharp_coefficient(self.downstream / self.upstream)

    def leak(self, area: float) -> float:
        """Return the flow through an area as pressure times volume [Pa m3/s]."""
        speed = math.sqrt(GAS_CONSTANT * self.temperature)
        ideal = flow_function(self.downstream / self.upstream)
        return self.coefficient() * area * self.upstream * ideal * speed

    def flow(self, diameter: float) -> float:
        """Return the volume flow at the reference through a round hole [m3/s]."""
        return volume_flow_at(self.leak(circle_area(diameter)), self.temperature, self.reference)

    def diameter(self, flow: float) -> float:
        """Return the diameter of the hole that passes a volume flow at the reference [m]."""
        return circle_diameter(
            flow / volume_flow_at(self.leak(1.0), self.temperature, self.reference)
        )


def leak_orifice(
    find: str,
    diameter: float,
    flow: float,
    flow_uncertainty: float,
    side: str,
    inside: float,
    barometer_from: str,
    altitude: float,
    barometer: float,
    temperature: float,
    coefficient_from: str,
    coefficient: float,
    limit_hole: str,
    reference: str,
) -> Answer:
    """Find the flow through a hole, or the hole of a flow.

    Parameters
    ----------
    find : str
        ``flow`` or ``diameter`` [-]
    diameter : float
        Diameter of the hole, used to find the flow [m]
    flow : float
        Volume flow at the reference, used to find the diameter [m3/s]
    flow_uncertainty : float
        How far the flow may be off, as a share of it [-]
    side : str
        ``vacuum`` or ``pressure`` inside [-]
    inside : float
        Vacuum or gauge pressure inside [Pa]
    barometer_from : str
        ``altitude`` or ``measured`` [-]
    altitude : float
        Altitude above sea level, used with ``altitude`` [m]
    barometer : float
        Pressure of the air around, used with ``measured`` [Pa]
    temperature : float
        Temperature of the air before the hole [K]
    coefficient_from : str
        ``sharp`` or ``given`` [-]
    coefficient : float
        Discharge coefficient, used with ``given`` [-]
    limit_hole : str
        ``020`` or ``040``: the hole that the found one is held against; or ``none`` [-]
    reference : str
        Temperature that the volume flow is stated at [-]

    Returns
    -------
    Answer
        Diameter, area, flows, coefficient, regime, and the flows of the regulatory holes.

    Raises
    ------
    Refusal
        When the vacuum inside is deeper than the air pressure, or nothing can flow.
    """
    air = air_pressure(barometer_from, altitude, barometer)
    if side == "vacuum" and inside > air:
        raise Refusal({"inside": f"No vacuum can be deeper than {air_here(air)}."})
    if find == "diameter" and inside == 0:
        raise Refusal({"inside": "With no difference of pressure no hole passes any air."})
    pressure = air - inside if side == "vacuum" else air + inside
    gas = _Side(
        upstream=max(air, pressure),
        downstream=min(air, pressure),
        temperature=temperature,
        reference=REFERENCES[reference],
        given=coefficient if coefficient_from == "given" else None,
    )
    hole = diameter if find == "flow" else gas.diameter(flow)
    return Answer(
        values=_values(gas, hole)
        | {
            "chokes_at": _chokes_at(air, side),
            "verdict": _judge(find, hole, flow_uncertainty, gas, limit_hole),
        },
        notes=_notes(gas, hole),
        drawing=_draw(gas, hole, air, inside, side),
    )


def _values(gas: _Side, hole: float) -> dict[str, Value]:
    leak = gas.leak(circle_area(hole))
    return {
        "hole": hole,
        "area": circle_area(hole),
        "volume_flow": gas.flow(hole),
        "mass_flow": leak / (GAS_CONSTANT * gas.temperature),
        "leak": leak,
        "used_coefficient": gas.coefficient(),
        "regime": _regime(gas),
        "flow_020": gas.flow(REGULATORY["020"]),
        "flow_040": gas.flow(REGULATORY["040"]),
    }


def _regime(gas: _Side) -> str:
    if is_choked(gas.upstream, gas.downstream):
        return "choked: the air passes the hole at the speed of sound"
    return "slower than sound"


def _chokes_at(air: float, side: str) -> float:
    return air * (1 - critical_ratio()) if side == "vacuum" else air * (1 / critical_ratio() - 1)


def _judge(
    find: str, hole: float, flow_uncertainty: float, gas: _Side, limit_hole: str
) -> Verdict | None:
    if find != "diameter" or limit_hole == "none":
        return None
    of_coefficient = COEFFICIENT_UNCERTAINTY if gas.given is None else 0.0
    of_flow = flow_uncertainty / math.sqrt(3)
    return judge(
        hole,
        hole * math.hypot(of_coefficient, of_flow) / 2,
        Limit(high=REGULATORY[limit_hole]),
        kind="length",
        advice="Put the flow beside that of a calibrated hole of the same size at the same "
        "pressure: then the coefficient drops out.",
    )


def _notes(gas: _Side, hole: float) -> tuple[Note, ...]:
    found = []
    if gas.downstream == gas.upstream:
        found.append("With no difference of pressure nothing flows.")
    if 0 < hole < 50e-6:
        found.append(
            "In a hole so small friction counts: a real one passes less than this, and the wall "
            "is thicker than the hole is wide."
        )
    return tuple(Note(text=text) for text in found)


def _draw(gas: _Side, hole: float, air: float, inside: float, side: str) -> str:
    """Draw the flow through the hole and the regulatory ones against the pressure inside."""
    kind = "pressure"
    unit, other = ("inHg", "kPa") if inside > 10_000 or side == "vacuum" else ("inH2O", "kPa")
    written_in = installed().unit(kind, unit).from_si
    litres = installed().unit("volume flow", "L/min").from_si
    cubic_feet = installed().unit("volume flow", "cfm").from_si(1) / litres(1)
    deepest = min(air, 1.25 * max(inside, 100.0)) if side == "vacuum" else 1.25 * max(inside, 100.0)
    steps = [deepest * (step / 24) ** 2 for step in range(25)]
    holes = (
        ("this hole", hole, ""),
        ("0.020 in", REGULATORY["020"], "second"),
        ("0.040 in", REGULATORY["040"], "third"),
    )
    flows = {
        named: [litres(_at(gas, air, step, side).flow(size)) for step in steps]
        for named, size, _ in holes
    }
    greatest = max(flow for along in flows.values() for flow in along)
    name = "Vacuum inside" if side == "vacuum" else "Pressure inside"
    plot = Plot(
        "Flow through a hole against the pressure inside",
        f"At {written(kind, inside, unit, other)} a hole of "
        f"{written('length', hole, 'in', 'mm')} passes "
        f"{written('volume flow', gas.flow(hole), 'cfm', 'L/min')}.",
        Axis(name, 0, written_in(deepest), unit=label(unit)),
        Axis("Flow", 0, 1.1 * greatest, unit="L/min", also=("cfm", cubic_feet)),
    )
    for named, _, style in holes:
        points = zip([written_in(step) for step in steps], flows[named], strict=True)
        plot.curve(points, named, style)
    plot.mark(written_in(inside), litres(gas.flow(hole)))
    return plot.svg()


def _at(gas: _Side, air: float, inside: float, side: str) -> _Side:
    pressure = air - inside if side == "vacuum" else air + inside
    return _Side(max(air, pressure), min(air, pressure), gas.temperature, gas.reference, gas.given)


CALCULATOR = Calculator(
    id="leak_orifice",
    title="Flow through a hole",
    summary="How much air a hole lets through under a vacuum or pressure, or how large the hole "
    "is that lets so much through, beside the 0.020 in and 0.040 in of the rules.",
    job="Vacuum and pressure",
    words=("orifice", "leak size", "smoke machine flow", "0.020", "0.040", "vacuum leak", "choked"),
    inputs=(
        Choice(
            id="find",
            label="Find",
            options=(
                Option(value="flow", label="the flow of a hole"),
                Option(value="diameter", label="the hole of a flow"),
            ),
            default="flow",
            help="Both ways use the same formula.",
        ),
        Quantity(
            id="diameter",
            label="Diameter of the hole",
            kind="length",
            units=("in", "mm"),
            default="0.040 in",
            low="0.001 mm",
            high="100 mm",
            help="For another shape take a round hole of the same area.",
            shown=Shown(choice="find", values=("flow",)),
        ),
        Quantity(
            id="flow",
            label="Air flow at the reference",
            kind="volume flow",
            units=_FLOWS,
            default="2 L/min",
            low="0 L/min",
            high="10000 L/min",
            help="As a flow meter shows it, turned to the reference below.",
            shown=Shown(choice="find", values=("diameter",)),
        ),
        Quantity(
            id="flow_uncertainty",
            label="Flow may be off by",
            kind="ratio",
            units=("%",),
            default="5 %",
            low="0 %",
            high="50 %",
            help="A variable-area meter reads to about 5 % of its full scale.",
            shown=Shown(choice="find", values=("diameter",)),
        ),
        Choice(
            id="side",
            label="Inside is",
            options=(
                Option(value="vacuum", label="a vacuum: air leaks in"),
                Option(value="pressure", label="a pressure: air leaks out"),
            ),
            default="vacuum",
            help="The hole cares about the pressure before and behind it, not about the way.",
        ),
        Quantity(
            id="inside",
            label="Vacuum or pressure inside",
            kind="pressure",
            units=_PRESSURES,
            default="20 inHg",
            low="0 Pa",
            high="20 bar",
            help="Gauge reading, without a minus sign.",
        ),
        *barometer_inputs(),
        Quantity(
            id="temperature",
            label="Temperature of the air before the hole",
            kind="temperature",
            units=("°F", "°C"),
            default="68 °F",
            low="-40 °C",
            high="300 °C",
            help="Warm air is thin: its mass flow is smaller.",
        ),
        Choice(
            id="coefficient_from",
            label="Discharge coefficient",
            options=(
                Option(value="sharp", label="of a sharp edge, by its regime"),
                Option(value="given", label="given"),
            ),
            default="sharp",
            help="A sharp edge narrows the jet: 0.61 at small differences, up to 0.87 into a "
            "vacuum.",
        ),
        Quantity(
            id="coefficient",
            label="Coefficient",
            kind="ratio",
            units=("1", "%"),
            default="0.61",
            low="0.1",
            high="1",
            help="From a calibration; near 1 for a well-rounded nozzle.",
            shown=Shown(choice="coefficient_from", values=("given",)),
        ),
        Choice(
            id="limit_hole",
            label="Hold the hole against",
            options=(
                Option(value="020", label="0.020 in (0.51 mm)"),
                Option(value="040", label="0.040 in (1.02 mm)"),
                Option(value="none", label="nothing"),
            ),
            default="020",
            help="The leak sizes that the evaporative monitor of a car must find.",
            shown=Shown(choice="find", values=("diameter",)),
        ),
        Choice(
            id="reference",
            label="State the air flow at",
            options=(
                Option(value="20C", label="20 °C (68 °F), 101.325 kPa"),
                Option(value="0C", label="0 °C (32 °F), 101.325 kPa"),
                Option(value="25C", label="25 °C (77 °F), 101.325 kPa"),
                Option(value="60F", label="60 °F (15.6 °C), 101.325 kPa"),
            ),
            default="20C",
            help="Flow meters differ; theirs is on the plate.",
        ),
    ),
    results=(
        Result(
            id="verdict",
            label="Verdict",
            kind="verdict",
            units=("in", "mm"),
            digits=3,
            help="The hole held against the size chosen, with flow and coefficient uncertain.",
        ),
        Result(
            id="hole",
            label="Diameter of the hole",
            kind="length",
            units=("in", "mm"),
            digits=3,
            help="Of a round hole with a sharp edge, or with the coefficient given.",
        ),
        Result(
            id="area",
            label="Its area",
            kind="area",
            units=("in2", "mm2"),
            digits=3,
            help="A slit of the same area passes about as much.",
        ),
        Result(
            id="volume_flow",
            label="Air flow at the reference",
            kind="volume flow",
            units=("cfm", "L/min"),
            digits=3,
            help="At 101.325 kPa and the temperature chosen.",
        ),
        Result(
            id="mass_flow",
            label="Mass flow",
            kind="mass flow",
            units=("lb/min", "g/s"),
            digits=3,
            help="What an air flow sensor would show for it.",
        ),
        Result(
            id="leak",
            label="Leak",
            kind="leak rate",
            units=("Pa L/s", "mbar L/s"),
            digits=3,
            help="Pressure times volume per time, at the temperature before the hole.",
        ),
        Result(
            id="used_coefficient",
            label="Discharge coefficient",
            kind="ratio",
            units=("1",),
            digits=3,
            help="Share of the ideal flow that passes.",
        ),
        Result(id="regime", label="Flow", kind="text", help="Choked or slower than sound."),
        Result(
            id="chokes_at",
            label="Chokes from",
            kind="pressure",
            units=("inHg", "kPa"),
            digits=3,
            help="Vacuum or pressure inside from which the air passes at the speed of sound.",
        ),
        Result(
            id="flow_020",
            label="A 0.020 in hole would pass",
            kind="volume flow",
            units=("cfm", "L/min"),
            digits=3,
            help="Under the same pressures.",
        ),
        Result(
            id="flow_040",
            label="A 0.040 in hole would pass",
            kind="volume flow",
            units=("cfm", "L/min"),
            digits=3,
            help="Under the same pressures.",
        ),
    ),
    compute=leak_orifice,
    meaning="Below about half the outside pressure the air in the hole runs at the speed of "
    "sound, and more vacuum changes little: the same hole that idles an engine high at 20 inHg "
    "still leaks nearly as much at 14. Real leaks are cracks and loose seats: the diameter is "
    "the size of the one round hole that would leak as much.",
    leaves_out="Thick walls, long cracks and holes below 0.05 mm, where friction counts; moist "
    "air and fuel vapour; the speed of the air before the hole. The coefficient of a sharp edge "
    "is within about 5 % of experiments, so the diameter is within about 2.5 %.",
    sources=(
        Source(text="Saint-Venant and Wantzel's formula, any textbook of gas dynamics"),
        Source(
            text="D. A. Jobson, Proc. I. Mech. E. 169 (1955) 767 (coefficient of a sharp-edged "
            "hole, subsonic to choked), with 0.61 at small differences"
        ),
        Source(text="13 CCR 1968.2(e)(4.2.2)(B) and (C) (0.040 in and 0.020 in)"),
        Source(text="JCGM 100:2008; ILAC-G8:09/2019 (guard band at k = 2)"),
    ),
    hands_over=(
        HandOver(
            to="evap_decay",
            label="How fast a fuel system loses pressure through it",
            carries={"hole": "hole", "temperature": "temperature", "side": "side"},
        ),
    ),
    examples=(
        {},
        {"diameter": "0.020 in", "inside": "10 inH2O", "side": "pressure"},
        {"diameter": "0.040 in", "inside": "14 inHg"},
        {"diameter": "0.040 in", "inside": "14.2 inHg"},
        {"diameter": "3 mm", "inside": "60 kPa", "altitude": "1600 m", "reference": "0C"},
        {"diameter": "1 mm", "inside": "6 bar", "side": "pressure", "temperature": "40 °C"},
        {"find": "diameter", "flow": "0.5 L/min", "inside": "14 inH2O", "side": "pressure"},
        {"find": "diameter", "flow": "0.4 L/min", "inside": "14 inH2O", "side": "pressure"},
        {"find": "diameter", "flow": "22 cm3/min", "inside": "16 inHg", "limit_hole": "none"},
        {
            "find": "diameter",
            "flow": "0.08 cfm",
            "inside": "14 inH2O",
            "side": "pressure",
            "limit_hole": "040",
        },
        {"find": "diameter", "flow": "0.7 L/min", "inside": "14 inH2O", "side": "pressure"},
        {"inside": "29.92 inHg"},
        {"inside": "0 inHg"},
        {"coefficient_from": "given", "coefficient": "0.97", "diameter": "0,5 mm"},
        {"diameter": "0.002 in", "barometer_from": "measured", "barometer": "24.6 inHg"},
    ),
)

"""Lambda from the gases at the tailpipe, and what a leak that adds air does to it."""

import math
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
)
from baycalc.forms.shared_inputs import band_inputs, band_limit
from baycalc.measurement.decision import Verdict, judge
from baycalc.physics.mixture import OXYGEN_IN_AIR, Analysis, lambda_parts

_FUELS = {
    "petrol": (1.7261, 0.0176),
    "e5": (1.89, 0.016),
    "e10": (1.93, 0.033),
    "lpg": (2.525, 0.0),
    "cng": (4.0, 0.0),
}
_CLASSES = {
    "00": (0.0002, 0.003, 0.001, 4e-6),
    "0": (0.0003, 0.005, 0.001, 10e-6),
    "I": (0.0006, 0.005, 0.001, 12e-6),
}
_SHARE_OF_READING = 0.05
_LEAST_CARBON = 0.02
_USUAL_CARBON = 0.13


@dataclass(frozen=True, slots=True)
class _Formula:
    """Brettschneider's formula with the constants of a fuel and an analyser."""

    hydrogen: float
    oxygen: float
    carbon_of_hydrocarbons: float

    def parts(self, gas: Analysis) -> tuple[float, float]:
        return lambda_parts(gas, self.hydrogen, self.oxygen, self.carbon_of_hydrocarbons)

    def __call__(self, gas: Analysis) -> float:
        there, needed = self.parts(gas)
        return there / needed


def exhaust_lambda(
    carbon_monoxide: float,
    carbon_dioxide: float,
    oxygen: float,
    hydrocarbons: float,
    nitric_oxide: float,
    fuel: str,
    fuel_hydrogen: float,
    fuel_oxygen: float,
    carbon_of_hydrocarbons: float,
    analyser: str,
    fresh_air: float,
    sensor_lambda: float | None,
    lambda_low: float | None,
    lambda_high: float | None,
) -> Answer:
    """Compute lambda from an exhaust gas analysis.

    Parameters
    ----------
    carbon_monoxide : float
        CO, dry, by volume [-]
    carbon_dioxide : float
        CO2, dry, by volume [-]
    oxygen : float
        O2, dry, by volume [-]
    hydrocarbons : float
        HC as hexane, dry, by volume [-]
    nitric_oxide : float
        NO, dry, by volume; 0 where it is not measured [-]
    fuel : str
        ``petrol``, ``e5``, ``e10``, ``lpg``, ``cng`` or ``given`` [-]
    fuel_hydrogen : float
        Hydrogen per carbon of the fuel, used with ``given`` [-]
    fuel_oxygen : float
        Oxygen per carbon of the fuel, used with ``given`` [-]
    carbon_of_hydrocarbons : float
        Carbon atoms that one molecule of HC stands for [-]
    analyser : str
        Class of the analyser, ``00``, ``0`` or ``I`` [-]
    fresh_air : float
        Share of fresh air in the sample [-]
    sensor_lambda : float
        Lambda that the car's own front sensor shows, or ``None`` [-]
    lambda_low : float
        Least lambda allowed, or ``None`` [-]
    lambda_high : float
        Greatest lambda allowed, or ``None`` [-]

    Returns
    -------
    Answer
        Lambda with its uncertainty and verdict; without the leak; the leak that the sensor means.

    Raises
    ------
    Refusal
        When the gases cannot be exhaust gas, or the leak is more than the oxygen there.
    """
    gas = Analysis(carbon_monoxide, carbon_dioxide, oxygen, hydrocarbons, nitric_oxide)
    _refuse(gas, fresh_air)
    constants = (fuel_hydrogen, fuel_oxygen) if fuel == "given" else _FUELS[fuel]
    formula = _Formula(*constants, carbon_of_hydrocarbons)
    uncertainty = _uncertainty(formula, gas, _CLASSES[analyser])
    without = _without(gas, fresh_air)
    return Answer(
        values={
            "lambda": formula(gas),
            "lambda_uncertainty": 2 * uncertainty,
            "verdict": _judge(formula(gas), uncertainty, lambda_low, lambda_high),
            "lambda_without": formula(without) if fresh_air else None,
            "carbon_monoxide_without": without.carbon_monoxide if fresh_air else None,
            "oxygen_without": without.oxygen if fresh_air else None,
            "leak_found": None if sensor_lambda is None else _leak(formula, gas, sensor_lambda),
            "carbon": carbon_monoxide + carbon_dioxide,
        },
        notes=_notes(gas, formula(gas), gasoline=fuel in ("petrol", "e5", "e10")),
    )


def _refuse(gas: Analysis, fresh_air: float) -> None:
    problems = {}
    carbon = gas.carbon_monoxide + gas.carbon_dioxide
    if carbon < _LEAST_CARBON:
        problems["carbon_dioxide"] = (
            "With less than 2 % of CO and CO2 together this is air: check the probe."
        )
    if carbon + gas.oxygen > 0.4:
        problems["carbon_dioxide"] = "These gases add up to more than any exhaust gas holds."
    if gas.oxygen < fresh_air * OXYGEN_IN_AIR:
        problems["fresh_air"] = "So much fresh air would bring more oxygen than the analyser shows."
    if problems:
        raise Refusal(problems)


def _uncertainty(formula: _Formula, gas: Analysis, errors: tuple[float, ...]) -> float:
    """Return the standard uncertainty of lambda: each gas by its slope (GUM 5.1.2)."""
    names = ("carbon_monoxide", "carbon_dioxide", "oxygen", "hydrocarbons")
    total = 0.0
    for name, least in zip(names, errors, strict=True):
        there = getattr(gas, name)
        greatest = max(least, _SHARE_OF_READING * there)
        more = formula(replace(gas, **{name: there + greatest / 2}))
        less = formula(replace(gas, **{name: there - greatest / 2}))
        total += (more - less) ** 2 / 3
    return math.sqrt(total)


def _without(gas: Analysis, fresh_air: float) -> Analysis:
    """Return the gas before fresh air came to it."""
    left = 1 - fresh_air
    return Analysis(
        carbon_monoxide=gas.carbon_monoxide / left,
        carbon_dioxide=gas.carbon_dioxide / left,
        oxygen=(gas.oxygen - fresh_air * OXYGEN_IN_AIR) / left,
        hydrocarbons=gas.hydrocarbons / left,
        nitric_oxide=gas.nitric_oxide / left,
    )


def _leak(formula: _Formula, gas: Analysis, sensor_lambda: float) -> float:
    """Return the share of fresh air that makes the sensor's lambda look like this one."""
    there, needed = formula.parts(gas)
    return max(0.0, (there - sensor_lambda * needed) / OXYGEN_IN_AIR)


def _judge(
    value: float, uncertainty: float, lambda_low: float | None, lambda_high: float | None
) -> Verdict | None:
    limit = band_limit("lambda", lambda_low, lambda_high)
    if limit is None:
        return None
    return judge(
        value,
        uncertainty,
        limit,
        kind="ratio",
        advice="Let the analyser set its zero and its oxygen on fresh air, seal the probe, and "
        "take the mean of several minutes; or use an analyser of a better class.",
    )


def _notes(gas: Analysis, value: float, gasoline: bool) -> tuple[Note, ...]:
    found = []
    if gasoline and gas.carbon_monoxide + gas.carbon_dioxide < _USUAL_CARBON:
        found.append(
            "CO and CO2 together are below 13 %: the sample holds fresh air (exhaust leak, probe "
            "not deep enough, secondary air running), a cylinder misfires, or the mixture is lean."
        )
    if gas.oxygen > 0.01 and gas.carbon_monoxide > 0.005:
        found.append(
            "Oxygen and carbon monoxide are both high: a misfire, uneven cylinders, or a rich "
            "engine with a leak in its exhaust."
        )
    if value > 1.2:
        found.append("So lean a gasoline engine would hardly run: look for air in the sample.")
    return tuple(Note(text=text) for text in found)


def _gas(id: str, label: str, default: str, high: str, help: str) -> Quantity:
    unit = default.split()[1]
    return Quantity(
        id=id,
        label=label,
        kind="ratio",
        units=(unit,),
        default=default,
        low=f"0 {unit}",
        high=high,
        help=help,
    )


CALCULATOR = Calculator(
    id="exhaust_lambda",
    title="Lambda from the exhaust gas",
    summary="Lambda from CO, CO2, O2 and HC at the tailpipe, how sure it is, and how much a leak "
    "that adds air would shift it.",
    job="Mixture and exhaust",
    words=("four gas", "five gas", "analyser", "Brettschneider", "air fuel ratio", "inspection"),
    inputs=(
        _gas("carbon_monoxide", "CO", "0.10 %", "15 %", "By volume, dry, as the analyser shows."),
        _gas("carbon_dioxide", "CO2", "14.9 %", "20 %", "By volume, dry, as the analyser shows."),
        _gas("oxygen", "O2", "0.30 %", "21 %", "By volume; set on fresh air before the test."),
        _gas("hydrocarbons", "HC", "40 ppm", "20000 ppm", "By volume, as hexane."),
        _gas("nitric_oxide", "NO", "0 ppm", "5000 ppm", "By volume; 0 where it is not measured."),
        Choice(
            id="fuel",
            label="Fuel",
            options=(
                Option(value="petrol", label="gasoline without alcohol"),
                Option(value="e5", label="gasoline with 5 % of ethanol"),
                Option(value="e10", label="gasoline with 10 % of ethanol"),
                Option(value="lpg", label="liquefied gas (LPG)"),
                Option(value="cng", label="natural gas (CNG)"),
                Option(value="given", label="given by its atoms"),
            ),
            default="petrol",
            help="It sets hydrogen and oxygen per carbon in the formula.",
        ),
        Quantity(
            id="fuel_hydrogen",
            label="Hydrogen per carbon",
            kind="ratio",
            units=("1",),
            default="1.85",
            low="0",
            high="4",
            help="By atoms.",
            shown=Shown(choice="fuel", values=("given",)),
        ),
        Quantity(
            id="fuel_oxygen",
            label="Oxygen per carbon",
            kind="ratio",
            units=("1",),
            default="0",
            low="0",
            high="1",
            help="By atoms.",
            shown=Shown(choice="fuel", values=("given",)),
        ),
        Quantity(
            id="carbon_of_hydrocarbons",
            label="Carbon per molecule of HC",
            kind="ratio",
            units=("1",),
            default="6",
            low="1",
            high="20",
            help="6 for hexane; some take 12, as infrared misses half of the carbon in gasoline "
            "vapour.",
        ),
        Choice(
            id="analyser",
            label="Class of the analyser",
            options=(
                Option(value="00", label="class 00"),
                Option(value="0", label="class 0"),
                Option(value="I", label="class I"),
            ),
            default="0",
            help="OIML R 99; it stands on the plate.",
        ),
        Quantity(
            id="fresh_air",
            label="Fresh air in the sample",
            kind="ratio",
            units=("%",),
            default="0 %",
            low="0 %",
            high="60 %",
            help="To see what a leak of this share hides; 0 where there is none.",
        ),
        Quantity(
            id="sensor_lambda",
            label="Lambda of the car's front sensor, if known",
            kind="ratio",
            units=("1",),
            default=None,
            low="0.6",
            high="2",
            help="1 in closed loop: then the rest of the oxygen came in behind it.",
        ),
        *band_inputs("lambda", "lambda", "ratio", ("1",), ("0.97", "1.03"), ("0.5", "2")),
    ),
    results=(
        Result(
            id="verdict",
            label="Verdict",
            kind="verdict",
            units=("1",),
            digits=4,
            help="Lambda held against its band with a guard band at k = 2.",
        ),
        Result(
            id="lambda",
            label="Lambda",
            kind="ratio",
            units=("1",),
            digits=4,
            help="Air in the gas over the air that its fuel needed.",
        ),
        Result(
            id="lambda_uncertainty",
            label="Its expanded uncertainty, k = 2",
            kind="ratio",
            units=("1",),
            digits=2,
            help="From the class of the analyser, each gas by its slope.",
        ),
        Result(
            id="carbon",
            label="CO and CO2 together",
            kind="ratio",
            units=("%",),
            digits=3,
            help="Some 15 % with gasoline in a sample without fresh air.",
        ),
        Result(
            id="lambda_without",
            label="Lambda without the fresh air",
            kind="ratio",
            units=("1",),
            digits=4,
            help="What left the engine.",
        ),
        Result(
            id="carbon_monoxide_without",
            label="CO without the fresh air",
            kind="ratio",
            units=("%",),
            digits=3,
            help="A leak also hides CO.",
        ),
        Result(
            id="oxygen_without",
            label="O2 without the fresh air",
            kind="ratio",
            units=("%",),
            digits=3,
            help="What left the engine.",
        ),
        Result(
            id="leak_found",
            label="Fresh air that the front sensor means",
            kind="ratio",
            units=("%",),
            digits=2,
            help="Share of the sample that came in behind the front sensor.",
        ),
    ),
    compute=exhaust_lambda,
    meaning="A catalyst changes the gases but not lambda, so lambda at the tailpipe is that of the "
    "engine, unless air got in on the way. Even one part of fresh air in a hundred lifts it by "
    "about 0.01. A tailpipe that says lean while the front sensor holds 1 means a leak between "
    "the two, or secondary air that does not stop.",
    leaves_out="Water and soot; oxides of nitrogen where they are not typed; hydrocarbons that "
    "the analyser does not see (alcohols, aromatics). Limits differ between countries and cars: "
    "0.97 to 1.03 is that of the European Union's periodic test at 2000 r/min and more where "
    "the maker gives no other.",
    sources=(
        Source(
            text="J. Brettschneider, Bosch Technische Berichte 6 (1979) 177 (formula; constants of "
            "gasoline from memory)",
            standing="memory",
        ),
        Source(
            text="UN Regulation 83 (hydrogen and oxygen of E5, E10, LPG, CNG)", standing="memory"
        ),
        Source(text="OIML R 99:2008 (greatest errors by class)", standing="memory"),
        Source(text="Directive 2014/45/EU, annex I, 8.2.1.2 (1 ± 0.03)"),
        Source(
            text="B. C. Singer and R. A. Harley, 1998 (infrared sees about half of the carbon of "
            "gasoline vapour)"
        ),
        Source(text="JCGM 100:2008, 5.1.2; ILAC-G8:09/2019 (guard band at k = 2)"),
    ),
    examples=(
        {},
        {"carbon_monoxide": "0.01 %", "carbon_dioxide": "15.2 %", "oxygen": "0.05 %"},
        {
            "carbon_monoxide": "3.5 %",
            "carbon_dioxide": "12.3 %",
            "oxygen": "0.2 %",
            "hydrocarbons": "220 ppm",
        },
        {"carbon_monoxide": "0.05 %", "carbon_dioxide": "12,8 %", "oxygen": "3.2 %"},
        {"oxygen": "1.5 %", "carbon_dioxide": "14.1 %", "sensor_lambda": "1"},
        {"oxygen": "2.1 %", "carbon_dioxide": "13.4 %", "fresh_air": "10 %"},
        {"fuel": "e10", "oxygen": "0.6 %", "analyser": "00"},
        {"fuel": "lpg", "carbon_dioxide": "13.2 %"},
        {"fuel": "cng", "carbon_dioxide": "11.3 %", "oxygen": "0.4 %", "analyser": "I"},
        {"fuel": "given", "fuel_hydrogen": "2.25", "carbon_dioxide": "14 %"},
        {
            "hydrocarbons": "834 ppm",
            "carbon_monoxide": "0.01 %",
            "carbon_dioxide": "13.78 %",
            "oxygen": "2.29 %",
        },
        {"nitric_oxide": "1200 ppm", "carbon_of_hydrocarbons": "12"},
        {"oxygen": "0.72 %", "lambda_low": "", "lambda_high": "1.03"},
    ),
)

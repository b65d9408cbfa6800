"""Lambda from the gases at the tailpipe, and what a leak that adds air does to it."""

from collections.abc import Iterator
from typing import Any

from baycalc.forms.declare import Answer, Calculator, Value, refuse
from baycalc.forms.form import (
    choice,
    form,
    from_memory,
    phrases,
    published,
    quantity,
    result,
    taking,
    verdict,
)
from baycalc.forms.shared_inputs import FigureBand, band
from baycalc.measurement.decision import Limit, Verdict, judge
from baycalc.physics.exhaust_gas import FUELS, Brettschneider, without_air
from baycalc.physics.mixture import OXYGEN_IN_AIR, Analysis
from baycalc.quantities.kinds import NUMBER, PER_CENT, kind

PPM = kind("ratio", "ppm")
_LEAST_CARBON, _USUAL_CARBON = 0.02, 0.13


def _gas(label: str, default: str, high: str) -> Any:
    unit = default.split()[1]
    return quantity(label, PPM if unit == "ppm" else PER_CENT, default, f"0 {unit} to {high}")


@form
class ExhaustGas:
    """The gases at the tailpipe, the fuel, and the analyzer."""

    carbon_monoxide: float = _gas("CO", "0.10 %", "15 %").says(
        "By volume, dry, as the analyzer shows."
    )
    carbon_dioxide: float = _gas("CO2", "14.9 %", "20 %").says(
        "By volume, dry, as the analyzer shows."
    )
    oxygen: float = _gas("O2", "0.30 %", "21 %").says(
        "By volume; set on fresh air before the test."
    )
    hydrocarbons: float = _gas("HC", "40 ppm", "20000 ppm").says("By volume, as hexane.")
    nitric_oxide: float = _gas("NO", "0 ppm", "5000 ppm").says(
        "By volume; 0 where it is not measured."
    )
    fuel: str = choice(
        "Fuel",
        {
            "petrol": "gasoline without alcohol",
            "e5": "gasoline with 5 % of ethanol",
            "e10": "gasoline with 10 % of ethanol",
            "lpg": "liquefied gas (LPG)",
            "cng": "natural gas (CNG)",
            "given": "given by its atoms",
        },
    ).says("It sets hydrogen and oxygen per carbon in the formula.")
    fuel_hydrogen: float = quantity("Hydrogen per carbon", NUMBER, "1.85", "0 to 4").says(
        "By atoms.", "fuel=given"
    )
    fuel_oxygen: float = quantity("Oxygen per carbon", NUMBER, "0", "0 to 1").says(
        "By atoms.", "fuel=given"
    )
    carbon_of_hydrocarbons: float = quantity(
        "Carbon per molecule of HC", NUMBER, "6", "1 to 20"
    ).says("6 for hexane; some take 12, as infrared misses half of the carbon in gasoline vapor.")
    analyser: str = choice(
        "Class of the analyzer", {"00": "class 00", "0": "class 0", "I": "class I"}, default="0"
    ).says("OIML R 99; it stands on the plate.")
    fresh_air: float = quantity("Fresh air in the sample", PER_CENT, "0 %", "0 % to 60 %").says(
        "To see what a leak of this share hides; 0 where there is none."
    )
    sensor_lambda: float | None = quantity(
        "Lambda of the car's front sensor, if known", NUMBER, None, "0.6 to 2"
    ).says("1 in closed loop: then the rest of the oxygen came in behind it.")
    lambda_band: FigureBand = band("lambda", "lambda", NUMBER, ("0.97", "1.03"), "0.5 to 2")

    def gas(self) -> Analysis:
        """Return the gases."""
        return Analysis(
            self.carbon_monoxide,
            self.carbon_dioxide,
            self.oxygen,
            self.hydrocarbons,
            self.nitric_oxide,
        )

    def formula(self) -> Brettschneider:
        """Return the formula for this fuel and this analyzer."""
        own = (self.fuel_hydrogen, self.fuel_oxygen)
        return Brettschneider(*FUELS.get(self.fuel, own), self.carbon_of_hydrocarbons)


def exhaust_lambda(asked: ExhaustGas) -> Answer:
    """Compute lambda from an exhaust gas analysis.

    Raises
    ------
    Refusal
        When the gases cannot be exhaust gas, or the leak is more than the oxygen there.
    """
    gas, formula = asked.gas(), asked.formula()
    carbon = gas.carbon_monoxide + gas.carbon_dioxide
    _refuse(gas, carbon, asked.fresh_air)
    value = formula.value(gas)
    uncertainty = formula.uncertainty(gas, asked.analyser)
    limit = asked.lambda_band.limit("lambda")
    values: dict[str, Value] = {
        "lambda": value,
        "lambda_uncertainty": 2 * uncertainty,
        "verdict": _judge(value, uncertainty, limit) if limit else None,
        "carbon": carbon,
    }
    if asked.fresh_air:
        without = without_air(gas, asked.fresh_air)
        values["lambda_without"] = formula.value(without)
        values["carbon_monoxide_without"] = without.carbon_monoxide
        values["oxygen_without"] = without.oxygen
    if asked.sensor_lambda is not None:
        values["leak_found"] = formula.fresh_air(gas, asked.sensor_lambda)
    return Answer(
        values=values,
        notes=tuple(_notes(gas, value, gasoline=asked.fuel in ("petrol", "e5", "e10"))),
    )


def _refuse(gas: Analysis, carbon: float, fresh_air: float) -> None:
    problem: str | bool = False
    if carbon < _LEAST_CARBON:
        problem = "With less than 2 % of CO and CO2 together this is air: check the probe."
    if carbon + gas.oxygen > 0.4:
        problem = "These gases add up to more than any exhaust gas holds."
    refuse(
        carbon_dioxide=problem,
        fresh_air=gas.oxygen < fresh_air * OXYGEN_IN_AIR
        and "So much fresh air would bring more oxygen than the analyzer shows.",
    )


def _judge(value: float, uncertainty: float, limit: Limit) -> Verdict:
    return judge(
        value,
        uncertainty,
        limit,
        kind=NUMBER,
        advice="Let the analyzer set its zero and its oxygen on fresh air, seal the probe, and "
        "take the mean of several minutes; or use an analyzer of a better class.",
    )


def _notes(gas: Analysis, value: float, gasoline: bool) -> Iterator[str]:
    if gasoline and gas.carbon_monoxide + gas.carbon_dioxide < _USUAL_CARBON:
        yield (
            "CO and CO2 together are below 13 %: the sample holds fresh air (exhaust leak, probe "
            "not deep enough, secondary air running), a cylinder misfires, or the mixture is lean."
        )
    if gas.oxygen > 0.01 and gas.carbon_monoxide > 0.005:
        yield (
            "Oxygen and carbon monoxide are both high: a misfire, uneven cylinders, or a rich "
            "engine with a leak in its exhaust."
        )
    if value > 1.2:
        yield "So lean a gasoline engine would hardly run: look for air in the sample."


RESULTS = (
    verdict("verdict", "Verdict", NUMBER, 4).says(
        "Lambda held against its band with a guard band at k = 2."
    ),
    result("lambda", "Lambda", NUMBER).says("Air in the gas over the air that its fuel needed."),
    result("lambda_uncertainty", "Its expanded uncertainty, k = 2", NUMBER, 2).says(
        "From the class of the analyzer, each gas by its slope."
    ),
    result("carbon", "CO and CO2 together", PER_CENT, 3).says(
        "Some 15 % with gasoline in a sample without fresh air."
    ),
    result("lambda_without", "Lambda without the fresh air", NUMBER).says("What left the engine."),
    result("carbon_monoxide_without", "CO without the fresh air", PER_CENT, 3).says(
        "A leak also hides CO."
    ),
    result("oxygen_without", "O2 without the fresh air", PER_CENT, 3).says("What left the engine."),
    result("leak_found", "Fresh air that the front sensor means", PER_CENT, 2).says(
        "Share of the sample that came in behind the front sensor."
    ),
)

CALCULATOR = Calculator(
    **taking(ExhaustGas, exhaust_lambda),
    title="Lambda from the exhaust gas",
    summary="Lambda from CO, CO2, O2 and HC at the tailpipe, how sure it is, and how much a leak "
    "that adds air would shift it.",
    job="Mixture and exhaust",
    words=phrases("four gas, five gas, analyzer, Brettschneider, air fuel ratio, inspection"),
    results=RESULTS,
    meaning="A catalyst changes the gases but not lambda, so lambda at the tailpipe is that of the "
    "engine, unless air got in on the way. Even one part of fresh air in a hundred lifts it by "
    "about 0.01. A tailpipe that says lean while the front sensor holds 1 means a leak between "
    "the two, or secondary air that does not stop.",
    leaves_out="Water and soot; oxides of nitrogen where they are not typed; hydrocarbons that "
    "the analyzer does not see (alcohols, aromatics). Limits differ between countries and cars: "
    "0.97 to 1.03 is that of the European Union's periodic test at 2000 r/min and more where "
    "the maker gives no other.",
    sources=from_memory(
        "J. Brettschneider, Bosch Technische Berichte 6 (1979) 177 (formula; constants "
        "of gasoline from memory)",
        "UN Regulation 83 (hydrogen and oxygen of E5, E10, LPG, CNG)",
        "OIML R 99:2008 (greatest errors by class)",
    )
    + published(
        "Directive 2014/45/EU, annex I, 8.2.1.2 (1 ± 0.03)",
        "B. C. Singer and R. A. Harley, 1998 (infrared sees about half of the carbon of "
        "gasoline vapor)",
        "JCGM 100:2008, 5.1.2; ILAC-G8:09/2019 (guard band at k = 2)",
    ),
)

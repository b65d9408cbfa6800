"""Lambda from exhaust gas against burnt mixtures, the formula by hand, and GTC."""

from typing import Any

import GTC
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api
from baycalc.physics.mixture import Exhaust, exhaust


def typed(gas: Exhaust) -> dict[str, str]:
    """Return the fields for a burnt gas, dry and without HC."""
    dry = gas.dry()
    return {
        "carbon_monoxide": f"{100 * gas.carbon_monoxide / dry!r}",
        "carbon_dioxide": f"{100 * gas.carbon_dioxide / dry!r}",
        "oxygen": f"{100 * gas.oxygen / dry!r}",
        "hydrocarbons": "0",
    }


def brettschneider(co: Any, co2: Any, o2: Any, hc: Any, hcv: float, ocv: float) -> Any:
    """The formula as published, with gases in per cent and HC as hexane."""
    water = hcv / 4 * 3.5 / (3.5 + co / co2) - ocv / 2
    top = co2 + co / 2 + o2 + water * (co2 + co)
    return top / ((1 + hcv / 4 - ocv / 2) * (co2 + co + 6 * hc))


@given(st.floats(0.75, 1.4))
def test_a_burnt_mixture_is_found_again(compute: Any, mixture: float) -> None:
    """Exhaust by atom balance and water gas equilibrium, itself held to a course script."""
    found = compute(**typed(exhaust(mixture, 1.7261, 0.0176)))
    assert found["lambda"] == pytest.approx(mixture, rel=1e-9)


@pytest.mark.parametrize(
    ("fuel", "hydrogen", "oxygen"), [("e5", 1.89, 0.016), ("e10", 1.93, 0.033), ("lpg", 2.525, 0),
                                     ("cng", 4.0, 0)]
)  # fmt: skip
@pytest.mark.parametrize("mixture", [0.9, 1.0, 1.2])
def test_other_fuels(
    compute: Any, fuel: str, hydrogen: float, oxygen: float, mixture: float
) -> None:
    # UN Regulation 83 (from memory): hydrogen and oxygen per carbon of the reference fuels.
    found = compute(fuel=fuel, **typed(exhaust(mixture, hydrogen, oxygen)))
    assert found["lambda"] == pytest.approx(mixture, rel=1e-9)


@given(st.floats(0.01, 6), st.floats(8, 16), st.floats(0, 8), st.floats(0, 0.1))
def test_the_formula_written_out(compute: Any, co: float, co2: float, o2: float, hc: float) -> None:
    found = compute(
        carbon_monoxide=f"{co!r}", carbon_dioxide=f"{co2!r}", oxygen=f"{o2!r}",
        hydrocarbons=f"{hc * 1e4!r}",
    )  # fmt: skip
    assert found["lambda"] == pytest.approx(
        brettschneider(co, co2, o2, hc, 1.7261, 0.0176), rel=1e-9
    )


def test_uncertainty_against_gtc(compute: Any) -> None:
    # OIML R 99 class 0 (from memory): CO 0.03 %, CO2 0.5 %, O2 0.1 %, HC 10 ppm, or 5 %.
    co = GTC.ureal(0.10, GTC.type_b.uniform(0.03))
    co2 = GTC.ureal(14.9, GTC.type_b.uniform(0.05 * 14.9))
    o2 = GTC.ureal(0.30, GTC.type_b.uniform(0.1))
    hc = GTC.ureal(0.0040, GTC.type_b.uniform(0.0010))
    known = brettschneider(co, co2, o2, hc, 1.7261, 0.0176)
    found = compute()
    assert found["lambda"] == pytest.approx(known.x, rel=1e-9)
    assert found["lambda_uncertainty"] == pytest.approx(2 * known.u, rel=2e-3)


@given(st.floats(0.8, 1.3), st.floats(0.01, 0.5))
def test_a_leak_and_its_correction_return(compute: Any, mixture: float, leak: float) -> None:
    gas = exhaust(mixture, 1.7261, 0.0176)
    dry = gas.dry()
    left = 1 - leak
    fields = {
        "carbon_monoxide": f"{100 * left * gas.carbon_monoxide / dry!r}",
        "carbon_dioxide": f"{100 * left * gas.carbon_dioxide / dry!r}",
        "oxygen": f"{100 * (left * gas.oxygen / dry + leak * 0.2095)!r}",
        "hydrocarbons": "0",
    }
    found = compute(
        **fields, fresh_air=f"{100 * leak * (1 - 1e-12)!r}", sensor_lambda=f"{mixture!r}"
    )
    assert found["lambda_without"] == pytest.approx(mixture, rel=1e-6)
    assert found["leak_found"] == pytest.approx(leak, rel=1e-6)
    assert found["lambda"] > mixture


def test_one_part_of_air_in_a_hundred(compute: Any) -> None:
    gas = exhaust(1.0, 1.7261, 0.0176)
    dry = gas.dry()
    found = compute(
        carbon_monoxide="0",
        carbon_dioxide=f"{99 * gas.carbon_dioxide / dry!r}",
        oxygen="0.2095",
        hydrocarbons="0",
    )
    assert found["lambda"] - 1 == pytest.approx(0.01, abs=1e-3)


@given(st.floats(0, 3), st.floats(0.01, 2))
def test_more_oxygen_is_leaner_and_more_hydrocarbon_richer(
    compute: Any, oxygen: float, more: float
) -> None:
    one = compute(oxygen=f"{oxygen!r}")["lambda"]
    assert compute(oxygen=f"{oxygen + more!r}")["lambda"] > one
    assert compute(oxygen=f"{oxygen!r}", hydrocarbons=f"{40 + 1000 * more!r}")["lambda"] < one


def test_hydrocarbons_counted_twice_over(compute: Any) -> None:
    # Singer and Harley, 1998: infrared sees about half of the carbon of gasoline vapour.
    gas = {"hydrocarbons": "800 ppm"}
    assert compute(carbon_of_hydrocarbons="12", **gas)["lambda"] < compute(**gas)["lambda"]
    six = compute(carbon_of_hydrocarbons="12", hydrocarbons="400 ppm")["lambda"]
    assert six == pytest.approx(compute(**gas)["lambda"], rel=1e-12)


# Directive 2014/45/EU, annex I, 8.2.1.2: 1 ± 0.03 where the maker says nothing else.
@pytest.mark.parametrize(
    ("oxygen", "outcome"), [("0.3 %", "pass"), ("0.7 %", "too close to call"), ("1.2 %", "fail")]
)
def test_verdicts(compute: Any, oxygen: str, outcome: str) -> None:
    assert compute(oxygen=oxygen)["verdict"] == outcome


def test_a_better_class_decides_more(compute: Any) -> None:
    wide, narrow = (compute(analyser=each)["lambda_uncertainty"] for each in ("I", "00"))
    assert narrow < wide


def test_no_band_no_verdict(compute: Any) -> None:
    assert "verdict" not in compute(lambda_low="", lambda_high="")
    assert compute(lambda_low="", lambda_high="1.03", oxygen="3 %")["verdict"] == "fail"


def test_advice(run: Any) -> None:
    verdict = run(oxygen="0.7 %")["results"]["verdict"]
    assert verdict["advice"] == (
        "Let the analyzer set its zero and its oxygen on fresh air, seal the probe, and take the "
        "mean of several minutes; or use an analyzer of a better class."
    )


@pytest.mark.parametrize(
    ("fields", "note"),
    [
        ({"carbon_dioxide": "12 %"}, "CO and CO2 together are below 13 %"),
        ({"oxygen": "2 %", "carbon_monoxide": "1.5 %"}, "Oxygen and carbon monoxide are both high"),
        ({"oxygen": "6 %"}, "So lean a gasoline engine would hardly run"),
    ],
)
def test_notes(run: Any, fields: dict[str, str], note: str) -> None:
    assert any(each["text"].startswith(note) for each in run(**fields)["notes"])


def test_gas_engines_have_less_carbon(run: Any) -> None:
    assert run(fuel="cng", carbon_dioxide="11.5 %")["notes"] == []


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        (
            {"carbon_dioxide": "0.5 %", "oxygen": "20 %"},
            {"carbon_dioxide": "With less than 2 % of CO and CO2 together this is air: check the "
             "probe."},
        ),
        (
            {"carbon_dioxide": "18 %", "oxygen": "21 %", "carbon_monoxide": "5 %"},
            {"carbon_dioxide": "These gases add up to more than any exhaust gas holds."},
        ),
        (
            {"fresh_air": "5 %"},
            {"fresh_air": "So much fresh air would bring more oxygen than the analyzer shows."},
        ),
        (
            {"lambda_low": "1.1", "lambda_high": "1"},
            {"lambda_high": "The greatest value lies below the least one."},
        ),
        ({"oxygen": "22 %"}, {"oxygen": "Expected at most 21 %, got 22 %."}),
        ({"oxygen": "3 V"}, {"oxygen": "“V” is a unit of voltage; expected ratio: %, 1, ppm."}),
    ],
)  # fmt: skip
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert api.run("exhaust_lambda", fields)["errors"] == problems

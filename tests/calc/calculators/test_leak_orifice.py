"""Flow through a hole against `fluids`, Perry's orifice, and its own inverse."""

import math
from typing import Any

import pytest
from fluids.flow_meter import differential_pressure_meter_solver
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api

INHG = 3386.388640341


def test_the_regulatory_hole_under_a_testers_pressure(compute: Any) -> None:
    # By hand: A sqrt(2 dp/rho) with C 0.615 and the expansibility of ISO 5167, 14 inH2O = 3487 Pa
    # upstream of 0.020 in at 101.325 kPa, 20 °C: rho 1.246 kg/m3, flow 9.47 cm3/s of free air.
    found = compute(diameter="0.020 in", inside="14 inH2O", side="pressure")
    dense = (101325 + 3487.2) / (287.05 * 293.15)
    ideal = math.pi / 4 * 0.000508**2 * math.sqrt(2 * 3487.2 * dense)
    mass = found["used_coefficient"] * 0.985 * ideal
    assert found["mass_flow"] == pytest.approx(mass, rel=5e-3)
    assert found["volume_flow"] * 60e3 == pytest.approx(0.569, abs=2e-3)


def test_against_an_orifice_meter_of_iso_5167(compute: Any) -> None:
    """A wide pipe with a small plate: ISO 5167 in `fluids`, whose coefficient is 0.596."""
    bore, up, down = 0.0127, 102.0e3, 101.325e3
    air = up / (287.05 * 293.15)
    flow = differential_pressure_meter_solver(
        D=0.127, D2=bore, P1=up, P2=down, rho=air, mu=1.81e-5, k=1.4,
        meter_type="ISO 5167 orifice", taps="corner",
    )  # fmt: skip
    found = compute(
        diameter=f"{bore} m",
        inside=f"{up - down} Pa",
        side="pressure",
        barometer_from="measured",
        barometer="101.325 kPa",
    )
    assert found["mass_flow"] == pytest.approx(flow, rel=0.03)


# Choked air through a given area: m = C 0.040415 p A/sqrt(T) in SI, the textbook's (Shapiro's,
# Fliegner's) constant for air with k 1.4.
@pytest.mark.parametrize("inside", ["20 inHg", "25 inHg"])
def test_choked_flow_by_fliegner(compute: Any, inside: str) -> None:
    found = compute(diameter="2 mm", inside=inside, coefficient_from="given", coefficient="0.9")
    mass = 0.9 * 0.040415 * 101325 * math.pi / 4 * 0.002**2 / math.sqrt(293.15)
    assert found["mass_flow"] == pytest.approx(mass, rel=1e-4)


def test_perrys_coefficient_into_a_high_vacuum(compute: Any) -> None:
    # Perry: 0.84 at zero pressure ratio (from memory; the polynomial of MapleSim says 0.8414).
    found = compute(inside="29.92 inHg")
    assert found["used_coefficient"] == pytest.approx(0.8414, rel=0.04)


def test_where_it_chokes(compute: Any) -> None:
    # Critical ratio 0.52828: a vacuum of 0.47172 of the barometer, or 0.8929 of it in pressure.
    assert compute()["chokes_at"] == pytest.approx(0.47172 * 101325, rel=1e-4)
    assert compute(side="pressure")["chokes_at"] == pytest.approx(0.89294 * 101325, rel=1e-4)
    assert compute(inside="14.0 inHg")["regime"] == "slower than sound"
    assert compute(inside="14.2 inHg")["regime"].startswith("choked")


INSIDES = st.floats(0.1, 29)


@given(st.floats(0.01, 20), INSIDES, st.sampled_from(["vacuum", "pressure"]))
def test_hole_and_flow_return(compute: Any, diameter: float, inside: float, side: str) -> None:
    place = {"inside": f"{inside} inHg", "side": side}
    flow = compute(diameter=f"{diameter} mm", **place)["volume_flow"]
    if flow * 60e3 < 10000:
        found = compute(find="diameter", flow=f"{flow!r} m3/s", limit_hole="none", **place)
        assert found["hole"] == pytest.approx(diameter / 1000, rel=1e-9)


@given(INSIDES, st.floats(0.01, 5))
def test_more_vacuum_passes_more(compute: Any, inside: float, more: float) -> None:
    low = compute(inside=f"{inside} inHg")
    high = compute(inside=f"{min(29.9, inside + more)} inHg")
    assert high["volume_flow"] >= low["volume_flow"]
    assert high["used_coefficient"] >= low["used_coefficient"]


@given(st.floats(0.01, 10), st.floats(0.1, 9))
def test_flow_goes_with_the_area(compute: Any, diameter: float, factor: float) -> None:
    one = compute(diameter=f"{diameter} mm")
    other = compute(diameter=f"{diameter * factor} mm")
    assert other["volume_flow"] == pytest.approx(factor**2 * one["volume_flow"], rel=1e-9)


def test_the_larger_regulatory_hole_passes_four_times_as_much(compute: Any) -> None:
    found = compute(inside="10 inH2O")
    assert found["flow_040"] == pytest.approx(4 * found["flow_020"], rel=1e-12)
    assert found["flow_040"] == pytest.approx(found["volume_flow"], rel=1e-12)


def test_references_differ_by_temperature_only(compute: Any) -> None:
    cold, warm = (compute(reference=each)["volume_flow"] for each in ("0C", "20C"))
    assert warm / cold == pytest.approx(293.15 / 273.15, rel=1e-12)


@pytest.mark.parametrize(
    ("flow", "outcome"), [("0.4", "pass"), ("0.57", "too close to call"), ("0.7", "fail")]
)
def test_verdicts(run: Any, flow: str, outcome: str) -> None:
    answer = run(find="diameter", flow=f"{flow} L/min", inside="14 inH2O", side="pressure")
    assert answer["results"]["verdict"]["outcome"] == outcome


def test_a_calibrated_hole_settles_it(run: Any) -> None:
    answer = run(find="diameter", flow="0.57 L/min", inside="14 inH2O", side="pressure")
    assert answer["results"]["verdict"]["advice"] == (
        "Put the flow beside that of a calibrated hole of the same size at the same pressure: then "
        "the coefficient drops out."
    )


def test_no_verdict_without_a_limit_or_on_a_known_hole(compute: Any) -> None:
    assert "verdict" not in compute()
    assert "verdict" not in compute(find="diameter", limit_hole="none")


def test_notes(run: Any) -> None:
    assert run(inside="0 Pa")["notes"][0]["text"] == "With no difference of pressure nothing flows."
    assert run(diameter="0.03 mm")["notes"][0]["text"].startswith("In a hole so small friction")


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        (
            {"inside": "30 inHg"},
            {"inside": "No vacuum can be deeper than the air pressure here, 29.92 inHg (101.3 "
             "kPa)."},
        ),
        (
            {"find": "diameter", "inside": "0 Pa"},
            {"inside": "With no difference of pressure no hole passes any air."},
        ),
        (
            {"coefficient_from": "given", "coefficient": "1.2"},
            {"coefficient": "Expected at most 1, got 1.2."},
        ),
        ({"diameter": "0 mm"}, {"diameter": "Expected at least 0.001 mm, got 0 mm."}),
        ({"find": "diameter", "flow": "-1 cfm"},
         {"flow": "Expected at least 0 cfm (0 L/min), got -1 cfm."}),
    ],
)  # fmt: skip
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert api.run("leak_orifice", fields)["errors"] == problems

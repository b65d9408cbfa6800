"""Leak check of a fuel system against closed formulas, scipy, and the rules it quotes."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from baycalc import api
from baycalc.physics.orifice import sharp_flow

INH2O = 249.08891
AIR = 101325.0


def test_vapour_space(compute: Any) -> None:
    # 16 US gal = 60.567 L (NIST SP 811), half full, and 4 L beside it.
    found = compute(tank="16 gal", fill="50 %", extra_volume="4 L")["vapour_space"]
    assert found == pytest.approx(0.5 * 60.5666e-3 + 4e-3, rel=1e-5)


def test_time_of_the_small_hole_by_the_textbook(compute: Any) -> None:
    # Small differences: t = 2 V (sqrt(d1) - sqrt(d2))/(0.61 A sqrt(2 p R T)), as a tank of water
    # empties; the difference of 10 inH2O is 2.5 % of the air, so it holds within 2 %.
    volume, area = compute()["vapour_space"], math.pi / 4 * 0.000508**2
    speed = 0.61 * math.sqrt(2 * AIR * 287.05 * 293.15)
    time = 2 * volume * (math.sqrt(10 * INH2O) - math.sqrt(5 * INH2O)) / (area * speed)
    assert compute()["time_020"] == pytest.approx(time, rel=0.02)


def test_the_large_hole_takes_a_quarter(compute: Any) -> None:
    found = compute()
    assert found["time_040"] == pytest.approx(found["time_020"] / 4, rel=1e-12)


@pytest.mark.parametrize("side", ["vacuum", "pressure"])
@pytest.mark.parametrize("hole", ["0.020 in", "0.040 in", "2 mm"])
def test_expected_pressure_against_scipy(compute: Any, side: str, hole: str) -> None:
    fields = {"find": "pressure", "side": side, "hole": hole, "time": "5 s"}
    found = compute(**fields)
    size = {"0.020 in": 0.000508, "0.040 in": 0.001016, "2 mm": 0.002}[hole]
    area, volume = math.pi / 4 * size**2, found["vapour_space"]
    way = 1 if side == "vacuum" else -1

    def slope(_: float, inside: list[float]) -> list[float]:
        here = float(inside[0])
        high, low = max(here, AIR), min(here, AIR)
        return [way * area / volume * high * sharp_flow(low / high) * math.sqrt(287.05287 * 293.15)]

    solved = solve_ivp(slope, (0, 5), [AIR - way * 10 * INH2O], rtol=1e-10, atol=1e-6)
    left = abs(AIR - solved.y[0][-1])
    assert found["expected_end"] == pytest.approx(left, rel=1e-4, abs=0.1)


@given(st.floats(0.1, 3), st.sampled_from(["vacuum", "pressure"]), st.floats(0, 85))
def test_hole_and_reading_return(compute: Any, hole: float, side: str, fill: float) -> None:
    fields = {"side": side, "fill": f"{fill} %", "time": "10 s"}
    left = compute(find="pressure", hole=f"{hole} mm", **fields)["expected_end"]
    if left > 1:
        found = compute(find="hole", end=f"{left!r} Pa", **fields)
        assert found["found_hole"] == pytest.approx(hole / 1000, rel=1e-4)


@given(st.floats(1, 9.5), st.floats(0.05, 0.4))
def test_a_lower_reading_is_a_larger_hole(compute: Any, end: float, less: float) -> None:
    one, other = (compute(end=f"{each} inH2O")["found_hole"] for each in (end, end - less))
    assert other > one


@given(st.floats(0, 84), st.floats(0.1, 1))
def test_a_fuller_tank_decays_faster(compute: Any, fill: float, more: float) -> None:
    one, other = (compute(fill=f"{each} %")["time_020"] for each in (fill, fill + more))
    assert other < one


@given(st.floats(0.2, 5))
def test_time_goes_with_the_vapour_space(compute: Any, factor: float) -> None:
    tank = {"fill": "0 %", "extra_volume": "0 L"}
    one = compute(tank="50 L", **tank)["time_020"]
    assert compute(tank=f"{50 * factor} L", **tank)["time_020"] == pytest.approx(
        factor * one, rel=1e-9
    )


def test_vapour_hides_part_of_the_vacuum(compute: Any) -> None:
    plain = compute(end="7 inH2O")
    corrected = compute(end="6 inH2O", vapour_rise="1 inH2O/min")
    assert corrected["found_hole"] == pytest.approx(plain["found_hole"], rel=1e-9)
    under_pressure = compute(end="8 inH2O", vapour_rise="1 inH2O/min", side="pressure")
    assert under_pressure["found_hole"] == pytest.approx(
        compute(end="7 inH2O", side="pressure")["found_hole"], rel=1e-9
    )


@pytest.mark.parametrize(
    ("fields", "outcome"),
    [
        ({"end": "9 inH2O"}, "pass"),
        ({"end": "5.2 inH2O"}, "too close to call"),
        ({"end": "4 inH2O"}, "fail"),
        ({"end": "4 inH2O", "limit_hole": "040"}, "pass"),
        ({"end": "10.1 inH2O"}, "pass"),
        ({"end": "0 inH2O", "time": "20 s"}, "fail"),
    ],
)
def test_verdicts(compute: Any, fields: dict[str, str], outcome: str) -> None:
    assert compute(**fields)["verdict"] == outcome


def test_a_hole_of_the_limit_is_always_too_close(compute: Any) -> None:
    left = compute(find="pressure", hole="0.020 in")["expected_end"]
    found = compute(end=f"{left!r} Pa")
    assert found["verdict"] == "too close to call"
    assert found["limit_end"] == pytest.approx(left, rel=1e-9)


@pytest.mark.parametrize(
    ("fields", "advice"),
    [
        (
            {"end": "5.6 inH2O"},
            "Find out more closely how full the tank is, or put a calibrated hole of the limit's "
            "size on the same system and compare the two decays.",
        ),
        (
            {"end": "9.65 inH2O", "time": "5 s"},
            "Close the system again and read after at least 10 s, or use a gauge of a better grade "
            "and a finer step, or put a calibrated hole of the limit's size on the same system and "
            "compare the two decays.",
        ),
        (
            {"end": "8.6 inH2O", "time": "10 s", "gauge_resolution": "1 inH2O"},
            "Close the system again and read after at least 20 s, or use a gauge of a better grade "
            "and a finer step, or put a calibrated hole of the limit's size on the same system and "
            "compare the two decays.",
        ),
    ],
)  # fmt: skip
def test_advice(run: Any, fields: dict[str, str], advice: str) -> None:
    verdict = run(**fields)["results"]["verdict"]
    assert verdict["outcome"] == "too close to call"
    assert verdict["advice"] == advice


def test_after_the_proof_time_a_tight_system_passes(compute: Any) -> None:
    gauge = {"gauge_resolution": "0.5 inH2O", "end": "10 inH2O"}
    time = compute(**gauge)["proof_time"]
    assert compute(**gauge, time=f"{1.02 * time} s")["verdict"] == "pass"
    assert compute(**gauge, time=f"{0.95 * time} s")["verdict"] == "too close to call"


def test_a_warning_of_fuel_vapour_stands_by_every_answer(run: Any) -> None:
    for fields in ({}, {"find": "pressure"}):
        assert run(**fields)["notes"][-1]["signal"] == "warning"
        assert run(**fields)["notes"][-1]["text"].startswith("Fuel vapor burns and explodes.")


def test_notes_of_an_empty_tank_and_an_empty_reading(run: Any) -> None:
    assert run(fill="10 %")["notes"][0]["text"].startswith("Many monitors wait until the tank")
    assert run(end="0 inH2O")["notes"][0]["text"].startswith("Nothing is left,")


# 13 CCR 1968.2(e)(4.3.3): leak checks may be disabled above 85 % fill.
@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        (
            {"fill": "85.1 %"},
            {"fill": "Above 85 % the vapor space is too small and the fuel moves too much: leak "
             "checks are not run there."},
        ),
        (
            {"start": "10 inH2O", "stop": "10 inH2O"},
            {"stop": "The check has to end below the reading at the start."},
        ),
        ({"fill": "-1 %"}, {"fill": "Expected at least 0 %, got -1 %."}),
        ({"time": "-3 s"}, {"time": "Expected at least 1 s, got -3 s."}),
        ({"start": "100 inH2O"},
         {"start": "Expected at most 80.29 inH₂O (20 kPa), got 100 inH2O."}),
    ],
)  # fmt: skip
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert api.run("evap_decay", fields)["errors"] == problems


def test_the_drawing_marks_the_reading_and_both_holes() -> None:
    drawing = api.run("evap_decay", {})["drawing"]
    for name in ("end", "a hole of 0.020 in", "a hole of 0.040 in"):
        assert f">{name}</text>" in drawing

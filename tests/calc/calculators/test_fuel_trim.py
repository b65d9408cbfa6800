"""Fuel trims against SAE J1979, the flow of a hole, and the patterns of the trade."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api
from baycalc.physics.trims import TRIM_STEP


def test_step_of_a_trim() -> None:
    # SAE J1979: (A - 128)/1.28 per cent, so 0.78125 % a step.
    assert pytest.approx((129 - 128) / 1.28 / 100) == TRIM_STEP


@pytest.mark.parametrize(
    ("short", "long", "total"), [(128, 128, 0.0), (140, 150, 0.28174), (110, 120, -0.19434)]
)
def test_totals_of_raw_trims(compute: Any, short: int, long: int, total: float) -> None:
    # SAE J1979: trim = (A - 128)/1.28 %; both are factors on the fuel, so (1 + s)(1 + l) - 1.
    found = compute(
        idle_short_1=f"{(short - 128) / 1.28!r}", idle_long_1=f"{(long - 128) / 1.28!r}"
    )
    assert found["idle_1"] == pytest.approx(total, abs=1e-5)


def test_the_hole_of_a_known_leak(compute: Any) -> None:
    """A 2 mm hole at 18 inHg feeds the trims that lead back to it."""
    leak = api.run("leak_orifice", {"diameter": "2 mm", "inside": "18 inHg"})["results"]
    flow = leak["mass_flow"]["si"]
    trim = flow / 0.0035
    found = compute(idle_short_1="0 %", idle_long_1=f"{100 * trim!r}", air_flow="3.5 g/s")
    assert found["unmetered_flow"] == pytest.approx(flow, rel=1e-9)
    assert found["hole"] == pytest.approx(0.002, rel=1e-9)
    assert found["unmetered_share"] == pytest.approx(flow / (flow + 0.0035), rel=1e-9)


def test_a_leak_fades_at_cruise(compute: Any) -> None:
    found = compute(air_flow="3.5 g/s", cruise_air_flow="14 g/s")
    assert found["expected_cruise"] == pytest.approx(found["idle_1"] / 4, rel=1e-9)


TRIMS = st.floats(-30, 30)


@given(TRIMS, TRIMS)
def test_short_and_long_may_be_exchanged(compute: Any, short: float, long: float) -> None:
    one = compute(idle_short_1=f"{short!r}", idle_long_1=f"{long!r}")
    other = compute(idle_short_1=f"{long!r}", idle_long_1=f"{short!r}")
    assert other["idle_1"] == pytest.approx(one["idle_1"], abs=1e-12)
    assert other["pattern"] == one["pattern"]


@given(TRIMS, st.floats(0.1, 10))
def test_a_higher_trim_is_a_higher_total(compute: Any, long: float, more: float) -> None:
    one, other = (compute(idle_long_1=f"{each!r}") for each in (long, long + more))
    assert other["idle_1"] > one["idle_1"]
    if "hole" in one:
        assert other["hole"] > one["hole"]


@given(st.floats(1, 30), st.floats(0.1, 10))
def test_unmetered_air_goes_with_the_air_flow(compute: Any, trim: float, factor: float) -> None:
    plain = {"idle_short_1": "0", "idle_long_1": f"{trim!r}"}
    one = compute(**plain, air_flow="3 g/s")
    other = compute(**plain, air_flow=f"{3 * factor!r} g/s")
    assert other["unmetered_flow"] == pytest.approx(factor * one["unmetered_flow"], rel=1e-9)
    assert other["hole"] == pytest.approx(factor**0.5 * one["hole"], rel=1e-9)


# Patterns at idle and cruise: common practice, no source.
@pytest.mark.parametrize(
    ("idle", "cruise", "begins"),
    [
        ("15", "3", "Lean at idle, good at cruise: air gets in behind the air flow sensor."),
        ("2", "16", "Good at idle, lean at cruise: the fuel does not keep up,"),
        ("15", "17", "Lean everywhere:"),
        ("-16", "-2", "Rich at idle, good at cruise:"),
        ("0", "-17", "Good at idle, rich at cruise:"),
        ("-16", "-18", "Rich everywhere:"),
        ("16", "-16", "Lean at idle and rich at cruise:"),
        ("-16", "16", "Rich at idle and lean at cruise:"),
        ("3", "-2", "Good at idle and at cruise."),
        ("16", "", "Lean at idle. Read the trims at cruise too:"),
        ("-16", "", "Rich at idle. Read the trims at cruise too."),
        ("1", "", "Good at idle."),
    ],
)
def test_patterns(compute: Any, idle: str, cruise: str, begins: str) -> None:
    short = "0" if cruise else ""
    found = compute(idle_short_1="0", idle_long_1=idle, cruise_short_1=short, cruise_long_1=cruise)
    assert found["pattern"].startswith(begins)


def test_two_banks(compute: Any) -> None:
    found = compute(
        banks="two", idle_short_2="0", idle_long_2="0", cruise_short_2="0", cruise_long_2="0"
    )
    assert found["pattern"].startswith("Bank 1: Lean at idle, good at cruise:")
    assert "Bank 2: Good at idle and at cruise." in found["pattern"]
    assert found["unmetered_share"] == pytest.approx(
        found["idle_1"] / 2 / (1 + found["idle_1"] / 2), rel=1e-9
    )


def test_banks_that_differ(run: Any) -> None:
    notes = run(banks="two", idle_short_2="0", idle_long_2="0")["notes"]
    assert notes[0]["text"].startswith("The banks differ at idle:")


def test_one_bank_knows_nothing_of_the_other(compute: Any) -> None:
    assert compute(idle_short_2="-20", idle_long_2="-20") == compute()


@pytest.mark.parametrize(
    ("trim", "outcome"),
    [("5", "pass"), ("9", "too close to call"), ("14", "fail"), ("-14", "fail")],
)
def test_verdicts(compute: Any, trim: str, outcome: str) -> None:
    assert compute(idle_short_1="0", idle_long_1=trim)["idle_verdict_1"] == outcome


def test_advice(run: Any) -> None:
    verdict = run(idle_short_1="0", idle_long_1="9")["results"]["idle_verdict_1"]
    assert verdict["advice"].startswith("Hold the engine warm and steady for some minutes more,")


def test_a_wide_swing_widens_the_guard_band(compute: Any) -> None:
    calm = compute(idle_short_1="0", idle_long_1="7", swing="1 %")["idle_verdict_1"]
    wild = compute(idle_short_1="0", idle_long_1="7", swing="8 %")["idle_verdict_1"]
    assert (calm, wild) == ("pass", "too close to call")


def test_without_air_flow_no_leak_is_sized(run: Any) -> None:
    answer = run(air_flow="")
    assert "hole" not in answer["results"]
    assert answer["notes"][0]["text"].startswith("Without an air flow no leak can be sized.")
    assert answer["links"] == []


def test_the_link_carries_the_hole(run: Any) -> None:
    answer = run()
    link = answer["links"][0]
    assert (link["to"], link["fields"]["find"]) == ("leak_orifice", "flow")
    there = api.run("leak_orifice", link["fields"])["results"]
    assert there["mass_flow"]["si"] == pytest.approx(
        answer["results"]["unmetered_flow"]["si"], rel=1e-4
    )


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        (
            {"cruise_long_1": ""},
            {"cruise_long_1": "Short and long trim belong together: type both or none."},
        ),
        (
            {"banks": "two", "cruise_short_2": "3 %"},
            {"cruise_long_2": "Short and long trim belong together: type both or none."},
        ),
        (
            {"manifold_vacuum": "26 inHg", "altitude": "5280 ft"},
            {"manifold_vacuum": "No vacuum can be as deep as the air pressure here, 24.64 inHg "
             "(83.43 kPa)."},
        ),
        ({"idle_long_1": "120 %"}, {"idle_long_1": "Expected at most 100 %, got 120 %."}),
        ({"air_flow": "3 cfm"}, {"air_flow": "“cfm” is a unit of volume flow; expected mass flow: "
                                 "lb/min, g/s, kg/h, mg/s, kg/s."}),
    ],
)  # fmt: skip
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert api.run("fuel_trim", fields)["errors"] == problems

"""Air added to the exhaust against the balance of air and fuel and textbook exhaust gas."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api
from baycalc.physics.mixture import exhaust


def test_lambda_by_the_balance(compute: Any) -> None:
    # Balance: lambda behind = 0.95 (1 + 1.5/6) = 1.1875, air-fuel ratio 1.1875 x 14.7 = 17.46, fuel
    # 6/(0.95 x 14.7) = 0.4296 g/s.
    found = compute(engine_air="6 g/s", pump_air="1.5 g/s", mixture="0.95", ratio="14.7")
    assert found["lambda_behind"] == pytest.approx(1.1875)
    assert found["ratio_behind"] == pytest.approx(17.456, abs=1e-3)
    assert found["fuel_flow"] * 1000 == pytest.approx(0.4296, abs=1e-4)
    assert found["share"] == pytest.approx(0.25)


# Isooctane by its reaction, C8H18 + 12.5 l (O2 + 3.773 N2) -> 8 CO2 + 9 H2O + 12.5 (l - 1) O2 and
# N2: dry oxygen 1.07 % at l = 1.05, 3.73 % at 1.2, 7.35 % at 1.5. Gasoline has less hydrogen.
@pytest.mark.parametrize(("added", "oxygen"), [(0.05, 1.07), (0.2, 3.73), (0.5, 7.35)])
def test_oxygen_behind_a_stoichiometric_engine(compute: Any, added: float, oxygen: float) -> None:
    found = compute(mixture="1", engine_air="10 g/s", pump_air=f"{10 * added} g/s")
    assert 100 * found["oxygen_behind"] == pytest.approx(oxygen, abs=0.05)


def test_oxygen_of_two_streams_that_do_not_burn(compute: Any) -> None:
    # Mass balance (n_e O2_e + 20.95 n_a)/(n_e + n_a), with the rich gas of lambda 0.85.
    gas = exhaust(0.85)
    air = 0.15 * 0.85 * (1 + 1.85 / 4) / 0.2095
    found = compute(mixture="0.85", engine_air="6 g/s", pump_air="0.9 g/s", burns="no")
    assert found["oxygen_behind"] == pytest.approx(0.2095 * air / (gas.dry() + air), rel=1e-9)


# Rich above 0.6 V, lean below 0.3 V: common practice, no source.
@pytest.mark.parametrize(
    ("pump", "shown"),
    [
        ("0.1 g/s", "stays above 0.6 V: still rich"),
        ("0.316 g/s", "swings between 0.3 V and 0.6 V or so: about stoichiometric"),
        ("1 g/s", "falls below 0.3 V: lean"),
    ],
)
def test_narrow_band(compute: Any, pump: str, shown: str) -> None:
    assert compute(pump_air=pump)["narrow_band"] == shown


MIXTURES = st.floats(0.7, 1.5)
SHARES = st.floats(0.001, 0.6)


@given(MIXTURES, SHARES)
def test_pump_and_lambda_return(compute: Any, mixture: float, share: float) -> None:
    plain = {"mixture": f"{mixture!r}", "engine_air": "10 g/s"}
    there = compute(pump_air=f"{10 * share!r} g/s", **plain)
    back = compute(find="pump", lambda_after=f"{there['lambda_behind']!r}", **plain)
    assert back["pump_flow"] == pytest.approx(share * 0.01, rel=1e-9)


@given(MIXTURES, SHARES, st.booleans())
def test_pump_and_oxygen_return(compute: Any, mixture: float, share: float, burns: bool) -> None:
    plain = {"mixture": f"{mixture!r}", "engine_air": "10 g/s", "burns": str(burns).lower()}
    there = compute(pump_air=f"{10 * share!r} g/s", **plain)
    if there["oxygen_behind"] > 1e-6:
        oxygen = f"{100 * there['oxygen_behind']!r}"
        back = compute(find="pump", seen_as="oxygen", oxygen_after=oxygen, **plain)
        assert back["pump_flow"] == pytest.approx(share * 0.01, rel=1e-6)


@given(st.floats(-20, 20), SHARES)
def test_trims_are_factors(compute: Any, before: float, share: float) -> None:
    after = 100 * ((1 + before / 100) * (1 + share) - 1)
    found = compute(
        find="pump", seen_as="trim", mixture="1", trim_before=f"{before!r}",
        trim_after=f"{min(after, 99)!r}",
    )  # fmt: skip
    if after < 99:
        assert found["share"] == pytest.approx(share, rel=1e-9)


@given(MIXTURES, SHARES, st.floats(0.01, 0.3))
def test_more_air_is_leaner(compute: Any, mixture: float, share: float, more: float) -> None:
    one, other = (
        compute(mixture=f"{mixture!r}", engine_air="10 g/s", pump_air=f"{10 * each!r} g/s")
        for each in (share, share + more)
    )
    assert other["lambda_behind"] > one["lambda_behind"]
    assert other["oxygen_behind"] >= one["oxygen_behind"]
    assert other["trim_shift"] > one["trim_shift"]


@given(st.floats(0.2, 5))
def test_only_the_share_matters(compute: Any, factor: float) -> None:
    one = compute(engine_air="6 g/s", pump_air="1.5 g/s")
    other = compute(engine_air=f"{6 * factor!r} g/s", pump_air=f"{1.5 * factor!r} g/s")
    for result in ("lambda_behind", "oxygen_behind", "trim_shift"):
        assert other[result] == pytest.approx(one[result], rel=1e-9)
    assert other["fuel_flow"] == pytest.approx(factor * one["fuel_flow"], rel=1e-9)


@pytest.mark.parametrize(
    ("shown", "outcome"), [("1.25", "pass"), ("1.14", "too close to call"), ("1.08", "fail")]
)
def test_verdicts(compute: Any, shown: str, outcome: str) -> None:
    found = compute(find="pump", lambda_after=shown, least_flow="1.2 g/s")
    assert found["verdict"] == outcome


def test_uncertainty_of_the_flow_by_the_gum(run: Any) -> None:
    # Flow 6 g/s (1.25/0.95 - 1): 5 % of the air flow and 0.01 of lambda, both rectangular.
    verdict = run(find="pump", lambda_after="1.25", least_flow="1.2 g/s")["results"]["verdict"]
    of_air = 6 * (1.25 / 0.95 - 1) * 0.05 / 3**0.5
    of_lambda = 6 * 0.01 / 0.95 / 3**0.5
    guard = 2 * (of_air**2 + of_lambda**2) ** 0.5
    assert f"guard band {guard:.2f} g/s" in verdict["metric"]


def test_advice(run: Any) -> None:
    verdict = run(find="pump", lambda_after="1.14", least_flow="1.2 g/s")["results"]["verdict"]
    assert verdict["advice"] == (
        "Repeat with the engine warm and steady, and take the mean of several runs of the pump; or "
        "read the shift on a wide-band sensor."
    )


@pytest.mark.parametrize(
    ("fields", "note"),
    [
        ({"pump_air": "3 g/s"}, "In closed loop the trims would need more than 25 %"),
        ({"mixture": "0.8", "pump_air": "0.3 g/s"}, "Even with the air of the pump the gas is"),
        ({"find": "pump", "seen_as": "oxygen", "oxygen_after": "0 %"},
         "With no oxygen left behind the injection"),
    ],
)  # fmt: skip
def test_notes(run: Any, fields: dict[str, str], note: str) -> None:
    assert any(each["text"].startswith(note) for each in run(**fields)["notes"])


@pytest.mark.parametrize(
    ("fields", "problems"),
    [
        (
            {"find": "pump", "lambda_after": "0.9"},
            {"lambda_after": "This is leaner before the injection than behind it."},
        ),
        (
            {"find": "pump", "seen_as": "trim", "trim_before": "5 %", "trim_after": "2 %"},
            {"trim_after": "This is leaner before the injection than behind it."},
        ),
        (
            {"find": "pump", "seen_as": "oxygen", "mixture": "1.3", "oxygen_after": "2 %"},
            {"oxygen_after": "This is leaner before the injection than behind it."},
        ),
        ({"engine_air": "0 g/s"}, {"engine_air": "Expected at least 0.5 g/s, got 0 g/s."}),
        ({"ratio": "147"}, {"ratio": "Expected at most 20, got 147."}),
    ],
)
def test_refusals(fields: dict[str, str], problems: dict[str, str]) -> None:
    assert api.run("added_air", fields)["errors"] == problems

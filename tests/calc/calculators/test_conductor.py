"""The conductor for a load, by its drop and by its heat."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

CIRCULAR_MIL = 5.067075e-10  # pi/4 of a square mil, ASTM B258
PLAIN = {"meter_error": "0 %", "ambient": "20 °C", "insulation": "105"}


# The trade's formula CM = K I L/E; K = 10.37 ohm circular mil per foot for annealed copper at
# 20 °C (handbooks; 0.017241 ohm mm2/m of IEC 60028 is the same), 10.75 in ABYC E-11 for warm wire.
@pytest.mark.parametrize(
    ("load", "feet", "drop"), [(1.0, 30.0, 0.1), (5.0, 60.0, 1.0), (15.0, 30.0, 0.36)]
)
def test_area_by_the_formula_of_the_trade(
    compute: Any, load: float, feet: float, drop: float
) -> None:
    found = compute(load=f"{load} A", length=f"{feet} ft", back="body", allowed=f"{drop} V",
                    **PLAIN)["by_drop"]  # fmt: skip
    cool, warm = (k * load * feet / drop * CIRCULAR_MIL for k in (10.37, 10.75))
    assert cool * 0.999 <= found <= warm


# 33 CFR 183.425, Table 5, column of 105 °C at 30 °C: AWG 18 20 A, 16 25 A, 14 35 A, 12 45 A,
# 10 60 A, 8 80 A, 6 120 A.
@pytest.mark.parametrize(
    ("size", "current"), [(18, 20), (16, 25), (14, 35), (12, 45), (10, 60), (8, 80), (6, 120)]
)
def test_area_by_the_table_of_currents(compute: Any, size: int, current: float) -> None:
    found = compute(load=f"{current} A", length="0.1 m", allowed="10 V", ambient="30 °C",
                    insulation="105", meter_error="0 %")  # fmt: skip
    diameter = 0.127e-3 * 92 ** ((36 - size) / 39)
    assert found["by_heat"] == pytest.approx(0.785398 * diameter**2, rel=1e-6)
    assert found["gauge_size"] == pytest.approx(0.785398 * diameter**2, rel=1e-6)


def test_a_wire_back_doubles_the_way(compute: Any) -> None:
    there = compute(length="20 ft", back="body", **PLAIN)["by_drop"]
    assert compute(length="10 ft", back="wire", **PLAIN)["by_drop"] == pytest.approx(there)


def test_the_next_metric_size(compute: Any) -> None:
    found = compute()
    assert found["by_drop"] < found["metric_size"] == pytest.approx(6e-6)
    assert found["drop_verdict"] == found["load_verdict"] == "pass"


def test_a_conductor_that_is_there_is_judged(run: Any) -> None:
    answer = run(load="60 A", fitted="AWG 8")
    assert answer["results"]["drop_verdict"]["outcome"] == "fail"
    assert answer["results"]["load_verdict"]["outcome"] == "fail"
    assert answer["headline"]["outcome"] == "fail"


def test_no_size_is_enough(run: Any) -> None:
    answer = run(load="400 A", length="50 m", allowed="0.1 V")
    assert "metric_size" not in answer["results"]
    assert answer["notes"][0]["text"].startswith("No size of the series is enough")


@given(st.floats(0.1, 100), st.floats(0.5, 40), st.floats(0.05, 5))
def test_the_area_found_drops_what_is_allowed(
    compute: Any, load: float, meters: float, drop: float
) -> None:
    """Computed back with the resistance at the temperature shown."""
    found = compute(load=f"{load!r} A", length=f"{meters!r} m", back="body",
                    allowed=f"{drop!r} V", meter_error="0 %")  # fmt: skip
    if "drop" in found:
        assert found["drop"] <= drop * (1 + 1e-6)
    if found["by_drop"] >= found["by_heat"]:
        cold = 1.7241e-8 * meters * load / drop
        assert cold <= found["by_drop"] <= cold * 1.3

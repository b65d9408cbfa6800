"""Conductors in a harness against the federal table and the cable standards."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.physics.copper import area_from_awg
from baycalc.physics.harness import (
    INSULATIONS,
    allowed_current,
    conductor_temperature,
    fault_integral,
    insulation_limit,
)

KELVIN = 273.15
AREAS = st.floats(0.2e-6, 100e-6)
CLASSES = st.sampled_from(INSULATIONS)


# 33 CFR 183.425, Table 5, at 30 °C, three columns whole: AWG 18 to 4/0 [A].
@pytest.mark.parametrize(
    ("insulation", "table"),
    [
        ("75", [10, 15, 20, 25, 40, 65, 95, 125, 145, 170, 195, 230, 265, 310, 360]),
        ("105", [20, 25, 35, 45, 60, 80, 120, 160, 180, 210, 245, 285, 330, 385, 445]),
        ("125", [25, 30, 40, 50, 70, 90, 125, 170, 195, 225, 265, 305, 355, 410, 475]),
    ],
)
def test_a_whole_column(insulation: str, table: list[float]) -> None:
    sizes = (18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 0, -1, -2, -3)
    found = [allowed_current(area_from_awg(size), insulation, 30 + KELVIN) for size in sizes]
    assert found == pytest.approx(table)


# 33 CFR 183.425, Table 5, at 30 °C.
@pytest.mark.parametrize(
    ("size", "insulation", "current"),
    [(18, "60", 10), (16, "75", 15), (14, "80", 25), (12, "90", 40), (10, "105", 60),
     (8, "125", 90), (6, "105", 120), (4, "60", 105), (2, "90", 180), (0, "105", 285),
     (-3, "80", 385)],
)  # fmt: skip
def test_allowed_current(size: int, insulation: str, current: float) -> None:
    found = allowed_current(area_from_awg(size), insulation, 30 + KELVIN)
    assert found == pytest.approx(current)


# 33 CFR 183.425, note 1 of Table 5, engine spaces at 50 °C: 105 °C seen as 0.85 in wire charts
# that restate it; the others from memory. They are the square root of the temperature left.
@pytest.mark.parametrize(
    ("insulation", "factor"),
    [("60", 0.58), ("75", 0.75), ("80", 0.78), ("90", 0.82), ("105", 0.85), ("125", 0.89)],
)
def test_engine_space(insulation: str, factor: float) -> None:
    area = area_from_awg(12)
    cool = allowed_current(area, insulation, 30 + KELVIN)
    assert allowed_current(area, insulation, 50 + KELVIN) / cool == pytest.approx(factor, abs=0.01)


@given(AREAS, CLASSES, st.floats(-40, 59), st.floats(1.001, 3))
def test_thicker_and_cooler_carries_more(
    area: float, insulation: str, ambient: float, factor: float
) -> None:
    current = allowed_current(area, insulation, ambient + KELVIN)
    assert allowed_current(area * factor, insulation, ambient + KELVIN) >= current
    assert allowed_current(area, insulation, ambient + KELVIN - 5) > current


@given(AREAS, CLASSES, st.floats(-40, 55))
def test_the_allowed_current_warms_to_the_limit(
    area: float, insulation: str, ambient: float
) -> None:
    current = allowed_current(area, insulation, ambient + KELVIN)
    warm = conductor_temperature(current, area, insulation, ambient + KELVIN)
    assert warm == pytest.approx(insulation_limit(insulation))
    cold = conductor_temperature(0.0, area, insulation, ambient + KELVIN)
    assert cold == pytest.approx(ambient + KELVIN)


def test_fault_integral() -> None:
    # IEC 60364-4-43: k = 115 A s^0.5/mm2 for copper in PVC from 70 to 160 °C.
    assert math.sqrt(fault_integral(1e-6, 70 + KELVIN)) == pytest.approx(115, rel=1e-3)
    # 2500 A for 0.1 s need 6.9 mm2 (worked example of a cable sizing guide with k = 115).
    assert fault_integral(6.9e-6, 70 + KELVIN) == pytest.approx(2500**2 * 0.1, rel=0.01)


@given(AREAS, st.floats(-40, 150), st.floats(1.01, 4))
def test_fault_integral_scales(area: float, temperature: float, factor: float) -> None:
    integral = fault_integral(area, temperature + KELVIN)
    assert fault_integral(area * factor, temperature + KELVIN) == pytest.approx(
        integral * factor**2
    )
    assert fault_integral(area, temperature + KELVIN + 5) < integral

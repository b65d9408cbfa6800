"""Copper against ASTM B258, IEC 60028, IEC 60228 and ISO 6722-1."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.physics.copper import (
    area_from_awg,
    awg_from_area,
    resistance_factor,
    wire_resistance,
)

KELVIN = 273.15
THOUSAND_FEET = 304.8


# ASTM B258: solid copper, ohm per 1000 ft at 20 °C.
@pytest.mark.parametrize(
    ("size", "resistance"),
    [(12, 1.588), (14, 2.525), (16, 4.016), (18, 6.385), (20, 10.15), (22, 16.14)],
)
def test_resistance_by_wire_gauge(size: int, resistance: float) -> None:
    found = wire_resistance(area_from_awg(size), THOUSAND_FEET)
    assert found == pytest.approx(resistance, rel=6e-4)


def test_ratio_of_successive_sizes() -> None:
    # ASTM B258: 1.1229322 in diameter.
    ratio = (area_from_awg(17) / area_from_awg(18)) ** 0.5
    assert ratio == pytest.approx(1.1229322, abs=1e-7)


# IEC 60228 class 5, plain, greatest mohm/m at 20 °C: what the nominal cross-section of IEC 60028
# copper has, and at most 16 % more (stranding and tolerance).
@pytest.mark.parametrize(
    ("area", "greatest"),
    [(0.5, 39.0), (0.75, 26.0), (1, 19.5), (1.5, 13.3), (2.5, 7.98), (4, 4.95), (6, 3.30),
     (10, 1.91)],
)  # fmt: skip
def test_flexible_conductors(area: float, greatest: float) -> None:
    found = wire_resistance(area * 1e-6, 1.0) * 1000
    assert found < greatest < 1.16 * found


# ISO 6722-1 automotive cable, greatest mohm/m at 20 °C (from memory).
@pytest.mark.parametrize(
    ("area", "greatest"),
    [(0.35, 54.4), (0.5, 37.1), (0.75, 24.7), (1, 18.5), (1.5, 12.7), (2.5, 7.60), (4, 4.71),
     (6, 3.14), (10, 1.82)],
)  # fmt: skip
def test_automotive_cable(area: float, greatest: float) -> None:
    found = wire_resistance(area * 1e-6, 1.0) * 1000
    assert found < greatest < 1.12 * found


# IEC 60028: 0.00393 per kelvin (factors computed from it, not published).
@pytest.mark.parametrize(
    ("temperature", "factor"), [(-40, 0.7642), (20, 1.0), (85, 1.25545), (125, 1.41265)]
)
def test_resistance_factor(temperature: float, factor: float) -> None:
    assert resistance_factor(temperature + KELVIN) == pytest.approx(factor, abs=1e-5)


@given(st.floats(-3, 40))
def test_gauge_and_area_are_inverse(size: float) -> None:
    assert awg_from_area(area_from_awg(size)) == pytest.approx(size, abs=1e-9)


@given(st.floats(0.1e-6, 1e-4), st.floats(0.01, 50), st.floats(0.1, 10))
def test_resistance_scales(area: float, length: float, factor: float) -> None:
    base = wire_resistance(area, length)
    assert wire_resistance(area, length * factor) == pytest.approx(base * factor)
    assert wire_resistance(area * factor, length) == pytest.approx(base / factor)

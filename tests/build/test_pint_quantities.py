"""The unit table that pint writes, held against published factors."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baybook.book.pint_quantities import KINDS, kinds_of, unit_table

# NIST SP 811:2008, Appendix B.8; each to the digits printed there.
NIST_SP_811 = [
    ("pressure", "inHg", 3386.389, 1e-6),
    ("pressure", "mmHg", 133.3224, 1e-6),
    ("pressure", "torr", 133.3224, 1e-6),
    ("pressure", "inH2O", 249.0889, 1e-6),
    ("pressure", "mmH2O", 9.80665, 1e-6),
    ("pressure", "psi", 6894.757, 1e-6),
    ("pressure", "bar", 1e5, 0),
    ("pressure", "atm", 101325, 0),
    ("distance", "mi", 1609.344, 1e-12),
    ("length", "in", 0.0254, 1e-12),
    ("length", "ft", 0.3048, 1e-12),
    ("volume", "gal", 3.785412e-3, 1e-6),
    ("volume", "in3", 1.638706e-5, 1e-6),
    ("volume flow", "cfm", 4.719474e-4, 1e-6),
    ("torque", "lbf ft", 1.355818, 1e-6),
    ("torque", "lbf in", 0.1129848, 1e-6),
    ("mass flow", "lb/min", 7.559873e-3, 1e-6),
    ("speed", "mph", 0.44704, 1e-12),
    ("temperature difference", "°F", 5 / 9, 1e-12),
]

# SI Brochure, 9th edition: exact by the definition of the units.
EXACT = [
    ("temperature", "0 °C", 273.15),
    ("temperature", "-40 °F", 233.15),
    ("temperature", "212 °F", 373.15),
    ("time", "2 h", 7200),
    ("rotation", "600 rpm", 10),
    ("leak rate", "1 mbar L/s", 0.1),
    ("resistance", "20 mohm", 0.02),
    ("ratio", "20 %", 0.2),
    ("ratio", "50 ppm", 50e-6),
]


@pytest.mark.parametrize(("kind", "unit", "factor", "tolerance"), NIST_SP_811)
def test_factors_are_those_of_nist(kind: str, unit: str, factor: float, tolerance: float) -> None:
    assert unit_table().unit(kind, unit).factor == pytest.approx(factor, rel=tolerance, abs=0)


@pytest.mark.parametrize(("kind", "text", "si"), EXACT)
def test_quantities_of_exact_units(kind: str, text: str, si: float) -> None:
    assert unit_table().parse(kind, text) == pytest.approx(si, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "area_mm2"),
    # ASTM B258: diameter of AWG 12 is 2.053 mm, of AWG 18 1.024 mm.
    [("AWG 12", math.pi / 4 * 2.053**2), ("AWG 18", math.pi / 4 * 1.024**2)],
)
def test_wire_gauges(text: str, area_mm2: float) -> None:
    assert unit_table().parse("area", text) == pytest.approx(area_mm2 * 1e-6, rel=1e-3)


@given(st.sampled_from(KINDS), st.floats(1e-6, 1e6), st.data())
def test_there_and_back(kind: str, value: float, data: st.DataObject) -> None:
    unit = unit_table().unit(kind, data.draw(st.sampled_from(unit_table().symbols(kind))))
    if unit.scale == "linear":
        assert unit.to_si(unit.from_si(value)) == pytest.approx(value, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("20 inHg", ["pressure"]),
        ("7.5 A", ["current", "time"]),
        ("5 m", ["length", "distance"]),
        ("12 V", ["voltage"]),
        ("AWG 12", ["area"]),
        ("20", ["ratio"]),
        ("20 furlongs", []),
        ("twenty", []),
        ("", []),
    ],
)
def test_kinds_of_a_text(text: str, kinds: list[str]) -> None:
    assert kinds_of(text)[: len(kinds) or 1] == kinds

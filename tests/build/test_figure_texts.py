"""Each quantity in both unit systems, by published factors."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baybook.book.figure_texts import Pair, bounds, pair, show_pair, units_like, usual_units
from baybook.book.pint_quantities import unit_table
from baybook.book.source_model import Figure, Limit
from baycalc.quantities import units

# Source of the factors: NIST SP 811:2008, Appendix B.8.
PUBLISHED = [
    ("20 inHg", "20 inHg", "68 kPa"),  # 3386.389 Pa
    ("457 mmHg", "18.0 inHg", "457 mmHg"),  # 133.3224 Pa
    ("14 inH2O", "14 inH₂O", "3.5 kPa"),  # 249.0889 Pa
    ("2.0 psi", "2.0 psi", "14 kPa"),  # 6894.757 Pa
    ("380 kPa", "112 inHg", "380 kPa"),
    ("50 L", "13 gal", "50 L"),  # 3.785412 L
    ("88 °C", "190 °F", "88 °C"),  # t/°F = 1.8 t/°C + 32: 190.4
    ("-5 °C", "23 °F", "−5 °C"),
    ("45 N m", "33 lbf ft", "45 N m"),  # 1.355818 N m
    ("10 N m", "89 lbf in", "10 N m"),  # 0.1129848 N m: 88.5
    ("21 N m", "15 lbf ft", "21 N m"),  # 15.49
    ("20 N m", "177 lbf in", "20 N m"),  # 177.0
    ("5.6 L", "5.9 qt", "5.6 L"),  # 0.9463529 L: 5.92
    ("19 L", "20 qt", "19 L"),  # 20.08
    ("61 L", "16 gal", "61 L"),  # 3.785412 L: 16.1
    ("60 mph", "60 mph", "97 km/h"),  # 1.609344 km
    ("3.2 mm", "0.13 in", "3.2 mm"),  # 25.4 mm
]


@pytest.fixture(autouse=True)
def table() -> None:
    units.install(unit_table())


@pytest.mark.parametrize(("text", "us", "metric"), PUBLISHED)
def test_published_factors(text: str, us: str, metric: str) -> None:
    assert pair(text) == Pair(us, metric)


@pytest.mark.parametrize("text", ["0.30 V", "7.5 A", "750 rpm", "30 s", "2 ohm"])
def test_what_is_alike_in_both_systems_stands_once(text: str) -> None:
    found = pair(text)
    assert found.us == found.metric == str(found) == text.replace("ohm", "Ω")


def test_the_us_unit_stands_first() -> None:
    assert str(pair("61 kPa")) == "18 inHg (61 kPa)"


def test_other_units_may_be_asked_for() -> None:
    assert pair("2.4 psi", "pressure", ("inHg", "kPa")) == Pair("4.9 inHg", "17 kPa")


def test_a_wire_gauge_has_its_area() -> None:
    """AWG 12 has 3.309 mm2 (ASTM B258)."""
    assert pair("AWG 12") == Pair("AWG 12", "3.3 mm²")


@pytest.mark.parametrize(
    ("text", "us"),
    [
        # ASTM B258: AWG 18 has 0.823 mm2, 16 1.309, 14 2.081, 8 8.367, 6 13.30, 4 21.15.
        ("0.75 mm2", "0.75 mm² (AWG 18)"),
        ("1 mm2", "1 mm² (AWG 16)"),
        ("1.5 mm2", "1.5 mm² (AWG 14)"),
        ("6 mm2", "6 mm² (AWG 8)"),
        ("10 mm2", "10 mm² (AWG 6)"),
        ("25 mm2", "25 mm²"),
    ],
)
def test_a_metric_wire_stays_metric_beside_the_next_gauge_that_is_sold(text: str, us: str) -> None:
    assert pair(text) == Pair(us, text.replace("mm2", "mm²"))
    assert str(pair(text)) == us


def test_units_that_go_together() -> None:
    assert units_like("pressure", "20 inHg") == ("inHg", "kPa")
    assert units_like("pressure", "20 mmHg") == ("inHg", "mmHg")
    assert units_like("voltage", "12 V") == ("V", "V")
    assert usual_units("temperature") == ("°F", "°C")
    assert usual_units("current") == ("A", "A")


def test_a_value_in_si() -> None:
    assert show_pair("pressure", 3386.389, ("inHg", "kPa")) == Pair("1.00 inHg", "3.39 kPa")


@pytest.mark.parametrize(
    ("limit", "found"),
    [
        (Limit(between=("1 V", "2 V")), ("1 V", "2 V")),
        (Limit(at_least="1 V"), ("1 V", None)),
        (Figure(says="f", at_most="2 V"), (None, "2 V")),
        (Figure(says="f", where="left"), (None, None)),
    ],
)
def test_bounds(limit: Limit | Figure, found: tuple[str | None, str | None]) -> None:
    assert bounds(limit) == found


@given(
    value=st.integers(1, 9999).map(lambda number: number / 100),
    unit=st.sampled_from(["inHg", "kPa", "psi", "mbar", "inH2O", "mmHg"]),
)
def test_both_writings_are_the_same_quantity(value: float, unit: str) -> None:
    table = unit_table()
    si = table.parse("pressure", f"{value} {unit}")
    for written in (pair(f"{value} {unit}").us, pair(f"{value} {unit}").metric):
        # Two to four digits are written.
        assert table.parse("pressure", written) == pytest.approx(si, rel=0.051)


def test_where_inch_pounds_end() -> None:
    """15 lbf ft are 20.337 N m."""
    assert pair("20.3 N m").us.endswith("lbf in")
    assert pair("20.4 N m").us.endswith("lbf ft")

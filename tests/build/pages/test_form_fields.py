"""The fields of a form in both unit systems: whose units they are, and how they are rounded."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baybook.book.pint_quantities import unit_table, unit_table_data
from baybook.pages.form_fields import form_fields
from baycalc import api
from baycalc.forms.declare import Calculator, Quantity
from baycalc.forms.entry_units import converted, is_us, unit_of_each_system

api.install(unit_table_data())

# The units of the US customary system among all that the book knows: NIST SP 811:2008, B.8, and
# NIST Handbook 44, Appendix C; the wire gauge of ASTM B258, from memory.
US = {
    "inHg", "inHg/min", "inHg/s", "psi", "inH2O", "inH2O/min", "in", "ft", "mi", "mph",
    "AWG", "in2", "gal", "in3", "°F", "%/°F", "cfm", "lb/min", "inHg in3/min", "lbf ft", "lbf in",
}  # fmt: skip


def test_every_unit_of_the_us_is_known(calculators: Mapping[str, Calculator]) -> None:
    assert calculators
    table = unit_table()
    units = {symbol for kind in table.kinds() for symbol in table.symbols(kind)}
    assert {symbol for symbol in units if is_us(symbol)} == US


def quantity(*units: str, default: str | None = None, kind: str = "pressure") -> Quantity:
    return Quantity(id="x", label="X", kind=kind, units=units, default=default)


@pytest.mark.parametrize(
    ("units", "written", "expected"),
    [
        (("inHg", "kPa", "mbar"), "inHg", ("inHg", "kPa")),
        (("inHg", "inH2O", "kPa"), "inHg", ("inHg", "kPa")),
        (("ft", "in", "m"), "m", ("ft", "m")),
        (("psi", "inHg"), "psi", ("psi", "psi")),
        (("A", "mA"), "A", ("A", "A")),
        (("A", "mA"), "mA", ("mA", "mA")),
        (("s", "min"), "h", ("s", "s")),
        (("AWG", "mm2"), "AWG", ("AWG", "mm2")),
        (("AWG", "mm2"), "mm2", ("mm2", "mm2")),
    ],
)
def test_units_of_the_two_systems(
    units: tuple[str, ...], written: str, expected: tuple[str, str]
) -> None:
    assert unit_of_each_system(quantity(*units), written) == expected


# Factors: NIST SP 811:2008, B.8 (3386.389 Pa to the inHg, 249.0889 Pa to the inH2O, 0.0254 m to
# the inch, 3.785412 L to the US gallon, 16.38706 mL to the cubic inch, 1609.344 m to the mile).
@pytest.mark.parametrize(
    ("kind", "text", "unit", "other", "expected"),
    [
        ("length", "0.16", "in", "mm", "4.06"),  # 4.064
        ("length", "3", "ft", "m", "0.91"),  # 0.9144
        ("length", "1000", "ft", "m", "305"),  # 304.8; a round number is not meant to the foot
        ("length", "0.020", "in", "mm", "0.508"),
        ("pressure", "18", "inHg", "kPa", "61"),  # 60.955
        ("pressure", "20", "inHg", "kPa", "67.7"),  # 67.728
        ("pressure", "19.5", "inHg", "kPa", "66.03"),  # 66.035
        ("pressure", "29.92", "inHg", "kPa", "101.3"),  # 101.321
        ("pressure", "0", "inHg", "kPa", "0"),
        ("pressure", "-2", "inH2O", "kPa", "-0.5"),  # -0.49818
        ("volume", "16", "gal", "L", "60.6"),  # 60.567
        ("volume", "1.8", "in3", "mL", "29.5"),  # 29.497
        ("volume", "25", "cm3", "in3", "1.526"),  # 1.52559; the text has two digits
        ("distance", "21000", "mi", "km", "33800"),  # 33796
        ("temperature", "68", "°F", "°C", "20"),
        ("temperature", "23", "°C", "°F", "73.4"),
        ("temperature difference", "5", "°F", "°C", "2.78"),  # 2.7778
        ("area", "12", "AWG", "mm2", "3.3"),  # 3.309: ASTM B258
        ("pressure", "20", "inHg", "inHg", "20"),
        ("pressure", "8,5", "inHg", "kPa", "28.78"),  # 28.784
    ],
)
def test_a_converted_number_is_one_that_a_person_would_write(
    kind: str, text: str, unit: str, other: str, expected: str
) -> None:
    assert converted(kind, text, unit, other) == expected


@given(st.decimals("0.001", "9999", places=3))
def test_a_converted_number_stays_near(number: Any) -> None:
    text = converted("pressure", str(number), "inHg", "kPa")
    assert float(text) == pytest.approx(float(number) * 3.386389, rel=5e-3, abs=5e-4)
    assert len(text.replace(".", "").strip("0")) <= 4


def in_system(calculator: Calculator, system: str) -> dict[str, str]:
    """Return what a form sends for its defaults in one unit system."""
    fields: dict[str, str] = {}
    for field in form_fields(calculator, {}):
        if field["type"] == "quantity":
            fields[field["id"]] = field[system]
            fields[f"{field['id']}.unit"] = field[f"unit_{system}"]
    return fields


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("name", api.names())
def test_no_answer_changes_noticeably_with_the_units_of_its_defaults(
    calculators: Mapping[str, Calculator], name: str, system: str
) -> None:
    plain = api.run(name, {})["results"]
    found = api.run(name, in_system(calculators[name], system))["results"]
    assert set(found) == set(plain)
    for result, value in plain.items():
        if "outcome" in value:
            assert found[result]["outcome"] == value["outcome"]
        elif isinstance(value["si"], float):
            assert found[result]["si"] == pytest.approx(value["si"], rel=0.025), result
        else:
            assert found[result]["si"] == value["si"]


def test_a_default_that_both_systems_write_alike_stays(
    calculators: Mapping[str, Calculator],
) -> None:
    fields = {field["id"]: field for field in form_fields(calculators["voltage_drop"], {})}
    for system in ("us", "metric"):
        assert (fields["load"][system], fields["load"][f"unit_{system}"]) == ("18", "A")


@pytest.mark.parametrize(
    ("default", "optional", "may_stay_empty"),
    [("1 psi", False, False), ("1 psi", True, True), (None, False, True)],
)
def test_a_field_without_a_first_value_may_stay_empty(
    calculators: Mapping[str, Calculator],
    default: str | None,
    optional: bool,
    may_stay_empty: bool,
) -> None:
    field = Quantity(
        id="x", label="X", kind="pressure", units=("psi",), default=default, optional=optional
    )
    (written,) = form_fields(replace(calculators["voltage_drop"], inputs=(field,)), {})
    assert written["optional"] is may_stay_empty

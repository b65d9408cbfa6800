"""Units against NIST SP 811, spellings of the trade, and the sentences for wrong ones."""

import re

import pytest
import scipy.constants
from hypothesis import given
from hypothesis import strategies as st

from baycalc.quantities import units
from baycalc.quantities.units import (
    QuantityError,
    Unit,
    UnitTable,
    duration,
    label,
    significant,
    written,
)


def table() -> UnitTable:
    return units.installed()


# NIST SP 811:2008, Appendix B.8.
@pytest.mark.parametrize(
    ("text", "pascals", "exact"),
    [
        ("1 inHg", 3386.389, 2e-7),
        ("1 mmHg", 133.3224, 1e-7),
        ("1 torr", 101325 / 760, 1e-12),
        ("1 inH2O", 249.0889, 1e-7),
        ("1 mmH2O", 9.80665, 1e-12),
        ("1 psi", 6894.757, 1e-7),
        ("1 bar", 1e5, 1e-12),
        ("1 atm", 101325, 1e-12),
        ("1 mbar", 100, 1e-12),
        ("1 hPa", 100, 1e-12),
        ("1 kPa", 1000, 1e-12),
    ],
)
def test_pressures_of_nist(text: str, pascals: float, exact: float) -> None:
    assert table().parse("pressure", text) == pytest.approx(pascals, rel=exact)


@pytest.mark.parametrize(
    ("kind", "unit", "constant"),
    [
        ("length", "in", scipy.constants.inch),
        ("length", "ft", scipy.constants.foot),
        ("distance", "mi", scipy.constants.mile),
        ("volume", "gal", scipy.constants.gallon),
        ("pressure", "psi", scipy.constants.psi),
        ("pressure", "torr", scipy.constants.torr),
        ("time", "h", scipy.constants.hour),
        ("speed", "mph", scipy.constants.mph),
    ],
)
def test_factors_of_scipy(kind: str, unit: str, constant: float) -> None:
    assert table().parse(kind, f"1 {unit}") == pytest.approx(constant, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kelvin"),
    [("0 °C", 273.15), ("32 °F", 273.15), ("-40 °F", 233.15), ("212 °F", 373.15), ("20 K", 20)],
)
def test_fixed_points_of_temperature(text: str, kelvin: float) -> None:
    assert table().parse("temperature", text) == pytest.approx(kelvin, abs=1e-9)


@pytest.mark.parametrize(
    "text",
    [
        "in. Hg",
        "inHg",
        "″Hg",
        '"Hg',
        "in Hg",
        "in.Hg",
        "INHG",
        "inches of mercury",
        "Hg",
        "in\u2009Hg",
    ],
)
def test_spellings_of_inches_of_mercury(text: str) -> None:
    assert table().unit("pressure", text).symbol == "inHg"


@pytest.mark.parametrize(
    ("kind", "text", "symbol"),
    [
        ("pressure", "″H2O", "inH2O"),
        ("pressure", "in. H₂O", "inH2O"),
        ("pressure", "in w.c.", "inH2O"),
        ("pressure", "KPA", "kPa"),
        ("pressure", "kpa", "kPa"),
        ("pressure", "Mbar", "mbar"),
        ("pressure", "PSI", "psi"),
        ("area", "mm2", "mm2"),
        ("area", "mm²", "mm2"),
        ("area", "mm^2", "mm2"),
        ("area", "sq mm", "mm2"),
        ("volume", "cm³", "cm3"),
        ("volume", "cc", "cm3"),
        ("volume", "cu. in.", "in3"),
        ("volume", "ML", "mL"),
        ("volume", "US gal", "gal"),
        ("temperature", "F", "°F"),
        ("temperature", "º C", "°C"),
        ("temperature", "˚c", "°C"),
        ("length", "μm", "µm"),
        ("length", "″", "in"),
        ("length", "′", "ft"),
        ("time", "Min", "min"),
        ("time", "secs", "s"),
        ("resistance", "Ω", "ohm"),
        ("resistance", "\u2126", "ohm"),
        ("leak rate", "mbar·L/s", "mbar L/s"),
        ("leak rate", "Pa m³/s", "Pa m3/s"),
        ("volume flow", "ft³/min", "cfm"),
        ("current", "Amps", "A"),
    ],
)
def test_other_spellings(kind: str, text: str, symbol: str) -> None:
    assert table().unit(kind, text).symbol == symbol


@pytest.mark.parametrize(
    ("text", "area"),
    [("AWG 12", 3.3088e-6), ("12 ga", 3.3088e-6), ("2/0", 67.43e-6), ("0.5 mm²", 5e-7)],
)
def test_wire_gauges(text: str, area: float) -> None:
    # ASTM B258: d = 0.127 mm x 92^((36 - n)/39), so 3.31 mm² and 67.4 mm².
    assert table().parse("area", text) == pytest.approx(area, rel=1e-4)


@pytest.mark.parametrize(
    ("kind", "text", "unit", "sentence"),
    [
        ("pressure", "20", None, "“20” has no unit; expected pressure, such as 20 inHg"),
        (
            "pressure",
            "20 V",
            None,
            "“V” is a unit of voltage; expected pressure: inHg, kPa, mmHg, mbar, hPa, psi, inH2O, "
            "mmH2O",
        ),
        (
            "pressure",
            "20 bananas",
            None,
            "“bananas” is not a unit of pressure; known are inHg, kPa, mmHg, mbar, hPa, psi, "
            "inH2O, mmH2O",
        ),
        (
            "time",
            "20 m",
            None,
            "“m” is a unit of length; expected time: s, min, h, ms, d, months, years",
        ),
        ("current", "5 MA", None, "“MA” is not a unit of current; known are A, mA"),
        ("temperature", "-300 °C", None, "“-300 °C” lies below absolute zero"),
        ("temperature", "-460", "°F", "“-460” lies below absolute zero"),
        ("area", "AWG 12.5", None, "“AWG 12.5” is not a number"),
        (
            "leak rate",
            "5 sccm",
            None,
            "“sccm” is a unit of volume flow; expected leak rate: Pa L/s, mbar L/s, inHg in3/min, "
            "Pa m3/s",
        ),
    ],
)
def test_sentences(kind: str, text: str, unit: str | None, sentence: str) -> None:
    with pytest.raises(QuantityError) as raised:
        table().parse(kind, text, unit)
    assert str(raised.value) == sentence


def test_a_unit_behind_the_number_wins_over_the_menu() -> None:
    assert table().parse("pressure", "20 kPa", "inHg") == 20e3
    read = table().read("pressure", "20", "kPa")
    assert (read.kind, read.si, read.unit.symbol, read.text) == ("pressure", 20e3, "kPa", "20")


def test_a_ratio_needs_no_unit() -> None:
    assert table().parse("ratio", "0.25") == 0.25
    assert table().parse("ratio", "25", "%") == 0.25


@given(st.data())
def test_units_commute(data: st.DataObject) -> None:
    kind = data.draw(st.sampled_from(table().kinds()))
    one, other = (data.draw(st.sampled_from(table().symbols(kind))) for _ in range(2))
    if "AWG" in (one, other):
        value = data.draw(st.floats(-2, 40))
        start = table().unit(kind, "AWG").to_si(value)
    else:
        start = data.draw(st.floats(1e-3, 1e6))
    there = table().unit(kind, one).from_si(start)
    across = table().unit(kind, other).from_si(table().unit(kind, one).to_si(there))
    assert table().unit(kind, other).to_si(across) == pytest.approx(start, rel=1e-9)


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (0.05081, 3, "0.0508"),
        (1234.5, 2, "1234"),
        (-5.0, 3, "−5.00"),
        (0.0, 3, "0"),
        (3.2e-7, 2, "3.2×10⁻⁷"),
        (1.5e9, 2, "1.5×10⁹"),
        (9.9996, 4, "10.00"),
        (float("inf"), 3, "∞"),
        (float("-inf"), 3, "−∞"),
        (float("nan"), 3, "?"),
    ],
)
def test_significant_digits(value: float, digits: int, text: str) -> None:
    assert significant(value, digits) == text


@pytest.mark.parametrize(
    ("kind", "value", "unit", "text"),
    [
        ("pressure", 67727.8, "inHg", "20.00 inHg"),
        ("ratio", 0.253, "%", "25.30\u202f%"),
        ("ratio", 0.97, "1", "0.9700"),
        ("area", 3.3088e-6, "AWG", "AWG 12"),
        ("area", 53.48e-6, "AWG", "AWG 1/0"),
        ("area", 67.43e-6, "AWG", "AWG 2/0"),
        ("area", 5e-7, "mm2", "0.5000 mm²"),
    ],
)
def test_show(kind: str, value: float, unit: str, text: str) -> None:
    assert table().show(kind, value, unit) == text


def test_written_in_two_units_or_one() -> None:
    assert written("pressure", 67727.8, "inHg", "kPa") == "20.0 inHg (67.7 kPa)"
    assert written("current", 7.5, "A") == "7.50 A"


@pytest.mark.parametrize(
    ("seconds", "text"),
    [(0, "0 s"), (44.6, "45 s"), (119, "119 s"), (125, "2.1 min"), (3600, "60 min"),
     (7200, "2.0 h")],
)  # fmt: skip
def test_duration(seconds: float, text: str) -> None:
    assert duration(seconds) == text


def test_labels() -> None:
    assert [label(symbol) for symbol in ("mm2", "ohm", "inH2O", "kPa")] == [
        "mm²",
        "Ω",
        "inH₂O",
        "kPa",
    ]


def test_no_table_no_sentences(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(units, "_installed", None)
    with pytest.raises(RuntimeError, match="no unit table installed"):
        units.installed()


def test_a_table_of_ones_own() -> None:
    data = {"depth": {"si": "m", "units": {"m": {"factor": 1}, "fathom": {"factor": 1.8288}}}}
    own = UnitTable(data)
    assert own.kinds() == ["depth"]
    assert own.unit("depth", "Fathom") == Unit("fathom", 1.8288)
    assert own.parse("depth", "2 fathom") == pytest.approx(3.6576)


@pytest.mark.parametrize(
    ("spelling", "told"),
    [
        ("psia", "says what it counts from"),
        ("psig", "says what it counts from"),
        ("inHg abs", "says what it counts from"),
        ("kPa(a)", "says what it counts from"),
        ("inHg @ 60F", "3386.389 Pa; at 60 °F it is 0.3 % less"),
        ("inH2O(60F)", "249.089 Pa; at 60 °F it is 0.1 % less"),
    ],
)
def test_units_that_say_more_than_a_unit(spelling: str, told: str) -> None:
    with pytest.raises(QuantityError, match=re.escape(told)):
        table().parse("pressure", f"20 {spelling}")


def test_inches_of_mercury_and_of_water() -> None:
    """NIST SP 811:2008, B.8: conventional 3386.389 and 249.0889 Pa, at 60 °F 3376.85 and 248.84."""
    assert table().parse("pressure", "1 inHg") == pytest.approx(3386.389, rel=1e-6)
    assert table().parse("pressure", "1 inH2O") == pytest.approx(249.0889, rel=1e-6)
    assert round(100 * (1 - 3376.85 / 3386.389), 1) == 0.3
    assert round(100 * (1 - 248.84 / 249.0889), 1) == 0.1


@pytest.mark.parametrize(
    ("si", "step", "text"),
    [
        (16383.75, 0.25, "16383.75 A"),
        (0.0, 0.25, "0 A"),
        (0.1953125, 1 / 128, "0.1953 A"),
        (83.0, 1.0, "83.00 A"),
    ],
)
def test_a_step_is_not_rounded_away(si: float, step: float, text: str) -> None:
    assert table().show("current", si, "A", 4, step) == text

"""Numbers as people type them: every good form, and the whole sentence for every bad one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.quantities.numbers import QuantityError, is_number, quote, split


@pytest.mark.parametrize(
    ("text", "value", "rest"),
    [
        ("20", 20, ""),
        ("20 inHg", 20, "inHg"),
        ("20inHg", 20, "inHg"),
        ("  20   in Hg ", 20, "in Hg"),
        ("+5", 5, ""),
        ("-5", -5, ""),
        ("- 5 °C", -5, "°C"),
        ("\u22125", -5, ""),
        ("\u20135 V", -5, "V"),
        (".5", 0.5, ""),
        (",5", 0.5, ""),
        ("20,5", 20.5, ""),
        ("0,500", 0.5, ""),
        ("1.200", 1.2, ""),
        ("1,200.5", 1200.5, ""),
        ("1.200,5", 1200.5, ""),
        ("1,234,567", 1234567, ""),
        ("1.234.567", 1234567, ""),
        ("1 200", 1200, ""),
        ("1\u2009200 V", 1200, "V"),
        ("1\u202f200,5", 1200.5, ""),
        ("12\u00a0345\u00a0678", 12345678, ""),
        ("1e3", 1000, ""),
        ("2.5E-3 A", 0.0025, "A"),
        ("1e-400", 0, ""),
        ("1/8 in", 0.125, "in"),
        ("1 1/8 in", 1.125, "in"),
        ("-5/32", -0.15625, ""),
        ("½", 0.5, ""),
        ("20 ½ inHg", 20.5, "inHg"),
        ("20½", 20.5, ""),
        ("1\u20444 in", 0.25, "in"),
        ("1:30", 90, "s"),
        ("12:05", 725, "s"),
        ("AWG 12", 12, "AWG"),
        ("awg12", 12, "AWG"),
        ("#18", 18, "AWG"),
        ("1/0", 0, "AWG"),
        ("2/0 AWG", -1, "AWG"),
        ("AWG 3/0", -2, "AWG"),
        ("AWG 00", -1, "AWG"),
        ("٣ V", 3, "V"),
    ],
)
def test_good(text: str, value: float, rest: str) -> None:
    assert split(text) == (pytest.approx(value), rest)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "missing: type a number"),
        (" \u2009 ", "missing: type a number"),
        ("abc", "“abc” is not a number"),
        ("inHg 20", "“inHg 20” is not a number"),
        ("<5", "“<5” is not a number"),
        ("1..2", "“1..2” is not a number"),
        ("1.2.3", "“1.2.3” is not a number"),
        ("1,2,3", "“1,2,3” is not a number"),
        ("1/0/2", "“1/0/2” is not a number"),
        ("5/0 in", "“5/0 in” is not a number"),
        ("inf", "“inf” is not a finite number"),
        ("-Infinity V", "“-Infinity V” is not a finite number"),
        ("NaN", "“NaN” is not a finite number"),
        ("∞", "“∞” is not a finite number"),
        ("1e400", "“1e400” is too large"),
        ("12 34", "“12 34” holds more than one number: type one"),
        ("3-4 inHg", "“3-4 inHg” holds more than one number: type one"),
        ("9" * 400, "“99999999999999999999…” is too long for a reading: 40 digits at most"),
        (
            "1,200",
            "“1,200” can be read as 1.200 or as 1200: write it without the comma",
        ),
        (
            "-12,345 Pa",
            "“-12,345” can be read as -12.345 or as -12345: write it without the comma",
        ),
    ],
)
def test_bad(text: str, sentence: str) -> None:
    with pytest.raises(QuantityError) as raised:
        split(text)
    assert str(raised.value) == sentence


@given(st.floats(allow_nan=False, allow_infinity=False, width=32))
def test_what_python_writes_is_read(value: float) -> None:
    assert split(repr(value)) == (value, "")


@given(st.integers(-(10**12), 10**12), st.sampled_from(["\u2009", "\u202f", "\u00a0", " "]))
def test_thousands_in_groups_of_any_space(value: int, space: str) -> None:
    assert split(f"{value:,}".replace(",", space)) == (value, "")


@given(st.text(max_size=60))
def test_no_text_does_harm(text: str) -> None:
    try:
        value, _ = split(text)
    except QuantityError as problem:
        assert str(problem)
    else:
        assert value == value
        assert abs(value) < float("inf")


def test_a_number_alone() -> None:
    assert is_number("20,5")
    assert not is_number("20 inHg")
    assert not is_number("abc")


def test_long_texts_are_cut() -> None:
    assert quote("x" * 24) == f"“{'x' * 24}”"
    assert quote("x" * 25) == f"“{'x' * 20}…”"

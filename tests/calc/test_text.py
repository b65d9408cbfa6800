"""Per cent, time, money and sentences as pages, reports and the terminal write them."""

import pytest

from baycalc import text


@pytest.mark.parametrize(
    ("share", "written"),
    [
        (0.0, "0\u00a0%"),
        (1e-9, "under 1\u00a0%"),
        (0.0099, "under 1\u00a0%"),
        (0.01, "1\u00a0%"),
        (0.125, "12\u00a0%"),
        (0.684, "68\u00a0%"),
        (0.99, "99\u00a0%"),
        (0.9901, "over 99\u00a0%"),
        (0.999999, "over 99\u00a0%"),
        (1.0, "100\u00a0%"),
    ],
)
def test_percent(share: float, written: str) -> None:
    assert text.percent(share) == written


@pytest.mark.parametrize(
    ("share", "written"),
    [
        (0.0, "0\u00a0%"),
        (0.0004, "under 0.1\u00a0%"),
        (0.001, "0.1\u00a0%"),
        (0.5, "50.0\u00a0%"),
        (0.9995, "over 99.9\u00a0%"),
        (1.0, "100\u00a0%"),
    ],
)
def test_percent_with_a_decimal(share: float, written: str) -> None:
    assert text.percent(share, 1) == written


@pytest.mark.parametrize(
    ("minutes", "written"),
    [
        (0, "0 min"),
        (0.5, "0.5 min"),
        (1.02, "1 min"),
        (2.5, "2.5 min"),
        (9.97, "10 min"),
        (12.5, "12 min"),
        (59.4, "59 min"),
        (59.6, "1 h"),
        (60, "1 h"),
        (75, "1 h 15 min"),
        (119.7, "2 h"),
        (120, "2 h"),
        (1501, "25 h 1 min"),
    ],
)
def test_duration(minutes: float, written: str) -> None:
    assert text.duration(minutes).replace("\u00a0", " ") == written
    assert " " not in text.duration(minutes)


@pytest.mark.parametrize(
    ("amount", "currency", "written"),
    [
        (1250.4, "$", "$1,250"),
        (0, "$", "$0"),
        (-20, "$", "−$20"),
        (-0.2, "$", "$0"),
        (35.5, "", "36"),
        (1250, "EUR", "EUR\u00a01,250"),
        (99.5, "€", "€100"),
    ],
)
def test_money(amount: float, currency: str, written: str) -> None:
    assert text.money(amount, currency) == written


@pytest.mark.parametrize(
    ("given", "written"),
    [
        ("expected yes or no", "Expected yes or no."),
        ("P0171 is set.", "P0171 is set."),
        ("what now?", "What now?"),
        ("“x” is no number", "“x” is no number."),
        ("", "."),
    ],
)
def test_sentence(given: str, written: str) -> None:
    assert text.sentence(given) == written


def test_capital() -> None:
    assert text.capital("the valve leaks") == "The valve leaks"
    assert text.capital("") == ""

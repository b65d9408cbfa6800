"""Instruments against ASME B40.100, the GUM, and libraries of uncertainty."""

import math

import GTC
import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import correlated_values

from baycalc.measurement.instrument import GRADES, Gauge


# memory.
@pytest.mark.parametrize(
    ("grade", "low", "middle", "high"),
    [
        ("A", 2, 1, 2),
        ("B", 3, 2, 3),
        ("C", 4, 3, 4),
        ("D", 5, 5, 5),
        ("1A", 1, 1, 1),
        ("2A", 0.5, 0.5, 0.5),
    ],
)
def test_grades(grade: str, low: float, middle: float, high: float) -> None:
    gauge = Gauge(span=100, grade=grade)
    found = [gauge.greatest_error(place) for place in (10, 24.9, 25, 50, 75, 75.1, 90)]
    assert found == pytest.approx([low, low, middle, middle, middle, high, high])


def test_grades_are_sorted_from_the_best() -> None:
    errors = [Gauge(span=1, grade=grade).greatest_error(0.5) for grade in GRADES]
    assert errors == sorted(errors)


def test_a_scale_that_does_not_start_at_zero() -> None:
    gauge = Gauge(span=40, grade="A", start=-30)
    assert gauge.greatest_error(-25) == pytest.approx(0.8)
    assert gauge.greatest_error(-10) == pytest.approx(0.4)


def test_uncertainty_of_one_reading_by_the_gum() -> None:
    # GUM 4.3.7 and F.2.2.1: a/sqrt 3 for the grade, r/(2 sqrt 3) for the step.
    gauge = Gauge(span=30, grade="B", resolution=0.5)
    assert gauge.uncertainty(15) == pytest.approx(math.sqrt(0.6**2 / 3 + 0.5**2 / 12))


def test_uncertainty_of_one_reading_against_gtc() -> None:
    grade = GTC.ureal(0, GTC.type_b.uniform(0.6))
    step = GTC.ureal(0, GTC.type_b.uniform(0.25))
    reading = 15 + grade + step
    gauge = Gauge(span=30, grade="B", resolution=0.5)
    assert gauge.uncertainty(15) == pytest.approx(GTC.uncertainty(reading), rel=1e-12)


@given(st.floats(0, 30), st.floats(0, 30))
def test_uncertainty_of_a_difference_against_uncertainties(first: float, second: float) -> None:
    """The library `uncertainties` with the correlation that the gauge states."""
    gauge = Gauge(span=30, grade="B", resolution=0.5)
    one, other = (gauge.greatest_error(place) / math.sqrt(3) for place in (first, second))
    alike = 1 - abs(first - second) / 30
    covariance = [[one**2, alike * one * other], [alike * one * other, other**2]]
    a, b = correlated_values([first, second], covariance)
    known = math.hypot((a - b).std_dev, math.sqrt(2) * gauge.step_uncertainty())
    assert gauge.difference_uncertainty(first, second) == pytest.approx(known, rel=1e-6)


def test_a_difference_is_known_better_than_a_level() -> None:
    gauge = Gauge(span=30, grade="B", resolution=0.1)
    assert gauge.difference_uncertainty(20, 19) < gauge.uncertainty(20)
    assert gauge.difference_uncertainty(20, 20) == pytest.approx(
        math.sqrt(2) * gauge.step_uncertainty()
    )


def test_readings_a_span_apart_are_independent() -> None:
    gauge = Gauge(span=30, grade="D")
    assert gauge.difference_uncertainty(0, 30) == pytest.approx(math.sqrt(2) * gauge.uncertainty(0))


def test_error_as_a_share_of_the_reading() -> None:
    assert Gauge(of_reading=0.01).greatest_error(-50) == pytest.approx(0.5)

"""Verdicts against JCGM 106, ILAC-G8, the GUM, and libraries of uncertainty."""

import math

import GTC
import pytest
import scipy.stats
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import correlated_values

from baycalc.measurement.decision import (
    FAIL,
    GRADES,
    PASS,
    TOO_CLOSE,
    Gauge,
    Limit,
    conformity,
    judge,
    likelihood,
)

READINGS = st.floats(-100, 100)
UNCERTAINTIES = st.floats(1e-3, 50)


# JCGM 106:2012 (examples from memory; the values follow from the normal distribution).
@pytest.mark.parametrize(
    ("reading", "uncertainty", "limit", "probability"),
    [
        (-5.47, 0.05, Limit(high=-5.40), 0.9192),
        (13.6, 1.8, Limit(low=12.5, high=16.3), 0.6626),
    ],
)
def test_probability_of_conformity(
    reading: float, uncertainty: float, limit: Limit, probability: float
) -> None:
    assert conformity(reading, uncertainty, limit) == pytest.approx(probability, abs=1e-4)


def test_worked_case_of_ilac_g8() -> None:
    # ILAC-G8:09/2019: tolerance ± 0.003 mm, U = 0.001 mm (k = 2), deviation 0.0017 mm conforms.
    limit = Limit(low=-0.003, high=0.003)
    assert judge(0.0017, 0.0005, limit).outcome == PASS
    assert judge(0.0021, 0.0005, limit).outcome == TOO_CLOSE
    assert judge(0.0041, 0.0005, limit).outcome == FAIL


def test_greatest_risk_of_a_pass() -> None:
    # ILAC-G8: w = U at k = 2 leaves about 2.5 % of false accept at worst.
    assert 1 - judge(8.0, 1.0, Limit(high=10.0)).conformity == pytest.approx(0.0228, abs=1e-4)


@given(READINGS, UNCERTAINTIES, READINGS, READINGS)
def test_conformity_against_scipy(
    reading: float, uncertainty: float, one: float, other: float
) -> None:
    low, high = sorted((one, other))
    known = scipy.stats.norm.cdf(high, reading, uncertainty) - scipy.stats.norm.cdf(
        low, reading, uncertainty
    )
    assert conformity(reading, uncertainty, Limit(low=low, high=high)) == pytest.approx(
        known, abs=1e-12
    )


@given(READINGS, UNCERTAINTIES, READINGS)
def test_outcome_follows_the_guard_band(reading: float, uncertainty: float, high: float) -> None:
    verdict = judge(reading, uncertainty, Limit(high=high))
    margin = high - reading
    assert (verdict.outcome == PASS) == (margin >= 2 * uncertainty)
    assert (verdict.outcome == FAIL) == (margin < -2 * uncertainty)
    assert bool(verdict.advice) == (verdict.outcome == TOO_CLOSE)


@given(READINGS, UNCERTAINTIES, READINGS)
def test_both_sides_alike(reading: float, uncertainty: float, bound: float) -> None:
    above = judge(reading, uncertainty, Limit(low=bound))
    below = judge(-reading, uncertainty, Limit(high=-bound))
    assert above.outcome == below.outcome
    assert above.conformity == pytest.approx(below.conformity)


@given(READINGS, UNCERTAINTIES, READINGS)
def test_likelihoods_add_up(reading: float, uncertainty: float, bound: float) -> None:
    abnormal, normal = likelihood(reading, uncertainty, Limit(low=bound))
    assert abnormal + normal == pytest.approx(1)
    assert normal == conformity(reading, uncertainty, Limit(low=bound))


@pytest.mark.parametrize(("reading", "outcome"), [(1.0, PASS), (1.001, FAIL)])
def test_without_uncertainty_the_limit_itself_decides(reading: float, outcome: str) -> None:
    verdict = judge(reading, 0.0, Limit(high=1.0))
    assert verdict.outcome == outcome
    assert verdict.conformity == (1.0 if outcome == PASS else 0.0)


def test_limits_that_make_no_sense() -> None:
    with pytest.raises(ValueError, match="a limit needs a low or a high bound"):
        Limit()
    with pytest.raises(ValueError, match="the low bound 2 lies above the high bound 1"):
        Limit(low=2, high=1)


# ASME B40.100: grade A 2-1-2 % of span in quarter, half, quarter (published); B, C, D, 1A, 2A from
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

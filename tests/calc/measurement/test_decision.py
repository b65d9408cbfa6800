"""Verdicts against JCGM 106, ILAC-G8, the GUM, and libraries of uncertainty."""

import pytest
import scipy.stats
from hypothesis import given
from hypothesis import strategies as st

from baycalc.measurement.decision import (
    FAIL,
    PASS,
    TOO_CLOSE,
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

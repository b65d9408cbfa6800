"""Verdicts against JCGM 106, ILAC-G8, the GUM, and libraries of uncertainty."""

import pytest
import scipy.integrate
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
    margin,
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
def test_a_reading_inside_speaks_for_a_good_part(
    reading: float, uncertainty: float, bound: float
) -> None:
    limit = Limit(low=bound)
    abnormal, normal = likelihood(reading, uncertainty, limit)
    assert max(abnormal, normal) == 1.0
    assert min(abnormal, normal) >= 0.0
    assert (normal >= abnormal) == (margin(reading, limit) >= 0) or min(abnormal, normal) > 0.999


@pytest.mark.parametrize(
    ("reading", "uncertainty", "limit"),
    [
        (-5.47, 0.05, Limit(high=-5.40)),
        (9.5, 0.29, Limit(low=9.0, high=10.0)),
        (9.5, 4.6, Limit(low=9.0, high=10.0)),
        (13.6, 1.8, Limit(low=12.5, high=16.3)),
        (20.0, 1.5, Limit(low=18.0)),
    ],
)
def test_likelihood_against_integration(reading: float, uncertainty: float, limit: Limit) -> None:
    """The normal density integrated by scipy over even spreads inside and outside."""

    def mean(low: float, high: float) -> float:
        density = scipy.stats.norm(reading, uncertainty).pdf
        return scipy.integrate.quad(density, low, high, epsabs=1e-12)[0] / (high - low)

    if limit.low is not None and limit.high is not None:
        half = (limit.high - limit.low) / 2
        inside = mean(limit.low, limit.high)
        outside = (mean(limit.low - half, limit.low) + mean(limit.high, limit.high + half)) / 2
    else:
        bound = limit.low if limit.low is not None else limit.high or 0.0
        above, below = mean(bound, bound + abs(bound)), mean(bound - abs(bound), bound)
        inside, outside = (above, below) if limit.low is not None else (below, above)
    abnormal, normal = likelihood(reading, uncertainty, limit)
    assert abnormal / normal == pytest.approx(outside / inside, rel=1e-6)


@pytest.mark.parametrize("limit", [Limit(low=9, high=10), Limit(low=9), Limit(high=10)])
def test_an_instrument_that_knows_nothing_says_nothing(limit: Limit) -> None:
    assert likelihood(9.5, 1e6, limit) == pytest.approx((1, 1), abs=1e-3)


def test_a_coarse_meter_never_accuses_the_middle_of_a_band() -> None:
    """A band of 1 ohm read in its middle with ever coarser steps; before, 16 ohm gave 0.91."""
    pairs = [likelihood(9.5, step / 12**0.5, Limit(low=9, high=10)) for step in (1, 2, 4, 8, 16)]
    assert all(normal == 1.0 for _, normal in pairs)
    assert [abnormal for abnormal, _ in pairs] == sorted(abnormal for abnormal, _ in pairs)


def test_a_reading_on_the_limit_says_nothing() -> None:
    assert likelihood(18.0, 0.3, Limit(low=18.0), span=30.0) == pytest.approx((1, 1))
    assert likelihood(10.0, 0.01, Limit(low=9, high=10)) == pytest.approx((1, 1))


@pytest.mark.parametrize(
    ("reading", "pair"), [(0.5, (1.0, 0.0)), (5.0, (0.0, 1.0)), (50.0, (1.0, 0.0))]
)
def test_a_clear_reading_is_a_clear_likelihood(reading: float, pair: tuple[float, float]) -> None:
    assert likelihood(reading, 0.01, Limit(low=1.0, high=9.0)) == pair
    assert likelihood(reading, 0.0, Limit(low=1.0, high=9.0)) == pair


def test_a_limit_at_nothing() -> None:
    assert likelihood(0.0, 1.0, Limit(low=0.0)) == pytest.approx((1, 1))
    abnormal, normal = likelihood(5.0, 1.0, Limit(low=0.0, high=0.0))
    assert (abnormal, normal) == (1.0, pytest.approx(0.0, abs=0.3))


def test_a_band_too_narrow_for_the_meter_is_named() -> None:
    verdict = judge(9.5, 0.3, Limit(low=9.0, high=10.0))
    assert verdict.outcome == TOO_CLOSE
    assert verdict.advice == (
        "take a finer instrument: with this one no reading can pass so narrow a band"
    )
    assert "finer gauge" in judge(9.1, 0.2, Limit(low=9.0, high=10.0)).advice


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

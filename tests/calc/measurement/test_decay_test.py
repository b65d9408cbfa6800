"""A hold test: uncertainty of a fall, the least fall that shows, and the time that decides."""

import math
from dataclasses import replace

import GTC
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.measurement.decay_test import LONGEST, STOPWATCH, Hold
from baycalc.measurement.decision import PASS, TOO_CLOSE
from baycalc.measurement.instrument import Gauge
from baycalc.measurement.settle import finer_gauge
from baycalc.quantities.kinds import VACUUM

INHG = 3386.389
DIAL = Gauge(span=30 * INHG, grade="B", resolution=0.5 * INHG)


def hold(drop: float, time: float = 60, **changes: object) -> Hold:
    """Return a hold from 20 inHg with a limit of 1 inHg a minute."""
    plain = Hold(
        first=20 * INHG,
        rate=drop * INHG / time,
        time=time,
        gauge=DIAL,
        limit=INHG,
        scale=60.0,
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


def test_uncertainty_of_the_fall_against_gtc() -> None:
    """Both ends with their steps, correlated errors of grade, stopwatch and temperature."""
    tested = hold(3.0, disturbance=0.02 * INHG)
    grade = 0.02 * 30 * INHG / math.sqrt(3)
    first = GTC.ureal(20 * INHG, grade, independent=False)
    last = GTC.ureal(17 * INHG, grade, independent=False)
    GTC.set_correlation(1 - 3 / 30, first, last)
    steps = [GTC.ureal(0, GTC.type_b.uniform(0.25 * INHG)) for _ in range(2)]
    time = GTC.ureal(60, GTC.type_b.uniform(0.5))
    other = GTC.ureal(0, 0.02 * INHG)
    fall = (first + steps[0] - last - steps[1] + other) / time * 60
    assert tested.drop_uncertainty() == pytest.approx(GTC.uncertainty(fall), rel=1e-9)


def test_the_volume_counts_for_a_leak() -> None:
    tested = hold(3.0, scale=42e-6, limit=1.0, relative=0.1)
    drop = tested.drop_uncertainty()
    expected = math.hypot(42e-6 * drop / 60, 0.1 * tested.value())
    assert tested.uncertainty() == pytest.approx(expected)


def test_the_stopwatch_is_half_a_second_either_way() -> None:
    assert pytest.approx(GTC.type_b.uniform(0.5)) == STOPWATCH


DROPS = st.floats(0, 5)


@given(DROPS)
def test_the_needed_time_decides_and_less_does_not(drop: float) -> None:
    tested = hold(drop)
    needed = tested.needed_time()
    if needed is None:
        return
    assert replace(tested, time=needed).decided()
    if needed > 1.01:
        assert not replace(tested, time=0.99 * needed).decided()


@given(DROPS)
def test_a_decided_hold_needs_no_longer_time(drop: float) -> None:
    tested = hold(drop)
    needed = tested.needed_time()
    if tested.decided():
        assert needed is not None
        assert needed <= tested.time * (1 + 1e-9)


def test_a_leak_at_the_limit_is_never_decided() -> None:
    assert hold(1.0).needed_time() is None


def test_a_tight_part_needs_its_resolution_only() -> None:
    # No fall: two steps of 0.5 inHg, guard band 2 sqrt(2/12) 0.5 = 0.408 inHg, at 1 inHg a minute.
    assert hold(0.0).needed_time() == pytest.approx(60 * 2 * math.sqrt(2 / 12) * 0.5, rel=1e-4)


def test_nothing_longer_than_the_vacuum_lasts() -> None:
    short = hold(19.0, limit=18.9 * INHG)
    assert short.needed_time() is None
    assert short.first / short.rate < LONGEST


@given(st.floats(5, 3600), st.sampled_from(["A", "B", "1A", ""]))
def test_the_smallest_rate_shows_and_a_smaller_one_does_not(time: float, grade: str) -> None:
    tested = hold(0.0, time=time, gauge=replace(DIAL, grade=grade))
    smallest = tested.smallest_rate()
    assert smallest is not None
    for factor, shows in ((1.001, True), (0.99, False)):
        seen = replace(tested, rate=factor * smallest)
        assert (seen.rate * time >= 2 * seen.drop_uncertainty()) is shows


def test_longer_holds_show_smaller_leaks() -> None:
    rates = [hold(0.0, time=time).smallest_rate() for time in (15, 60, 240, 960)]
    assert rates == sorted(rates, reverse=True)  # type: ignore[type-var]


def test_a_gauge_too_coarse_shows_nothing() -> None:
    coarse = replace(DIAL, resolution=60 * INHG)
    assert hold(0.0, gauge=coarse).smallest_rate() is None


@pytest.mark.parametrize(
    ("tested", "advice"),
    [
        (
            hold(0.65),
            "Hold for at least 80 s, or use a gauge that can be read to 0.25 inHg (0.85 kPa), or "
            "take the mean of 2 holds.",
        ),
        (
            hold(0.8),
            "Hold for at least 2.5 min, or use a gauge that can be read to 0.10 inHg (0.34 kPa).",
        ),
        (
            hold(0.3, disturbance=0.4 * INHG, gauge=replace(DIAL, resolution=0.05 * INHG)),
            "Hold for at least 70 s, or let everything come to one temperature and hold again, or "
            "take the mean of 2 holds.",
        ),
        (
            hold(1.0),
            "The reading lies so near the limit that no longer hold and no finer gauge would "
            "settle it: shut off one branch after the other and hold each alone.",
        ),
    ],
)
def test_advice(tested: Hold, advice: str) -> None:
    verdict = tested.verdict(VACUUM, VACUUM)
    assert verdict.outcome == TOO_CLOSE
    assert verdict.advice == advice


@pytest.mark.parametrize("drop", [0.65, 0.8, 0.93, 1.2])
def test_a_better_gauge_would_decide(drop: float) -> None:
    tested = hold(drop)
    better = finer_gauge(tested.gauge, tested._decides)
    assert better is not None
    assert replace(tested, gauge=better).decided()


def test_no_advice_where_it_is_decided() -> None:
    verdict = hold(0.2).verdict(VACUUM, VACUUM)
    assert (verdict.outcome, verdict.advice) == (PASS, "")

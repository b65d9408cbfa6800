"""Whether a gauge can prove a limit, against worked cases and against trying every reading."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.measurement.capability import clearest
from baycalc.measurement.decision import FAIL, PASS, TOO_CLOSE, Limit, judge
from baycalc.measurement.instrument import GRADES, Gauge


def gauge_of(uncertainty: float) -> Gauge:
    """A gauge that brings this standard uncertainty by its resolution alone (GUM F.2.2.1)."""
    return Gauge(resolution=uncertainty * 2 * math.sqrt(3))


# ILAC-G8:09/2019: tolerance ± 0.003 mm, U = 0.001 mm (k = 2); it leaves ± 0.002 mm that pass. At
# U = 0.003 mm only the middle is left, beyond it nothing.
@pytest.mark.parametrize(
    ("expanded", "outcome"), [(0.001, PASS), (0.00299, PASS), (0.00301, TOO_CLOSE)]
)
def test_a_band_about_the_worked_case_of_ilac_g8(expanded: float, outcome: str) -> None:
    limit = Limit(low=-0.003, high=0.003)
    good, bad = clearest(gauge_of(expanded / 2), limit, -0.01, 0.01)
    assert (good.reading, good.outcome) == (pytest.approx(0.0), outcome)
    assert bad.outcome == FAIL


# A dial of 30 inHg, at most 1 inHg. Grade B allows 3 % at the start of the scale (ASME B40.100,
# from memory): 0.9 inHg, guard band 2 x 0.9 / sqrt 3 = 1.04. Grade 1A allows 1 %: 0.35.
@pytest.mark.parametrize(
    ("grade", "guard", "outcome"), [("B", 1.039, TOO_CLOSE), ("1A", 0.346, PASS)]
)
def test_no_reading_below_zero_helps_a_coarse_gauge(grade: str, guard: float, outcome: str) -> None:
    good, bad = clearest(Gauge(span=30.0, grade=grade), Limit(high=1.0), 0.0, 30.0)
    assert (good.reading, good.outcome) == (0.0, outcome)
    assert good.guard == pytest.approx(guard, abs=1e-3)
    assert bad.outcome == FAIL


def test_a_scale_that_ends_at_the_bound_proves_nothing_beyond_it() -> None:
    gauge = Gauge(span=30.0, grade="A")
    assert clearest(gauge, Limit(low=29.5), 0.0, 30.0)[0].outcome == TOO_CLOSE
    assert clearest(gauge, Limit(high=29.5), 0.0, 30.0)[1].outcome == TOO_CLOSE


def test_the_middle_half_of_a_dial_is_the_finer_one() -> None:
    """Grade A: 1 % in the middle half, 2 % outside (ASME B40.100)."""
    good, _ = clearest(Gauge(span=100.0, grade="A"), Limit(low=70.0, high=77.0), 0.0, 100.0)
    assert (good.reading, good.outcome) == (73.5, PASS)
    good, _ = clearest(Gauge(span=100.0, grade="A"), Limit(low=73.0, high=78.0), 0.0, 100.0)
    assert (good.reading, good.outcome) == (75.0, PASS)
    good, _ = clearest(Gauge(span=100.0, grade="A"), Limit(low=76.0, high=80.0), 0.0, 100.0)
    assert good.outcome == TOO_CLOSE


@given(
    gauge=st.builds(
        Gauge,
        span=st.floats(1.0, 100.0),
        grade=st.sampled_from(["", *GRADES]),
        resolution=st.floats(0.0, 10.0),
        of_reading=st.floats(0.0, 0.8),
    ),
    bounds=st.tuples(st.none() | st.floats(-100, 100), st.none() | st.floats(-100, 100)).filter(
        any
    ),
    signed=st.booleans(),
)
def test_no_reading_is_clearer(
    gauge: Gauge, bounds: tuple[float | None, float | None], signed: bool
) -> None:
    low, high = bounds
    if low is not None and high is not None:
        low, high = sorted((low, high))
    limit = Limit(low=low, high=high)
    least = -gauge.span if signed else 0.0
    good, bad = clearest(gauge, limit, least, gauge.span)
    steps = [least + (gauge.span - least) * step / 500 for step in range(501)]
    outcomes = {judge(each, gauge.uncertainty(each), limit).outcome for each in steps}
    assert least <= good.reading <= gauge.span
    assert least <= bad.reading <= gauge.span
    assert good.outcome == PASS or PASS not in outcomes
    assert bad.outcome == FAIL or FAIL not in outcomes

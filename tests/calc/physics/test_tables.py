"""Reading between the points of a table."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc.physics.tables import between, between_log

LINE = ((1.0, 2.0), (2.0, 4.0), (4.0, 5.0))


@pytest.mark.parametrize(("x", "value"), LINE)
def test_the_points_are_kept(x: float, value: float) -> None:
    assert between(LINE, x) == pytest.approx(value)
    assert between_log(LINE, x) == pytest.approx(value)


def test_beyond_the_ends_the_last_line_goes_on() -> None:
    assert between(LINE, 0.0) == pytest.approx(0.0)
    assert between(LINE, 6.0) == pytest.approx(6.0)


@given(st.floats(0.01, 100), st.floats(-3, 3), st.floats(0.1, 10))
def test_a_power_law_is_straight_on_log_paper(x: float, power: float, factor: float) -> None:
    points = [(at, factor * math.pow(at, power)) for at in (0.5, 2.0, 8.0)]
    assert between_log(points, x) == pytest.approx(factor * math.pow(x, power), rel=1e-9)

"""The fit of a hole to a record of the pressure: its own sums."""

import math

from baycalc.measurement.hole_fit import _solve


def test_a_straight_line_is_met():
    """Readings that lie 2 above half of each slope: a change of 0.5, a shift of 2."""
    slopes = [1.0, 2.0, 3.0, 4.0]
    change, shift, uncertainty = _solve(slopes, [2.0 + 0.5 * each for each in slopes], 0.1)
    assert math.isclose(change, 0.5)
    assert math.isclose(shift, 2.0)
    assert math.isclose(uncertainty, 0.1 / math.sqrt(5.0))  # Draper and Smith: s / sqrt(Sxx)


def test_where_the_area_changes_nothing_it_is_not_known():
    change, shift, uncertainty = _solve([1.0, 1.0], [3.0, 5.0], 0.1)
    assert (change, shift, uncertainty) == (0.0, 4.0, math.inf)

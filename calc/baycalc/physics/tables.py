"""Values between the points of a printed table."""

import itertools
import math
from collections.abc import Sequence

Points = Sequence[tuple[float, float]]


def between(points: Points, x: float) -> float:
    """Return the value at x on straight lines through the points of a table.

    Parameters
    ----------
    points : Sequence
        Pairs of x and value, x rising, at least two of them [-]
    x : float
        Where to read the table; beyond an end the last line goes on [-]

    Returns
    -------
    float
        Value at x [-]
    """
    (x1, y1), (x2, y2) = _segment(points, x)
    return y1 + (y2 - y1) * (x - x1) / (x2 - x1)


def between_log(points: Points, x: float) -> float:
    """Return the value at x on straight lines through the points on log-log paper.

    Parameters
    ----------
    points : Sequence
        Pairs of x and value, all above zero, x rising, at least two of them [-]
    x : float
        Where to read the table, above zero; beyond an end the last line goes on [-]

    Returns
    -------
    float
        Value at x [-]
    """
    (x1, y1), (x2, y2) = _segment(points, x)
    slope = math.log(y2 / y1) / math.log(x2 / x1)
    return y1 * math.pow(x / x1, slope)


def _segment(points: Points, x: float) -> tuple[tuple[float, float], tuple[float, float]]:
    for left, right in itertools.pairwise(points):
        if x <= right[0]:
            return left, right
    return points[-2], points[-1]

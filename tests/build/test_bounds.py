"""Numbers at their bounds, and beyond."""

import math

import pytest

from baybook.book.bounds import Bounds


@pytest.mark.parametrize("value", [0, 0.5, 10])
def test_the_bounds_serve_too(value: float) -> None:
    assert Bounds(0, 10).problem(value) == ""


@pytest.mark.parametrize(
    ("value", "got"), [(-1, "-1"), (10.5, "10.5"), (math.inf, "inf"), (True, "True"), ("x", "x")]
)
def test_all_else_is_told(value: object, got: str) -> None:
    assert Bounds(0, 10).problem(value) == f"expected a number from 0 to 10, got {got}"

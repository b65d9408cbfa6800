"""Curves out of records: units, parts, noise, thinning."""

import math

import numpy as np
import pytest

from baycalc.records.curve import Curve, read_curve
from baycalc.records.table import RecordError

VOLTS = ("voltage", "mV")
TEXT = "n;t;u\n" + "".join(f"{n};{n * 10};{n * 100}\n" for n in range(8))


def curve() -> Curve:
    return read_curve(TEXT, "t", "u", "ms", VOLTS)


def test_units_are_turned_into_si() -> None:
    assert curve().times[:3] == pytest.approx((0.0, 0.01, 0.02))
    assert curve().values[:3] == pytest.approx((0.0, 0.1, 0.2))
    assert read_curve(TEXT, "t", "u", "s", ("temperature", "°C")).values[0] == 273.15


def test_a_part_counts_from_the_first_sample() -> None:
    moved = Curve(tuple(5 + time for time in curve().times), curve().values)
    assert moved.part(0.02, 0.06).values == pytest.approx((0.2, 0.3, 0.4, 0.5, 0.6))
    assert moved.part(None, None) == moved
    with pytest.raises(RecordError, match="Only 2 samples lie in this part"):
        moved.part(0.02, 0.03)


@pytest.mark.parametrize(
    ("time", "signal", "told"),
    [
        ("t", "t", "Time and signal are the same column."),
        ("x", "u", "There is no column “x”; there are n, t, u."),
    ],
)
def test_columns_that_cannot_be(time: str, signal: str, told: str) -> None:
    with pytest.raises(RecordError) as raised:
        read_curve(TEXT, time, signal, "s", VOLTS)
    assert str(raised.value) == told


def test_a_time_that_does_not_rise() -> None:
    with pytest.raises(RecordError, match="Line 4: the time does not rise"):
        read_curve("0;1\n1;1\n2;1\n2;1\n3;1", "", "", "s", VOLTS)
    with pytest.raises(RecordError, match="only 3 samples"):
        read_curve("0;1\n1;1\n2;1", "", "", "s", VOLTS)


@pytest.mark.parametrize("sigma", [0.001, 0.05])
def test_noise_against_numpy(sigma: float) -> None:
    """White noise of a known deviation upon a slow swing with edges."""
    dice = np.random.default_rng(7)
    times = np.arange(20000) * 1e-3
    clean = np.where(times % 2 < 1, 0.2, 0.8) + 0.05 * times
    noisy = Curve(tuple(times), tuple(clean + dice.normal(0, sigma, len(times))))
    assert noisy.noise() == pytest.approx(sigma, rel=0.05)


def test_a_straight_line_has_no_noise() -> None:
    line = Curve(tuple(map(float, range(50))), tuple(2.0 * n for n in range(50)))
    assert line.noise() == pytest.approx(0.0, abs=1e-12)
    assert (line.interval(), line.length()) == (1.0, 49.0)


def test_thinning_keeps_the_mean() -> None:
    dice = np.random.default_rng(3)
    values = tuple(dice.normal(5, 1, 1000))
    thin, size = Curve(tuple(map(float, range(1000))), values).thinned(100)
    assert (len(thin.times), size) == (100, 10)
    assert math.fsum(thin.values) / 100 == pytest.approx(math.fsum(values) / 1000)
    assert curve().thinned(100) == (curve(), 1)

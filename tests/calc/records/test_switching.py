"""Levels, edges and switches of a signal, against what it was made of and against scipy."""

import math

import numpy as np
import pytest
from scipy.signal import square

from baycalc.records.curve import Curve
from baycalc.records.switching import edges, levels, switches


def ramps(rise: float, period: float, rate: float, many: int = 6) -> Curve:
    """Return a signal of straight edges from 0.1 V to 0.9 V that take a time."""
    times = np.arange(0, many * period, 1 / rate)
    phase = times % period
    up = np.clip((phase - period / 4) / rise, 0, 1)
    down = np.clip((phase - 3 * period / 4) / rise, 0, 1)
    return Curve(tuple(times), tuple(0.1 + 0.8 * (up - down)))


# A straight edge takes 0.8 of its whole time from 10 to 90 %; one of first order takes
# ln 9 = 2.197 time constants (IEEE Std 181; any textbook of signals).
@pytest.mark.parametrize(("rise", "rate"), [(0.1, 1000.0), (0.05, 5000.0), (0.2, 100.0)])
def test_straight_edges(rise: float, rate: float) -> None:
    for rising in (True, False):
        timing = edges(ramps(rise, 1.0, rate), rising)
        assert timing is not None
        assert timing.count == 6
        assert timing.mean == pytest.approx(0.8 * rise, abs=3 * timing.uncertainty)


def test_an_edge_of_first_order() -> None:
    times = np.arange(-0.5, 2.0, 1e-3)
    values = np.where(times < 0, 0.0, 1 - np.exp(-np.clip(times, 0, None) / 0.1))
    timing = edges(Curve(tuple(times), tuple(values)), rising=True)
    assert timing is not None
    assert timing.mean == pytest.approx(math.log(9) * 0.1, rel=0.01)


def test_the_uncertainty_of_the_sampling_is_met() -> None:
    """Many records that begin at another place between two samples: scatter as stated, or less."""
    found = []
    for shift in np.linspace(0, 0.02, 50, endpoint=False):
        times = np.arange(0, 2, 0.02) + shift
        values = np.clip((times - 1) / 0.1, 0, 1)
        timing = edges(Curve(tuple(times), tuple(values)), rising=True)
        assert timing is not None
        assert timing.uncertainty == pytest.approx(0.02 / math.sqrt(6))
        found.append(timing.mean)
    assert np.std(found) <= 0.02 / math.sqrt(6)
    assert np.mean(found) == pytest.approx(0.08, abs=0.02 / math.sqrt(6))


def test_no_edge() -> None:
    flat = Curve(tuple(map(float, range(10))), (0.5,) * 10)
    assert edges(flat, rising=True) is None
    assert switches(flat) == 0


@pytest.mark.parametrize("hertz", [0.5, 1.0, 2.5])
def test_switches_of_a_square_wave(hertz: float) -> None:
    """scipy's square wave with noise of a tenth of its height: two switches a period."""
    times = np.arange(0, 10, 0.01)
    noise = np.random.default_rng(1).normal(0, 0.05, len(times))
    wave = 0.5 + 0.35 * square(2 * np.pi * hertz * times) + noise
    assert switches(Curve(tuple(times), tuple(wave))) == pytest.approx(20 * hertz, abs=1)


def test_levels_leave_spikes_out() -> None:
    values = [0.1] * 50 + [0.9] * 50
    values[10], values[60] = -5.0, 5.0
    span = levels(Curve(tuple(map(float, range(100))), tuple(values)))
    assert (span.low, span.high) == (0.1, 0.9)
    assert span.at(0.5) == pytest.approx(0.5)


def test_samples_on_the_levels_themselves_count() -> None:
    """A ramp from 0 V to 10 V in steps of 1 V: 8 s from 1 V to 9 V, both of them samples."""
    values = (0.0, 0.0, *map(float, range(11)), 10.0, 10.0)
    timing = edges(Curve(tuple(map(float, range(len(values)))), values), rising=True)
    assert timing is not None
    assert (timing.count, timing.mean) == (1, pytest.approx(8.0))

"""Decay of a closed volume against scipy's integrators and the textbook's closed formula."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from baycalc.physics.decay import decay_curve, decay_time, hole_area, throughput
from baycalc.physics.orifice import circle_area, critical_ratio, mass_flow

AIR, WARM = 101325.0, 293.15
VOLUME = 42e-6
HOLE = circle_area(0.1e-3)


@pytest.mark.parametrize("end", [45e3, 52e3, 60e3, 80e3, 101e3])
def test_time_against_scipy_quad(end: float) -> None:
    start = AIR - 67.7e3
    kink = critical_ratio() * AIR
    expected, _ = quad(
        lambda inside: VOLUME / HOLE / throughput(inside, AIR, WARM),
        start,
        end,
        points=[kink] if end > kink else None,
        limit=200,
    )
    assert decay_time(VOLUME, HOLE, start, end, AIR, WARM) == pytest.approx(expected, rel=2e-6)


@pytest.mark.parametrize("start", [AIR - 67.7e3, AIR - 5e3, AIR + 3e3, AIR + 200e3])
def test_curve_against_scipy_solve_ivp(start: float) -> None:
    until = 0.7 * decay_time(VOLUME, HOLE, start, AIR, AIR, WARM)
    way = 1 if start < AIR else -1

    def slope(_: float, inside: list[float]) -> list[float]:
        return [way * HOLE / VOLUME * throughput(float(inside[0]), AIR, WARM)]

    solved = solve_ivp(slope, (0, until), [start], rtol=1e-10, atol=1e-6)
    found = decay_curve(VOLUME, HOLE, start, AIR, WARM, until)
    assert found[-1] == (pytest.approx(until), pytest.approx(solved.y[0][-1], rel=5e-5))


def test_closed_formula_of_small_differences() -> None:
    """A volume under a small vacuum d empties like a tank of water: t = 2 V sqrt(d) / (C A k)."""
    deep = 100.0
    speed = 0.61 * math.sqrt(2 * AIR * 287.05287 * WARM)
    time = 2 * VOLUME * math.sqrt(deep) / (HOLE * speed)
    assert decay_time(VOLUME, HOLE, AIR - deep, AIR, AIR, WARM) == pytest.approx(time, rel=1e-3)


def test_throughput_is_mass_flow_times_gas_constant_and_temperature() -> None:
    flow = mass_flow(1.0, AIR, 30e3, WARM)
    assert throughput(30e3, AIR, WARM) == pytest.approx(flow * 287.05287 * WARM, rel=1e-12)


STARTS = st.floats(1e3, 9e4) | st.floats(1.05e5, 5e5)


@given(STARTS, st.floats(0.01, 1), st.floats(1e-6, 1), st.floats(1e-10, 1e-5))
def test_hole_and_time_return(start: float, share: float, volume: float, area: float) -> None:
    end = start + share * (AIR - start)
    time = decay_time(volume, area, start, end, AIR, WARM)
    assert hole_area(volume, time, start, end, AIR, WARM) == pytest.approx(area, rel=1e-9)


@given(STARTS, st.floats(0.05, 0.9))
def test_curve_and_time_agree(start: float, share: float) -> None:
    end = start + share * (AIR - start)
    time = decay_time(VOLUME, HOLE, start, end, AIR, WARM)
    assert decay_curve(VOLUME, HOLE, start, AIR, WARM, time)[-1][1] == pytest.approx(end, rel=1e-4)


@given(STARTS)
def test_curve_runs_one_way_and_ends_outside(start: float) -> None:
    whole = decay_time(VOLUME, HOLE, start, AIR, AIR, WARM)
    pressures = [pressure for _, pressure in decay_curve(VOLUME, HOLE, start, AIR, WARM, 2 * whole)]
    assert pressures in (sorted(pressures), sorted(pressures, reverse=True))
    assert pressures[-1] == AIR


@given(STARTS, st.floats(0.1, 10))
def test_time_scales_with_volume_over_area(start: float, factor: float) -> None:
    time = decay_time(VOLUME, HOLE, start, AIR, AIR, WARM)
    larger = decay_time(factor * VOLUME, HOLE, start, AIR, AIR, WARM)
    wider = decay_time(VOLUME, factor * HOLE, start, AIR, AIR, WARM)
    assert larger == pytest.approx(factor * time, rel=1e-12)
    assert wider == pytest.approx(time / factor, rel=1e-12)

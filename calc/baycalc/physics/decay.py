"""How the pressure of a closed volume runs towards that outside through a small hole.

Air, at one temperature throughout, through a sharp-edged hole. The variable of all sums is
the root of the pressure difference, which falls almost evenly, so that few steps are exact.
"""

import math
from collections.abc import Callable

from baycalc.physics.air import GAS_CONSTANT
from baycalc.physics.orifice import STILL_COEFFICIENT, sharp_flow

_PANELS = 24
_ALIKE = 1e-9


def throughput(inside: float, outside: float, temperature: float) -> float:
    """Return the flow through a hole per area of the hole, as pressure times volume.

    Parameters
    ----------
    inside : float
        Absolute pressure in the volume [Pa]
    outside : float
        Absolute pressure around it [Pa]
    temperature : float
        Temperature of the air [K]

    Returns
    -------
    float
        Positive whether the flow goes in or out [Pa m/s]
    """
    upstream, downstream = max(inside, outside), min(inside, outside)
    return upstream * sharp_flow(downstream / upstream) * math.sqrt(GAS_CONSTANT * temperature)


def decay_time(
    volume: float, area: float, start: float, end: float, outside: float, temperature: float
) -> float:
    """Return how long a volume takes from one pressure to another.

    Parameters
    ----------
    volume : float
        Volume [m3]
    area : float
        Area of the hole, above zero [m2]
    start : float
        Absolute pressure at the start [Pa]
    end : float
        Absolute pressure at the end, between ``start`` and ``outside`` [Pa]
    outside : float
        Absolute pressure around [Pa]
    temperature : float
        Temperature of the air [K]

    Returns
    -------
    float
        Time [s]
    """
    return volume / area * _resistance(start, end, outside, temperature)


def hole_area(
    volume: float, time: float, start: float, end: float, outside: float, temperature: float
) -> float:
    """Return the area of the hole that lets a volume decay so far in a time.

    Parameters
    ----------
    volume : float
        Volume [m3]
    time : float
        Time, above zero [s]
    start : float
        Absolute pressure at the start [Pa]
    end : float
        Absolute pressure at the end, between ``start`` and ``outside`` [Pa]
    outside : float
        Absolute pressure around [Pa]
    temperature : float
        Temperature of the air [K]

    Returns
    -------
    float
        Area [m2]
    """
    return volume / time * _resistance(start, end, outside, temperature)


def decay_curve(
    volume: float,
    area: float,
    start: float,
    outside: float,
    temperature: float,
    until: float,
    steps: int = 24,
) -> list[tuple[float, float]]:
    """Return the pressure in the volume against time.

    Parameters
    ----------
    volume : float
        Volume [m3]
    area : float
        Area of the hole, zero or more [m2]
    start : float
        Absolute pressure at the start [Pa]
    outside : float
        Absolute pressure around [Pa]
    temperature : float
        Temperature of the air [K]
    until : float
        Time of the last point [s]
    steps : int
        Number of steps, Runge-Kutta of fourth order [-]

    Returns
    -------
    list
        Pairs of time [s] and absolute pressure [Pa]
    """
    step = until / steps
    side = 1 if start > outside else -1
    root = math.sqrt(abs(start - outside))

    def fall(at: float) -> float:
        return area / volume / _slowness(max(at, 0.0), side, outside, temperature)

    points = [(0.0, start)]
    for number in range(1, steps + 1):
        root = max(0.0, root - _step(fall, root, step))
        points.append((number * step, outside + side * root**2))
    return points


def _step(fall: Callable[[float], float], root: float, step: float) -> float:
    first = fall(root)
    second = fall(root - step / 2 * first)
    third = fall(root - step / 2 * second)
    fourth = fall(root - step * third)
    return step / 6 * (first + 2 * second + 2 * third + fourth)


def _resistance(start: float, end: float, outside: float, temperature: float) -> float:
    """Return the time from start to end per volume, times the area: Simpson's rule [s/m]."""
    side = 1 if start > outside else -1
    high, low = (math.sqrt(max(0.0, side * (place - outside))) for place in (start, end))
    step = (high - low) / _PANELS
    total = 0.0
    for number in range(_PANELS + 1):
        weight = 1 if number in (0, _PANELS) else 4 if number % 2 else 2
        total += weight * _slowness(low + number * step, side, outside, temperature)
    return total * step / 3


def _slowness(root: float, side: int, outside: float, temperature: float) -> float:
    """Return the time per fall of the root of the difference, times area over volume."""
    difference = root**2
    if difference < _ALIKE * outside:
        speed = STILL_COEFFICIENT * math.sqrt(2 * outside * GAS_CONSTANT * temperature)
        return 2 / speed
    return 2 * root / throughput(outside + side * difference, outside, temperature)

"""How the pressure of a closed volume runs towards that outside through a small hole.

Air, at one temperature throughout, through a sharp-edged hole. The variable of all sums is
the root of the pressure difference, which falls almost evenly, so that few steps are exact.
"""

import bisect
import functools
import math
from dataclasses import dataclass

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
    """Return the pressure in the volume against time, within 0.01 % of it.

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
        Number of steps between the points [-]

    Returns
    -------
    list
        Pairs of time [s] and absolute pressure [Pa]
    """
    if not area:
        return [(until * number / steps, start) for number in range(steps + 1)]
    side = 1 if start > outside else -1
    times = [until * number / steps for number in range(steps + 1)]
    nodes = _emptying(start, outside, temperature)
    roots = [_root_at(nodes, time * area / volume) for time in times]
    return [(time, outside + side * root**2) for time, root in zip(times, roots, strict=True)]


@dataclass(frozen=True, slots=True)
class _Node:
    """A place on the way of a decay.

    Parameters
    ----------
    root : float
        Square root of the difference of pressure [Pa^(1/2)]
    time : float
        Time to it for one unit of area over volume [s m2/m3]
    slowness : float
        How that time grows as the root falls [s m2/m3 Pa^(-1/2)]
    """

    root: float
    time: float
    slowness: float


@functools.lru_cache(maxsize=64)
def _emptying(start: float, outside: float, temperature: float) -> tuple[_Node, ...]:
    """Return the whole decay of a volume per area of its hole: it scales with both."""
    side = 1 if start > outside else -1
    root = math.sqrt(abs(start - outside))
    step = root / _PANELS

    def slowness(at: float) -> float:
        return _slowness(at, side, outside, temperature)

    nodes = [_Node(root, 0.0, slowness(root))]
    for number in reversed(range(_PANELS)):
        before, after = nodes[-1], slowness(number * step)
        middle = slowness((number + 0.5) * step)
        time = before.time + step / 6 * (before.slowness + 4 * middle + after)
        nodes.append(_Node(number * step, time, after))
    return tuple(nodes)


def _root_at(nodes: tuple[_Node, ...], time: float) -> float:
    """Return the root at a time, the slowness taken as even in the root between two nodes."""
    place = bisect.bisect_right(nodes, time, key=lambda node: node.time)
    if place >= len(nodes):
        return 0.0
    before, after = nodes[place - 1], nodes[place]
    bend = (after.slowness - before.slowness) / (before.root - after.root)
    passed = time - before.time
    slow = before.slowness
    return before.root - 2 * passed / (slow + math.sqrt(slow**2 + 2 * bend * passed))


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

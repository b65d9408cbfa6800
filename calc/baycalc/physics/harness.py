"""Conductors in a harness: the current they may carry, how warm they get, what a short does."""

import math
from collections.abc import Callable

from baycalc.physics.constants import ICE_POINT
from baycalc.physics.copper import area_from_awg
from baycalc.physics.tables import between_log

_REFERENCE_AMBIENT = 303.15

_SIZES = (18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 0, -1, -2, -3)
_CURRENTS = {
    "60": (10, 15, 20, 25, 40, 55, 80, 105, 120, 140, 165, 195, 225, 260, 300),
    "75": (10, 15, 20, 25, 40, 65, 95, 125, 145, 170, 195, 230, 265, 310, 360),
    "80": (15, 20, 25, 35, 50, 70, 100, 130, 150, 175, 210, 245, 285, 330, 385),
    "90": (20, 25, 30, 40, 55, 70, 100, 135, 155, 180, 210, 245, 285, 330, 385),
    "105": (20, 25, 35, 45, 60, 80, 120, 160, 180, 210, 245, 285, 330, 385, 445),
    "125": (25, 30, 40, 50, 70, 90, 125, 170, 195, 225, 265, 305, 355, 410, 475),
}
INSULATIONS = tuple(_CURRENTS)
"""Temperatures that the insulation bears for good, as texts [°C]."""

METRIC_SIZES = tuple(
    size * 1e-6
    for size in (0.35, 0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0, 70.0, 95.0)
)
"""Cross-sections of automotive cables, ISO 6722-1, from memory [m2]."""

SOLD_GAUGES = tuple(area_from_awg(size) for size in (*range(22, -2, -2), -1, -2, -3))
"""Cross-sections of the wire gauges that are sold, AWG 22 to 4/0; common practice [m2]."""

_THIN_WIRE_POWER = 0.75
_FAULT_END = 160.0 + ICE_POINT


def insulation_limit(insulation: str) -> float:
    """Return the temperature that an insulation bears for good.

    Parameters
    ----------
    insulation : str
        One of `INSULATIONS`

    Returns
    -------
    float
        Temperature [K]
    """
    return float(insulation) + ICE_POINT


def allowed_current(area: float, insulation: str, ambient: float) -> float:
    """Return the current that a conductor may carry for good.

    Parameters
    ----------
    area : float
        Cross-section of the copper [m2]
    insulation : str
        One of `INSULATIONS`
    ambient : float
        Temperature of the air around, below what the insulation bears [K]

    Returns
    -------
    float
        Allowed current [A]

    Notes
    -----
    Table at 30 °C, read between its sizes on log-log paper; below AWG 18 it goes on with the
    power 0.75 of the cross-section (heat given off by the surface, less generous than the table).
    In another ambient the heat given off, and so the square of the current, goes with the
    temperature left: sqrt((T - ambient)/(T - 30 °C)), which gives the table's own factors.

    References
    ----------
    33 CFR 183.425, Table 5 and its note 1.
    """
    table = [
        (area_from_awg(size), float(current))
        for size, current in zip(_SIZES, _CURRENTS[insulation], strict=True)
    ]
    smallest, least = table[0]
    if area < smallest:
        current = least * math.pow(area / smallest, _THIN_WIRE_POWER)
    else:
        current = between_log(table, area)
    limit = insulation_limit(insulation)
    left = max(0.0, limit - ambient) / (limit - _REFERENCE_AMBIENT)
    return current * math.sqrt(left)


def conductor_temperature(current: float, area: float, insulation: str, ambient: float) -> float:
    """Return the temperature of a conductor that carries a current for good.

    Parameters
    ----------
    current : float
        Steady current [A]
    area : float
        Cross-section of the copper [m2]
    insulation : str
        One of `INSULATIONS`
    ambient : float
        Temperature of the air around, below what the insulation bears [K]

    Returns
    -------
    float
        Temperature: the allowed current brings it to what the insulation bears [K]
    """
    share = current / allowed_current(area, insulation, ambient)
    return ambient + (insulation_limit(insulation) - ambient) * share**2


def fault_integral(area: float, temperature: float) -> float:
    """Return the i²t that a conductor survives in a short without harm to PVC insulation.

    Parameters
    ----------
    area : float
        Cross-section of the copper [m2]
    temperature : float
        Temperature of the copper before, below 160 °C [K]

    Returns
    -------
    float
        Integral of the squared current [A2 s]

    Notes
    -----
    No heat is lost while it lasts: (k S)² with k = 226 sqrt(ln(1 + (160 - T)/(234.5 + T))), S
    in mm2 and T in °C; k is 115 from 70 °C.

    References
    ----------
    IEC 60949; IEC 60364-4-43 (k = 115 for copper in PVC).
    """
    start = temperature - ICE_POINT
    rise = max(0.0, _FAULT_END - temperature)
    squared = 226**2 * math.log1p(rise / (234.5 + start))
    return squared * (area * 1e6) ** 2


def least_area(enough: Callable[[float], bool]) -> float:
    """Return the least cross-section that is enough, where every greater one is too.

    Parameters
    ----------
    enough : Callable
        Whether a cross-section is enough [m2]

    Returns
    -------
    float
        Cross-section, from 1e-9 to 1e-2 [m2]
    """
    low, high = 1e-9, 1e-2
    for _ in range(50):
        middle = math.sqrt(low * high)
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high


def area_for_current(current: float, insulation: str, ambient: float) -> float:
    """Return the cross-section that may just carry a current for good.

    Parameters
    ----------
    current : float
        Steady current [A]
    insulation : str
        One of `INSULATIONS`
    ambient : float
        Temperature of the air around, below what the insulation bears [K]

    Returns
    -------
    float
        Cross-section [m2]
    """
    return least_area(lambda area: allowed_current(area, insulation, ambient) >= current)

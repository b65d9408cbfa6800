"""Gas through a small hole with a sharp edge: subsonic and choked flow."""

import functools
import math

from baycalc.physics.air import GAS_CONSTANT, HEAT_CAPACITY_RATIO

STILL_COEFFICIENT = 0.61
"""Discharge coefficient of a sharp edge at small pressure differences [-]."""

REGULATORY_HOLES = {"020": 0.020 * 0.0254, "040": 0.040 * 0.0254}
"""Leak sizes that an evaporative monitor must find, 13 CCR 1968.2(e)(4.2.2) [m]."""

COEFFICIENT_UNCERTAINTY = 0.05
"""Relative standard uncertainty of `sharp_coefficient`, from its spread about experiments [-]."""


@functools.lru_cache(maxsize=64)
def critical_ratio(heat_capacity_ratio: float = HEAT_CAPACITY_RATIO) -> float:
    """Return the pressure ratio below which the flow in the hole is sonic.

    Parameters
    ----------
    heat_capacity_ratio : float
        Ratio of the heat capacities of the gas, above 1 [-]

    Returns
    -------
    float
        Absolute pressure behind the hole over that before it [-]
    """
    k = heat_capacity_ratio
    return math.pow(2 / (k + 1), k / (k - 1))


def flow_function(ratio: float, heat_capacity_ratio: float = HEAT_CAPACITY_RATIO) -> float:
    """Return the ideal mass flow of a nozzle, made free of size, pressure and temperature.

    Parameters
    ----------
    ratio : float
        Absolute pressure behind the hole over that before it, 0 to 1 [-]
    heat_capacity_ratio : float
        Ratio of the heat capacities of the gas, above 1 [-]

    Returns
    -------
    float
        m sqrt(R T) / (A p), greatest and constant once the flow is choked [-]

    Notes
    -----
    Saint-Venant and Wantzel: sqrt(2 k/(k - 1) (r^(2/k) - r^((k + 1)/k))).
    """
    k = heat_capacity_ratio
    r = max(ratio, critical_ratio(k))
    return math.sqrt(max(0.0, 2 * k / (k - 1) * (math.pow(r, 2 / k) - math.pow(r, (k + 1) / k))))


def sharp_coefficient(
    ratio: float,
    still_coefficient: float = STILL_COEFFICIENT,
    heat_capacity_ratio: float = HEAT_CAPACITY_RATIO,
) -> float:
    """Return the discharge coefficient of a sharp-edged hole, which rises as the flow gets faster.

    Parameters
    ----------
    ratio : float
        Absolute pressure behind the hole over that before it, 0 to 1 [-]
    still_coefficient : float
        Coefficient at small pressure differences, 0.5 to 0.7 [-]
    heat_capacity_ratio : float
        Ratio of the heat capacities of the gas, above 1 [-]

    Returns
    -------
    float
        Discharge coefficient for `flow_function` [-]

    Notes
    -----
    Momentum balance of the gas between the wall with the hole and the narrowest part of the
    jet. The pull of the gas on the wall around the hole is taken as ``f m2/(rho A)``, with
    ``f`` from the coefficient at small differences. A choked jet still has the critical
    pressure where it is narrowest, so its coefficient goes on rising down to a vacuum.

    Experiments lie within about 5 % of it: Weisbach's 0.79 at a difference of 1.1 times the
    outside pressure, Perry's 0.84 into a vacuum. A fixed 0.61 would call every hole under
    high vacuum too large.

    References
    ----------
    D. A. Jobson, On the flow of a compressible fluid through orifices, Proc. I. Mech. E.
    169 (1955) 767; S. L. Bragg, J. Mech. Eng. Sci. 2 (1960) 35, compares it with experiments.
    """
    k = heat_capacity_ratio
    f = 1 / still_coefficient - 0.5 / still_coefficient**2
    throat = max(ratio, critical_ratio(k))
    momentum = 2 * k / (k - 1) * math.pow(throat, 1 / k) * (1 - math.pow(throat, (k - 1) / k))
    thrust = momentum + throat - ratio if ratio < throat else momentum
    pull = f * momentum * math.pow(throat, 1 / k)
    if momentum <= 0:
        return still_coefficient
    # The smaller root of pull C2 - thrust C + (1 - ratio) = 0, written without cancellation.
    root = math.sqrt(thrust**2 - 4 * pull * (1 - ratio))
    return 2 * (1 - ratio) / (thrust + root)


def sharp_flow(ratio: float) -> float:
    """Return the flow of air through a sharp-edged hole, free of size, pressure, temperature.

    Parameters
    ----------
    ratio : float
        Absolute pressure behind the hole over that before it, 0 to 1 [-]

    Returns
    -------
    float
        m sqrt(R T) / (A p), discharge coefficient included [-]
    """
    return sharp_coefficient(ratio) * flow_function(ratio)


def mass_flow(
    area: float,
    upstream: float,
    downstream: float,
    temperature: float,
    coefficient: float | None = None,
    gas_constant: float = GAS_CONSTANT,
    heat_capacity_ratio: float = HEAT_CAPACITY_RATIO,
) -> float:
    """Return the mass flow through a hole.

    Parameters
    ----------
    area : float
        Area of the hole [m2]
    upstream : float
        Absolute pressure before it [Pa]
    downstream : float
        Absolute pressure behind it, at most ``upstream`` [Pa]
    temperature : float
        Temperature of the gas before it [K]
    coefficient : float
        Discharge coefficient, or ``None`` for that of a sharp edge [-]
    gas_constant : float
        Specific gas constant [J/(kg K)]
    heat_capacity_ratio : float
        Ratio of the heat capacities of the gas, above 1 [-]

    Returns
    -------
    float
        Mass flow [kg/s]
    """
    ratio = downstream / upstream
    if coefficient is None:
        coefficient = sharp_coefficient(ratio, heat_capacity_ratio=heat_capacity_ratio)
    ideal = flow_function(ratio, heat_capacity_ratio)
    return coefficient * area * upstream * ideal / math.sqrt(gas_constant * temperature)


def is_choked(
    upstream: float, downstream: float, heat_capacity_ratio: float = HEAT_CAPACITY_RATIO
) -> bool:
    """Return whether the flow in a hole is sonic.

    Parameters
    ----------
    upstream : float
        Absolute pressure before it [Pa]
    downstream : float
        Absolute pressure behind it [Pa]
    heat_capacity_ratio : float
        Ratio of the heat capacities of the gas, above 1 [-]

    Returns
    -------
    bool
        True where less pressure behind the hole would not move the jet faster in the hole
    """
    return downstream <= critical_ratio(heat_capacity_ratio) * upstream


def circle_area(diameter: float) -> float:
    """Return the area of a circle.

    Parameters
    ----------
    diameter : float
        Diameter [m]

    Returns
    -------
    float
        Area [m2]
    """
    return math.pi / 4 * diameter**2


def circle_diameter(area: float) -> float:
    """Return the diameter of a circle.

    Parameters
    ----------
    area : float
        Area, zero or more [m2]

    Returns
    -------
    float
        Diameter [m]
    """
    return math.sqrt(4 * area / math.pi)


def flow_regime(upstream: float, downstream: float, start: float | None = None) -> str:
    """Say whether the flow through a hole is choked.

    Parameters
    ----------
    upstream : float
        Absolute pressure before the hole [Pa]
    downstream : float
        Absolute pressure behind it [Pa]
    start : float
        Absolute pressure that was behind it at first, where it rose; or ``None`` [Pa]
    """
    if is_choked(upstream, downstream):
        return "choked: the air passes the hole at the speed of sound"
    if start is not None and is_choked(upstream, start):
        return "choked at first, then slower than sound"
    return "slower than sound"

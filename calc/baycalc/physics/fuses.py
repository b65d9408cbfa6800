"""Fuses of road vehicles: ratings, opening times, melting integral, pulses, derating."""

import math

from baycalc.physics.tables import between_log

RATINGS = {
    "blade": (1.0, 2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0),
    "high current": (20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0),
}
"""Rated currents of ISO 8820-3, types C and F and type E, from memory [A]."""

COLOURS = {
    1.0: "black",
    2.0: "gray",
    3.0: "violet",
    4.0: "pink",
    5.0: "tan",
    7.5: "brown",
    10.0: "red",
    15.0: "blue",
    20.0: "yellow",
    25.0: "clear",
    30.0: "green",
    35.0: "blue-green",
    40.0: "orange",
}
"""Body colors of blade types C and F, ISO 8820-3; 4, 5, 7.5, 25 A and above from memory."""

_HUNDRED_HOURS = 360000.0

OPENING = {
    "blade": (
        (1.10, _HUNDRED_HOURS, math.inf),
        (1.35, 0.75, 600.0),
        (1.60, 0.25, 50.0),
        (2.00, 0.15, 5.0),
        (3.50, 0.04, 0.5),
        (6.00, 0.02, 0.1),
    ),
    "high current": (
        (1.10, _HUNDRED_HOURS, math.inf),
        (1.35, 60.0, 1800.0),
        (2.00, 2.0, 60.0),
        (3.50, 0.2, 7.0),
        (6.00, 0.04, 1.0),
    ),
}
"""Multiple of the rating, least and greatest opening time, ISO 8820-3, from memory [-, s, s]."""

CONTINUOUS_SHARE = {"continuous": 0.75, "short": 1.0}
"""Share of the rating that a load may take by duty.

75 % for a load that stays on (fuse makers' selection guides). A load that runs a minute at each
start may take all of it: ISO 8820-3 asks a fuse to carry 110 % for 100 hours.
"""

_REFERENCE = 298.15
_DERATING = 0.002

PULSE_SHARES = {"100": 0.48, "1000": 0.38, "10000": 0.29, "100000": 0.22}
"""Share of the melting integral that a number of pulses may use, fuse makers' guides [-]."""

PULSE_SHAPES = {"rectangle": 1.0, "half sine": 1 / 2, "ramp": 1 / 3}
"""Integral of a pulse in parts of peak squared times its time [-]."""


def ambient_factor(temperature: float) -> float:
    """Return the share of its rating that a fuse carries in a warm place.

    Parameters
    ----------
    temperature : float
        Temperature of the air at the fuse, up to about 125 °C [K]

    Returns
    -------
    float
        1 up to 25 °C, then 0.2 % less for each kelvin [-]

    References
    ----------
    NASA EEE-INST-002, derating of fuses: 0.2 % per degree.
    """
    return 1 - _DERATING * max(0.0, temperature - _REFERENCE)


def usual_share(temperature: float, duty: str) -> float:
    """Return the share of its rating that a load may take by the usual rules.

    Parameters
    ----------
    temperature : float
        Temperature of the air at the fuse [K]
    duty : str
        ``continuous`` or ``short``

    Returns
    -------
    float
        Share of the rating [-]
    """
    return CONTINUOUS_SHARE[duty] * ambient_factor(temperature)


def opening_times(style: str, multiple: float) -> tuple[float, float]:
    """Return the band of the opening time at a multiple of the rating.

    Parameters
    ----------
    style : str
        ``blade`` (types C and F) or ``high current`` (type E)
    multiple : float
        Current as a multiple of the rating [-]

    Returns
    -------
    least : float
        Time that every fuse of the standard stays closed; infinite below 110 % [s]
    greatest : float
        Time after which every one has opened; infinite below 135 % [s]

    Notes
    -----
    Between the standard's points on straight lines of log-log paper; above 600 % without any
    loss of heat, so the time falls with the square of the current.

    References
    ----------
    ISO 8820-3.
    """
    rows = OPENING[style]
    top, least, greatest = rows[-1]
    if multiple >= top:
        faster = (top / multiple) ** 2
        return least * faster, greatest * faster
    least = math.inf if multiple < rows[0][0] else _read(rows, 1, multiple)
    greatest = math.inf if multiple < rows[1][0] else _read(rows[1:], 2, multiple)
    return least, greatest


def _read(rows: tuple[tuple[float, float, float], ...], column: int, multiple: float) -> float:
    return between_log([(row[0], row[column]) for row in rows], multiple)


def melting_integral(style: str, rating: float, time: float) -> float:
    """Return the least i²t that opens a fuse of a rating within a time.

    Parameters
    ----------
    style : str
        ``blade`` or ``high current``
    rating : float
        Rated current [A]
    time : float
        How long the pulse lasts [s]

    Returns
    -------
    float
        Melting integral [A2 s]

    Notes
    -----
    What the least opening time of ISO 8820-3 at 600 % leaves to the weakest fuse: for blades
    36 x 0.02 s = 0.72 s times the rating squared. A longer pulse needs at least as much, and
    more where the least opening time at a lower current says so.
    """
    rows = OPENING[style]
    shortest = rows[-1][0] ** 2 * rows[-1][1]
    return rating**2 * max(shortest, _longer(rows, time))


def _longer(rows: tuple[tuple[float, float, float], ...], time: float) -> float:
    curve = [(least, multiple) for multiple, least, _ in reversed(rows)]
    return between_log(curve, time) ** 2 * time if time > curve[0][0] else 0.0


def pulse_integral(peak: float, time: float, shape: str) -> float:
    """Return the integral of the squared current over a pulse.

    Parameters
    ----------
    peak : float
        Peak of the current [A]
    time : float
        How long the pulse lasts [s]
    shape : str
        ``rectangle``, ``half sine`` or ``ramp``

    Returns
    -------
    float
        Integral [A2 s]
    """
    return peak**2 * time * PULSE_SHAPES[shape]


def next_rating(style: str, needed: float) -> float | None:
    """Return the least rating of the series that is not below what is needed.

    Parameters
    ----------
    style : str
        ``blade`` or ``high current``
    needed : float
        Rating needed [A]

    Returns
    -------
    float
        Rating, or ``None`` where the series ends below [A]
    """
    return next((rating for rating in RATINGS[style] if rating >= needed * (1 - 1e-9)), None)

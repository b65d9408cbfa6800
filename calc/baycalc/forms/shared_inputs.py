"""Inputs that several calculators share, so that they look and behave the same everywhere."""

from baycalc.forms.declare import Choice, Option, Quantity, Refusal, Shown
from baycalc.measurement.decision import GRADES, Gauge, Limit
from baycalc.physics.air import standard_pressure
from baycalc.quantities.units import written

_GRADE_LABELS = {
    "4A": "4A (0.1 % of span)",
    "3A": "3A (0.25 % of span)",
    "2A": "2A (0.5 % of span)",
    "1A": "1A (1 % of span)",
    "A": "A (2-1-2 % of span)",
    "B": "B (3-2-3 % of span)",
    "C": "C (4-3-4 % of span)",
    "D": "D (5 % of span)",
}
NO_GRADE = "none"
"""Value of the grade of a gauge of which nothing is known but its resolution."""

PLACE = {"barometer_from": "barometer_from", "altitude": "altitude", "barometer": "barometer"}
"""What a link to another calculator carries of the inputs of `barometer_inputs`."""


def altitude_input(default: str, help: str, shown: Shown | None = None) -> Quantity:
    """Return the input that says how high the place lies."""
    return Quantity(
        id="altitude",
        label="Altitude",
        kind="length",
        units=("ft", "m"),
        default=default,
        low="-500 m",
        high="11000 m",
        help=help,
        shown=shown,
    )


def station_pressure_input(
    name: str, label: str, default: str, help: str, shown: Shown
) -> Quantity:
    """Return an input for a barometer that is not reduced to sea level."""
    return Quantity(
        id=name,
        label=label,
        kind="pressure",
        units=("inHg", "kPa", "mbar", "mmHg"),
        default=default,
        low="20 kPa",
        high="110 kPa",
        help=help,
        shown=shown,
    )


def barometer_inputs() -> tuple[Choice, Quantity, Quantity]:
    """Return the inputs that say how much the air around presses."""
    return (
        Choice(
            id="barometer_from",
            label="Air pressure from",
            options=(
                Option(value="altitude", label="altitude"),
                Option(value="measured", label="a barometer or the scan tool's BARO"),
            ),
            default="altitude",
            help="The scan tool shows it with the ignition on and the engine off.",
        ),
        altitude_input(
            default="0 ft",
            help="Height of the workshop above the sea.",
            shown=Shown(choice="barometer_from", values=("altitude",)),
        ),
        station_pressure_input(
            "barometer",
            label="Barometer, not reduced to sea level",
            default="29.92 inHg",
            help="A weather report gives it reduced to the sea: see the barometer calculator.",
            shown=Shown(choice="barometer_from", values=("measured",)),
        ),
    )


def air_pressure(barometer_from: str, altitude: float, barometer: float) -> float:
    """Return the pressure of the air around from the inputs of `barometer_inputs`.

    Parameters
    ----------
    barometer_from : str
        ``altitude`` or ``measured`` [-]
    altitude : float
        Altitude above sea level, used with ``altitude`` [m]
    barometer : float
        Pressure of the air around, used with ``measured`` [Pa]

    Returns
    -------
    float
        Absolute pressure [Pa]
    """
    return standard_pressure(altitude) if barometer_from == "altitude" else barometer


def air_here(air: float) -> str:
    """Write the pressure of the air around for a sentence that refuses a vacuum beyond it.

    Parameters
    ----------
    air : float
        Pressure of the air around [Pa]

    Returns
    -------
    str
        For example ``the air pressure here, 29.92 inHg (101.3 kPa)``
    """
    return f"the air pressure here, {written('pressure', air, 'inHg', 'kPa', digits=4)}"


def gauge_inputs(
    span: str, grade: str, resolution: str, units: tuple[str, ...]
) -> tuple[Quantity, Choice, Quantity]:
    """Return the inputs that describe a dial gauge, with their defaults and units offered."""
    return (
        Quantity(
            id="gauge_span",
            label="Gauge span",
            kind="pressure",
            units=units,
            default=span,
            low="10 Pa",
            high="20 bar",
            help="From the lowest to the highest figure of the scale.",
        ),
        Choice(
            id="gauge_grade",
            label="Gauge grade",
            options=(
                *(Option(value=name, label=_GRADE_LABELS[name]) for name in GRADES),
                Option(value=NO_GRADE, label="not known: count the resolution only"),
            ),
            default=grade,
            help="Printed on many dials. Without a mark, take B for a new gauge, D for an old one.",
        ),
        Quantity(
            id="gauge_resolution",
            label="Gauge resolution",
            kind="pressure",
            units=units,
            default=resolution,
            low="0 Pa",
            high="1 bar",
            help="The smallest step that you can read: half a division of a dial.",
        ),
    )


def gauge_of(gauge_span: float, gauge_grade: str, gauge_resolution: float) -> Gauge:
    """Return the gauge that the inputs of `gauge_inputs` describe.

    Parameters
    ----------
    gauge_span : float
        Length of the scale [Pa]
    gauge_grade : str
        Accuracy grade, or ``none`` [-]
    gauge_resolution : float
        Smallest step that can be read [Pa]

    Returns
    -------
    Gauge
        Its scale starts at zero
    """
    grade = "" if gauge_grade == NO_GRADE else gauge_grade
    return Gauge(span=gauge_span, grade=grade, resolution=gauge_resolution)


def meter_inputs(
    meter: str, kind: str, units: tuple[str, ...], error: str, step: str, name: str = "meter"
) -> tuple[Quantity, Quantity]:
    """Return the inputs that describe an electric meter, such as ``ohmmeter``."""
    return (
        Quantity(
            id=f"{name}_error",
            label=f"Error of the {meter}",
            kind="ratio",
            units=("%",),
            default=error,
            low="0 %",
            high="20 %",
            help="Greatest error as a share of the reading, from the meter's booklet.",
        ),
        Quantity(
            id=f"{name}_step",
            label=f"Smallest step of the {meter}",
            kind=kind,
            units=units,
            default=step,
            low=f"0 {units[0]}",
            high=f"100 {units[0]}",
        ),
    )


def band_inputs(
    name: str,
    what: str,
    kind: str,
    units: tuple[str, ...],
    default: tuple[str, str],
    bounds: tuple[str, str],
) -> tuple[Quantity, Quantity]:
    """Return the inputs of a band that the vehicle's figures give; either side may stay empty."""
    return (
        Quantity(
            id=f"{name}_low",
            label=f"Least {what}",
            kind=kind,
            units=units,
            default=default[0],
            low=bounds[0],
            high=bounds[1],
            optional=True,
            help="From the vehicle's figures; at first an example. May stay empty.",
        ),
        Quantity(
            id=f"{name}_high",
            label=f"Greatest {what}",
            kind=kind,
            units=units,
            default=default[1],
            low=bounds[0],
            high=bounds[1],
            optional=True,
            help="From the vehicle's figures; at first an example. May stay empty.",
        ),
    )


def band_limit(name: str, low: float | None, high: float | None) -> Limit | None:
    """Return the limit that the inputs of `band_inputs` describe.

    Parameters
    ----------
    name : str
        The name that its inputs were made with [-]
    low : float
        Least value allowed, or ``None`` [SI unit of the reading]
    high : float
        Greatest value allowed, or ``None`` [SI unit of the reading]

    Returns
    -------
    Limit
        The limit, or ``None`` where both sides are empty

    Raises
    ------
    Refusal
        When the band is upside down.
    """
    if low is None and high is None:
        return None
    if low is not None and high is not None and low > high:
        raise Refusal({f"{name}_high": "The greatest value lies below the least one."})
    return Limit(low=low, high=high)

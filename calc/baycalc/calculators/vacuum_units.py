"""A vacuum or pressure reading in every unit, as gauge and as absolute pressure."""

from baycalc.declare import (
    Answer,
    Calculator,
    Choice,
    HandOver,
    Note,
    Option,
    Quantity,
    Refusal,
    Result,
    Shown,
    Source,
)
from baycalc.physics.air import standard_pressure
from baycalc.units import written

_ALL_UNITS = ("inHg", "kPa", "mmHg", "mbar", "psi", "inH2O", "Pa", "bar")


def vacuum_units(
    reading: float, reference: str, barometer_from: str, altitude: float, barometer: float
) -> Answer:
    """Convert a reading and relate it to the greatest vacuum possible at the place.

    Parameters
    ----------
    reading : float
        What the gauge shows; a vacuum counts downwards from the air around [Pa]
    reference : str
        ``vacuum``, ``gauge`` or ``absolute`` [-]
    barometer_from : str
        ``altitude`` or ``measured`` [-]
    altitude : float
        Altitude above sea level, used with ``altitude`` [m]
    barometer : float
        Pressure of the air around, used with ``measured`` [Pa]

    Returns
    -------
    Answer
        ``gauge``, ``absolute``, ``vacuum``, ``greatest``, ``air`` in Pa; ``share`` [-].

    Raises
    ------
    Refusal
        When the reading lies below zero absolute pressure at this place.
    """
    air = standard_pressure(altitude) if barometer_from == "altitude" else barometer
    gauge = {"vacuum": -reading, "gauge": reading, "absolute": reading - air}[reference]
    if gauge < -air:
        raise Refusal({"reading": _too_deep(reference, air)})
    vacuum = max(0.0, -gauge)
    return Answer(
        values={
            "gauge": gauge,
            "absolute": gauge + air,
            "vacuum": vacuum if gauge <= 0 else None,
            "air": air,
            "greatest": air,
            "share": vacuum / air if gauge <= 0 else None,
        },
        notes=_notes(vacuum / air),
    )


def _too_deep(reference: str, air: float) -> str:
    if reference == "absolute":
        return "An absolute pressure cannot be below zero."
    return (
        "No vacuum can be deeper than the air pressure here, "
        f"{written('pressure', air, 'inHg', 'kPa', digits=4)}: check the reading, the unit and "
        "the altitude."
    )


def _notes(share: float) -> tuple[Note, ...]:
    if share < 0.97:
        return ()
    return (
        Note(
            text="This is within 3 % of the greatest vacuum possible here. A hand pump rarely "
            "gets so far: check the altitude and the zero of the gauge."
        ),
    )


CALCULATOR = Calculator(
    id="vacuum_units",
    title="Vacuum and pressure units",
    summary="One reading in all units, gauge and absolute, and how near it is to the greatest "
    "vacuum that this place allows.",
    job="Vacuum and pressure",
    words=("inches of mercury", "millibar", "absolute pressure", "gauge pressure", "convert"),
    inputs=(
        Quantity(
            id="reading",
            label="Reading",
            kind="pressure",
            units=_ALL_UNITS,
            default="20 inHg",
            help="What the gauge shows, without a minus sign for a vacuum.",
        ),
        Choice(
            id="reference",
            label="Measured as",
            options=(
                Option(value="vacuum", label="vacuum (below the air around)"),
                Option(value="gauge", label="gauge pressure (above the air around)"),
                Option(value="absolute", label="absolute pressure"),
            ),
            default="vacuum",
        ),
        Choice(
            id="barometer_from",
            label="Air pressure from",
            options=(
                Option(value="altitude", label="altitude"),
                Option(value="measured", label="a barometer or the scan tool's BARO"),
            ),
            default="altitude",
        ),
        Quantity(
            id="altitude",
            label="Altitude",
            kind="length",
            units=("ft", "m"),
            default="0 ft",
            low="-500 m",
            high="11000 m",
            shown=Shown(choice="barometer_from", values=("altitude",)),
        ),
        Quantity(
            id="barometer",
            label="Barometer, not reduced to sea level",
            kind="pressure",
            units=("inHg", "kPa", "mbar", "mmHg"),
            default="29.92 inHg",
            low="20 kPa",
            high="110 kPa",
            shown=Shown(choice="barometer_from", values=("measured",)),
        ),
    ),
    results=(
        Result(id="vacuum", label="Vacuum", kind="pressure", units=("inHg", "kPa")),
        Result(
            id="greatest",
            label="Greatest vacuum possible here",
            kind="pressure",
            units=("inHg", "kPa"),
        ),
        Result(id="share", label="Share of the greatest", kind="ratio", units=("%",), digits=3),
        Result(id="gauge", label="Gauge", kind="pressure", units=_ALL_UNITS, table="units"),
        Result(id="absolute", label="Absolute", kind="pressure", units=_ALL_UNITS, table="units"),
    ),
    compute=vacuum_units,
    meaning="A vacuum gauge counts from the air around it. The higher the place, the thinner "
    "that air, and the less vacuum an engine or a hand pump can make: what reads 20 inHg at "
    "the sea reads about 17 inHg at 1600 m on the same engine. Compare with the share, not "
    "with the number alone, when a limit was written for sea level.",
    leaves_out="Weather moves the air pressure by some 3 % either way; the standard atmosphere "
    "does not know it. A barometer value from a weather report is reduced to sea level and is "
    "not the pressure at your place.",
    sources=(
        Source(text="NIST SP 811:2008, Appendix B.8 (unit factors)"),
        Source(text="US Standard Atmosphere 1976; ISO 2533:1975 (pressure at an altitude)"),
    ),
    hands_over=(
        HandOver(to="vacuum_hold", label="Hold test from this vacuum", carries={"start": "vacuum"}),
    ),
    examples=(
        {"reading": "20 inHg", "altitude": "1600 m"},
        {"reading": "500", "reading.unit": "mbar", "reference": "absolute"},
        {"reading": "14.5 psi", "reference": "gauge", "altitude": "2000 ft"},
        {"reading": "457 mmHg", "barometer_from": "measured", "barometer": "980 mbar"},
    ),
)

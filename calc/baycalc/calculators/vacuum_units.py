"""A vacuum or pressure reading in every unit, as gauge and as absolute pressure."""

from baycalc.forms.declare import (
    Answer,
    Calculator,
    Choice,
    HandOver,
    Note,
    Option,
    Quantity,
    Refusal,
    Result,
    Source,
)
from baycalc.forms.shared_inputs import PLACE, air_here, air_pressure, barometer_inputs

_ALL_UNITS = ("inHg", "kPa", "mmHg", "mbar", "psi", "inH2O", "Pa", "bar")
_NO_MINUS = (
    "Type a vacuum without a minus sign. If your gauge shows a minus for it, choose gauge "
    "pressure below."
)


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
        ``gauge``, ``absolute``, ``vacuum``, ``greatest`` in Pa; ``share`` [-]; ``state``.

    Raises
    ------
    Refusal
        When the reading lies below zero absolute pressure at this place, or is a vacuum with a
        minus sign.
    """
    air = air_pressure(barometer_from, altitude, barometer)
    if reference == "vacuum" and reading < 0:
        raise Refusal({"reading": _NO_MINUS})
    gauge = {"vacuum": -reading, "gauge": reading, "absolute": reading - air}[reference]
    if gauge < -air:
        raise Refusal({"reading": _too_deep(reference, air)})
    vacuum = max(0.0, -gauge)
    return Answer(
        values={
            "gauge": gauge,
            "absolute": gauge + air,
            "state": _state(gauge),
            "vacuum": vacuum if gauge <= 0 else None,
            "greatest": air,
            "share": vacuum / air if gauge <= 0 else None,
        },
        notes=_notes(vacuum / air),
    )


def _state(gauge: float) -> str:
    if gauge > 0:
        return "above the air around: a pressure, no vacuum"
    return "below the air around: a vacuum" if gauge < 0 else "equal to the air around"


def _too_deep(reference: str, air: float) -> str:
    if reference == "absolute":
        return "An absolute pressure cannot be below zero."
    return (
        f"No vacuum can be deeper than {air_here(air)}: check the reading, the unit and the "
        "altitude."
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
            low="-1000 bar",
            high="1000 bar",
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
            help="Gauges count from the air around; the scan tool's MAP and BARO are absolute.",
        ),
        *barometer_inputs(),
    ),
    results=(
        Result(
            id="state",
            label="This is",
            kind="text",
            help="Which side of the pressure of the air around.",
        ),
        Result(
            id="vacuum",
            label="Vacuum",
            kind="pressure",
            units=("inHg", "kPa"),
            help="How far below the air around; nothing for a pressure above it.",
        ),
        Result(
            id="greatest",
            label="Greatest vacuum possible here",
            kind="pressure",
            units=("inHg", "kPa"),
            help="All of the air's pressure here.",
        ),
        Result(
            id="share",
            label="Share of the greatest",
            kind="ratio",
            units=("%",),
            digits=3,
            help="The same pump reaches the same share at any altitude.",
        ),
        Result(
            id="gauge",
            label="Gauge",
            kind="pressure",
            units=_ALL_UNITS,
            table="units",
            help="Above the air around; negative for a vacuum.",
        ),
        Result(
            id="absolute",
            label="Absolute",
            kind="pressure",
            units=_ALL_UNITS,
            table="units",
            help="Above nothing at all, as MAP and BARO.",
        ),
    ),
    compute=vacuum_units,
    meaning="A vacuum gauge counts from the air around it. The higher the place, the thinner "
    "that air, and the less vacuum an engine or a hand pump can make: an idling engine shows "
    "about 1 inHg less for each 1000 ft, a hand pump reaches the same share of the greatest. "
    "Mind it where a limit was written for sea level.",
    leaves_out="Weather moves the air pressure by some 3 % either way; the standard atmosphere "
    "does not know it. A barometer value from a weather report is reduced to sea level and is "
    "not the pressure at your place. The rule of 1 inHg for each 1000 ft is common practice, no "
    "source.",
    sources=(
        Source(text="NIST SP 811:2008, Appendix B.8 (unit factors)"),
        Source(text="US Standard Atmosphere 1976; ISO 2533:1975 (pressure at an altitude)"),
    ),
    hands_over=(
        HandOver(
            to="vacuum_hold",
            label="Hold test from this vacuum",
            carries={"start": "vacuum", **PLACE},
        ),
    ),
    examples=(
        {},
        {"reading": "20 inHg", "altitude": "1600 m"},
        {"reading": "500", "reading.unit": "mbar", "reference": "absolute"},
        {"reading": "14.5 psi", "reference": "gauge", "altitude": "2000 ft"},
        {"reading": "457 mmHg", "barometer_from": "measured", "barometer": "980 mbar"},
        {"reading": "-60 kPa", "reference": "gauge"},
        {"reading": "29.92 inHg"},
        {"reading": "24,6", "reading.unit": "inHg", "altitude": "5280 ft"},
        {"reading": "0 Pa"},
        {"reading": "0 Pa", "reference": "absolute"},
        {
            "reading": "35 kPa",
            "reference": "absolute",
            "barometer_from": "measured",
            "barometer": "101 kPa",
        },
        {"reading": "1\u2009200 inH2O", "reference": "gauge"},
    ),
)

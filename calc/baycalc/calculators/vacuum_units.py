"""A vacuum or pressure reading in every unit, as gauge and as absolute pressure."""

from collections.abc import Iterator

from baycalc.forms.declare import Answer, Calculator, refuse
from baycalc.forms.form import (
    choice,
    form,
    hand_over,
    part,
    phrases,
    published,
    quantity,
    result,
    taking,
    text,
)
from baycalc.forms.shared_inputs import PLACE, Place, air_here
from baycalc.forms.sources import INCHES
from baycalc.quantities.kinds import PER_CENT, VACUUM, kind

ALL_UNITS = kind("pressure", "inHg", "kPa", "mmHg", "mbar", "psi", "inH2O", "Pa", "bar")


@form
class Reading:
    """A reading, what it counts from, and the place."""

    reading: float = quantity("Reading", ALL_UNITS, "20 inHg", "-1000 bar to 1000 bar").says(
        "What the gauge shows, without a minus sign for a vacuum."
    )
    reference: str = choice(
        "Measured as",
        {
            "vacuum": "vacuum (below the air around)",
            "gauge": "gauge pressure (above the air around)",
            "absolute": "absolute pressure",
        },
    ).says("Gauges count from the air around; the scan tool's MAP and BARO are absolute.")
    place: Place = part(Place)


def vacuum_units(asked: Reading) -> Answer:
    """Convert a reading and relate it to the greatest vacuum possible at the place.

    Raises
    ------
    Refusal
        When the reading lies below zero absolute pressure at this place, or is a vacuum with a
        minus sign.
    """
    air, reading = asked.place.air(), asked.reading
    gauge = {"vacuum": -reading, "gauge": reading, "absolute": reading - air}[asked.reference]
    _refuse(asked, gauge, air)
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
        notes=tuple(_notes(vacuum / air)),
    )


def _refuse(asked: Reading, gauge: float, air: float) -> None:
    if asked.reference == "vacuum" and asked.reading < 0:
        refuse(
            reading="Type a vacuum without a minus sign. If your gauge shows a minus for it, "
            "choose gauge pressure below."
        )
    too_deep = (
        f"No vacuum can be deeper than {air_here(air)}: check the reading, the unit and the "
        "altitude."
    )
    if asked.reference == "absolute":
        too_deep = "An absolute pressure cannot be below zero."
    refuse(reading=gauge < -air and too_deep)


def _state(gauge: float) -> str:
    if gauge > 0:
        return "above the air around: a pressure, no vacuum"
    return "below the air around: a vacuum" if gauge < 0 else "equal to the air around"


def _notes(share: float) -> Iterator[str]:
    if share >= 0.97:
        yield (
            "This is within 3 % of the greatest vacuum possible here. A hand pump rarely "
            "gets so far: check the altitude and the zero of the gauge."
        )


RESULTS = (
    text("state", "This is").says("Which side of the pressure of the air around."),
    result("vacuum", "Vacuum", VACUUM).says(
        "How far below the air around; nothing for a pressure above it."
    ),
    result("greatest", "Greatest vacuum possible here", VACUUM).says(
        "All of the air's pressure here."
    ),
    result("share", "Share of the greatest", PER_CENT, 3).says(
        "The same pump reaches the same share at any altitude."
    ),
    result("gauge", "Gauge", ALL_UNITS, table="units").says(
        "Above the air around; negative for a vacuum."
    ),
    result("absolute", "Absolute", ALL_UNITS, table="units").says(
        "Above nothing at all, as MAP and BARO."
    ),
)

CALCULATOR = Calculator(
    **taking(Reading, vacuum_units, question="reference"),
    title="Vacuum and pressure units",
    summary="One reading in all units, gauge and absolute, and how near it is to the greatest "
    "vacuum that this place allows.",
    job="Vacuum and pressure",
    words=phrases("inches of mercury, millibar, absolute pressure, gauge pressure, convert"),
    results=RESULTS,
    meaning="A vacuum gauge counts from the air around it. The higher the place, the thinner "
    "that air, and the less vacuum an engine or a hand pump can make: an idling engine shows "
    "about 1 inHg less for each 1000 ft, a hand pump reaches the same share of the greatest. "
    "Mind it where a limit was written for sea level.",
    leaves_out="Weather moves the air pressure by some 3 % either way; the standard atmosphere "
    "does not know it. A barometer value from a weather report is reduced to sea level and is "
    "not the pressure at your place. The rule of 1 inHg for each 1000 ft is common practice, no "
    "source.",
    sources=INCHES
    + published("US Standard Atmosphere 1976; ISO 2533:1975 (pressure at an altitude)"),
    hands_over=hand_over("vacuum_hold", "Hold test from this vacuum", f"start=vacuum {PLACE}"),
)

"""The air pressure at a place: from its altitude, or from a weather report, and back."""

import math

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
    Shown,
    Source,
)
from baycalc.forms.shared_inputs import altitude_input, station_pressure_input
from baycalc.measurement.decision import Limit, Verdict, judge
from baycalc.physics.air import SEA_LEVEL_PRESSURE, standard_altitude, standard_pressure
from baycalc.physics.weather import altimeter_setting, reduction_factor, station_pressure

_UNITS = ("inHg", "kPa")
_ALL_UNITS = ("inHg", "kPa", "mbar", "mmHg", "psi", "inH2O", "Pa", "bar")
_LOWEST_PRESSURE, _HIGHEST_PRESSURE = 20e3, 115e3
_WEATHER = {"altitude": 1000.0, "report": 100.0, "reading": 50.0}
_SENSOR_STEP = 1000.0
_NOWHERE = "With this altitude it means a pressure that the air has nowhere, on land or above."


def barometer(
    known: str,
    altitude: float,
    report: float,
    reading: float,
    reduction: str,
    outside_temperature: float,
    seen: float | None,
    allowed_error: float,
) -> Answer:
    """Relate the air pressure at a place, its altitude and the weather report.

    Parameters
    ----------
    known : str
        ``altitude``, ``report`` or ``reading`` [-]
    altitude : float
        Altitude of the place [m]
    report : float
        Pressure in the weather report, reduced to sea level, used with ``report`` [Pa]
    reading : float
        Pressure measured at the place, used with ``reading`` [Pa]
    reduction : str
        ``standard`` or ``temperature``: how the report was reduced [-]
    outside_temperature : float
        Temperature of the air outside, used with ``temperature`` [K]
    seen : float
        Air pressure that the scan tool shows, or ``None`` [Pa]
    allowed_error : float
        How far the sensor may be off [Pa]

    Returns
    -------
    Answer
        ``pressure``, ``report`` in Pa, ``pressure_altitude`` in m, ``share`` [-], ``verdict``.

    Raises
    ------
    Refusal
        When report and altitude mean a pressure that the air has nowhere.
    """
    pressure = _pressure(known, altitude, report, reading, reduction, outside_temperature)
    if not _LOWEST_PRESSURE <= pressure <= _HIGHEST_PRESSURE:
        raise Refusal({known: _NOWHERE})
    return Answer(
        values={
            "pressure": pressure,
            "report_here": _report(pressure, altitude, reduction, outside_temperature),
            "pressure_altitude": standard_altitude(pressure),
            "share": pressure / SEA_LEVEL_PRESSURE,
            "verdict": None if seen is None else _judge(seen, pressure, allowed_error, known),
        },
        notes=_notes(known),
    )


def _pressure(
    known: str,
    altitude: float,
    report: float,
    reading: float,
    reduction: str,
    outside_temperature: float,
) -> float:
    if known == "altitude":
        return standard_pressure(altitude)
    if known == "reading":
        return reading
    if reduction == "temperature":
        return report / reduction_factor(altitude, outside_temperature)
    return station_pressure(report, altitude)


def _report(pressure: float, altitude: float, reduction: str, outside_temperature: float) -> float:
    if reduction == "temperature":
        return pressure * reduction_factor(altitude, outside_temperature)
    return altimeter_setting(pressure, altitude)


def _judge(seen: float, pressure: float, allowed_error: float, known: str) -> Verdict:
    step = _SENSOR_STEP / (2 * math.sqrt(3))
    advice = "Take the pressure of the nearest weather report instead of the altitude alone."
    if known != "altitude":
        advice = "Repeat it with a good barometer beside the car, and allow the sensor its step."
    return judge(
        seen,
        math.hypot(step, _WEATHER[known]),
        Limit(low=pressure - allowed_error, high=pressure + allowed_error),
        kind="pressure",
        advice=advice,
    )


def _notes(known: str) -> tuple[Note, ...]:
    if known != "altitude":
        return ()
    return (Note(text="This is the mean of all weather: a high or a low moves it by up to 3 %."),)


CALCULATOR = Calculator(
    id="barometer",
    title="Air pressure at your place",
    summary="The pressure of the air where the car stands, from the altitude or from a weather "
    "report; what a report would say; and whether the car's own sensor agrees.",
    job="Vacuum and pressure",
    words=("BARO", "altitude", "weather report", "sea level", "altimeter", "MAP sensor", "QNH"),
    inputs=(
        Choice(
            id="known",
            label="What you know",
            options=(
                Option(value="altitude", label="the altitude only"),
                Option(value="report", label="the altitude and a weather report"),
                Option(value="reading", label="the altitude and a barometer here"),
            ),
            default="altitude",
            help="A weather report is nearer to the truth than the altitude alone.",
        ),
        altitude_input(default="1000 ft", help="Height of the place above the sea."),
        Quantity(
            id="report",
            label="Pressure in the report",
            kind="pressure",
            units=("inHg", "mbar", "hPa", "kPa", "mmHg"),
            default="30.10 inHg",
            low="85 kPa",
            high="109 kPa",
            help="As the weather service gives it: reduced to sea level.",
            shown=Shown(choice="known", values=("report",)),
        ),
        station_pressure_input(
            "reading",
            label="Pressure on the barometer",
            default="29.00 inHg",
            help="As it stands there, not set to sea level.",
            shown=Shown(choice="known", values=("reading",)),
        ),
        Choice(
            id="reduction",
            label="The report is reduced",
            options=(
                Option(value="standard", label="by the standard atmosphere (airfields, QNH)"),
                Option(value="temperature", label="with the temperature outside (weather maps)"),
            ),
            default="standard",
            help="Both agree at sea level; at 1500 m on a cold day they differ by 1 to 2 %.",
            shown=Shown(choice="known", values=("report", "reading")),
        ),
        Quantity(
            id="outside_temperature",
            label="Temperature outside",
            kind="temperature",
            units=("°F", "°C"),
            default="59 °F",
            low="-60 °C",
            high="60 °C",
            help="Of the last hours rather than of the minute.",
            shown=Shown(choice="reduction", values=("temperature",)),
        ),
        Quantity(
            id="seen",
            label="BARO on the scan tool, if you want it judged",
            kind="pressure",
            units=("inHg", "kPa", "mbar"),
            default=None,
            low="10 kPa",
            high="130 kPa",
            help="Ignition on, engine off; without a BARO the manifold sensor shows the same.",
        ),
        Quantity(
            id="allowed_error",
            label="The sensor may be off by",
            kind="pressure",
            units=("inHg", "kPa", "mbar"),
            default="1.2 inHg",
            low="0.1 kPa",
            high="20 kPa",
            help="From the vehicle's data; 4 kPa is common practice where it is silent.",
        ),
    ),
    results=(
        Result(
            id="pressure",
            label="Air pressure here",
            kind="pressure",
            units=_ALL_UNITS,
            table="units",
            help="Absolute, and the greatest vacuum that a gauge can show here.",
        ),
        Result(
            id="report_here",
            label="A weather report would say",
            kind="pressure",
            units=("inHg", "mbar"),
            help="This pressure reduced to sea level.",
        ),
        Result(
            id="pressure_altitude",
            label="Altitude of this pressure",
            kind="length",
            units=("ft", "m"),
            digits=3,
            help="Where the standard atmosphere has it.",
        ),
        Result(
            id="share",
            label="Share of sea level",
            kind="ratio",
            units=("%",),
            digits=3,
            help="The vacuum that a pump can reach shrinks to this share.",
        ),
        Result(
            id="verdict",
            label="Car's own sensor",
            kind="verdict",
            units=_UNITS,
            help="BARO held against this pressure with its allowed error.",
        ),
    ),
    compute=barometer,
    meaning="The engine and a hand pump can only pull against the air that is there. An idling "
    "engine shows about 1 inHg less for each 1000 ft and is as good. A BARO value that is wrong "
    "by more than the weather can explain spoils the mixture at the start and every vacuum limit "
    "that you work out from it.",
    leaves_out="The report by temperature leaves the water vapour out (less than 0.3 % up to "
    "1500 m). Wind around the building and the fan of an extractor move the pressure in a "
    "closed shop by far less than 0.1 kPa. The spread of the weather (1 kPa as standard "
    "uncertainty) and of a report (0.1 kPa), and the rule of 1 inHg for each 1000 ft, are common "
    "practice, no source.",
    sources=(
        Source(text="US Standard Atmosphere 1976; ISO 2533:1975"),
        Source(text="Smithsonian Meteorological Tables, 1951, p. 269 (altimeter setting)"),
        Source(text="WMO-No. 8, part I, chapter 3 (reduction with the temperature)"),
        Source(text="JCGM 106:2012; ILAC-G8:09/2019 (guard band at k = 2)"),
    ),
    hands_over=(
        HandOver(
            to="vacuum_units",
            label="A vacuum reading at this pressure",
            carries={"barometer": "pressure"},
            sets={"barometer_from": "measured"},
        ),
        HandOver(
            to="vacuum_hold",
            label="A hold test at this pressure",
            carries={"barometer": "pressure"},
            sets={"barometer_from": "measured"},
        ),
    ),
    examples=(
        {},
        {"altitude": "1609 m"},
        {"altitude": "-430 m"},
        {"altitude": "6000 m"},
        {"altitude": "11000 m"},
        {"known": "report", "report": "30.20 inHg", "altitude": "5045 ft"},
        {"known": "report", "report": "1013 mbar", "altitude": "300 m", "seen": "98 kPa"},
        {
            "known": "report",
            "report": "1030 hPa",
            "altitude": "1500 m",
            "reduction": "temperature",
            "outside_temperature": "-15 °C",
        },
        {"known": "reading", "reading": "24.63 inHg", "altitude": "1609 m"},
        {
            "known": "reading",
            "reading": "95,4 kPa",
            "altitude": "500 m",
            "reduction": "temperature",
            "outside_temperature": "86 °F",
            "seen": "91 kPa",
        },
        {"altitude": "5000 ft", "seen": "84 kPa"},
        {"altitude": "0 m", "seen": "25 inHg", "allowed_error": "3 kPa"},
        {"altitude": "0 m", "seen": "98 kPa"},
    ),
)

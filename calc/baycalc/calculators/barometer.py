"""The air pressure at a place: from its altitude, or from a weather report, and back."""

import math

from baycalc.forms.declare import Answer, Calculator, Refusal
from baycalc.forms.form import (
    choice,
    form,
    hand_over,
    phrases,
    published,
    quantity,
    result,
    taking,
    verdict,
)
from baycalc.forms.shared_inputs import barometer_reading, height
from baycalc.forms.sources import GUARD_BAND
from baycalc.measurement.decision import Limit, Verdict, judge
from baycalc.physics.air import SEA_LEVEL_PRESSURE, standard_altitude, standard_pressure
from baycalc.physics.weather import altimeter_setting, reduction_factor, station_pressure
from baycalc.quantities.kinds import LENGTH, PER_CENT, TEMPERATURE, VACUUM, kind

REPORT = kind("pressure", "inHg", "mbar", "hPa", "kPa", "mmHg")
SENSOR = kind("pressure", "inHg", "kPa", "mbar")
ALL_UNITS = kind("pressure", "inHg", "kPa", "mbar", "mmHg", "psi", "inH2O", "Pa", "bar")
REDUCED = kind("pressure", "inHg", "mbar")
_LOWEST_PRESSURE, _HIGHEST_PRESSURE = 20e3, 115e3
_WEATHER = {"altitude": 1000.0, "report": 100.0, "reading": 50.0}
_SENSOR_STEP = 1000.0
_NOWHERE = "With this altitude it means a pressure that the air has nowhere, on land or above."


@form
class Weather:
    """A place, its weather, and what the car says of it."""

    known: str = choice(
        "What you know",
        {
            "altitude": "the altitude only",
            "report": "the altitude and a weather report",
            "reading": "the altitude and a barometer here",
        },
    ).says("A weather report is nearer to the truth than the altitude alone.")
    altitude: float = height("1000 ft").says("Height of the place above the sea.")
    report: float = quantity(
        "Pressure in the report", REPORT, "30.10 inHg", "85 kPa to 109 kPa"
    ).says("As the weather service gives it: reduced to sea level.", "known=report")
    reading: float = barometer_reading("Pressure on the barometer", "29.00 inHg").says(
        "As it stands there, not set to sea level.", "known=reading"
    )
    reduction: str = choice(
        "The report is reduced",
        {
            "standard": "by the standard atmosphere (airfields, QNH)",
            "temperature": "with the temperature outside (weather maps)",
        },
    ).says(
        "Both agree at sea level; at 1500 m on a cold day they differ by 1 to 2 %.",
        "known=report|reading",
    )
    outside_temperature: float = quantity(
        "Temperature outside", TEMPERATURE, "59 °F", "-60 °C to 60 °C"
    ).says("Of the last hours rather than of the minute.", "reduction=temperature")
    seen: float | None = quantity(
        "BARO on the scan tool, if you want it judged", SENSOR, None, "10 kPa to 130 kPa"
    ).says("Ignition on, engine off; without a BARO the manifold sensor shows the same.")
    allowed_error: float = quantity(
        "The sensor may be off by", SENSOR, "1.2 inHg", "0.1 kPa to 20 kPa"
    ).says("From the vehicle's data; 4 kPa is common practice where it is silent.")

    def pressure(self) -> float:
        """Return the pressure of the air here [Pa]."""
        if self.known == "altitude":
            return standard_pressure(self.altitude)
        if self.known == "reading":
            return self.reading
        if self.reduction == "temperature":
            return self.report / reduction_factor(self.altitude, self.outside_temperature)
        return station_pressure(self.report, self.altitude)


def barometer(asked: Weather) -> Answer:
    """Relate the air pressure at a place, its altitude and the weather report.

    Raises
    ------
    Refusal
        When report and altitude mean a pressure that the air has nowhere.
    """
    pressure = asked.pressure()
    if not _LOWEST_PRESSURE <= pressure <= _HIGHEST_PRESSURE:
        raise Refusal({asked.known: _NOWHERE})
    note = "This is the mean of all weather: a high or a low moves it by up to 3 %."
    return Answer(
        values={
            "pressure": pressure,
            "report_here": _reduced(asked, pressure),
            "pressure_altitude": standard_altitude(pressure),
            "share": pressure / SEA_LEVEL_PRESSURE,
            "verdict": None if asked.seen is None else _judge(asked, asked.seen, pressure),
        },
        notes=(note,) if asked.known == "altitude" else (),
    )


def _reduced(asked: Weather, pressure: float) -> float:
    """Return what a weather report would say of a pressure here [Pa]."""
    if asked.reduction == "temperature":
        return pressure * reduction_factor(asked.altitude, asked.outside_temperature)
    return altimeter_setting(pressure, asked.altitude)


def _judge(asked: Weather, seen: float, pressure: float) -> Verdict:
    advice = "Take the pressure of the nearest weather report instead of the altitude alone."
    if asked.known != "altitude":
        advice = "Repeat it with a good barometer beside the car, and allow the sensor its step."
    return judge(
        seen,
        math.hypot(_SENSOR_STEP / (2 * math.sqrt(3)), _WEATHER[asked.known]),
        Limit(low=pressure - asked.allowed_error, high=pressure + asked.allowed_error),
        kind=VACUUM,
        advice=advice,
    )


RESULTS = (
    result("pressure", "Air pressure here", ALL_UNITS, table="units").says(
        "Absolute, and the greatest vacuum that a gauge can show here."
    ),
    result("report_here", "A weather report would say", REDUCED).says(
        "This pressure reduced to sea level."
    ),
    result("pressure_altitude", "Altitude of this pressure", LENGTH, 3).says(
        "Where the standard atmosphere has it."
    ),
    result("share", "Share of sea level", PER_CENT, 3).says(
        "The vacuum that a pump can reach shrinks to this share."
    ),
    verdict("verdict", "Car's own sensor", VACUUM, 4).says(
        "BARO held against this pressure with its allowed error."
    ),
)

CALCULATOR = Calculator(
    **taking(Weather, barometer, measured="altitude"),
    title="Air pressure at your place",
    summary="The pressure of the air where the car stands, from the altitude or from a weather "
    "report; what a report would say; and whether the car's own sensor agrees.",
    job="Vacuum and pressure",
    words=phrases("BARO, altitude, weather report, sea level, altimeter, MAP sensor, QNH"),
    results=RESULTS,
    meaning="The engine and a hand pump can only pull against the air that is there. An idling "
    "engine shows about 1 inHg less for each 1000 ft and is as good. A BARO value that is wrong "
    "by more than the weather can explain spoils the mixture at the start and every vacuum limit "
    "that you work out from it.",
    leaves_out="The report by temperature leaves the water vapor out (less than 0.3 % up to "
    "1500 m). Wind around the building and the fan of an extractor move the pressure in a "
    "closed shop by far less than 0.1 kPa. The spread of the weather (1 kPa as standard "
    "uncertainty) and of a report (0.1 kPa), and the rule of 1 inHg for each 1000 ft, are common "
    "practice, no source.",
    sources=published(
        "US Standard Atmosphere 1976; ISO 2533:1975",
        "Smithsonian Meteorological Tables, 1951, p. 269 (altimeter setting)",
        "WMO-No. 8, part I, chapter 3 (reduction with the temperature)",
    )
    + GUARD_BAND,
    hands_over=hand_over(
        "vacuum_units",
        "A vacuum reading at this pressure",
        "barometer=pressure",
        barometer_from="measured",
    )
    + hand_over(
        "vacuum_hold",
        "A hold test at this pressure",
        "barometer=pressure",
        barometer_from="measured",
    ),
)

"""Inputs that several calculators share, so that they look and behave the same everywhere."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from baycalc.forms.declare import Refusal
from baycalc.forms.form import Group, choice, form, quantity, record, typed_text
from baycalc.measurement.decision import Limit
from baycalc.measurement.instrument import GRADES, Gauge
from baycalc.physics.air import standard_pressure
from baycalc.quantities.kinds import (
    LENGTH,
    NUMBER,
    PER_CENT,
    TEMPERATURE,
    VACUUM,
    WIRE_SIZE,
    Kind,
    kind,
)
from baycalc.quantities.units import label
from baycalc.records.curve import Curve, read_curve
from baycalc.records.table import RecordError

STATION_PRESSURE = kind("pressure", "inHg", "kPa", "mbar", "mmHg")
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

PLACE = "barometer_from altitude barometer"
"""What a link to another calculator carries of the inputs of `Place`."""


def height(default: str) -> Any:
    """Declare how high the place lies."""
    return quantity("Altitude", LENGTH, default, "-500 m to 11000 m")


def barometer_reading(label: str, default: str) -> Any:
    """Declare what a barometer shows that is not reduced to sea level."""
    return quantity(label, STATION_PRESSURE, default, "20 kPa to 110 kPa")


@form
class Place:
    """How much the air around presses: from the altitude, or measured."""

    barometer_from: str = choice(
        "Air pressure from",
        {"altitude": "altitude", "measured": "a barometer or the scan tool's BARO"},
    ).says("The scan tool shows it with the ignition on and the engine off.")
    altitude: float = height("0 ft").says(
        "Height of the workshop above the sea.", "barometer_from=altitude"
    )
    barometer: float = barometer_reading("Barometer, not reduced to sea level", "29.92 inHg").says(
        "A weather report gives it reduced to the sea: see the barometer calculator.",
        "barometer_from=measured",
    )

    def air(self) -> float:
        """Return the absolute pressure of the air around [Pa]."""
        if self.barometer_from == "altitude":
            return standard_pressure(self.altitude)
        return self.barometer


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
    return f"the air pressure here, {VACUUM.written(air, digits=4)}"


@dataclass(frozen=True, slots=True)
class DialGauge:
    """A gauge as it is described on a form.

    Parameters
    ----------
    span : float
        Length of the scale, from zero [Pa]
    grade : str
        Accuracy grade, or ``none``
    resolution : float
        Smallest step that can be read [Pa]
    """

    span: float
    grade: str
    resolution: float

    def gauge(self) -> Gauge:
        """Return the gauge that this describes."""
        grade = "" if self.grade == NO_GRADE else self.grade
        return Gauge(span=self.span, grade=grade, resolution=self.resolution)


def dial_gauge(span: str, grade: str, resolution: str, kind: Kind) -> Any:
    """Declare a dial gauge, with its defaults and the units offered."""
    grades = {name: _GRADE_LABELS[name] for name in GRADES}
    grades[NO_GRADE] = "not known: count the resolution only"
    asked = {
        "span": quantity("Gauge span", kind, span, "10 Pa to 20 bar").says(
            "From the lowest to the highest figure of the scale."
        ),
        "grade": choice("Gauge grade", grades, grade).says(
            "Printed on many dials. Without a mark, take B for a new gauge, D for an old one."
        ),
        "resolution": quantity("Gauge resolution", kind, resolution, "0 Pa to 1 bar").says(
            "The smallest step that you can read: half a division of a dial."
        ),
    }
    return Group(DialGauge, asked, "gauge_{}", "gauge")


@dataclass(frozen=True, slots=True)
class Meter:
    """An electric meter as it is described on a form.

    Parameters
    ----------
    error : float
        Greatest error as a share of the reading [-]
    step : float
        Smallest step [SI unit of the reading]
    """

    error: float
    step: float

    def gauge(self) -> Gauge:
        """Return the instrument that this describes."""
        return Gauge(of_reading=self.error, resolution=self.step)


def meter_error(what: str, error: str = "2 %") -> Any:
    """Declare the greatest error of a meter, such as ``ohmmeter``."""
    return quantity(f"Error of the {what}", PER_CENT, error, "0 % to 20 %").says(
        "Greatest error as a share of the reading, from the meter's booklet."
    )


def electric_meter(what: str, kind: Kind, error: str, step: str, named: str = "meter_{}") -> Any:
    """Declare an electric meter, such as ``ohmmeter``, with its defaults."""
    unit = kind.units[0]
    asked = {
        "error": meter_error(what, error),
        "step": quantity(f"Smallest step of the {what}", kind, step, f"0 {unit} to 100 {unit}"),
    }
    return Group(Meter, asked, named, "gauge")


@dataclass(frozen=True, slots=True)
class FigureBand:
    """A band that the vehicle's figures give.

    Parameters
    ----------
    low : float
        Least value allowed, or ``None`` [SI unit of the reading]
    high : float
        Greatest value allowed, or ``None`` [SI unit of the reading]
    """

    low: float | None
    high: float | None

    def limit(self, name: str) -> Limit | None:
        """Return the limit that this describes, or ``None`` where both sides are empty.

        Parameters
        ----------
        name : str
            The name that its inputs were made with

        Raises
        ------
        Refusal
            When the band is upside down.
        """
        if self.low is None and self.high is None:
            return None
        if self.low is not None and self.high is not None and self.low > self.high:
            raise Refusal({f"{name}_high": "The greatest value lies below the least one."})
        return Limit(low=self.low, high=self.high)


def band(name: str, what: str, kind: Kind, default: tuple[str, str], span: str) -> Any:
    """Declare a band that the vehicle's figures give; either side may stay empty."""
    help = "From the vehicle's figures; at first an example. May stay empty."
    least, greatest = default
    asked = {
        "low": quantity(f"Least {what}", kind, least, span, optional=True).says(help),
        "high": quantity(f"Greatest {what}", kind, greatest, span, optional=True).says(help),
    }
    return Group(FigureBand, asked, f"{name}_{{}}", "limits")


def relay_temperature(label: str, default: str) -> Any:
    """Declare a temperature at or in a relay."""
    return quantity(label, TEMPERATURE, default, "-50 °C to 180 °C")


@dataclass(frozen=True, slots=True)
class Conductor:
    """The conductor of one side, with its contacts.

    Parameters
    ----------
    conductor : float
        Cross-section [m2]
    length : float
        Length [m]
    joints : float
        Contacts in it [-]
    """

    conductor: float
    length: float
    joints: float


def wire(side: str, size: str, length: str, joints: str) -> Any:
    """Declare the conductor of one side of a circuit, with its contacts."""
    asked = {
        "conductor": quantity(f"Conductor of the {side}", WIRE_SIZE, size, "0.1 mm2 to 110 mm2"),
        "length": quantity(f"Length of the {side}", LENGTH, length, "0 m to 50 m"),
        "joints": quantity(f"Contacts in the {side}", NUMBER, joints, "0 to 50").says(
            "Count a fuse as two, a relay contact as one, a connector pin as one."
        ),
    }
    return Group(Conductor, asked, f"{side}_{{}}")


@dataclass(frozen=True, slots=True)
class Recorded:
    """A record as it is described on a form: its columns, units, and the part that is wanted.

    Parameters
    ----------
    record : str
        The record as text
    time_column : str
        Name or number of the column of time, or empty
    signal_column : str
        Name or number of the column of the signal, or empty
    time_unit : str
        Unit of the time
    signal_unit : str
        Unit of the signal
    part_start : float
        Where the part begins, counted from the first sample, or ``None`` [s]
    part_end : float
        Where it ends, or ``None`` [s]
    """

    record: str
    time_column: str
    signal_column: str
    time_unit: str
    signal_unit: str
    part_start: float | None
    part_end: float | None

    def curve(self, kinds: Mapping[str, str]) -> Curve:
        """Return the part that is wanted, in SI.

        Parameters
        ----------
        kinds : Mapping
            Kind of quantity by the units of the signal

        Raises
        ------
        Refusal
            When the record cannot be read.
        """
        scale = (kinds[self.signal_unit], self.signal_unit)
        columns = (self.time_column, self.signal_column)
        try:
            whole = read_curve(self.record, *columns, self.time_unit, scale)
            return whole.part(self.part_start, self.part_end)
        except RecordError as problem:
            raise Refusal({"record": str(problem)}) from problem


def recorded(default: str, signal: str, kinds: Mapping[str, str]) -> Any:
    """Declare a record with its columns and units; ``kinds`` gives the units of its signal."""
    moment = kind("time", "s", "min")
    asked = {
        "record": record("Record", default).says(
            "A file of columns from a scope or a scan tool, or pairs of time and signal, one a "
            "line. Separator, decimal comma and header are found."
        ),
        "time_column": typed_text("Column of the time", "", 60).says(
            "Name or number; empty: the first."
        ),
        "signal_column": typed_text("Column of the signal", "", 60).says(
            "Name or number; empty: the second."
        ),
        "time_unit": choice("Time in", {"s": "s", "ms": "ms", "min": "min"}),
        "signal_unit": choice(f"{signal} in", {unit: label(unit) or "1" for unit in kinds}),
        "part_start": quantity("Part begins at", moment, None, "0 s to 100000 s").says(
            "Counted from the first sample. Empty: the whole record."
        ),
        "part_end": quantity("Part ends at", moment, None, "0 s to 100000 s"),
    }
    return Group(Recorded, asked)

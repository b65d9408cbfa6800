"""The one file that knows pint: parses quantities and writes the unit table of the calculators."""

import functools
from dataclasses import dataclass
from typing import Any

import pint

from baycalc.quantities.units import QuantityError, UnitTable


@dataclass(frozen=True, slots=True)
class Offered:
    """A unit as the table offers it: pint's name for it and other spellings."""

    pint_name: str
    spellings: tuple[str, ...] = ()
    scale: str = "linear"


# kind -> (symbol of its SI unit, {symbol: unit}); US units first, then metric.
_KINDS: dict[str, tuple[str, dict[str, Offered]]] = {
    "pressure": (
        "Pa",
        {
            "inHg": Offered("inHg", ("in Hg", "inches of mercury", "inch of mercury", "Hg")),
            "kPa": Offered("kilopascal", ("kilopascal",)),
            "mmHg": Offered("mmHg", ("mm Hg",)),
            "mbar": Offered("millibar", ("millibar", "Mbar")),
            "hPa": Offered("hectopascal", ()),
            "psi": Offered("psi", ("lbf/in2",)),
            "inH2O": Offered("inH2O", ("in H2O", "inWC", "in wc", "inches of water")),
            "mmH2O": Offered("mmH2O", ("mm H2O", "mmWC")),
            "Pa": Offered("pascal", ("pa",)),
            "bar": Offered("bar", ()),
            "torr": Offered("torr", ()),
            "atm": Offered("atmosphere", ()),
        },
    ),
    "pressure rate": (
        "Pa/s",
        {
            "inHg/min": Offered("inHg/minute", ()),
            "kPa/min": Offered("kilopascal/minute", ()),
            "inHg/s": Offered("inHg/second", ()),
            "mbar/s": Offered("millibar/second", ()),
            "inH2O/min": Offered("inH2O/minute", ()),
            "Pa/s": Offered("pascal/second", ()),
        },
    ),
    "length": (
        "m",
        {
            "in": Offered("inch", ("inch", "inches", '"')),
            "mm": Offered("millimeter", ("MM",)),
            "ft": Offered("foot", ("feet", "foot", "'")),
            "m": Offered("meter", ("metre", "meter")),
            "cm": Offered("centimeter", ()),
            "µm": Offered("micrometer", ("micron", "microns")),
        },
    ),
    "distance": (
        "m",
        {
            "mi": Offered("mile", ("mile", "miles")),
            "km": Offered("kilometer", ()),
            "m": Offered("meter", ()),
        },
    ),
    "area": (
        "m2",
        {
            "AWG": Offered("", ("gauge", "ga"), "awg"),
            "mm2": Offered("millimeter**2", ("sqmm", "mmsq")),
            "in2": Offered("inch**2", ("sq in",)),
            "cm2": Offered("centimeter**2", ()),
            "m2": Offered("meter**2", ()),
        },
    ),
    "volume": (
        "m3",
        {
            "gal": Offered("gallon", ("gallon", "gallons", "US gal")),
            "L": Offered("liter", ("l", "ltr", "litre", "liter", "litres", "liters")),
            "qt": Offered("quart", ("quart", "quarts")),
            "in3": Offered("inch**3", ("cu in",)),
            "mL": Offered("milliliter", ("ml", "ML")),
            "cm3": Offered("centimeter**3", ("cc", "ccm")),
            "m3": Offered("meter**3", ()),
        },
    ),
    "time": (
        "s",
        {
            "s": Offered("second", ("sec", "secs", "second", "seconds")),
            "min": Offered("minute", ("mins", "minute", "minutes")),
            "h": Offered("hour", ("hour", "hours", "hr", "hrs")),
            "ms": Offered("millisecond", ()),
            "d": Offered("day", ("day", "days")),
            "months": Offered("month", ("month", "mo")),
            "years": Offered("year", ("year", "a", "yr")),
        },
    ),
    "temperature": (
        "K",
        {
            "°F": Offered("degree_Fahrenheit", ("F", "f", "degF", "deg F", "fahrenheit")),
            "°C": Offered("degree_Celsius", ("C", "c", "degC", "deg C", "celsius")),
            "K": Offered("kelvin", ("k", "kelvin")),
        },
    ),
    "temperature difference": (
        "K",
        {
            "°F": Offered("delta_degree_Fahrenheit", ("F", "f", "degF", "deg F")),
            "°C": Offered("delta_degree_Celsius", ("C", "c", "degC", "deg C")),
            "K": Offered("kelvin", ("k",)),
        },
    ),
    "temperature coefficient": (
        "1/K",
        {
            "%/°F": Offered("percent/delta_degree_Fahrenheit", ("%/F",)),
            "%/°C": Offered("percent/delta_degree_Celsius", ("%/C", "%/K")),
        },
    ),
    "volume flow": (
        "m3/s",
        {
            "cfm": Offered("foot**3/minute", ("ft3/min",)),
            "L/min": Offered("liter/minute", ("lpm", "l/min")),
            "cm3/min": Offered("centimeter**3/minute", ("ccm", "cc/min", "mL/min", "sccm")),
            "m3/h": Offered("meter**3/hour", ()),
            "L/s": Offered("liter/second", ()),
            "m3/s": Offered("meter**3/second", ()),
        },
    ),
    "mass flow": (
        "kg/s",
        {
            "lb/min": Offered("pound/minute", ("lbs/min",)),
            "g/s": Offered("gram/second", ()),
            "kg/h": Offered("kilogram/hour", ()),
            "mg/s": Offered("milligram/second", ()),
            "kg/s": Offered("kilogram/second", ()),
        },
    ),
    "leak rate": (
        "Pa m3/s",
        {
            "Pa L/s": Offered("pascal*liter/second", ()),
            "mbar L/s": Offered("millibar*liter/second", ()),
            "inHg in3/min": Offered("inHg*inch**3/minute", ()),
            "Pa m3/s": Offered("pascal*meter**3/second", ()),
        },
    ),
    "current": (
        "A",
        {
            "A": Offered("ampere", ("a", "amp", "amps", "ampere")),
            "mA": Offered("milliampere", ("ma",)),
        },
    ),
    "voltage": (
        "V",
        {
            "V": Offered("volt", ("v", "volt", "volts")),
            "mV": Offered("millivolt", ("mv",)),
        },
    ),
    "resistance": (
        "ohm",
        {
            "ohm": Offered("ohm", ("Ω", "ohms")),
            "mohm": Offered("milliohm", ("mΩ",)),
            "kohm": Offered("kiloohm", ("kΩ", "k")),
        },
    ),
    "power": (
        "W",
        {
            "W": Offered("watt", ("w", "watt", "watts")),
            "kW": Offered("kilowatt", ()),
            "mW": Offered("milliwatt", ()),
        },
    ),
    "torque": (
        "N m",
        {
            "lbf ft": Offered(
                "pound_force*foot",
                (
                    "lb ft",
                    "ft lb",
                    "ft lbf",
                    "lb-ft",
                    "ft-lb",
                    "lbf-ft",
                    "ft-lbf",
                    "ft lbs",
                    "ft-lbs",
                ),
            ),
            "N m": Offered("newton*meter", ("Nm", "N-m", "newton meter", "newton meters")),
            "lbf in": Offered(
                "pound_force*inch",
                (
                    "lb in",
                    "in lb",
                    "in lbf",
                    "lb-in",
                    "in-lb",
                    "lbf-in",
                    "in-lbf",
                    "in lbs",
                    "in-lbs",
                ),
            ),
        },
    ),
    "speed": (
        "m/s",
        {
            "mph": Offered("mile/hour", ("mi/h",)),
            "km/h": Offered("kilometer/hour", ("kph",)),
            "m/s": Offered("meter/second", ()),
        },
    ),
    "rotation": (
        "1/s",
        {"rpm": Offered("1/minute", ("r/min", "1/min")), "1/s": Offered("1/second", ())},
    ),
    "frequency": ("Hz", {"Hz": Offered("hertz", ("hz",)), "kHz": Offered("kilohertz", ())}),
    "energy": (
        "J",
        {"J": Offered("joule", ()), "kJ": Offered("kilojoule", ())},
    ),
    "melting integral": ("A2 s", {"A2 s": Offered("ampere**2*second", ("A2s",))}),
    "ratio": (
        "1",
        {
            "%": Offered("percent", ("percent", "pct")),
            "1": Offered("dimensionless", ()),
            "ppm": Offered("ppm", ()),
        },
    ),
    "angle": ("rad", {"°": Offered("degree", ("deg", "degrees")), "rad": Offered("radian", ())}),
    "mass": (
        "kg",
        {
            "g": Offered("gram", ("grams",)),
            "kg": Offered("kilogram", ()),
            "mg": Offered("milligram", ()),
        },
    ),
}

KINDS = tuple(_KINDS)
"""Every kind of quantity that a source or a calculator may name."""


@functools.cache
def _registry() -> "pint.UnitRegistry[float]":
    return pint.UnitRegistry(cache_folder=None)


@functools.cache
def unit_table_data() -> dict[str, Any]:
    """Return the table for `baycalc.quantities.units.UnitTable`, plain data, from pint."""
    return {
        kind: {
            "si": si,
            "units": {symbol: _row(si, offered) for symbol, offered in units.items()},
        }
        for kind, (si, units) in _KINDS.items()
    }


_MANY = 1.8e6
"""Degrees over which the factor of a scale with an offset is taken, against rounding."""


def _row(si: str, offered: Offered) -> dict[str, Any]:
    row: dict[str, Any] = {"factor": 1.0}
    if offered.scale == "linear":
        zero, many = (_to_si(value, offered.pint_name, si) for value in (0.0, _MANY))
        row = {"factor": (many - zero) / _MANY if zero else _to_si(1.0, offered.pint_name, si)}
        row |= {"offset": zero} if zero else {}
    else:
        row["scale"] = offered.scale
    return row | ({"spellings": list(offered.spellings)} if offered.spellings else {})


_PINT_SI = {
    "m2": "m**2",
    "m3": "m**3",
    "m3/s": "m**3/s",
    "Pa m3/s": "Pa*m**3/s",
    "N m": "N*m",
    "A2 s": "A**2*s",
    "1": "dimensionless",
}


def _to_si(value: float, name: str, si: str) -> float:
    quantity = _registry().Quantity(value, name)
    return float(quantity.to(_PINT_SI.get(si, si)).magnitude)


@functools.cache
def unit_table() -> UnitTable:
    """Return the unit table, ready to use."""
    return UnitTable(unit_table_data())


def kinds_of(text: str) -> list[str]:
    """Return the kinds of quantity that a text such as ``20 inHg`` can be, most likely first.

    Units spelt as their symbol go before other spellings: ``20 A`` is first a current, and
    only then years.
    """
    return list(_kinds_of(text))


@functools.lru_cache(maxsize=4096)
def _kinds_of(text: str) -> tuple[str, ...]:
    found: list[tuple[bool, str]] = []
    for kind in KINDS:
        try:
            unit = unit_table().read(kind, text).unit
        except QuantityError:
            continue
        found.append((unit.symbol not in text, kind))
    return tuple(kind for _, kind in sorted(found, key=lambda each: each[0]))

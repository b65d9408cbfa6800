"""Read and write quantities with a unit table that the generator makes.

The table holds, for each kind of quantity, its SI unit and the units offered, each
with ``si = value * factor + offset``. Wire gauges do not scale: such a unit says
``"scale": "awg"``. This module owns no figures.
"""

import functools
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from baycalc.physics.copper import area_from_awg, awg_from_area
from baycalc.quantities.numbers import QuantityError, quote, spaces_alike, split

__all__ = [
    "Measured",
    "QuantityError",
    "Unit",
    "UnitTable",
    "duration",
    "install",
    "installed",
    "label",
    "significant",
    "written",
]

_SAME = {
    "″": "in",
    '"': "in",
    "”": "in",
    "′": "ft",
    "'": "ft",
    "º": "°",
    "˚": "°",
    "^": "",
    "²": "2",
    "³": "3",
    "₂": "2",
    "µ": "u",
    "μ": "u",
    "Ω": "ohm",
    "\u2126": "ohm",
}
_THICKEST, _THINNEST = -5, 60
_HINTS = (
    (
        re.compile(r"\(?(psi|bar|mbar|kpa|inhg|mmhg)\)?\(?(a|abs|absolute|g|gauge)\)?"),
        "says what it counts from: type the unit alone, and choose absolute or gauge pressure "
        "where the form asks what is measured",
    ),
    (
        re.compile(r"inhg.+"),
        "names another inch: the inch of mercury here is that of 0 °C, 3386.389 Pa; at 60 °F it is "
        "0.3 % less",
    ),
    (
        re.compile(r"(inh2o|inwc|inwg).+"),
        "names another inch: the inch of water here is the conventional one, 249.089 Pa; at 60 °F "
        "it is 0.1 % less",
    ),
)
_GREATEST = 1e100
_NOTHING = re.compile(r"[.\s·*]")


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of one kind of quantity: ``si = value * factor + offset``.

    Parameters
    ----------
    symbol : str
        Symbol of the unit table
    factor : float
        One of this unit [SI]
    offset : float
        Zero of this unit [SI]
    scale : str
        ``linear``, or ``awg`` for wire gauges
    """

    symbol: str
    factor: float
    offset: float = 0.0
    scale: str = "linear"

    def to_si(self, value: float) -> float:
        """Convert a value in this unit to SI.

        Parameters
        ----------
        value : float
            Value in this unit [this unit]

        Returns
        -------
        float
            The same quantity [SI]
        """
        if self.scale == "awg":
            return area_from_awg(value)
        return value * self.factor + self.offset

    def from_si(self, value: float) -> float:
        """Convert an SI value to this unit.

        Parameters
        ----------
        value : float
            Value in SI [SI]

        Returns
        -------
        float
            The same quantity [this unit]
        """
        if self.scale == "awg":
            return awg_from_area(value)
        return (value - self.offset) / self.factor


@dataclass(frozen=True, slots=True)
class Measured:
    """A quantity as it was typed, read.

    Parameters
    ----------
    kind : str
        Kind of quantity
    si : float
        The quantity [SI unit of the kind]
    unit : Unit
        The unit that stood behind it, or the one given
    text : str
        As it was typed
    """

    kind: str
    si: float
    unit: Unit
    text: str


class UnitTable:
    """The units of every kind of quantity, and their other spellings."""

    def __init__(self, data: Mapping[str, Mapping[str, object]]) -> None:
        self._kinds: dict[str, dict[str, Unit]] = {}
        self._si: dict[str, str] = {}
        self._spellings: dict[str, dict[str, str]] = {}
        for kind, entry in data.items():
            self._add(kind, entry)

    def _add(self, kind: str, entry: Mapping[str, object]) -> None:
        units = entry["units"]
        assert isinstance(units, Mapping)
        self._si[kind] = str(entry["si"])
        self._kinds[kind] = {}
        self._spellings[kind] = {}
        for symbol, row in units.items():
            self._kinds[kind][symbol] = Unit(
                symbol,
                float(row["factor"]),
                float(row.get("offset", 0.0)),
                str(row.get("scale", "linear")),
            )
            for spelling in (symbol, *row.get("spellings", ())):
                self._spellings[kind][_plain(spelling)] = symbol

    def kinds(self) -> list[str]:
        """Return the kinds of quantity in the table."""
        return list(self._kinds)

    def symbols(self, kind: str) -> list[str]:
        """Return the symbols of the units of one kind, in the table's order."""
        return list(self._kinds[kind])

    def unit(self, kind: str, spelling: str) -> Unit:
        """Find a unit of one kind by its symbol or another spelling.

        Raises
        ------
        QuantityError
            When the spelling names no unit of this kind.
        """
        symbol = self._spellings[kind].get(_plain(spelling)) or self._careless(kind, spelling)
        if symbol is None:
            raise QuantityError(self._unknown(kind, spelling))
        return self._kinds[kind][symbol]

    def _careless(self, kind: str, spelling: str) -> str | None:
        """Find a unit whatever the case, unless M could be meant where m is known."""
        wanted = _plain(spelling).lower()
        found = {
            symbol for known, symbol in self._spellings[kind].items() if known.lower() == wanted
        }
        symbol = found.pop() if len(found) == 1 else None
        if symbol and spelling.strip()[0] == "M" and symbol[0] == "m":
            return None if symbol[1:] in self._kinds[kind] else symbol
        return symbol

    def _unknown(self, kind: str, spelling: str) -> str:
        for pattern, told in _HINTS if kind == "pressure" else ():
            if pattern.fullmatch(_plain(spelling).lower()):
                return f"{quote(spelling)} {told}"
        offered = ", ".join(self.symbols(kind)[:8])
        for other, spellings in self._spellings.items():
            if _plain(spelling) in spellings:
                return f"{quote(spelling)} is a unit of {other}; expected {kind}: {offered}"
        return f"{quote(spelling)} is not a unit of {kind}; known are {offered}"

    def parse(self, kind: str, text: str, unit: str | None = None) -> float:
        """Read a quantity such as ``20 inHg``, ``20`` with a unit given, or ``AWG 12``.

        Returns
        -------
        float
            The quantity [SI unit of the kind]

        Raises
        ------
        QuantityError
            When the text is no number, has no unit, or one of another kind.
        """
        return self.read(kind, text, unit).si

    def read(self, kind: str, text: str, unit: str | None = None) -> Measured:
        """Read a quantity as `parse` does, and keep in which unit it was given.

        Raises
        ------
        QuantityError
            When the text is no number, has no unit, one of another kind, or cannot be.
        """
        number, spelling = split(text)
        chosen = self._chosen(kind, text, spelling or unit)
        if chosen.scale == "awg" and not _THICKEST <= number <= _THINNEST:
            raise QuantityError(f"wire gauges go from AWG 6/0 to AWG 60, got {quote(text)}")
        value = chosen.to_si(number)
        if abs(value) > _GREATEST:
            raise QuantityError(f"{quote(text)} is too large a number")
        if kind == "temperature" and value < 0:
            raise QuantityError(f"{quote(text)} lies below absolute zero")
        return Measured(kind, value, chosen, text)

    def _chosen(self, kind: str, text: str, spelling: str | None) -> Unit:
        if spelling:
            return self.unit(kind, spelling)
        if self._si[kind] == "1":
            return self.unit(kind, "1")
        raise QuantityError(
            f"{quote(text)} has no unit; expected {kind}, such as {text.strip()[:24]} "
            f"{self.symbols(kind)[0]}"
        )

    def show(self, kind: str, si: float, unit: str, digits: int = 4, step: float = 0.0) -> str:
        """Write an SI value in a unit, rounded to significant digits, but to no more than its step.

        Parameters
        ----------
        kind : str
            Kind of quantity
        si : float
            The value [SI unit of the kind]
        unit : str
            Unit to write it in
        digits : int
            Significant digits, at least [-]
        step : float
            Smallest difference that must not be rounded away, or 0 [SI unit of the kind]
        """
        chosen = self.unit(kind, unit)
        if chosen.scale == "awg":
            return _gauge(round(chosen.from_si(si)))
        value = chosen.from_si(si)
        if step:
            digits = max(digits, _digits_of_step(value, step / chosen.factor))
        text = significant(value, digits)
        if chosen.symbol == "1":
            return text
        return f"{text}\u202f%" if chosen.symbol == "%" else f"{text} {label(chosen.symbol)}"


def _digits_of_step(value: float, step: float) -> int:
    """Return the significant digits of a value that show a step to 2 % of itself."""
    decimals = next(many for many in range(12) if abs(round(step, many) - step) <= 0.02 * step)
    whole = math.floor(math.log10(abs(value))) + 1 if value else 1
    return max(1, whole + decimals)


def _gauge(size: int) -> str:
    return f"AWG {size}" if size > 0 else f"AWG {1 - size}/0"


_LABELS = {"H2O": "H₂O", "ohm": "Ω", "m2": "m²", "m3": "m³", "in2": "in²", "in3": "in³", "A2": "A²"}


@functools.lru_cache(maxsize=256)
def label(symbol: str) -> str:
    """Return a unit's symbol as it is printed: ``mm²`` for ``mm2``, nothing for ``1``."""
    if symbol == "1":
        return ""
    for plain, printed in _LABELS.items():
        symbol = symbol.replace(plain, printed)
    return symbol


_installed: UnitTable | None = None


def install(table: UnitTable) -> None:
    """Make a table the one that sentences are written with."""
    global _installed
    _installed = table


def installed() -> UnitTable:
    """Return the installed unit table.

    Raises
    ------
    RuntimeError
        When `install` was not called before.
    """
    if _installed is None:
        raise RuntimeError("no unit table installed: call baycalc.api.install first")
    return _installed


def written(kind: str, si: float, *units: str, digits: int = 3, step: float = 0.0) -> str:
    """Write a figure inside a sentence, in the first unit and the second one in brackets.

    Parameters
    ----------
    kind : str
        Kind of quantity
    si : float
        The figure [SI]
    units : str
        The US and the metric unit, or one unit for both
    digits : int
        Significant digits, at least [-]
    step : float
        Smallest difference that must not be rounded away, or 0 [SI]

    Returns
    -------
    str
        For example ``20.0 inHg (67.7 kPa)``.
    """
    first, *others = (installed().show(kind, si, unit, digits, step) for unit in units)
    return f"{first} ({others[0]})" if others else first


def duration(seconds: float) -> str:
    """Write a time for a sentence, in the unit that reads best.

    Parameters
    ----------
    seconds : float
        Time, zero or more [s]

    Returns
    -------
    str
        For example ``45 s``, ``12 min``, ``3.5 h``.
    """
    if seconds < 120:
        return f"{significant(seconds, 2)} s"
    if seconds < 7200:
        return f"{significant(seconds / 60, 2)} min"
    return f"{significant(seconds / 3600, 2)} h"


def significant(value: float, digits: int) -> str:
    """Round to significant digits and write without an exponent where that reads well.

    Parameters
    ----------
    value : float
        Number to write [-]
    digits : int
        Significant digits [-]

    Returns
    -------
    str
        For example ``0.0508``, ``1234``, ``3.2×10⁻⁷``.
    """
    if not math.isfinite(value):
        return "∞" if value > 0 else "−∞" if value < 0 else "?"
    if value == 0:
        return "0"
    exponent = math.floor(math.log10(abs(float(f"{value:.{digits - 1}e}"))))
    if -4 <= exponent < 7:
        text = f"{value:.{max(0, digits - 1 - exponent)}f}"
    else:
        mantissa, power = f"{value:.{digits - 1}e}".split("e")
        text = f"{mantissa}×10{_superscript(int(power))}"
    return text.replace("-", "−")


@functools.lru_cache(maxsize=4096)
def _plain(spelling: str) -> str:
    """Return a spelling without what people write differently; case counts for k and m only."""
    text = spaces_alike(spelling)
    for sign, same in _SAME.items():
        text = text.replace(sign, same)
    text = _NOTHING.sub("", text)
    if len(text) > 2:
        text = text[0] + text[1:].lower() if text[0] in "mMkK" else text.lower()
    return text


def _superscript(power: int) -> str:
    return str(power).translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))

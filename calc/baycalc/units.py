"""Read and write quantities with a unit table that the generator makes.

The table holds, for each kind of quantity, its SI unit and the units offered, each
with ``si = value * factor + offset``. Wire gauges do not scale: such a unit says
``"scale": "awg"``. This module owns no figures.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from baycalc.physics.copper import area_from_awg, awg_from_area

LONGEST_NUMBER = 40
_SPACES = dict.fromkeys(map(ord, "\u00a0\u2007\u2009\u200a\u202f"), " ")
_SIGNS = {ord("\u2212"): "-", ord("\u2013"): "-", ord("\u066b"): "."}
_NUMBER = re.compile(r"[+-]?(\d[\d ,.]*|[.,]\d+)([eE][+-]?\d+)?")


class QuantityError(ValueError):
    """A text is not a quantity of the kind that was expected."""


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of one kind of quantity."""

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

    def si_symbol(self, kind: str) -> str:
        """Return the symbol of the SI unit of one kind."""
        return self._si[kind]

    def unit(self, kind: str, spelling: str) -> Unit:
        """Find a unit of one kind by its symbol or another spelling.

        Raises
        ------
        QuantityError
            When the spelling names no unit of this kind.
        """
        symbol = self._spellings[kind].get(_plain(spelling))
        if symbol is None:
            raise QuantityError(self._unknown(kind, spelling))
        return self._kinds[kind][symbol]

    def _unknown(self, kind: str, spelling: str) -> str:
        offered = ", ".join(self.symbols(kind)[:8])
        for other, spellings in self._spellings.items():
            if _plain(spelling) in spellings:
                return f"{_cut(spelling)} is a unit of {other}; expected {kind}: {offered}"
        return f"{_cut(spelling)} is not a unit of {kind}; known are {offered}"

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
        number, spelling = _split(text)
        if spelling:
            chosen = self.unit(kind, spelling)
        elif unit is not None:
            chosen = self.unit(kind, unit)
        elif self._si[kind] == "1":
            chosen = self.unit(kind, "1")
        else:
            raise QuantityError(
                f"{_cut(text)} has no unit; expected {kind}, such as {text} {self.symbols(kind)[0]}"
            )
        return chosen.to_si(number)

    def show(self, kind: str, si: float, unit: str, digits: int = 4) -> str:
        """Write an SI value in a unit, rounded to significant digits.

        Parameters
        ----------
        kind : str
            Kind of quantity
        si : float
            The value [SI unit of the kind]
        unit : str
            Unit to write it in
        digits : int
            Significant digits [-]
        """
        chosen = self.unit(kind, unit)
        if chosen.scale == "awg":
            return f"AWG {round(chosen.from_si(si))}"
        text = significant(chosen.from_si(si), digits)
        if chosen.symbol == "1":
            return text
        return f"{text}\u202f%" if chosen.symbol == "%" else f"{text} {label(chosen.symbol)}"


_LABELS = {"H2O": "H₂O", "ohm": "Ω", "m2": "m²", "m3": "m³", "in2": "in²", "in3": "in³", "A2": "A²"}


def label(symbol: str) -> str:
    """Return a unit's symbol as it is printed: ``mm²`` for ``mm2``, ``Ω`` for ``ohm``."""
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
        raise RuntimeError("no unit table installed: call baycalc.door.install first")
    return _installed


def written(kind: str, si: float, *units: str, digits: int = 3) -> str:
    """Write a figure inside a sentence, in the first unit and the second one in brackets.

    Parameters
    ----------
    kind : str
        Kind of quantity [-]
    si : float
        The figure [SI]
    units : str
        The US and the metric unit, or one unit for both [-]
    digits : int
        Significant digits [-]

    Returns
    -------
    str
        For example ``20.0 inHg (67.7 kPa)``.
    """
    first, *others = (installed().show(kind, si, unit, digits) for unit in units)
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


def number(text: str) -> float:
    """Read a number as people type it: comma or point, thin spaces, a typographic minus.

    Returns
    -------
    float
        The number [-]

    Raises
    ------
    QuantityError
        When it is no number, could be read in two ways, or is not finite.
    """
    value, rest = _split(text)
    if rest:
        raise QuantityError(f"{_cut(text)} is not a number")
    return value


def _split(text: str) -> tuple[float, str]:
    plain = text.translate(_SPACES).translate(_SIGNS).strip()
    if not plain:
        raise QuantityError("is missing: type a number")
    if re.fullmatch(r"(?i)[+-]?(inf|infinity|nan|∞)( .*)?", plain):
        raise QuantityError(f"{_cut(text)} is not a finite number")
    leading = re.match(r"(?i)(awg|#)\s*(\d+)$", plain)
    if leading:
        return float(leading[2]), "AWG"
    match = _NUMBER.match(plain)
    if not match:
        raise QuantityError(f"{_cut(text)} is not a number")
    if len(match[0]) > LONGEST_NUMBER:
        raise QuantityError(
            f"{_cut(text)} is too long for a reading: {LONGEST_NUMBER} digits at most"
        )
    value = float(_decimal(match[0].strip()))
    if not math.isfinite(value):
        raise QuantityError(f"{_cut(text)} is too large")
    return value, plain[match.end() :].strip()


def _decimal(text: str) -> str:
    text = text.replace(" ", "")
    if "." in text and "," in text:
        thousands = "," if text.rindex(".") > text.rindex(",") else "."
        text = text.replace(thousands, "")
    if re.fullmatch(r"[+-]?[1-9]\d{0,2},\d{3}", text):
        raise QuantityError(
            f"{text} can be read as {text.replace(',', '.')} or as {text.replace(',', '')}: "
            "write it without the comma"
        )
    if text.count(",") > 1:
        text = text.replace(",", "")
    text = text.replace(",", ".")
    if text.count(".") > 1:
        raise QuantityError(f"{_cut(text)} is not a number")
    return text


def _plain(spelling: str) -> str:
    text = spelling.translate(_SPACES).strip()
    for old, new in (
        ("″", "in"),
        ('"', "in"),
        ("²", "2"),
        ("³", "3"),
        ("µ", "u"),
        ("μ", "u"),
        ("Ω", "ohm"),
        ("Ω", "ohm"),
    ):
        text = text.replace(old, new)
    text = re.sub(r"[.\s·*]", "", text)
    return (
        text if len(text) < 3 else text[0] + text[1:].lower() if text[0] in "mMkK" else text.lower()
    )


def _superscript(power: int) -> str:
    return str(power).translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))


def _cut(text: str) -> str:
    return f"“{text if len(text) <= 24 else text[:20] + '…'}”"

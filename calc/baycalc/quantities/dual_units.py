"""Each quantity in both unit systems: US first, then metric."""

import re
from dataclasses import dataclass

from baycalc.quantities.numbers import split
from baycalc.quantities.units import installed, label

NARROW = "\u202f"
"""The space between a number and its per cent sign."""

_FRACTION = re.compile(r"\d\s*[/⁄]\s*\d|[½¼¾⅛⅜⅝⅞]")
_PLAIN = re.compile(r"[-+−–]?\s*[\d\s.]*\d[.]?(?:[eE][-+]?\d+)?")

_PAIRS = {
    "pressure": [
        ("inHg", "kPa"),
        ("inH2O", "kPa"),
        ("psi", "kPa"),
        ("inHg", "mmHg"),
        ("inHg", "mbar"),
        ("psi", "bar"),
        ("inHg", "Pa"),
        ("inHg", "hPa"),
        ("inH2O", "mmH2O"),
    ],
    "pressure rate": [("inHg/min", "kPa/min"), ("inH2O/min", "Pa/s"), ("inHg/s", "mbar/s")],
    "length": [("in", "mm"), ("ft", "m"), ("in", "cm"), ("in", "µm")],
    "distance": [("mi", "km")],
    "area": [("AWG", "mm2"), ("in2", "cm2")],
    "volume": [("gal", "L"), ("qt", "L"), ("in3", "mL"), ("in3", "cm3")],
    "temperature": [("°F", "°C"), ("°F", "K")],
    "temperature difference": [("°F", "°C"), ("°F", "K")],
    "volume flow": [("cfm", "L/min"), ("cfm", "cm3/min"), ("cfm", "m3/h"), ("cfm", "L/s")],
    "torque": [("lbf ft", "N m"), ("lbf in", "N m")],
    "speed": [("mph", "km/h"), ("mph", "m/s")],
}
"""Which unit stands for which in the other system; the first pair is a kind's usual one."""

_SMALLER = {"N m": ("torque", "lbf in", 15 * 1.355818), "L": ("volume", "qt", 20e-3)}
"""What a metric unit becomes below a size in SI, as the trade in the US writes it: torque below
15 lbf ft in inch-pounds, a volume below 20 L in quarts; common practice, no source."""

_SOLD_AWG = tuple(f"AWG {number}" for number in range(22, 2, -2))
"""Wire gauges that a shop can buy, from the thinnest; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Pair:
    """A quantity written for both unit systems."""

    us: str
    metric: str

    def __str__(self) -> str:
        return self.us if self.us.startswith(self.metric) else f"{self.us} ({self.metric})"


def usual_units(kind: str) -> tuple[str, str]:
    """Return the US and the metric unit in which a kind is usually written."""
    if kind in _PAIRS:
        return _PAIRS[kind][0]
    first = installed().symbols(kind)[0]
    return first, first


def units_like(kind: str, text: str) -> tuple[str, str]:
    """Return the units of both systems for a quantity, keeping the one in which it is written."""
    return _pair_of(kind, typed(text, kind).symbol)


def _pair_of(kind: str, symbol: str) -> tuple[str, str]:
    for us, metric in _PAIRS.get(kind, ()):
        if symbol in (us, metric):
            return us, metric
    return symbol, symbol


@dataclass(frozen=True, slots=True)
class Typed:
    """A quantity as an author wrote it.

    Parameters
    ----------
    kind : str
        Kind of quantity
    si : float
        The quantity [SI unit of the kind]
    symbol : str
        Unit that it was written in
    number : str
        Its number as it is printed
    digits : int
        How many digits it gets in another unit [-]
    """

    kind: str
    si: float
    symbol: str
    number: str
    digits: int

    def __str__(self) -> str:
        if self.symbol in ("AWG", "1"):
            return self.number
        return f"{self.number}{NARROW if self.symbol == '%' else ' '}{label(self.symbol)}"


def typed(text: str, kind: str) -> Typed:
    """Read a quantity as the calculators read it, and keep the way in which it was written.

    Raises
    ------
    QuantityError
        When the text is no quantity of the kind.
    """
    found = installed().read(kind, text)
    si, unit = found.si, found.unit
    value, rest = split(text)
    if unit.scale == "awg":
        return Typed(kind, si, "AWG", installed().show(kind, si, "AWG"), 2)
    number = text.strip().removesuffix(rest).strip() if rest else text.strip()
    if "," in number:
        number = _with_a_point(number, value)
    if not _FRACTION.search(number) and not _PLAIN.fullmatch(number):
        number = f"{value:.10g}"
    return Typed(kind, si, unit.symbol, number.replace("-", "−"), _digits(number))


def _with_a_point(number: str, value: float) -> str:
    """Write a number with a decimal comma, or with commas between thousands, by a point."""
    behind = number.rpartition(",")[2]
    return f"{value:.{len(behind)}f}" if number.count(",") == 1 and behind.isdigit() else ""


def _digits(number: str) -> int:
    if _FRACTION.search(number):
        return 3
    return min(4, max(2, len(re.sub(r"\D", "", re.split("[eE]", number)[0]).lstrip("0"))))


def pair(text: str, kind: str, units: tuple[str, str] | None = None) -> Pair:
    """Write a quantity such as ``20 inHg`` for both systems, to the digits in which it is typed.

    Without ``units`` they are those that go with the one in which it is typed.

    Raises
    ------
    QuantityError
        When the text is no quantity, or none of the kind.
    """
    found = typed(text, kind)
    if found.symbol == "mm2" and units is None:
        return _wire(str(found), found.si)
    us, metric = (
        str(found)
        if unit == found.symbol
        else installed().show(found.kind, found.si, unit, found.digits)
        for unit in units or _by_size(found)
    )
    return Pair(us, metric)


def _by_size(found: Typed) -> tuple[str, str]:
    """Return the units of both systems; of a small size the trade writes a smaller US unit."""
    units = _pair_of(found.kind, found.symbol)
    small_kind, smaller, size = _SMALLER.get(found.symbol, ("", "", 0.0))
    return (smaller, units[1]) if found.kind == small_kind and found.si < size else units


def _wire(typed: str, area: float) -> Pair:
    """Write a metric wire: its own size, and for the US the next larger one that is sold."""
    large_enough = (
        gauge for gauge in _SOLD_AWG if installed().parse("area", gauge) >= area * 0.999
    )
    gauge = next(large_enough, "")
    return Pair(f"{typed} ({gauge})" if gauge else typed, typed)


def show_pair(kind: str, si: float, units: tuple[str, str], digits: int = 3) -> Pair:
    """Write an SI value in a US and a metric unit.

    Parameters
    ----------
    kind : str
        Kind of quantity
    si : float
        The value [SI unit of the kind]
    units : tuple
        US and metric unit
    digits : int
        Significant digits [-]
    """
    us, metric = (installed().show(kind, si, unit, digits) for unit in units)
    return Pair(us, metric)

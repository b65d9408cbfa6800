"""Each quantity in both unit systems: US first, then metric."""

import re
from dataclasses import dataclass

from msgspec import UnsetType

from baybook.book.pint_quantities import kinds_of, unit_table
from baybook.book.source_model import Figure, Limit
from baycalc.quantities.units import label

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
    first = unit_table().symbols(kind)[0]
    return first, first


def units_like(kind: str, text: str) -> tuple[str, str]:
    """Return the units of both systems for a quantity, keeping the one in which it is written."""
    symbol = _symbol(kind, text)
    for us, metric in _PAIRS.get(kind, ()):
        if symbol in (us, metric):
            return us, metric
    return symbol, symbol


def pair(text: str, kind: str = "", units: tuple[str, str] | None = None) -> Pair:
    """Write a quantity such as ``20 inHg`` for both systems, to the digits in which it is typed.

    Without ``units`` they are those that go with the one in which it is typed.
    """
    kind = kind or kinds_of(text)[0]
    si = unit_table().parse(kind, text)
    symbol = _symbol(kind, text)
    if symbol == "mm2" and units is None:
        return _wire(_typed(text, symbol), si)
    us, metric = (
        _typed(text, symbol) if unit == symbol else unit_table().show(kind, si, unit, _digits(text))
        for unit in units or _by_size(kind, si, units_like(kind, text), symbol)
    )
    return Pair(us, metric)


def _by_size(kind: str, si: float, units: tuple[str, str], symbol: str) -> tuple[str, str]:
    """Return the units of a size that the trade writes in a smaller US unit."""
    small_kind, smaller, size = _SMALLER.get(symbol, ("", "", 0.0))
    return (smaller, units[1]) if kind == small_kind and si < size else units


def _wire(typed: str, area: float) -> Pair:
    """Write a metric wire: its own size, and for the US the next larger one that is sold."""
    large_enough = (
        gauge for gauge in _SOLD_AWG if unit_table().parse("area", gauge) >= area * 0.999
    )
    gauge = next(large_enough, "")
    return Pair(f"{typed} ({gauge})" if gauge else typed, typed)


def show_pair(kind: str, si: float, units: tuple[str, str], digits: int = 3) -> Pair:
    """Write an SI value in a US and a metric unit."""
    us, metric = (unit_table().show(kind, si, unit, digits) for unit in units)
    return Pair(us, metric)


BOUNDS = {"least": 0, "greatest": 1}
"""What may stand behind the name of a figure with bounds, such as `pump-current.least`."""


def figure_text(figure: Figure, name: str) -> str | None:
    """Return the quantity that a name means: the figure's value, or its bound behind a dot.

    Parameters
    ----------
    figure : Figure
        The figure of the car.
    name : str
        Its name, with or without `.least` or `.greatest`.

    Returns
    -------
    text : str, optional
        Nothing where the figure has no such value or bound.
    """
    end = name.partition(".")[2]
    if not end:
        return None if isinstance(figure.value, UnsetType) else figure.value
    return bounds(figure)[BOUNDS[end]] if end in BOUNDS else None


def bounds(limit: Limit | Figure) -> tuple[str | None, str | None]:
    """Return the texts of the least and the greatest value of a limit or figure."""
    if not isinstance(limit.between, UnsetType):
        return limit.between
    return _given(limit.at_least), _given(limit.at_most)


def _given(text: str | UnsetType) -> str | None:
    return None if isinstance(text, UnsetType) else text


_NUMBER = re.compile(r"[-+−]?[\d.,\s]*(?:[eE][-+]?\d+)?\s*")


def _typed(text: str, symbol: str) -> str:
    if symbol == "AWG":
        return text
    match = _NUMBER.match(text)
    number = match[0].strip().replace("-", "−") if match else text
    space = "\u202f" if symbol == "%" else " "
    return number if symbol == "1" else f"{number}{space}{label(symbol)}"


def _digits(text: str) -> int:
    match = _NUMBER.match(text)
    digits = re.sub(r"\D", "", match[0]).lstrip("0") if match else ""
    return min(4, max(2, len(digits)))


def _symbol(kind: str, text: str) -> str:
    if text.upper().startswith("AWG"):
        return "AWG"
    return unit_table().unit(kind, _NUMBER.sub("", text, count=1) or "1").symbol

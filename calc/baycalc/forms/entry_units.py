"""Entries of a form in the units of both systems, with as few digits as a person would write."""

import re
from decimal import Decimal

from baycalc.forms.declare import Quantity
from baycalc.forms.parse import split_quantity
from baycalc.quantities.units import installed

_US = frozenset(
    {"AWG", "cfm", "ft", "gal", "in", "in2", "in3", "lb", "lbf", "mi", "mph"}
    | {"inH2O", "inHg", "psi", "°F"}
)
"""What makes a unit one of the US system, alone or inside another such as `lb/min`."""

_PLAIN = re.compile(r"-?\d+(\.\d+)?")
_MOST_DIGITS = 4
_OF_LAST_DIGIT = 0.05
"""How far a converted number may be off, as a share of one more in its last digit [-].

Two readings are written so that their difference stays, as from 20 inHg down to 19.5 inHg."""

_NOTICED = 0.005
"""How far a converted number may be off, as a share of it [-]."""


def entry(field: Quantity, text: str, unit: str = "") -> dict[str, str]:
    """Write an entry of a field for both systems: number and unit of each.

    Returns
    -------
    dict
        ``us`` and ``metric`` (the numbers, empty without a text), ``unit_us`` and ``unit_metric``.
    """
    value, unit = split_quantity(text, unit or field.units[0])
    symbol = installed().unit(field.kind, unit).symbol
    us, metric = unit_of_each_system(field, symbol)
    return {
        "us": converted(field.kind, value, unit, us) if text else "",
        "metric": converted(field.kind, value, unit, metric) if text else "",
        "unit_us": us,
        "unit_metric": metric,
    }


def unit_of_each_system(field: Quantity, written: str) -> tuple[str, str]:
    """Return the US and the metric unit in which a field is shown first.

    Units such as `A` and `mA` belong to both systems: there the unit that is written stays.
    """
    first = field.units[0]
    if not is_us(first):
        kept = written if written in field.units else first
        return kept, kept
    metric = next((unit for unit in field.units if not is_us(unit)), first)
    # Between two gauges there is no wire.
    return (metric if first == "AWG" != written else first), metric


def is_us(symbol: str) -> bool:
    """Tell whether a unit is one of the US system."""
    return not _US.isdisjoint(re.split("[ /]", symbol))


def converted(kind: str, text: str, unit: str, other: str) -> str:
    """Write a number in another unit with as few digits as a person would.

    They are the fewest that keep the number as near as it was meant, by the digits of the text,
    and four at most. Zeros at the end of a whole number are meant up to the second digit.
    """
    table = installed()
    if table.unit(kind, unit).symbol == other:
        return text
    exact = table.unit(kind, other).from_si(table.parse(kind, text, unit))
    if not _PLAIN.fullmatch(text):
        return _plain(exact, _MOST_DIGITS)
    beyond = str(Decimal(text) + _last_digit(text))
    step = abs(table.unit(kind, other).from_si(table.parse(kind, beyond, unit)) - exact)
    slack = min(step * _OF_LAST_DIGIT, _NOTICED * abs(exact))
    tried = [_plain(exact, digits) for digits in range(1, _MOST_DIGITS + 1)]
    return next((each for each in tried if abs(float(each) - exact) <= slack), tried[-1])


def _last_digit(text: str) -> Decimal:
    """Return what one more in the last digit of a number means."""
    whole, _, decimals = text.lstrip("-").partition(".")
    if decimals:
        return Decimal(1).scaleb(-len(decimals))
    zeros = len(whole) - len(whole.rstrip("0"))
    return Decimal(1).scaleb(max(0, min(zeros, len(whole) - 2)))


def _plain(value: float, digits: int) -> str:
    return f"{Decimal(f'{value:.{digits}g}'):f}"

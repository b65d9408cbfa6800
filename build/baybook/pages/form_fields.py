"""The fields of a calculator's form, from its declaration, in the units of both systems."""

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from baybook.book.pint_quantities import unit_table
from baycalc.forms.declare import Calculator, Choice, Flag, Input, Quantity, Text
from baycalc.forms.parse import split_quantity
from baycalc.quantities.units import label

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


def form_fields(calculator: Calculator, given: Mapping[str, str]) -> list[dict[str, Any]]:
    """Return every field as the template wants it, with what is given or else the default."""
    choices = {
        field.id: given.get(field.id, field.default)
        for field in calculator.inputs
        if isinstance(field, Choice)
    }
    return [_field(field, given, choices) for field in calculator.inputs]


def _field(field: Input, given: Mapping[str, str], choices: Mapping[str, str]) -> dict[str, Any]:
    common = {
        "id": field.id,
        "label": field.label,
        "help": field.help,
        "shown": field.shown,
        "hidden": field.shown and choices[field.shown.choice] not in field.shown.values,
        "optional": False,
    }
    match field:
        case Quantity():
            return common | _quantity_field(field, given)
        case Choice():
            options = {"type": "choice", "options": field.options}
            return common | options | {"value": choices[field.id]}
        case Flag():
            checked = given.get(field.id, "true" if field.default else "") == "true"
            return common | {"type": "flag", "checked": checked}
        case Text():
            value = given.get(field.id, field.default)
            text = {"type": "text", "value": value, "longest": field.longest}
            return common | text | {"optional": not field.default}


def _quantity_field(field: Quantity, given: Mapping[str, str]) -> dict[str, Any]:
    text, unit = given.get(field.id, field.default or ""), given.get(f"{field.id}.unit", "")
    value, unit = split_quantity(text, unit or field.units[0])
    us, metric = unit_of_each_system(field, unit_table().unit(field.kind, unit).symbol)
    written = {"us": "", "metric": ""}
    if text:
        written = {
            "us": converted(field.kind, value, unit, us),
            "metric": converted(field.kind, value, unit, metric),
        }
    return written | {
        "type": "quantity",
        "value": written["us"],
        "unit": us,
        "unit_us": us,
        "unit_metric": metric,
        "units": [{"symbol": each, "label": label(each)} for each in field.units],
        "optional": field.optional or field.default is None,
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
    table = unit_table()
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

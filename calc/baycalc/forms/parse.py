"""The fields of a form, as typed, into the inputs of a calculation."""

import functools
from collections.abc import Mapping
from typing import Any

from baycalc.forms.declare import Calculator, Choice, Flag, Input, Quantity, Text
from baycalc.quantities import units
from baycalc.quantities.numbers import is_number, quote
from baycalc.text import sentence

_YES = ("true", "yes", "on", "1")
_NO = ("false", "no", "off", "0", "")


def read_fields(
    calculator: Calculator, fields: Mapping[str, str]
) -> tuple[dict[str, Any], dict[str, str]]:
    """Return the value of every input, and one sentence for each that is wrong.

    An input that a choice hides is not looked at: where it is wrong, its default stands.
    """
    values: dict[str, Any] = {}
    errors: dict[str, str] = {}
    for declared in calculator.inputs:
        try:
            values[declared.id] = _read(declared, fields)
        except units.QuantityError as problem:
            errors[declared.id] = sentence(str(problem))
    for declared in calculator.inputs:
        if declared.id in errors and not _in_use(declared, values):
            del errors[declared.id]
            values[declared.id] = _read(declared, {})
    return values, errors


def _in_use(declared: Input, values: Mapping[str, Any]) -> bool:
    return declared.shown is None or values.get(declared.shown.choice) in declared.shown.values


def _read(declared: Input, fields: Mapping[str, str]) -> float | str | bool | None:
    given = fields.get(declared.id)
    if not isinstance(given, str | None):
        raise units.QuantityError(f"expected a text, got {quote(repr(given))}")
    match declared:
        case Quantity():
            return _read_quantity(declared, given, fields.get(f"{declared.id}.unit"))
        case Choice():
            return _read_choice(declared, given)
        case Flag():
            return _read_flag(declared, given)
        case Text():
            text = declared.default if given is None else given.strip()
            if len(text) > declared.longest:
                raise units.QuantityError(f"is too long: {declared.longest} characters at most")
            return text


def _read_flag(declared: Flag, given: str | None) -> bool:
    if given is None:
        return declared.default
    if given.strip().lower() not in (*_YES, *_NO):
        raise units.QuantityError(f"expected yes or no, got {quote(given)}")
    return given.strip().lower() in _YES


def _read_quantity(declared: Quantity, given: str | None, unit: str | None) -> float | None:
    if given is None:
        given, unit = declared.default, None
    may_be_empty = declared.optional or declared.default is None
    if given is None or (not given.strip() and may_be_empty):
        return None
    read = units.installed().read(declared.kind, given, unit or declared.units[0])
    for bound, word in ((declared.low, "at least"), (declared.high, "at most")):
        if bound is None:
            continue
        edge = _edge(units.installed(), declared.kind, bound)
        if (read.si < edge) if word == "at least" else (read.si > edge):
            raise units.QuantityError(_out_of_range(read, word, bound, edge))
    return read.si


@functools.lru_cache(maxsize=1024)
def _edge(table: units.UnitTable, kind: str, bound: str) -> float:
    return table.parse(kind, bound)


def _out_of_range(read: units.Measured, word: str, bound: str, edge: float) -> str:
    """Return a sentence with the bound in the unit that was typed, and as it is declared."""
    allowed, symbol = bound, read.unit.symbol
    if units.installed().read(read.kind, bound).unit != read.unit:
        allowed = f"{units.installed().show(read.kind, edge, symbol)} ({bound})"
    got = read.text.strip() if len(read.text) <= 24 else f"{read.text.strip()[:20]}…"
    if is_number(read.text) and symbol not in ("1", "AWG"):
        got = f"{got} {units.label(symbol)}"
    return f"expected {word} {allowed}, got {got}"


def _read_choice(declared: Choice, given: str | None) -> str:
    if given is None:
        return declared.default
    allowed = [option.value for option in declared.options]
    if given not in allowed:
        raise units.QuantityError(f"expected one of {', '.join(allowed)}; got {given[:24]}")
    return given


def split_quantity(text: str, unit: str) -> tuple[str, str]:
    """Split a text such as ``20 inHg`` into the number as typed and its unit.

    Parameters
    ----------
    text : str
        A quantity, with or without its unit
    unit : str
        The unit that stands for a missing one

    Returns
    -------
    number : str
        The number
    unit : str
        The unit's spelling
    """
    leading = text.upper().startswith("AWG")
    if leading:
        return text[3:].strip(), "AWG"
    number, _, spelling = text.strip().partition(" ")
    return number, spelling.strip() or unit

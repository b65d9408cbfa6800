"""The only entry that the site and the browser use: plain JSON in, plain JSON out."""

import importlib
import json
import pkgutil
from collections.abc import Callable, Mapping
from typing import Any

from baycalc import calculators, isolation, units
from baycalc.declare import (
    Answer,
    Calculator,
    Choice,
    Flag,
    HandOver,
    Input,
    Quantity,
    Refusal,
    Result,
    Text,
)
from baycalc.judge import Gauge, Limit, Verdict, judge, likelihood

Json = dict[str, Any]

_calculators: dict[str, Calculator] = {}


def install(table: str | Mapping[str, Any]) -> None:
    """Take the unit table (data, or JSON text) and import every calculator."""
    units.install(units.UnitTable(json.loads(table) if isinstance(table, str) else table))
    for module in sorted(pkgutil.iter_modules(calculators.__path__), key=lambda found: found.name):
        found = importlib.import_module(f"{calculators.__name__}.{module.name}")
        _calculators[module.name] = found.CALCULATOR


def table() -> units.UnitTable:
    """Return the installed unit table.

    Raises
    ------
    RuntimeError
        When `install` was not called before.
    """
    return units.installed()


def names() -> list[str]:
    """Return the ids of all calculators, sorted."""
    return list(_calculators)


def describe(name: str) -> Calculator:
    """Return the declaration of a calculator.

    Raises
    ------
    KeyError
        When there is no calculator of that name.
    """
    return _calculators[name]


def run(name: str, fields: Mapping[str, str]) -> Json:
    """Compute a calculator from its fields as typed.

    Parameters
    ----------
    name : str
        Id of the calculator.
    fields : Mapping[str, str]
        Text by input id, and unit by ``<input id>.unit``; a field left out has its default.

    Returns
    -------
    dict
        ``results`` (by id: ``si``, ``us``, ``metric``, ``all``), ``errors`` (sentence by input
        id), ``notes``, ``drawing`` and ``links``. With errors there are no results.
    """
    calculator = describe(name)
    values, errors = _read_fields(calculator, fields)
    if errors:
        return {"errors": errors}
    try:
        answer = calculator.compute(**values)
    except Refusal as refusal:
        return {"errors": refusal.problems}
    except (OverflowError, ZeroDivisionError):
        return {"errors": {"": "these figures lie outside what the formula can compute"}}
    return _write_answer(calculator, values, answer)


def judge_reading(request: Mapping[str, Any]) -> Json:
    """Judge one reading of a procedure.

    Parameters
    ----------
    request : Mapping[str, Any]
        ``kind``, ``low`` and ``high`` (SI or None), ``gauge`` (fields of `Gauge`), ``reading`` as
        typed, its ``unit``, and ``units`` (US, metric) to write the verdict in.

    Returns
    -------
    dict
        ``verdict`` as in `run`, and ``likelihood`` (abnormal, normal); or ``error``.
    """
    try:
        reading = table().parse(request["kind"], request["reading"], request.get("unit"))
    except units.QuantityError as problem:
        return {"error": _sentence(str(problem))}
    limit = Limit(low=request.get("low"), high=request.get("high"))
    uncertainty = Gauge(**request.get("gauge", {})).uncertainty(reading)
    verdict = judge(reading, uncertainty, limit, kind=request["kind"])
    return {
        "verdict": _write_verdict(verdict, tuple(request["units"])),
        "likelihood": list(likelihood(reading, uncertainty, limit)),
        "si": reading,
    }


_METHODS: dict[str, Callable[[Json], Json]] = {
    "run": lambda request: run(request["name"], request["fields"]),
    "judge": judge_reading,
    "isolate": lambda request: isolation.evaluate(request["network"], request["history"]),
}


def call(text: str) -> str:
    """Answer one request of the page: ``{"method": "run" | "judge" | "isolate", ...}`` as JSON."""
    request = json.loads(text)
    return json.dumps(_METHODS[request["method"]](request))


def _read_fields(
    calculator: Calculator, fields: Mapping[str, str]
) -> tuple[dict[str, Any], dict[str, str]]:
    values: dict[str, Any] = {}
    errors: dict[str, str] = {}
    for declared in calculator.inputs:
        try:
            values[declared.id] = _read(declared, fields)
        except units.QuantityError as problem:
            errors[declared.id] = _sentence(str(problem))
    for declared in calculator.inputs:
        if declared.id in errors and not _in_use(declared, values):
            del errors[declared.id]
            values[declared.id] = None
    return values, errors


def _in_use(declared: Input, values: Mapping[str, Any]) -> bool:
    return declared.shown is None or values.get(declared.shown.choice) in declared.shown.values


def _read(declared: Input, fields: Mapping[str, str]) -> float | str | bool | None:
    given = fields.get(declared.id)
    match declared:
        case Quantity():
            return _read_quantity(declared, given, fields.get(f"{declared.id}.unit"))
        case Choice():
            return _read_choice(declared, given)
        case Flag():
            return declared.default if given is None else given in ("true", "yes", "on", "1")
        case Text():
            text = declared.default if given is None else given.strip()
            if len(text) > declared.longest:
                raise units.QuantityError(f"is too long: {declared.longest} characters at most")
            return text


def _read_quantity(declared: Quantity, given: str | None, unit: str | None) -> float | None:
    if given is None:
        given, unit = declared.default, None
    if given is None or (not given.strip() and declared.default is None):
        return None
    value = table().parse(declared.kind, given, unit or declared.units[0])
    for bound, word in ((declared.low, "at least"), (declared.high, "at most")):
        if bound is None:
            continue
        edge = table().parse(declared.kind, bound)
        if (value < edge) if word == "at least" else (value > edge):
            raise units.QuantityError(f"expected {word} {bound}, got {given} {unit or ''}".rstrip())
    return value


def _read_choice(declared: Choice, given: str | None) -> str:
    if given is None:
        return declared.default
    allowed = [option.value for option in declared.options]
    if given not in allowed:
        raise units.QuantityError(f"expected one of {', '.join(allowed)}; got {given[:24]}")
    return given


def _write_answer(calculator: Calculator, values: Mapping[str, Any], answer: Answer) -> Json:
    results = {
        declared.id: _write(declared, answer.values[declared.id])
        for declared in calculator.results
        if answer.values.get(declared.id) is not None
    }
    return {
        "results": results,
        "errors": {},
        "notes": [{"signal": note.signal, "text": note.text} for note in answer.notes],
        "drawing": answer.drawing,
        "links": [_link(hand, values, answer) for hand in calculator.hands_over],
    }


def _write(declared: Result, value: Any) -> Json:
    if isinstance(value, Verdict):
        return _write_verdict(value, value.units or declared.units, declared.digits)
    if isinstance(value, bool):
        return {"si": value, "us": "yes" if value else "no", "metric": "yes" if value else "no"}
    if isinstance(value, str):
        return {"si": value, "us": value, "metric": value}
    written = [table().show(declared.kind, value, unit, declared.digits) for unit in declared.units]
    pair = {"si": value, "us": written[0], "metric": written[min(1, len(written) - 1)]}
    return pair | ({"all": written} if declared.table else {})


def _write_verdict(verdict: Verdict, pair: tuple[str, ...], digits: int = 3) -> Json:
    def both(value: float, uncertain: bool = False) -> Json:
        text = [
            _show_difference(verdict.kind, value, unit)
            if uncertain
            else table().show(verdict.kind, value, unit, digits)
            for unit in pair[:2]
        ]
        return {"us": text[0], "metric": text[-1]}

    return {
        "si": verdict.outcome,
        "outcome": verdict.outcome,
        "reading": both(verdict.reading),
        "guard": both(verdict.guard, uncertain=True),
        "low": None if verdict.limit.low is None else both(verdict.limit.low),
        "high": None if verdict.limit.high is None else both(verdict.limit.high),
        "conformity": verdict.conformity,
        "advice": verdict.advice,
    }


def _show_difference(kind: str, value: float, symbol: str) -> str:
    unit = table().unit(kind, symbol)
    return f"{units.significant(value / unit.factor, 2)} {symbol}"


def _link(hand: HandOver, values: Mapping[str, Any], answer: Answer) -> Json:
    target = describe(hand.to)
    declared = {entry.id: entry for entry in target.inputs}
    carried = dict(hand.sets)
    for theirs, ours in hand.carries.items():
        value = answer.values.get(ours, values.get(ours))
        entry = declared[theirs]
        if value is None:
            continue
        if isinstance(entry, Quantity) and isinstance(value, float):
            unit = table().unit(entry.kind, entry.units[0])
            carried[theirs] = repr(float(f"{unit.from_si(value):.6g}"))
            carried[f"{theirs}.unit"] = unit.symbol
        else:
            carried[theirs] = str(value)
    return {"to": hand.to, "label": hand.label, "title": target.title, "fields": carried}


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:] + ("" if text.endswith(".") else ".")

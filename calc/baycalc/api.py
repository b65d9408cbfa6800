"""The only entry that the site and the browser use: plain JSON in, plain JSON out."""

import importlib
import json
import pkgutil
from collections.abc import Callable, Mapping
from typing import Any

from baycalc import calculators, isolation
from baycalc.car.own_car import answer_car
from baycalc.exercise.desk import answer_exercise
from baycalc.forms.conclude import is_example
from baycalc.forms.declare import Calculator, Refusal
from baycalc.forms.parse import read_fields
from baycalc.forms.present import write_answer
from baycalc.measurement.reading import judge_reading
from baycalc.quantities import units
from baycalc.quantities.numbers import quote

Json = dict[str, Any]

_EXAMPLE = "An example, with the figures that stand here first: type yours."
_BEYOND = "These figures lie outside what the formula can compute."

_calculators: dict[str, Calculator] = {}
_first: dict[str, Json] = {}
"""Values of the inputs as they stand there first, by calculator."""


def install(table: str | Mapping[str, Any]) -> None:
    """Take the unit table (data, or JSON text) and import every calculator."""
    units.install(units.UnitTable(json.loads(table) if isinstance(table, str) else table))
    for module in sorted(pkgutil.iter_modules(calculators.__path__), key=lambda found: found.name):
        found = importlib.import_module(f"{calculators.__name__}.{module.name}")
        _calculators[module.name] = found.CALCULATOR
    _first.clear()


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
        ``results`` (by id: ``si``, ``us``, ``metric``, ``all``), ``conclusions``, ``headline``
        (the worst of them, or None), ``errors`` (sentence by input id), ``notes``, ``drawing``,
        ``links``, and ``example`` (a sentence where the defaults stand, else empty). With errors
        there are no results.
    """
    if name not in _calculators:
        return {"errors": {"": f"There is no calculator {quote(name)} in this book."}}
    calculator = describe(name)
    values, errors = read_fields(calculator, fields)
    if errors:
        return {"errors": errors}
    try:
        answer = write_answer(calculator, values, calculator.compute(**values), describe)
    except Refusal as refusal:
        return {"errors": refusal.problems}
    except ArithmeticError:
        return {"errors": {"": _BEYOND}}
    if name not in _first:
        _first[name], _ = read_fields(calculator, {})
    return answer | {"example": _EXAMPLE if is_example(values, _first[name]) else ""}


_METHODS: dict[str, Callable[[Json], Json]] = {
    "run": lambda request: run(request["name"], request["fields"]),
    "judge": judge_reading,
    "open": lambda request: {"id": isolation.open_network(request["network"])},
    "car": lambda request: answer_car(request, describe),
    "exercise": answer_exercise,
    "isolate": lambda request: isolation.evaluate(request["id"], request["history"]),
}


def call(text: str) -> str:
    """Answer one request of the page: ``{"method": "run" | "judge" | ..., ...}`` as JSON.

    A request for what is not there, or an answer that JSON cannot hold, gives ``error``: one
    sentence.
    """
    request = json.loads(text)
    method = _METHODS.get(request.get("method"))
    if method is None:
        return json.dumps({"error": f"There is no way to answer {quote(str(request)[:40])}."})
    try:
        return json.dumps(method(request), allow_nan=False)
    except ValueError:
        return json.dumps({"error": _BEYOND, "errors": {"": _BEYOND}})

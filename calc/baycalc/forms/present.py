"""An answer of a calculation into plain JSON: figures in both unit systems, verdicts, links."""

import math
from collections.abc import Callable, Mapping
from typing import Any

from baycalc.forms.conclude import conclusions, headline
from baycalc.forms.declare import Answer, Calculator, HandOver, Note, Quantity, Result
from baycalc.measurement.decision import Verdict
from baycalc.quantities import units
from baycalc.text import percent

Json = dict[str, Any]

_NEVER = 1e-9
"""How near to none or all a chance is written at most [-]."""


def write_answer(
    calculator: Calculator,
    values: Mapping[str, Any],
    answer: Answer,
    describe: Callable[[str], Calculator],
) -> Json:
    """Write an answer: results by id, remarks, drawing, and links to other calculators."""
    results = {
        declared.id: _write(
            declared, answer.values[declared.id], answer.steps.get(declared.id, 0.0)
        )
        for declared in calculator.results
        if answer.values.get(declared.id) is not None
    }
    found = conclusions(calculator, answer)
    return {
        "results": results,
        "errors": {},
        "conclusions": found,
        "headline": headline(found),
        "notes": [_note(note) for note in answer.notes],
        "drawing": answer.drawing,
        "links": [
            _link(hand, values, answer, describe)
            for hand in calculator.hands_over
            if _has_results(hand, calculator, answer)
        ],
    }


def _note(note: Note | str) -> Json:
    if isinstance(note, str):
        return {"signal": "", "text": note}
    return {"signal": note.signal, "text": note.text}


def _write(declared: Result, value: Any, step: float) -> Json:
    if isinstance(value, Verdict):
        return write_verdict(value, value.kind.units or declared.units, declared.digits, step)
    if isinstance(value, bool):
        return {"si": value, "us": "yes" if value else "no", "metric": "yes" if value else "no"}
    if isinstance(value, str):
        return {"si": value, "us": value, "metric": value}
    if not math.isfinite(value):
        raise OverflowError(declared.id)
    written = [
        units.installed().show(declared.kind, value, unit, declared.digits, step)
        for unit in declared.units
    ]
    pair = {"si": value, "us": written[0], "metric": written[min(1, len(written) - 1)]}
    return pair | ({"all": written} if declared.table else {})


def write_verdict(
    verdict: Verdict, pair: tuple[str, ...], digits: int = 3, step: float = 0.0
) -> Json:
    """Write a verdict with the figures it stands on, in a US and a metric unit.

    Parameters
    ----------
    verdict : Verdict
        The verdict
    pair : tuple
        US and metric unit, or one for both
    digits : int
        Significant digits, at least [-]
    step : float
        Smallest difference that must not be rounded away, or 0 [SI unit of the reading]
    """
    return {
        "si": verdict.outcome,
        "outcome": verdict.outcome,
        "us": _figures(verdict, pair[0], digits, step),
        "metric": _figures(verdict, pair[min(1, len(pair) - 1)], digits, step),
        "conformity": verdict.conformity,
        "advice": verdict.advice,
    }


def _figures(verdict: Verdict, unit: str, digits: int, step: float) -> str:
    def show(value: float) -> str:
        return units.installed().show(verdict.kind.name, value, unit, digits, step)

    low, high = verdict.limit.low, verdict.limit.high
    bounds = []
    if low is not None:
        bounds.append(f"at least {show(low)}")
    if high is not None:
        bounds.append(f"at most {show(high)}")
    guard = _show_difference(verdict.kind.name, verdict.guard, unit)
    return (
        f"Reading {show(verdict.reading)}, limit {' and '.join(bounds)}, guard band {guard}; "
        f"{percent(min(max(verdict.conformity, _NEVER), 1 - _NEVER))} likely inside the limit."
    )


def _show_difference(kind: str, value: float, symbol: str) -> str:
    unit = units.installed().unit(kind, symbol)
    text = units.significant(value / unit.factor, 2)
    return text if symbol == "1" else f"{text} {units.label(symbol)}"


def _has_results(hand: HandOver, calculator: Calculator, answer: Answer) -> bool:
    """Return whether the answer holds every result that a link is to carry."""
    declared = {result.id for result in calculator.results}
    wanted = declared.intersection(hand.carries.values())
    return all(answer.values.get(name) is not None for name in wanted)


def _link(
    hand: HandOver,
    values: Mapping[str, Any],
    answer: Answer,
    describe: Callable[[str], Calculator],
) -> Json:
    target = describe(hand.to)
    declared = {entry.id: entry for entry in target.inputs}
    carried = dict(hand.sets)
    for theirs, ours in hand.carries.items():
        value = answer.values.get(ours, values.get(ours))
        entry = declared[theirs]
        if value is None:
            continue
        if isinstance(entry, Quantity) and isinstance(value, float):
            unit = units.installed().unit(entry.kind, entry.units[0])
            carried[theirs] = repr(float(f"{unit.from_si(value):.6g}"))
            carried[f"{theirs}.unit"] = unit.symbol
        else:
            carried[theirs] = str(value)
    return {"to": hand.to, "label": hand.label, "title": target.title, "fields": carried}

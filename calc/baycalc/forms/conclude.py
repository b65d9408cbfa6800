"""What an answer comes to: its conclusions, and the headline, which is the worst of them."""

from collections.abc import Iterator, Mapping
from typing import Any

from baycalc.forms.declare import Answer, Calculator, Result
from baycalc.measurement.decision import FAIL, PASS, TOO_CLOSE, Verdict
from baycalc.text import capital

Json = dict[str, Any]

_WORST_FIRST = (FAIL, TOO_CLOSE, PASS)


def conclusions(calculator: Calculator, answer: Answer) -> list[Json]:
    """Return the conclusions of an answer: ``id``, ``label``, ``outcome`` and ``text`` of each."""
    return list(_conclusions(calculator, answer))


def _conclusions(calculator: Calculator, answer: Answer) -> Iterator[Json]:
    for declared in calculator.results:
        value = answer.values.get(declared.id)
        outcome = _outcome(declared, value)
        if outcome:
            says = value.outcome if isinstance(value, Verdict) else _word(value)
            text = f"{declared.label}: {says}"
            yield {"id": declared.id, "label": declared.label, "outcome": outcome, "text": text}


def _outcome(declared: Result, value: object) -> str:
    if isinstance(value, Verdict):
        return "" if declared.aside else value.outcome
    return declared.outcomes.get(_word(value), "")


def _word(value: object) -> str:
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)


def headline(found: list[Json]) -> Json | None:
    """Return the worst outcome of some conclusions, with all that have it; none without any."""
    for outcome in _WORST_FIRST:
        worst = [each for each in found if each["outcome"] == outcome]
        if worst:
            return {
                "outcome": outcome,
                "text": f"{capital(outcome)}. {'; '.join(each['text'] for each in worst)}.",
                "conclusions": [each["id"] for each in worst],
            }
    return None


def is_example(values: Mapping[str, Any], first: Mapping[str, Any]) -> bool:
    """Tell whether the inputs are all as they stand there first, or as near as makes no matter."""
    return all(_same(value, first[name]) for name, value in values.items())


def _same(value: object, first: object) -> bool:
    if isinstance(value, float) and isinstance(first, float):
        return abs(value - first) <= _NO_MATTER * max(abs(value), abs(first))
    return value == first


_NO_MATTER = 0.006
"""How far a default may move by being shown in the other unit system, as a share [-]."""

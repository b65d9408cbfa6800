"""Data for the scripts of a page in which a value that comes again stands once."""

import json
from collections import Counter
from typing import Any

_WORTH_SHARING = 12
"""Letters from which on a value that comes again stands in the list of values."""


def with_values_once(data: dict[str, Any]) -> dict[str, Any]:
    """Return data of which each long value stands once.

    Parameters
    ----------
    data : dict
        Plain data without a key `at` [-].

    Returns
    -------
    once : dict
        `data`, in which ``{"at": n}`` stands for the value n of `values`; `whole` of the scripts
        puts it together again [-].
    """
    counts: Counter[str] = Counter()
    _count(data, counts)
    values: list[Any] = []
    places: dict[str, int] = {}

    def packed(value: Any) -> Any:
        text = _text(value)
        if counts[text] < 2:
            return inside(value)
        if text not in places:
            inner = inside(value)
            places[text] = len(values)
            values.append(inner)
        return {"at": places[text]}

    def inside(value: Any) -> Any:
        if isinstance(value, dict):
            return {name: packed(inner) for name, inner in value.items()}
        return [packed(inner) for inner in value] if isinstance(value, list) else value

    return {"data": inside(data), "values": values}


def _count(value: Any, counts: Counter[str]) -> None:
    """Count the long values; what is inside one that came before is not counted again."""
    text = _text(value)
    if len(text) < _WORTH_SHARING or not isinstance(value, dict | list | str):
        return
    counts[text] += 1
    if counts[text] == 1 and not isinstance(value, str):
        for inner in value.values() if isinstance(value, dict) else value:
            _count(inner, counts)


def _text(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)

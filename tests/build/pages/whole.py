"""Puts data together again as the scripts of the pages do."""

from typing import Any


def whole(value: Any, values: list[Any]) -> Any:
    """Put the values back that stand once, as the page's script does."""
    if isinstance(value, list):
        return [whole(inner, values) for inner in value]
    if not isinstance(value, dict):
        return value
    if value.keys() == {"at"}:
        return whole(values[value["at"]], values)
    return {name: whole(inner, values) for name, inner in value.items()}

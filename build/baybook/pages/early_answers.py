"""The first answers of a plan as a page carries them: what its scripts read."""

from collections.abc import Mapping
from typing import Any

from baybook.pages.values_once import with_values_once

_DIGITS = 4
"""Digits of a share: it is the length of a bar."""

Json = dict[str, Any]


def early_answers(first: Mapping[str, Json]) -> Json:
    """Write the answers by code; see `with_values_once`.

    Parameters
    ----------
    first : mapping
        The answers, as `isolation.first_answers` gives them [-].
    """
    return with_values_once({code: _as_read(answer) for code, answer in first.items()})


def _as_read(answer: Json) -> Json:
    """Leave out what no script reads: shares of parts, and parts of which nothing is said."""
    parts = [
        {name: value for name, value in part.items() if name != "share" and value}
        for part in answer["parts"]
        if part["outline"] or part["tested"] or part["here"]
    ]
    suspects = [
        {name: value for name, value in suspect.items() if name != "share"}
        | {"share": round(suspect["share"], _DIGITS)}
        for suspect in answer["suspects"]
    ]
    return answer | {"parts": parts, "suspects": suspects}

"""The calculator that a test file is named after, run as the page runs it."""

from collections.abc import Callable
from typing import Any

import pytest

from baycalc import api

Answer = dict[str, Any]


@pytest.fixture(scope="module")
def run(request: pytest.FixtureRequest) -> Callable[..., Answer]:
    """Return the whole answer for the fields given, without an error."""
    name = request.module.__name__.rpartition(".")[2].removeprefix("test_")

    def answered(**fields: str) -> Answer:
        answer = api.run(name, fields)
        assert answer["errors"] == {}
        return answer

    return answered


@pytest.fixture(scope="module")
def compute(run: Callable[..., Answer]) -> Callable[..., Answer]:
    """Return the results by id, in SI."""

    def results(**fields: str) -> Answer:
        return {name: result["si"] for name, result in run(**fields)["results"].items()}

    return results

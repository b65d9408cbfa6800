"""Lines of `baybook check --plans`."""

from types import SimpleNamespace
from typing import Any

import pytest

from baybook.book.goals_of_plans import plan_lines
from baycalc import isolation


def test_a_first_test_of_what_hardly_anybody_thinks_is_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    starts = [
        {"code": "", "first": "look", "speaks": True, "expected": 30.0, "at_least": 20.0},
        {"code": "P0411", "first": "hold", "speaks": False, "expected": 50.0, "at_least": 30.0},
    ]
    monkeypatch.setattr(isolation, "plan_starts", lambda _: starts)
    of = {"source": SimpleNamespace(id="air"), "vehicle": SimpleNamespace(id="car")}
    bound: Any = [SimpleNamespace(key="one", network={}, **of)] * 2
    assert list(plan_lines(bound)) == [
        "air on car: 2 starts, 40 expected, 25 at least (each fault known)",
        "    P0411: first hold, of which hardly anybody would think",
    ]

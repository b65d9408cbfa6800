"""Plans that are kept between builds: made once, and anew when an input changes."""

import json
from pathlib import Path
from typing import Any

import pytest

from baybook.book.car import CarProcedure
from baybook.book.network import network
from baybook.pages import plan_cache
from baybook.pages.plan_cache import plan_key, plans_of
from baycalc import isolation


@pytest.fixture
def data(car: CarProcedure) -> dict[str, Any]:
    return network(car, 60)


def test_a_plan_is_worked_out_once_and_kept(
    data: dict[str, Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = plans_of([data, data], tmp_path / "plans")
    assert first == {plan_key(data): json.loads(json.dumps(isolation.plan(data, [], rare=0.04)))}
    monkeypatch.setattr(plan_cache, "_work_out", None)  # a second build works nothing out
    assert plans_of([data], tmp_path / "plans") == first


def test_the_key_follows_the_network_and_the_planner(
    data: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    before = plan_key(data)
    assert plan_key(json.loads(json.dumps(data))) == before
    assert plan_key(data | {"rate": 2.0}) != before
    monkeypatch.setattr(plan_cache, "_planner", lambda: b"another planner")
    assert plan_key(data) != before


def test_only_the_newest_plans_are_kept(
    data: dict[str, Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "plans"
    plans_of([data], folder)
    monkeypatch.setattr(plan_cache, "KEPT", 1)
    changed = data | {"recheck_minutes": 30}
    plans_of([changed], folder)
    assert [path.stem for path in folder.iterdir()] == [plan_key(changed)]

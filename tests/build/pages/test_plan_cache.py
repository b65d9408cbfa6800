"""Plans that are kept between builds: made once, and anew when an input changes."""

import json
import os
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
    (made,) = first.values()
    answers = made.pop("first")
    assert list(first) == [plan_key(data)]
    assert made == json.loads(json.dumps(isolation.plan(data, rare=0.04)))
    assert answers.keys() == {"", *data["codes"]}
    assert all(answer["next"]["kind"] for answer in answers.values())
    made["first"] = answers
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


def test_plans_that_no_build_has_used_for_long_go(data: dict[str, Any], tmp_path: Path) -> None:
    folder = tmp_path / "plans"
    plans_of([data], folder)
    changed = data | {"recheck_minutes": 30}
    plans_of([changed], folder)
    assert {path.stem for path in folder.iterdir()} == {plan_key(data), plan_key(changed)}
    for path in folder.iterdir():
        os.utime(path, (1_000_000, 1_000_000))
    (folder / "left.99.part").write_text("cut short")
    os.utime(folder / "left.99.part", (1_000_000, 1_000_000))
    plans_of([changed], folder)
    assert [path.stem for path in folder.iterdir()] == [plan_key(changed)]


@pytest.mark.parametrize("text", ["", "{}", "{", '\n{"tree": 1}', "cut"])
def test_a_damaged_plan_is_worked_out_anew(data: dict[str, Any], tmp_path: Path, text: str) -> None:
    first = plans_of([data], tmp_path / "plans")
    (kept,) = (tmp_path / "plans").iterdir()
    kept.write_text(kept.read_text()[:100] if text == "cut" else text)
    assert plans_of([data], tmp_path / "plans") == first
    assert plans_of([data], tmp_path / "plans") == first

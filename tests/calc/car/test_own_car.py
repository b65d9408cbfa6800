"""A car that a reader enters: checked like a source, answered like a car of the book."""

import json
from typing import Any

import pytest

from baycalc import api

CATALOG: dict[str, Any] = {
    "equipment": {"pump": "electric air pump", "sensor": "pressure sensor"},
    "procedures": {
        "air": {
            "title": "Air pump",
            "needs": ["pump"],
            "without": [],
            "any": [],
            "pages": [{"name": "work", "has": [], "not": ["sensor"]}],
            "figures": {"vacuum": ["Hold"], "fuse": ["Fuse"], "place": []},
        }
    },
    "asks": {
        "limit:vacuum": {
            "form": "limit",
            "figure": "vacuum",
            "low": "",
            "high": "",
            "kind": "pressure",
            "units": ["inHg", "kPa"],
        },
        "figure:fuse": {"form": "figure", "figure": "fuse", "kind": "current"},
        "where:place": {"form": "where", "figure": "place"},
    },
    "figures": {"vacuum": {"kind": "pressure"}, "fuse": {"kind": "current"}, "place": {"kind": ""}},
}
CAR: dict[str, Any] = {
    "name": "Norvex Lark",
    "engine": "2.0 L",
    "has": ["pump"],
    "figures": {"vacuum": {"says": "Vacuum", "between": ["6 inHg", "11 inHg"]}},
}


def answer(**changes: Any) -> Any:
    request = {"method": "car", "vehicle": CAR | changes, "catalog": CATALOG}
    return json.loads(api.call(json.dumps(request)))


def test_a_car_is_answered_like_one_of_the_book() -> None:
    """3386.389 Pa to the inHg (NIST SP 811:2008, B.8)."""
    found = answer()
    assert found["errors"] == {}
    place = found["answered"]["places"]["limit:vacuum"]
    assert place["low"] == pytest.approx(6 * 3386.389)
    assert place["texts"][0] == ["6 inHg", "20 kPa", "6 inHg (20 kPa)"]
    assert found["answered"]["pages"] == {"air": "work"}


def test_what_is_not_noted_yet_is_open_and_has_no_place() -> None:
    found = answer()
    assert found["serving"][0]["open"] == ["fuse", "place"]
    assert list(found["answered"]["places"]) == ["limit:vacuum"]


def test_a_car_that_nothing_serves() -> None:
    found = answer(has=[])
    assert found["serving"] == []
    assert found["answered"]["pages"] == {}


def test_another_equipment_is_told_with_the_nearest_page() -> None:
    (found,) = answer(has=["pump", "sensor"])["serving"]
    assert found["page"] == "work"
    assert "leaves out pressure sensor." in found["differs"]


@pytest.mark.parametrize(
    ("figure", "field", "sentence"),
    [
        ({"value": "20 V"}, "value", "pressure"),
        ({"value": "a lot"}, "value", "a lot"),
        ({"value": "20"}, "value", "has no unit"),
        ({"between": ["11 inHg", "6 inHg"]}, "greatest", "Expected at least 11 inHg, got 6 inHg."),
        ({"between": ["x", "6 inHg"]}, "least", "x"),
        ({"at-most": "3 A"}, "at-most", "pressure"),
    ],
)
def test_a_mistake_is_told_at_its_field_and_its_figure_left_out(
    figure: dict[str, Any], field: str, sentence: str
) -> None:
    found = answer(figures={"vacuum": figure, "place": {"where": "left"}})
    assert list(found["errors"]) == [f"figures.vacuum.{field}"]
    assert sentence in found["errors"][f"figures.vacuum.{field}"]
    assert list(found["answered"]["places"]) == ["where:place"]
    assert "vacuum" in found["serving"][0]["open"]


def test_a_car_needs_its_name_and_its_engine() -> None:
    errors = answer(name="", engine=" ")["errors"]
    assert errors == {
        "name": "Expected make, model and years, got nothing.",
        "engine": "Expected the engine in a few words, got nothing.",
    }
    assert "at most 200 letters" in answer(name="x" * 300)["errors"]["name"]

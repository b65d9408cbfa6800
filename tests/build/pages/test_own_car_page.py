"""The form of a car of one's own, and what it knows of the book."""

import json
from pathlib import Path
from typing import Any

import pytest

from baybook.book.compiled import CompiledBook
from baybook.pages.own_car_page import own_car_file, own_car_page
from baybook.pages.procedure import procedure_pages
from baybook.pages.site import Settings
from baycalc import api


@pytest.fixture
def catalog(small_book: CompiledBook, tmp_path: Path) -> dict[str, Any]:
    pages = procedure_pages(small_book, Settings(), tmp_path / "cache")
    (text,) = own_car_file(small_book, pages).values()
    found: dict[str, Any] = json.loads(text.partition("(")[2].removesuffix(");\n"))
    return found


def test_every_figure_says_what_it_is_its_unit_and_why_it_is_asked_for(
    catalog: dict[str, Any],
) -> None:
    vacuum = catalog["figures"]["valve-vacuum"]
    assert vacuum["says"] == "Vacuum of the valve"
    assert (vacuum["kind"], vacuum["shape"]) == ("pressure", "at-least")
    assert vacuum["units"] == "inHg / kPa"
    assert vacuum["typical"].startswith("at least 18 inHg")
    assert "Hold" in catalog["procedures"]["air"]["figures"]["valve-vacuum"]


def test_equipment_stands_in_words(catalog: dict[str, Any], small_book: CompiledBook) -> None:
    assert catalog["equipment"]["air-pump"] == "air pump"
    assert '<input type="checkbox" data-has="air-pump">' in own_car_page(small_book.sources).text


def test_a_car_of_the_book_typed_in_is_answered_as_the_book_has_it(
    catalog: dict[str, Any],
) -> None:
    figures = {
        "pump-fuse": {"value": "40 A", "where": "under the hood"},
        "valve-vacuum": {"at-least": "18 inHg"},
        "hose-bore": {"value": "4 mm"},
    }
    vehicle = {"name": "A", "engine": "B", "has": ["air-pump"], "figures": figures}
    request = {"method": "car", "vehicle": vehicle, "catalog": catalog}
    found = json.loads(api.call(json.dumps(request)))
    assert found["errors"] == {}
    assert found["serving"][0]["open"] == []
    assert found["answered"]["places"].keys() == catalog["asks"].keys()

"""The indexes: every code, complaint, part, tool, system and vehicle, with where it leads."""

import re

import pytest

from baybook.book.sources.load import Book
from baybook.pages.indexes import index_pages


@pytest.fixture
def indexes(small: Book) -> dict[str, str]:
    return {page.uri: page.text for page in index_pages(small)}


def test_a_code_leads_to_the_procedure_and_to_each_car_with_the_code(
    indexes: dict[str, str],
) -> None:
    """Title of the code: SAE J2012, from memory."""
    text = indexes["indexes/codes.md"]
    assert (
        "<strong>P0411</strong> Secondary air injection system incorrect flow detected</p>" in text
    )
    assert '<a href="../procedures/air/index.html">Air pump</a>' in text
    assert '<a href="../procedures/air/car.html?code=P0411">Invented car</a>' in text


def test_parts_tools_systems_and_vehicles(indexes: dict[str, str]) -> None:
    for name, key in [("parts", "valve"), ("tools", "hand vacuum pump"), ("systems", "Secondary")]:
        text = indexes[f"indexes/{name}.md"]
        assert f"<strong>{key}" in text
        assert '<a href="../procedures/air/car.html">Invented car</a>' in text
    assert '<a href="../procedures/air/car.html">Air pump</a>' in indexes["indexes/vehicles.md"]
    assert "<strong>Invented car</strong> Invented engine" in indexes["indexes/vehicles.md"]


def test_entries_are_in_order_each_once(demo: Book) -> None:
    for page in index_pages(demo):
        if page.uri == "indexes/vehicles.md":
            continue  # in the order of the files
        keys = re.findall("<strong>(.*?)</strong>", page.text)
        assert keys == sorted(set(keys), key=str.casefold), page.uri


def test_a_part_of_two_procedures_stands_once_with_both(demo: Book) -> None:
    (codes,) = (page for page in index_pages(demo) if page.uri == "indexes/codes.md")
    entry = codes.text.split("<strong>P0411</strong>")[1].split("<strong>")[0]
    procedures = [source for source in demo.procedures.values() if "P0411" in source.data.codes]
    assert entry.count("/index.html") == len(procedures) > 1

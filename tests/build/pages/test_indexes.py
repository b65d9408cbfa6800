"""The indexes: every code, complaint, part, tool, system and vehicle, with where it leads."""

import pytest

from baybook.book.sources.load import Book
from baybook.pages.indexes import index_pages


@pytest.fixture
def indexes(small: Book) -> dict[str, str]:
    return {page.uri: page.markdown for page in index_pages(small)}


def test_a_code_leads_to_the_procedure_and_to_each_car_with_the_code(
    indexes: dict[str, str],
) -> None:
    """Title of the code: SAE J2012, from memory."""
    text = indexes["indexes/codes.md"]
    assert "**P0411** Secondary air injection system incorrect flow detected\n" in text
    assert (
        "- [Air pump](../procedures/air/index.md)\n"
        "    - [Invented car](../procedures/air/car.md?code=P0411)\n"
    ) in text


def test_parts_tools_systems_and_vehicles(indexes: dict[str, str]) -> None:
    car = "[Air pump](../procedures/air/index.md)\n    - [Invented car](../procedures/air/car.md)"
    for name, key in [("parts", "valve"), ("tools", "hand vacuum pump"), ("systems", "Secondary")]:
        text = indexes[f"indexes/{name}.md"]
        assert f"**{key}" in text
        assert f"- {car}\n" in text
    assert "- [Air pump](../procedures/air/car.md)\n" in indexes["indexes/vehicles.md"]
    assert "**Invented car** Invented engine\n" in indexes["indexes/vehicles.md"]


def test_entries_are_in_order_each_once(demo: Book) -> None:
    for page in index_pages(demo):
        if page.uri == "indexes/vehicles.md":
            continue  # in the order of the files
        keys = [line.split("**")[1] for line in page.markdown.splitlines() if line.startswith("**")]
        assert keys == sorted(set(keys), key=str.casefold), page.uri


def test_a_part_of_two_procedures_stands_once_with_both(demo: Book) -> None:
    (codes,) = (page for page in index_pages(demo) if page.uri == "indexes/codes.md")
    entry = codes.markdown.split("**P0411**")[1].split("\n**")[0]
    procedures = [source for source in demo.procedures.values() if "P0411" in source.data.codes]
    assert entry.count("\n- [") == len(procedures) > 1

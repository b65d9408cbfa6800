"""The indexes: every code, complaint, part, tool and system, with where it leads."""

import re

import pytest

from baybook.book.sources.load import Book
from baybook.pages.indexes import index_pages


@pytest.fixture
def indexes(small: Book) -> dict[str, str]:
    return {page.uri: page.text for page in index_pages(small)}


def test_a_code_leads_to_the_procedure_and_is_carried_along(indexes: dict[str, str]) -> None:
    """Title of the code: SAE J2012, from memory."""
    text = indexes["indexes/codes.md"]
    assert "<dt>P0411</dt>" in text
    assert "Secondary air injection system incorrect flow detected" in text
    link = '<a href="../procedures/air/index.html?code=P0411" data-procedure="air">Air pump</a>'
    assert link in text


def test_parts_tools_and_systems(indexes: dict[str, str]) -> None:
    for name, key in [("parts", "valve"), ("tools", "hand vacuum pump"), ("systems", "Secondary")]:
        text = indexes[f"indexes/{name}.md"]
        assert f"<dt>{key}" in text
        assert '<a href="../procedures/air/index.html" data-procedure="air">Air pump</a>' in text


def test_the_landing_page_leads_to_every_index(indexes: dict[str, str]) -> None:
    links = re.findall(r'<a href="([a-z]+)\.html">', indexes["indexes/index.md"])
    assert [f"indexes/{name}.md" for name in links] == list(indexes)[1:]


def test_entries_are_in_order_each_once_below_their_letter(demo: Book) -> None:
    for page in index_pages(demo)[1:]:
        keys = re.findall("<dt>(.*?)</dt>", page.text)
        assert keys == sorted(set(keys), key=str.casefold), page.uri
        groups = re.findall(r'<section class="index-group" id="begins-([^"]+)">', page.text)
        assert re.findall(r'<a href="#begins-([^"]+)">', page.text) == groups
        for letter, rest in zip(groups, page.text.split("<section ")[1:], strict=True):
            for key in re.findall("<dt>(.*?)</dt>", rest):
                assert key.lower().startswith(letter), page.uri


def test_a_code_of_two_procedures_stands_once_with_both(demo: Book) -> None:
    codes = next(page for page in index_pages(demo) if page.uri == "indexes/codes.md")
    entry = codes.text.split("<dt>P0411</dt>")[1].split("<dt>")[0]
    procedures = [source for source in demo.procedures.values() if "P0411" in source.data.codes]
    assert entry.count("data-procedure=") == len(procedures) > 1

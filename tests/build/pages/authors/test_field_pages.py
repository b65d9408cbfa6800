"""The reference pages: one for each record, an anchor for each field, links that lead somewhere."""

import posixpath
import re
from pathlib import Path

import pytest

from baybook.book.reference import record_title, records, words_of
from baybook.book.sources.load import load_book
from baybook.pages.authors.field_pages import FIELDS_URI, field_pages
from baybook.pages.site import Page, record_uri

LINK = re.compile(r"\]\(([^)]*)\)")
ANCHOR = re.compile(r"\{#([^}]+)\}")


@pytest.fixture
def pages(book_folder: Path) -> dict[str, Page]:
    return {page.uri: page for page in field_pages(load_book(book_folder / "procedures"))}


def test_there_is_a_page_for_each_record(pages: dict[str, Page]) -> None:
    assert set(pages) == {FIELDS_URI} | {record_uri(record_title(each)) for each in records()}
    assert len({page.title for page in pages.values()}) == len(pages)


def test_every_field_has_its_anchor_once(pages: dict[str, Page]) -> None:
    for record in records():
        anchors = ANCHOR.findall(pages[record_uri(record_title(record))].text)
        assert len(anchors) == len(set(anchors))
        assert {field.key for field in words_of(record).fields} <= set(anchors)


def test_every_link_leads_to_a_page_and_an_anchor(pages: dict[str, Page]) -> None:
    links = 0
    for uri, page in pages.items():
        for link in LINK.findall(page.text):
            target, _, anchor = link.partition("#")
            place = posixpath.normpath(posixpath.join(posixpath.dirname(uri), target))
            if target and not place.startswith("authors/"):
                continue
            found = pages[place if target else uri]
            assert not anchor or anchor in ANCHOR.findall(found.text)
            links += 1
    assert links > 200


def test_what_a_page_says(pages: dict[str, Page]) -> None:
    text = pages["authors/fields/gauge.md"].text
    assert text.startswith("# Gauge\n\nHow well a tool measures;")
    assert "Stands in [Tool: gauges](tool.md#gauges)." in text
    assert "## `grade` {#grade}\n\nAccuracy grade of ASME B40.100.\n" in text
    assert "**How:** one of the words below. **May be left out.**" in text
    assert "Words: `4A`, `3A`, `2A`, `1A`, `A`, `B`, `C`, `D`." in text
    assert "```yaml\ngrade: B\n```\n\nFrom `shared.yml`." in text
    text = pages["authors/fields/fault.md"].text
    assert "From [Air pump](../../procedures/air/index.md)." in text

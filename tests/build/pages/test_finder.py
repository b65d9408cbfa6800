"""What the field of the home page finds, and where it is put."""

import html
import json
import re
from dataclasses import replace
from typing import Any

import pytest
from msgspec import structs

from baybook.book.sources.load import Book
from baybook.pages.finder import MARK, find_entries, insert_finder
from baycalc import api


@pytest.fixture
def entries(small: Book) -> list[dict[str, Any]]:
    return find_entries(small)


def of_kind(entries: list[dict[str, Any]], kind: str) -> list[tuple[str, str]]:
    return [(entry["text"], entry["to"]) for entry in entries if entry["kind"] == kind]


def test_everything_that_one_may_look_for_is_found(entries: list[dict[str, Any]]) -> None:
    page = "procedures/air/index.md"
    assert of_kind(entries, "procedure") == [("Air pump", page)]
    assert of_kind(entries, "code")[:2] == [
        ("P0410", f"{page}?code=P0410"),
        ("P0411", f"{page}?code=P0411"),
    ]
    assert ("P0172", "indexes/codes.md#begins-p01") in of_kind(entries, "code")
    assert of_kind(entries, "part") == [("pump", page), ("valve", page)]
    assert of_kind(entries, "car") == [("Invented car", "vehicles/car.md")]
    assert len(of_kind(entries, "calculator")) == len(api.names())


def test_a_code_is_found_by_the_words_of_its_title(entries: list[dict[str, Any]]) -> None:
    """SAE J2012, from memory."""
    about = {entry["text"]: entry["about"] for entry in entries if entry["kind"] == "code"}
    assert about["P0411"] == ("Secondary air injection system incorrect flow detected: Air pump")


def test_no_entry_stands_twice(demo: Book) -> None:
    found = [(entry["kind"], entry["text"].lower(), entry["to"]) for entry in find_entries(demo)]
    assert len(found) == len(set(found)) > 200


def test_the_field_stands_where_its_mark_stands_alone(small: Book) -> None:
    page = insert_finder(f"<h1>Home</h1>\n{MARK}\n<p>Text.</p>\n", small, "index.md")
    assert MARK not in page
    assert page.startswith('<h1>Home</h1>\n<div class="finder"')
    assert page.endswith("\n<p>Text.</p>\n")
    same = "<p>Write <code>&lt;!-- finder --&gt;</code> on a line of its own.</p>"
    assert insert_finder(same, small, "authors/text.md") == same


def test_links_are_those_of_the_page_that_holds_the_field(small: Book) -> None:
    page = insert_finder(MARK, small, "start/here.md")
    assert '<li><a href="../procedures/air/index.html">Air pump</a></li>' in page
    (text,) = re.findall(r'id="finder-entries">(.*?)</script>', page, re.DOTALL)
    targets = {entry["to"] for entry in json.loads(text)}
    assert "../procedures/air/index.html?code=P0411" in targets
    assert all(target.startswith("../") for target in targets)


def test_no_title_can_end_the_script(small: Book) -> None:
    title = "</script><b>&"
    car = small.vehicles["car"]
    small.vehicles["car"] = replace(car, data=structs.replace(car.data, name=title))
    page = insert_finder(MARK, small, "index.md")
    assert page.count("</script>") == 1
    (text,) = re.findall(r'id="finder-entries">(.*?)</script>', page, re.DOTALL)
    assert title in {entry["text"] for entry in json.loads(html.unescape(text))}

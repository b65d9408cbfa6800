"""A procedure's pages: the front page, and the page of each car with all that it needs."""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from baybook.book.compiled import compile_book
from baybook.pages.procedure import procedure_pages
from baybook.pages.site import Page, Settings


@pytest.fixture
def pages(book_folder: Path, tmp_path: Path) -> dict[str, Page]:
    settings = Settings(labour_per_hour=90, currency="€")
    book = compile_book(book_folder / "procedures", 90, "€")
    found = procedure_pages(book, settings, tmp_path / "cache")
    return {page.uri: page for page in found}


@pytest.fixture
def text(pages: dict[str, Page]) -> str:
    return pages["procedures/air/work.md"].text


def test_the_front_page_leads_to_the_cars(pages: dict[str, Page]) -> None:
    front = pages["procedures/air/index.md"]
    assert front.title == "Air pump"
    assert 'data-choose="car">Invented car</a> Invented engine' in front.text
    assert "<li><code>P0410</code> Secondary air injection system</li>" in front.text
    assert "System: Secondary air system." in front.text


def test_sections_stand_in_the_order_of_the_work(text: str) -> None:
    headings = re.findall(r'<h[23] id="([a-z-]+)">', text)
    assert headings == [
        "codes",
        "glance",
        "plan",
        "safety",
        "how-it-works",
        "tests",
        "hold",
        "runs",
        "before-fitting",
        "fitting",
        "fit-pump",
        "fit-valve",
        "proof",
        "meanwhile",
        "lessons",
        "sources",
        "cars",
    ]


def test_the_head_of_the_page_leads_to_its_sections(text: str) -> None:
    places = text.split('class="glance-places"')[1].split("</ul>")[0]
    assert re.findall(r'href="#([a-z-]+)">([^<]+)', places) == [
        ("safety", "Safety"),
        ("how-it-works", "How it works"),
        ("plan", "Plan"),
        ("tests", "Tests"),
        ("before-fitting", "Before fitting a part"),
        ("fitting", "Fitting"),
        ("proof", "Proving the repair"),
        ("meanwhile", "Driving it meanwhile"),
        ("lessons", "For a class"),
        ("sources", "Sources"),
        ("cars", "Cars"),
    ]


def test_what_a_class_needs_is_folded(text: str) -> None:
    lessons = text.split('<h2 id="lessons">')[1].partition("</h2>")[2].lstrip()
    assert lessons.startswith('<details class="lessons"><summary>Tasks and questions</summary>\n<')
    assert text.count('<details class="lessons"') == 1


def test_a_reading_knows_its_limit_and_its_gauge(text: str) -> None:
    (found,) = re.findall(r"data-judge='([^']*)'", text)
    judge = json.loads(found)
    # The limit is a figure of the car: the page has its place, the car its value.
    assert (judge["low"], judge["high"]) == (None, None)
    assert 'data-limit="limit:valve-vacuum:::pressure:' in text
    assert judge["units"] == ["inHg", "kPa"]
    assert judge["reference"] == "vacuum"
    # 3386.389 Pa to the inHg (NIST SP 811:2008, B.8).
    assert judge["gauge"]["span"] == pytest.approx(30 * 3386.389)
    assert 'name="hold.vacuum"' in text
    assert 'name="hold.vacuum.unit"' in text


def test_a_question_knows_its_good_answer(text: str) -> None:
    assert 'data-observation="runs.heard" data-good="yes"' in text


def test_a_test_says_its_minutes_its_set_up_and_what_comes_first(text: str) -> None:
    facts = str(text).replace("\u00a0", " ").split('id="runs"')[1].split("</dl>")[0]
    assert "<dt>Time</dt><dd>2 min</dd>" in facts
    assert '<dt>First</dt><dd><a href="#hold">Hold</a>' in facts


def test_the_network_for_the_scripts_lies_in_a_file_beside_the_page(
    pages: dict[str, Page], text: str
) -> None:
    assert '<script id="procedure-data" src="work.data.js"></script>' in text
    data = data_of(pages["procedures/air/work.md"].files["procedures/air/work.data.js"])
    assert data["procedure"] == "air"
    assert data["equipment"] == "work"
    assert data["currency"] == "€"
    assert data["network"]["rate"] == 1.5
    assert data["faults"]["valve-leaks"]["section"] == "fit-valve"
    assert data["tests"]["hold"]["observations"]["vacuum"]["gauge"] == "hand vacuum pump"


def data_of(text: str) -> Any:
    return json.loads(text.partition("(")[2].removesuffix(");\n"))


def test_the_money_is_that_of_the_publisher(text: str) -> None:
    assert re.search(r"Expected before any code is read: .* and €\d+ with parts", text)

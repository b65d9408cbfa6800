"""The author's figures as pages, and the quotation on a procedure's page."""

import json
from datetime import date
from pathlib import Path

import msgspec
import pytest

from baybook.book.bound import bind
from baybook.book.compiled import CompiledBook
from baybook.book.simulated import Simulated, SimulatedBook
from baybook.book.sources.load import Book, load_book
from baybook.pages.authors.figures_page import figure_pages
from baybook.pages.plan import plan_html
from baybook.pages.render import day_text
from baybook.pages.site import Settings
from baycalc import isolation

# Invented figures of the base book, to be found again on the pages.
OUTCOME = {"cars": 5000, "minutes": 48.4, "money": 51.6, "in_vain": 0.0625}
FIGURES = {
    "faults": [
        {
            "fault": "pump-dead",
            "minutes": 5.4,
            "money": 7.6,
            "right": 0.981,
        },
        {"fault": "valve-leaks", "minutes": 9.6, "money": 12.4, "right": 0.95},
    ],
    "never_pay": ["runs"],
    "dearest": "pump-dead",
}


@pytest.fixture
def book(book_folder: Path) -> Book:
    return load_book(book_folder / "procedures")


@pytest.fixture
def simulated(book: Book) -> SimulatedBook:
    outcomes = {
        "plan": OUTCOME | {"right": 0.9965},
        "guess": OUTCOME | {"right": 0.92},
        "page": OUTCOME | {"right": 1.0},
    }
    kept = {
        "serves": ["air/car"],
        "date": "2026-02-03",
        "seed": 0,
        "figures": FIGURES,
        "outcomes": outcomes,
    }
    return SimulatedBook(60.0, {bind(book)[0].key: msgspec.convert(kept, Simulated)})


def texts(book: Book, simulated: SimulatedBook, settings: Settings | None = None) -> dict[str, str]:
    settings = settings or Settings()
    bound = tuple(bind(book, settings.labour_per_hour))
    pages = figure_pages(CompiledBook(book, (), bound, simulated), settings)
    return {page.uri: page.text.replace("\u00a0", " ") for page in pages}


def test_the_page_of_all_procedures(book: Book, simulated: SimulatedBook) -> None:
    text = texts(book, simulated)["authors/figures/index.md"]
    assert (
        "| [Air pump](air.md) | Invented car | 2 | 2 | 100 %, weighted 100 % "
        "| 100 %, weighted 100 % | 0 | 0 | 1 |\n"
    ) in text
    assert (
        "| [Air pump](air.md) | Invented car | 5000 | 99.7 %, 92.0 %, 100 % | 48, 48, 48 "
        "| $52, $52, $52 | 0.06, 0.06, 0.06 | 3 February 2026 |\n"
    ) in text


def test_the_page_of_a_procedure(book: Book, simulated: SimulatedBook) -> None:
    text = texts(book, simulated)["authors/figures/air.md"]
    assert "## Invented car {#car}\n" in text
    assert (
        "- Seen by no test: no fault.\n- Every detected fault is told from every other one.\n"
    ) in text
    assert "- Tests that no simulated job used: Runs.\n" in text
    assert "- The most expensive fault to find: pump dead.\n" in text
    assert (
        "| pump dead | 66.7 % | 90.0 % | 5 | $8 | 98.1 % |\n"
        "| valve leaks | 33.3 % | 90.0 % | 10 | $12 | 95.0 % |\n"
    ) in text
    assert "Worked out on 3 February 2026." in text


ALIKE = {
    "shows: {valve-leaks: 0.9}": "shows: {valve-leaks: 0.9, pump-dead: 0.9}",
    "shows: {pump-dead: 0.9}": "shows: {pump-dead: 0.8, valve-leaks: 0.8}",
}
STATED = {"tests:\n  hold:": "ambiguity-groups: [[pump-dead, valve-leaks]]\ntests:\n  hold:"}


@pytest.mark.parametrize(
    ("changes", "detected", "isolated", "lines"),
    [
        (
            ALIKE,
            "100 %, weighted 100 %",
            "0 %, weighted 0 % | 1 | 0",
            "no fault.\n- No test separates: pump dead; valve leaks.\n",
        ),
        (
            ALIKE | STATED,
            "100 %, weighted 100 %",
            "0 %, weighted 0 % | 1 | 0",
            "no fault.\n- No test separates: pump dead; valve leaks, as the procedure states.\n",
        ),
        (
            {"shows: {pump-dead: 0.9}": "shows: {valve-leaks: 0.9}"},
            "50.0 %, weighted 33.3 %",
            "100 %, weighted 100 % | 0 | 1",
            "pump dead.\n- Every detected fault is told from every other one.\n",
        ),
    ],
)
def test_what_tests_can_show_needs_no_simulated_cars(
    book_folder: Path, changes: dict[str, str], detected: str, isolated: str, lines: str
) -> None:
    path = book_folder / "procedures" / "air.md"
    text = path.read_text("utf-8")
    for old, new in changes.items():
        assert text.count(old) == 1
        text = text.replace(old, new)
    path.write_text(text, "utf-8")
    found = texts(load_book(path.parent), SimulatedBook())
    row = f"| 2 | 2 | {detected} | {isolated} | not worked out |\n"
    assert row in found["authors/figures/index.md"]
    assert f"- Seen by no test: {lines}" in found["authors/figures/air.md"]


@pytest.mark.parametrize("settings", [Settings(labour_per_hour=90.0), None])
def test_figures_of_another_network_are_not_shown(
    book: Book, simulated: SimulatedBook, settings: Settings | None
) -> None:
    kept = simulated if settings else SimulatedBook()
    found = texts(book, kept, settings)
    assert (
        "| 2 | 2 | 100 %, weighted 100 % | 100 %, weighted 100 % | 0 | 0 | not worked out |\n"
    ) in found["authors/figures/index.md"]
    assert "| pump dead | 66.7 % | 90.0 % |\n" in found["authors/figures/air.md"]
    assert "run `baybook simulate`" in found["authors/figures/air.md"]
    assert "3 February" not in "".join(found.values())


def test_a_procedure_quotes_them_with_their_date(book: Book, simulated: SimulatedBook) -> None:
    car = bind(book)[0]
    plan = json.loads(json.dumps(isolation.plan(car.network)))
    text = plan_html(car, plan, Settings(), simulated.networks[car.key], None, "a.plan.js")
    text = text.replace("\u00a0", " ")
    assert (
        "Of 5000 simulated cars with hidden faults, their codes read (3 February 2026), this plan "
        "put 99.7 % right, "
        "in 48 min and for $52 on average; parts by guess 92.0 %, in 48 min and for $52; "
        "working down this page 100 %, in 48 min and for $52."
    ) in text
    assert "simulated" not in plan_html(car, plan, Settings(), None, None, "a.plan.js")


def test_how_days_are_written() -> None:
    assert day_text(date(2026, 11, 5)) == "5 November 2026"

"""The demo book does what it asks of an author's: every fault is found, and every limit proved."""

from pathlib import Path

import pytest

from baybook.book.check import check_book
from baybook.book.check_gauges import check_gauges
from baybook.book.check_isolation import check_isolation
from baybook.book.load import Book, load_book
from baybook.book.quantities import unit_table_data
from baycalc import door


@pytest.fixture
def book(root: Path) -> Book:
    door.install(unit_table_data())
    return load_book(root / "procedures")


def test_no_mistake_and_no_warning(book: Book) -> None:
    assert check_book(book, {name: door.describe(name) for name in door.names()}) == []


def test_every_fault_is_detected_and_told_from_the_others_or_in_a_stated_group(book: Book) -> None:
    assert check_isolation(book) == []


def test_every_gauge_can_prove_its_limit(book: Book) -> None:
    assert check_gauges(book) == []

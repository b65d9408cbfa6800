"""The demo book and the small book, ready for the pages."""

from pathlib import Path

import pytest

from baybook.book.car import CarProcedure
from baybook.book.compiled import CompiledBook, compile_book
from baybook.book.equipment import Variant, variants_of
from baybook.book.sources.load import Book, load_book
from baycalc.forms.declare import Calculator

SOURCES = Path(__file__).parents[3] / "procedures"


@pytest.fixture(scope="session")
def demo(calculators: dict[str, Calculator]) -> Book:
    """The demo book, for pages of every kind; the calculators are installed too."""
    assert calculators
    return load_book(SOURCES)


@pytest.fixture
def small(book_folder: Path, calculators: dict[str, Calculator]) -> Book:
    """A small book of one procedure and one vehicle, which a test may change."""
    assert calculators
    return load_book(book_folder / "procedures")


@pytest.fixture
def car(small: Book) -> CarProcedure:
    """The procedure of the small book, for its vehicle."""
    return CarProcedure(small.procedures["air"], small.vehicles["car"])


@pytest.fixture(scope="session")
def cars(demo: Book) -> list[CarProcedure]:
    """Every procedure of the demo book for every car that it serves."""
    return [
        CarProcedure(source, vehicle)
        for source in demo.procedures.values()
        for vehicle in demo.matches(source)
    ]


@pytest.fixture
def variant(small: Book) -> Variant:
    """The one page of the small book's procedure."""
    (found,) = variants_of(small.procedures["air"], small)
    return found


@pytest.fixture
def small_book(book_folder: Path) -> CompiledBook:
    """The small book, read and checked."""
    return compile_book(book_folder / "procedures")


@pytest.fixture(scope="session")
def demo_book() -> CompiledBook:
    """The demo book, read and checked."""
    return compile_book(SOURCES)

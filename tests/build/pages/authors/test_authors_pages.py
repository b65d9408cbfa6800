"""The part for authors: there or not, as the publisher wants it."""

from pathlib import Path

import pytest

from baybook.book.compiled import CompiledBook, compile_book
from baybook.book.mistakes import mistakes
from baybook.pages.authors.authors_pages import GUIDES, authors_pages
from baybook.pages.site import Page, Settings
from baycalc.forms.declare import Calculator
from baycalc.quantities.nomenclature import NOMENCLATURE


@pytest.fixture
def book(book_folder: Path) -> CompiledBook:
    return compile_book(book_folder / "procedures")


@pytest.fixture
def pages(book: CompiledBook, calculators: dict[str, Calculator]) -> dict[str, Page]:
    assert calculators
    found = authors_pages(book, Settings())
    return {page.uri: page for page in found}


def test_a_publisher_can_leave_them_out(book: CompiledBook) -> None:
    settings = Settings(for_authors=False)
    assert authors_pages(book, settings) == []


def test_every_page_is_of_this_part(pages: dict[str, Page]) -> None:
    assert {page.trail[0] for page in pages.values()} == {"For authors"}
    assert all(uri.startswith("authors/") for uri in pages)


def test_the_search_finds_procedures_first(pages: dict[str, Page]) -> None:
    assert all("\nsearch: {boost: 0.1}\n" in page.source() for page in pages.values())
    assert "search" not in Page("page.md", "Page", "# Page\n").source()


def test_every_guide_is_a_page(pages: dict[str, Page]) -> None:
    for path in GUIDES.glob("*.md"):
        page = pages[f"authors/{path.name}"]
        assert page.text.startswith(f"# {page.title}\n")


def test_the_first_page_leads_to_the_others(pages: dict[str, Page]) -> None:
    text = pages["authors/index.md"].text
    for target in ("ten-minutes", "style", "fields/index", "mistakes", "figures/index"):
        assert f"({target}.md)" in text


def test_every_mistake_has_its_place(pages: dict[str, Page]) -> None:
    text = pages["authors/mistakes.md"].text
    for mistake in mistakes():
        assert text.count(f"{{#{mistake.id}}}") == 1
        assert f"```text\n{mistake.wrong}\n```" in text
        assert f"```text\n{mistake.right}\n```" in text


def test_the_nomenclature_has_every_symbol_with_its_unit(pages: dict[str, Page]) -> None:
    text = pages["authors/nomenclature.md"].text
    rows = [line for line in text.splitlines() if line.startswith("| *")]
    assert len(rows) == sum(len(symbols) for _, symbols in NOMENCLATURE)
    assert "| *p<sub>b</sub>* | absolute pressure behind a hole | Pa | `downstream` |" in rows
    assert any(
        row.startswith("| *I<sub>n</sub>* | rated current of a fuse | A |")
        and "(../calculators/fuse.md)" in row
        for row in rows
    )

"""The field of the home page: where it is put, and the systems beside it."""

from baybook.book.sources.load import Book
from baybook.pages.finder import MARK, insert_finder, procedures_by_system


def test_the_field_stands_where_its_mark_stands_alone(small: Book) -> None:
    page = insert_finder(f"<h1>Home</h1>\n{MARK}\n<p>Text.</p>\n", small, "index.md")
    assert MARK not in page
    assert page.startswith('<h1>Home</h1>\n<div class="finder-large" data-finder>')
    assert page.endswith("\n<p>Text.</p>\n")
    same = "<p>Write <code>&lt;!-- finder --&gt;</code> on a line of its own.</p>"
    assert insert_finder(same, small, "authors/text.md") == same


def test_links_are_those_of_the_page_that_holds_the_field(small: Book) -> None:
    page = insert_finder(MARK, small, "start/here.md")
    assert '<a href="../procedures/air/index.html" data-procedure="air">Air pump</a>' in page


def test_every_procedure_stands_below_its_system(demo: Book) -> None:
    systems = procedures_by_system(demo, "index.md")
    assert [system for system, _ in systems] == sorted({system for system, _ in systems})
    assert sum(len(procedures) for _, procedures in systems) == len(demo.procedures)

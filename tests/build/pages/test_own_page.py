"""Pages written by hand: words in braces, and mistakes of a preview above them."""

from pathlib import Path

from baybook.book.sources.load import load_book
from baybook.pages.own_page import own_page, with_mistakes
from baycalc.forms.declare import Calculator


def test_words_of_a_page_of_ones_own(book_folder: Path, calculators: dict[str, Calculator]) -> None:
    assert calculators
    book = load_book(book_folder / "procedures")
    text, unknown = own_page(
        'Draw {{ quantity("20 inHg") }}, see {{ procedure("air") }}.\n'
        '{{ figure("x") }} {{ quantity("twenty") }}\n```\n{{ quantity("1 V") }}\n```\n',
        book,
        "about.md",
    )
    assert 'data-us="20 inHg" data-metric="68 kPa"' in text
    assert '<a href="procedures/air/index.html">Air pump</a>' in text
    assert '```\n{{ quantity("1 V") }}\n```' in text
    assert unknown == [(2, '{{ figure("x") }}'), (2, '{{ quantity("twenty") }}')]


def test_mistakes_stand_above_a_page() -> None:
    page = with_mistakes("<html><body class='x'><p>a</p>", "a.md:1: expected <b>")
    assert page.index('role="alert"') < page.index("<p>a</p>")
    assert "expected &lt;b&gt;" in page

"""All generated pages of a book."""

from collections.abc import Iterable
from pathlib import Path

from baybook.book.compiled import CompiledBook
from baybook.carried import Carried
from baybook.pages.authors.authors_pages import authors_pages
from baybook.pages.calculator import calculator_pages
from baybook.pages.indexes import index_pages
from baybook.pages.landing import procedures_page, with_crumbs
from baybook.pages.licences import licences_page
from baybook.pages.own_car_page import own_car_page
from baybook.pages.procedure import procedure_pages
from baybook.pages.sheets import sheets_page
from baybook.pages.site import Page, Settings
from baybook.pages.vehicle import vehicle_pages


def every_page(
    book: CompiledBook,
    settings: Settings,
    cache: Path,
    carried: Iterable[Carried],
) -> list[Page]:
    """Return the generated pages in the order of the navigation."""
    pages = [
        procedures_page(book.sources),
        *procedure_pages(book, settings, cache),
        *calculator_pages(),
        *vehicle_pages(book),
        own_car_page(book.sources),
        *index_pages(book.sources),
        sheets_page(),
        *authors_pages(book, settings),
        licences_page(carried),
    ]
    return [with_crumbs(page) for page in pages]

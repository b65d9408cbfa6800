"""The front page of a procedure: what it is for, and the cars that it serves."""

from baybook.book.compiled import CompiledBook
from baybook.book.sources.load import ProcedureSource
from baybook.pages.render import html
from baybook.pages.site import MY_CAR_URI, Page, car_href, href, procedure_uri


def trail_of(source: ProcedureSource) -> tuple[str, ...]:
    """Return where the pages of a procedure stand in the navigation."""
    return ("Procedures", source.data.title)


def front_page(source: ProcedureSource, book: CompiledBook) -> Page:
    """Return the page that leads to those of the cars."""
    uri = procedure_uri(source.id)
    names = book.page_names()
    cars = book.sources.matches(source)
    text = html(
        "procedure_front.html.j2",
        id=source.id,
        data=source.data,
        system=source.system,
        codes={code: source.code_title(code) for code in source.data.codes},
        cars=[(car.id, car.data, car_href(source.id, car.id, names, uri)) for car in cars],
        my_car=href(MY_CAR_URI, uri),
    )
    return Page(uri, source.data.title, text, trail_of(source))

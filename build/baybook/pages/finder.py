"""The field of the home page, and the systems for those who look around."""

from baybook.book.sources.load import Book
from baybook.pages.render import html
from baybook.pages.site import MY_CAR_URI, VEHICLES_URI, href, procedure_uri

MARK = "<!-- finder -->"
"""Where an author wants the field: a line of its own."""

CARS_SHOWN = 12
"""So many cars stand on the home page; the landing page of the vehicles has all."""


def insert_finder(written: str, book: Book, page: str) -> str:
    """Put the field where the mark stands on a page of HTML."""
    if MARK not in written:
        return written
    systems = procedures_by_system(book, page)
    cars = [{"id": car.id, "name": car.data.name} for car in book.vehicles.values()]
    field = html(
        "finder.html.j2",
        systems=systems,
        cars=cars[:CARS_SHOWN],
        more_cars=len(cars) if len(cars) > CARS_SHOWN else 0,
        vehicles=href(VEHICLES_URI, page),
        my_car=href(MY_CAR_URI, page),
    )
    return written.replace(MARK, field, 1)


def procedures_by_system(book: Book, page: str) -> list[tuple[str, list[dict[str, str]]]]:
    """Return the procedures of each system as links of a page."""
    found: dict[str, list[dict[str, str]]] = {}
    for name, source in book.procedures.items():
        entry = {
            "id": name,
            "title": source.data.title,
            "summary": source.data.summary,
            "href": href(procedure_uri(name), page),
        }
        found.setdefault(source.system, []).append(entry)
    return sorted(found.items())

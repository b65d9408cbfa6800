"""A vehicle's page: its profile, and the procedures that serve it."""

from baybook.book.sources.load import Book, VehicleSource
from baybook.pages.body import figure_html
from baybook.pages.prose import plain_prose
from baybook.pages.render import html
from baybook.pages.site import Page, href, procedure_uri, vehicle_uri


def vehicle_pages(book: Book) -> list[Page]:
    """Return the pages of all vehicles."""
    return [_page(vehicle, book) for vehicle in book.vehicles.values()]


def _page(vehicle: VehicleSource, book: Book) -> Page:
    uri = vehicle_uri(vehicle.id)
    text = html(
        "vehicle.html.j2",
        data=vehicle.data,
        about=plain_prose().write(vehicle.data.about),
        procedures=[
            (source.data.title, href(procedure_uri(source.id, vehicle.id), uri))
            for source in book.procedures.values()
            if vehicle in book.matches(source)
        ],
        figures=[
            (figure.says, figure_html(figure), figure.where)
            for figure in vehicle.data.figures.values()
        ],
    )
    return Page(uri, vehicle.data.name, text, ("Vehicles",))

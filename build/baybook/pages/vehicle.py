"""A vehicle's page: its profile, and the procedures that serve it."""

from baybook.book.sources.load import Book, VehicleSource
from baybook.pages.body import figure_html
from baybook.pages.render import environment
from baybook.pages.site import Page, procedure_uri, relative, vehicle_uri


def vehicle_pages(book: Book) -> list[Page]:
    """Return the pages of all vehicles."""
    return [_page(vehicle, book) for vehicle in book.vehicles.values()]


def _page(vehicle: VehicleSource, book: Book) -> Page:
    uri = vehicle_uri(vehicle.id)
    markdown = (
        environment()
        .get_template("vehicle.md.j2")
        .render(
            data=vehicle.data,
            procedures=[
                (source.data.title, relative(procedure_uri(source.id, vehicle.id), uri))
                for source in book.procedures.values()
                if vehicle in book.matches(source)
            ],
            figures=[
                (figure.says, figure_html(figure), figure.where)
                for figure in vehicle.data.figures.values()
            ],
        )
    )
    return Page(uri, vehicle.data.name, markdown, ("Vehicles",))

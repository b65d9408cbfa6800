"""A vehicle's page: its profile, and the procedures that serve it."""

from baybook.book.compiled import CompiledBook
from baybook.book.sources.load import VehicleSource
from baybook.pages.body import figure_html
from baybook.pages.prose import safe_prose
from baybook.pages.render import html
from baybook.pages.site import MY_CAR_URI, VEHICLES_URI, Page, car_href, href, vehicle_uri


def vehicle_pages(book: CompiledBook) -> list[Page]:
    """Return the page of all vehicles, and the page of each."""
    vehicles = [
        {"data": vehicle.data, "href": href(vehicle_uri(vehicle.id), VEHICLES_URI)}
        for vehicle in book.sources.vehicles.values()
    ]
    text = html("vehicles.html.j2", vehicles=vehicles, my_car=href(MY_CAR_URI, VEHICLES_URI))
    landing = Page(VEHICLES_URI, "Vehicles", text, ("Vehicles",), contents=False)
    return [landing, *(_page(vehicle, book) for vehicle in book.sources.vehicles.values())]


def _page(vehicle: VehicleSource, book: CompiledBook) -> Page:
    names = book.page_names()
    uri = vehicle_uri(vehicle.id)
    text = html(
        "vehicle.html.j2",
        data=vehicle.data,
        about=safe_prose().write(vehicle.data.about),
        procedures=[
            (source.data.title, car_href(source.id, vehicle.id, names, uri))
            for source in book.sources.procedures.values()
            if (source.id, vehicle.id) in names
        ],
        figures=[
            (figure.says, figure_html(figure), figure.where)
            for figure in vehicle.data.figures.values()
        ],
    )
    return Page(uri, vehicle.data.name, text, ("Vehicles",))

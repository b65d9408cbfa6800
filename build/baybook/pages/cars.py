"""The data of each car of a book as the pages' scripts read them, and where its old pages lead."""

from collections.abc import Sequence
from typing import Any

from baybook.book.compiled import CompiledBook
from baybook.book.sources.load import VehicleSource
from baybook.pages.calculator import form_html
from baybook.pages.page_places import Asks, figures_data
from baybook.pages.render import html, taken
from baybook.pages.site import Page, calculator_uri
from baycalc import api
from baycalc.car.places import place

ID_PREFIX = "id-of-the-form-"
"""What stands before the ids of a form that is drawn later."""


def car_files(book: CompiledBook, pages: Sequence[Page]) -> dict[str, str]:
    """Return the files that pages load when they need them: text by address."""
    asks: Asks = {}
    for page in pages:
        asks |= page.asks  # type: ignore[arg-type]
    names = book.page_names()
    cars = {
        f"cars/{car.id}.js": taken("car", _car_data(car, asks, names))
        for car in book.sources.vehicles.values()
    }
    forms = {
        f"assets/calculators/{name}.js": taken("form", {"id": name, "html": _form(name)})
        for name in api.names()
    }
    trees = {uri: text for page in pages for uri, text in page.files.items()}
    return cars | forms | trees | _lead_on(names)


def _car_data(car: VehicleSource, asks: Asks, names: dict[tuple[str, str], str]) -> dict[str, Any]:
    figures = figures_data(car.data.figures)
    places = {key: place(ask, figures, api.describe) for key, ask in sorted(asks.items())}
    return {
        "id": car.id,
        "name": car.data.name,
        "engine": car.data.engine,
        "invented": car.data.invented,
        "has": sorted(car.data.has),
        "pages": {procedure: page for (procedure, of), page in names.items() if of == car.id},
        "places": {key: found for key, found in places.items() if found},
    }


def _form(name: str) -> str:
    """Write a calculator's form without an answer, to be drawn inside a test."""
    page = calculator_uri(name)
    return str(form_html(api.describe(name), {}, page, prefix=ID_PREFIX, answered=False))


def _lead_on(names: dict[tuple[str, str], str]) -> dict[str, str]:
    """Return the pages at the old addresses, one for each car, that lead on to the new ones."""
    return {
        f"procedures/{procedure}/{car}.html": html("lead_on.html.j2", page=page, car=car) + "\n"
        for (procedure, car), page in names.items()
        if page != car
    }

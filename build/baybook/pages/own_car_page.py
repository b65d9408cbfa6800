"""The page of a car of one's own, and what its form has to know of the book."""

from collections.abc import Iterable, Sequence
from typing import Any

from markupsafe import Markup

from baybook.book.compiled import CompiledBook
from baybook.book.sources.load import Book
from baybook.pages.body import figure_html
from baybook.pages.page_places import Asks, figures_of, kind_of
from baybook.pages.render import html, taken
from baybook.pages.site import MY_CAR_URI, Page
from baycalc.quantities.dual_units import usual_units
from baycalc.quantities.units import label

_MOST_TYPICAL = 3
_SHAPES = ("value", "between", "at-least", "at-most", "text", "where")


def own_car_page(book: Book) -> Page:
    """Return the page with the form of a car of one's own."""
    words = [(name, book.shared.equipment_words(name)) for name in _equipment(book)]
    text = html("own_car.html.j2", equipment=sorted(words, key=lambda item: item[1].lower()))
    title = "My car is not here"
    return Page(MY_CAR_URI, title, text, ("Vehicles",), contents=False, search=False)


def own_car_file(book: CompiledBook, pages: Sequence[Page]) -> dict[str, str]:
    """Return the file that the form reads: what procedures ask of a car, by its address."""
    asks: Asks = {}
    by_procedure: dict[str, dict[str, list[str]]] = {}
    for page in pages:
        if not page.asks:
            continue
        asks |= page.asks  # type: ignore[arg-type]
        found = by_procedure.setdefault(page.uri.split("/")[1], {})
        for figure, uses in page.uses.items():
            found[figure] = [*dict.fromkeys([*found.get(figure, []), *filter(None, uses)])]
    sources = book.sources
    needed = dict.fromkeys(name for found in by_procedure.values() for name in found)
    catalog = {
        "equipment": {name: sources.shared.equipment_words(name) for name in _equipment(sources)},
        "procedures": {
            name: _procedure(name, book, by_procedure.get(name, {})) for name in sources.procedures
        },
        "asks": asks,
        "figures": {name: _figure(name, sources, asks) for name in needed},
    }
    return {"assets/cars/catalog.js": taken("catalog", catalog)}


def _equipment(book: Book) -> list[str]:
    """Return the equipment that the book knows, each once."""
    found: dict[str, None] = dict.fromkeys(book.shared.equipment)
    for vehicle in book.vehicles.values():
        found |= dict.fromkeys(vehicle.data.has)
    for source in book.procedures.values():
        found |= dict.fromkeys(source.data.vehicles)
    return list(found)


def _procedure(name: str, book: CompiledBook, figures: dict[str, list[str]]) -> dict[str, Any]:
    data = book.sources.procedures[name].data
    needs = data.vehicles
    return {
        "title": data.title,
        "needs": needs.needs,
        "without": needs.without,
        "any": needs.any,
        "pages": [
            {"name": variant.name, "has": variant.equipment, "not": variant.without}
            for variant in book.variants
            if variant.source.id == name
        ],
        "figures": figures,
    }


def _figure(name: str, book: Book, asks: Asks) -> dict[str, Any]:
    """Return what a figure is, how it is entered, and what it is on the cars of the book."""
    found = [
        vehicle.data.figures[name]
        for vehicle in book.vehicles.values()
        if name in vehicle.data.figures
    ]
    forms = {ask["form"] for ask in asks.values() if name in figures_of(ask)}
    kind = next(filter(None, map(kind_of, found)), "")
    shape = next(each for each in _SHAPES if any(_has(figure, each) for figure in found))
    return {
        "says": found[0].says,
        "kind": kind,
        "shape": shape,
        "where": "where" in forms and shape != "where",
        "units": " / ".join(dict.fromkeys(map(label, usual_units(kind)))) if kind else "",
        "typical": _typical(found),
    }


def _has(figure: Any, shape: str) -> bool:
    value = getattr(figure, shape.replace("-", "_"))
    return isinstance(value, str | tuple) and bool(value)


def _typical(figures: Iterable[Any]) -> str:
    """Return the figures of the book's cars, as an example."""
    texts: dict[str, None] = {}
    for figure in figures:
        text = str(Markup(figure_html(figure)).striptags())
        texts |= {text: None} if text else {}
        if len(texts) == _MOST_TYPICAL:
            break
    return "; ".join(texts)

"""The author's figures: can a procedure find every fault, and what does that cost?"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from baybook.book.car import CarProcedure
from baybook.book.load import Book
from baybook.book.simulated import Simulated, SimulatedBook, networks_of
from baybook.pages.render import environment
from baybook.pages.site import Page, Settings, procedure_uri, relative

TRAIL = ("For authors", "What procedures can do")

_INDEX = "authors/figures/index.md"


@dataclass(frozen=True, slots=True)
class Row:
    """A procedure for the cars that have one network, with its figures where there are any."""

    cars: list[CarProcedure]
    found: Simulated | None

    @property
    def names(self) -> list[str]:
        """The names of its cars, without what stands in brackets behind them."""
        return [car.vehicle.data.name.partition(" (")[0] for car in self.cars]


def figure_pages(book: Book, settings: Settings, simulated: SimulatedBook) -> list[Page]:
    """Return the page of all procedures' figures, and a page for each procedure."""
    rows: dict[str, dict[str, Row]] = {}
    for car, key, _ in networks_of(book, settings.labour_per_hour):
        of_procedure = rows.setdefault(car.source.id, {})
        row = of_procedure.setdefault(key, Row([], simulated.networks.get(key)))
        row.cars.append(car)
    listed = [(book.procedures[name].data.title, name, [*of.values()]) for name, of in rows.items()]
    return [
        _index_page(listed, settings),
        *(_page(title, name, of, settings) for title, name, of in listed),
    ]


def _uri(procedure: str) -> str:
    return f"authors/figures/{procedure}.md"


def _index_page(listed: Iterable[tuple[str, str, list[Row]]], settings: Settings) -> Page:
    markdown = (
        environment()
        .get_template("authors_figures.md.j2")
        .render(
            procedures=[
                (title, relative(_uri(name), _INDEX), rows) for title, name, rows in listed
            ],
            currency=settings.currency,
        )
    )
    return Page(_INDEX, "What procedures can do", markdown, TRAIL, contents=False)


def _page(title: str, name: str, rows: list[Row], settings: Settings) -> Page:
    uri = _uri(name)
    markdown = (
        environment()
        .get_template("authors_procedure.md.j2")
        .render(
            title=title,
            procedure=relative(procedure_uri(name), uri),
            rows=[(row, _words(row)) for row in rows],
            currency=settings.currency,
        )
    )
    return Page(uri, title, markdown, TRAIL)


def _words(row: Row) -> dict[str, Any]:
    """Return the figures of a row with faults and tests by their names."""
    if row.found is None:
        return {}
    car, figures = row.cars[0], row.found.figures
    return {
        "unseen": [fault_name(car, fault) for fault in figures.unseen],
        "groups": [[fault_name(car, fault) for fault in group] for group in figures.groups],
        "never_pay": [car.tests[test].title for test in figures.never_pay],
        "dearest": fault_name(car, figures.dearest),
        "faults": [(fault_name(car, each.fault), each) for each in figures.faults],
    }


def fault_name(car: CarProcedure, fault: str) -> str:
    """Return a fault as people say it."""
    return f"{car.parts[car.faults[fault].part].name} {car.faults[fault].says}"

"""The author's figures: can a procedure find every fault, and what does that cost?"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from baybook.book.car import CarProcedure
from baybook.book.compiled import CompiledBook
from baybook.book.simulated import Simulated
from baybook.pages.render import environment
from baybook.pages.site import Page, Settings, procedure_uri, relative

TRAIL = ("For authors", "What procedures can do")

_INDEX = "authors/figures/index.md"


@dataclass(frozen=True, slots=True)
class FigureRow:
    """A procedure for the cars that have one network, with its figures.

    ``shown`` is what the tests detect and separate: the fields of `isolation.diagnosability`.
    ``found`` is what simulated cars tell, where they were worked out for this network.
    """

    cars: list[CarProcedure]
    shown: dict[str, Any]
    found: Simulated | None

    @property
    def names(self) -> list[str]:
        """The names of its cars, without what stands in brackets behind them."""
        return [car.vehicle.data.name.partition(" (")[0] for car in self.cars]


def figure_pages(book: CompiledBook, settings: Settings) -> list[Page]:
    """Return the page of all procedures' figures, and a page for each procedure."""
    rows: dict[str, dict[str, FigureRow]] = {}
    for car in book.bound:
        of_procedure = rows.setdefault(car.source.id, {})
        if car.key not in of_procedure:
            found = book.simulated.networks.get(car.key)
            of_procedure[car.key] = FigureRow([], car.testability, found)
        of_procedure[car.key].cars.append(car)
    procedures = book.sources.procedures
    listed = [(procedures[name].data.title, name, [*of.values()]) for name, of in rows.items()]
    return [
        _index_page(listed, settings),
        *(_page(title, name, of, settings) for title, name, of in listed),
    ]


def _uri(procedure: str) -> str:
    return f"authors/figures/{procedure}.md"


def _index_page(listed: Iterable[tuple[str, str, list[FigureRow]]], settings: Settings) -> Page:
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


def _page(title: str, name: str, rows: list[FigureRow], settings: Settings) -> Page:
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


def _words(row: FigureRow) -> dict[str, Any]:
    """Return the figures of a row with faults and tests by their names."""
    car, shown = row.cars[0], row.shown
    stated = [set(group) for group in car.source.data.ambiguity_groups]
    words: dict[str, Any] = {
        "unseen": [car.fault_name(fault) for fault in shown["unseen"]],
        "groups": [
            ([car.fault_name(fault) for fault in group], any(set(group) <= one for one in stated))
            for group in shown["groups"]
        ],
        "shown": {
            fault: (car.fault_name(fault), shown["shares"][fault], chance)
            for fault, chance in shown["detection"].items()
        },
    }
    return words | (_words_of_cars(car, row.found) if row.found else {})


def _words_of_cars(car: CarProcedure, found: Simulated) -> dict[str, Any]:
    figures = found.figures
    return {
        "never_pay": [car.tests[test].title for test in figures.never_pay],
        "dearest": car.fault_name(figures.dearest),
        "costs": {each.fault: each for each in figures.faults},
    }

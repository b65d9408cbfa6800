"""The body of a procedure: a template that asks for figures, filled in for one set of equipment."""

from typing import Any

from markupsafe import Markup, escape

from baybook.book.car import CarProcedure
from baybook.book.dual_units import Pair, bounds, pair
from baybook.book.equipment import Variant
from baybook.book.prose.budget import TooMuch
from baybook.book.prose.environment import fill_in
from baybook.book.prose.step_messages import messages_in_steps
from baybook.book.source_model import Figure
from baybook.book.sources.load import Book
from baybook.pages.places import Places
from baybook.pages.prose import Prose, plain_prose
from baybook.pages.render import quantity_html
from baybook.pages.site import calculator_uri, href, procedure_uri
from baycalc import api

_CAR = {
    name: Markup(f'<span class="of-car" data-car="{name}">[{words}]</span>')
    for name, words in (("name", "your car"), ("engine", "its engine"))
}
"""What a text that names the car says until one is chosen."""


class BodyWriter:
    """Fills in the texts of one procedure for one set of equipment; figures become places."""

    def __init__(
        self, variant: Variant, car: CarProcedure, book: Book, prose: Prose | None = None
    ) -> None:
        self._prose = prose or plain_prose()
        self.variant = variant
        self.car = car
        self.book = book
        self.page = procedure_uri(car.source.id, variant.name)
        self.places = Places(car)

    def write(self, text: str) -> Markup:
        """Return a text of the procedure as HTML, with places for the car's figures in it."""
        return self._prose.write(self.markdown(text))

    def markdown(self, text: str) -> str:
        """Return a text of the procedure as Markdown, with places for the car's figures in it."""
        return messages_in_steps(self._filled(text))

    def inline(self, text: str) -> Markup:
        """Return a line of an author's Markdown as HTML without a paragraph around it."""
        written = str(self._prose.write(text))
        return Markup(written.removeprefix("<p>").removesuffix("</p>"))

    @property
    def of_one_car(self) -> bool:
        """Whether the texts could be other ones for each car."""
        return self.variant.name == f"for-{self.car.vehicle.id}"

    def _filled(self, text: str) -> str:
        try:
            return fill_in(text, self._words())
        except TooMuch as error:
            place = f"{self.car.source.lines.file}, for {self.car.vehicle.id}"
            raise TooMuch(f"{place}: {error}") from error

    def _words(self) -> dict[str, Any]:
        return {
            "vehicle": self.car.vehicle.data if self.of_one_car else _CAR,
            "has": self.car.has,
            "figure": self.places.figure,
            "where": self.places.where,
            "quantity": lambda text: quantity_html(pair(text)),
            "test": self._test,
            "procedure": self.link_to_procedure,
            "calculator": self._calculator,
            "shared": lambda name: self._filled(self.book.shared_texts[name]),
        }

    def _test(self, name: str) -> Markup:
        return _link(f"#{name}", self.car.source.data.tests[name].title)

    def link_to_procedure(self, name: str) -> Markup:
        """Write a link to another procedure; the chosen car makes it lead to the right page."""
        address = href(procedure_uri(name), self.page)
        title = self.book.procedures[name].data.title
        return Markup('<a href="{}" data-procedure="{}">{}</a>').format(address, name, title)

    def serves(self, name: str) -> bool:
        """Tell whether another procedure serves any car of this page."""
        matched = self.book.matches(self.book.procedures[name])
        return any(car in matched for car in self.variant.cars)

    def _calculator(self, name: str) -> Markup:
        return _link(href(calculator_uri(name), self.page), api.describe(name).title)


def _link(address: str, title: str) -> Markup:
    return Markup('<a href="{}">{}</a>').format(address, title)


def figure_html(figure: Figure) -> Markup:
    """Write a figure of a car: value, bounds or text; nothing where it only has a place."""
    if figure.text:
        return escape(figure.text)
    if isinstance(figure.value, str):
        return quantity_html(pair(figure.value))
    low, high = (None if text is None else pair(text) for text in bounds(figure))
    return between_html(low, high)


def between_html(low: Pair | None, high: Pair | None) -> Markup:
    """Write bounds in words: a to b, at least, at most, or nothing without any."""
    if low and high:
        return Markup("{} to {}").format(quantity_html(low), quantity_html(high))
    if low:
        return Markup("at least {}").format(quantity_html(low))
    return Markup("at most {}").format(quantity_html(high)) if high else Markup("")

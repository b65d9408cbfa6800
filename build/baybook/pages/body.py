"""The body of a procedure: a template that asks for figures, filled in for one set of equipment."""

from typing import Any

from markupsafe import Markup, escape

from baybook.book.car import CarProcedure, torque_names
from baybook.book.equipment import Variant
from baybook.book.figure_texts import Pair, bounds, pair
from baybook.book.files import find_file, find_procedure
from baybook.book.prose.budget import TooMuch
from baybook.book.prose.environment import fill_in
from baybook.book.prose.links import with_targets
from baybook.book.prose.step_messages import messages_in_steps
from baybook.book.source_model import Figure, Picture
from baybook.book.sources.load import Book
from baybook.book.sources.problem_report import written_from
from baybook.pages.page_places import Places
from baybook.pages.pictures import (
    file_html,
    file_uri,
    picture_html,
    pins_html,
    torques_html,
    video_html,
)
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
        self.places = Places(car, book.vehicles.values())

    def write(self, text: str) -> Markup:
        """Return a text of the procedure as HTML, with places for the car's figures in it."""
        lines = self.car.source.lines
        with written_from(lines, line=self._line_of(text)):
            return self._prose.write(self.markdown(text))

    def _line_of(self, text: str) -> int:
        """Return the line of the source on which a text of it begins."""
        sections = self.car.source.sections
        return next((each.text_line for each in sections if each.text == text), 1)

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

    def _filled(self, text: str, file: str = "") -> str:
        file = file or self.car.source.lines.file
        try:
            return fill_in(self._resolved(text, file), self._words(file))
        except TooMuch as error:
            place = f"{self.car.source.lines.file}, for {self.car.vehicle.id}"
            raise TooMuch(f"{place}: {error}") from error

    def _words(self, file: str) -> dict[str, Any]:
        return {
            "vehicle": self.car.vehicle.data if self.of_one_car else _CAR,
            "has": self.car.has,
            "figure": self.places.figure,
            "where": self.places.where,
            "quantity": lambda text: quantity_html(pair(text)),
            "test": self._test,
            "procedure": self.link_to_procedure,
            "calculator": self._calculator,
            "shared": self._shared,
            "picture": lambda name, alt="", caption="": self._picture(name, alt, caption, file),
            "video": lambda name, title="": video_html(self._address(name, file), title),
            "file": lambda name, title="": self._file(name, title, file),
            "pins": lambda name: pins_html(self.car.vehicle.data.connectors[name]),
            "torques": self._torques,
        }

    def _shared(self, name: str) -> str:
        return self._filled(self.book.shared_texts[name], self.book.shared_text_files[name])

    def _picture(self, name: str, alt: str, caption: str, file: str) -> Markup:
        """Write a picture of the front matter, or one that stands in a file."""
        known = self.car.source.data.pictures.get(name)
        picture = known or Picture(file=name, alt=alt, caption=caption)
        home = self.car.source.lines.file if known else file
        place = find_file(self.book, picture.file, home) or picture.file
        return picture_html(place, self.book.files[place], self.page, picture, self.car.parts)

    def _address(self, name: str, file: str) -> str:
        place = find_file(self.book, name, file) or name
        return href(file_uri(place), self.page)

    def _file(self, name: str, title: str, file: str) -> Markup:
        path = self.book.files[find_file(self.book, name, file) or name]
        return file_html(self._address(name, file), path.name, title, path.stat().st_size)

    def _torques(self, names: str) -> Markup:
        figures = self.car.vehicle.data.figures
        return torques_html(
            [(figures[name].says, self.places.figure(name)) for name in torque_names(names)]
        )

    def _resolved(self, text: str, file: str) -> str:
        """Let the links of a text lead from its page to what they mean from its source."""
        return with_targets(text, lambda target: self._target(target, file))

    def _target(self, target: str, file: str) -> str:
        name, _, anchor = target.partition("#")
        end = f"#{anchor}" if anchor else ""
        if target.startswith("/"):
            return href(target[1:], self.page)
        if name.endswith(".md"):
            procedure = find_procedure(self.book, name, file)
            return href(procedure_uri(procedure), self.page) + end if procedure else target
        place = find_file(self.book, name, file)
        return href(file_uri(place), self.page) + end if place else target

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

"""The places of a procedure's page that the chosen car fills in."""

from collections.abc import Iterable
from typing import Any

import msgspec
from markupsafe import Markup
from msgspec import UnsetType

from baybook.book.car import CarProcedure, is_figure
from baybook.book.figure_texts import bounds
from baybook.book.pint_quantities import kinds_of
from baybook.book.source_model import Figure, Limit, Observation
from baybook.book.sources.load import VehicleSource
from baycalc.car.places import key_of

Asks = dict[str, dict[str, Any]]
"""What pages ask of a car, by the name of the place."""


def figures_data(figures: dict[str, Figure]) -> dict[str, dict[str, Any]]:
    """Return the figures of a car as its file has them."""
    found: dict[str, dict[str, Any]] = msgspec.to_builtins(figures)
    return found


class Places:
    """Writes the places of one page, with neutral words in them, and keeps what they ask for."""

    def __init__(self, car: CarProcedure, cars: Iterable[VehicleSource]) -> None:
        self.car = car
        self.cars = tuple(cars)
        self.asks: Asks = {}
        self.here = ""
        self.uses: dict[str, dict[str, None]] = {}
        """For each figure the titles of the parts of the page that use it, in their order."""

    def figure(self, name: str) -> Markup:
        """Write the place of a figure."""
        figure = self.car.figure(name)
        ask = {"form": "figure", "figure": name, "kind": self._kind(name)}
        return self._span(ask, neutral(figure.says))

    def where(self, name: str) -> Markup:
        """Write the place of the words that say where something is on the car."""
        words = f"place of: {neutral(self.car.figure(name).says)}"
        return self._span({"form": "where", "figure": name}, words)

    def limit(self, observation: Observation) -> tuple[str, Markup]:
        """Return the name of a limit, and its place; nothing where no car makes a difference."""
        limit = observation.limit
        assert not isinstance(limit, UnsetType)
        if not depends_on_car(limit):
            return "", Markup("")
        named = "" if isinstance(limit.figure, UnsetType) else limit.figure
        low, high = (None, None) if named else bounds(limit)
        units = (observation.units[0], observation.units[-1]) if observation.units else ()
        ask: dict[str, Any] = {
            "form": "limit",
            "figure": named,
            "low": low or "",
            "high": high or "",
        }
        ask |= {"kind": observation.kind, "units": units}
        names = [named] if named else [text for text in (low, high) if text and is_figure(text)]
        says = self.car.figure(names[0].partition(".")[0]).says
        return key_of(ask), self._span(ask, neutral(says))

    def entry(self, text: str, calculator: str, field: str) -> str:
        """Return the name of a calculator's entry that holds a figure."""
        return self._keep({"form": "entry", "text": text, "calculator": calculator, "field": field})

    def _kind(self, name: str) -> str:
        """Return the kind of quantity of a figure, as the first car has it that has one."""
        figures = (car.data.figures.get(name) for car in self.cars)
        return next((kind for each in figures if each and (kind := kind_of(each))), "")

    def _keep(self, ask: dict[str, Any]) -> str:
        key = key_of(ask)
        for name in figures_of(ask):
            self.uses.setdefault(name, {})[self.here] = None
        self.asks[key] = ask
        return key

    def _span(self, ask: dict[str, Any], words: str) -> Markup:
        return Markup('<span class="figure" data-figure="{}">[{}]</span>').format(
            self._keep(ask), words
        )


def figures_of(ask: dict[str, Any]) -> list[str]:
    """Return the names of the figures that a place asks for."""
    texts = [ask.get(field, "") for field in ("figure", "low", "high", "text")]
    return [text.partition(".")[0] for text in texts if text and is_figure(text)]


def kind_of(figure: Figure) -> str:
    """Return the kind of quantity of a figure, or nothing where it only has a place."""
    texts = (figure.value, *bounds(figure))
    text = next((each for each in texts if isinstance(each, str)), "")
    return kinds_of(text)[0] if text else ""


def depends_on_car(limit: Limit) -> bool:
    """Tell whether a limit names a figure of the car."""
    if not isinstance(limit.figure, UnsetType):
        return True
    return any(text is not None and is_figure(text) for text in bounds(limit))


def neutral(says: str) -> str:
    """Write what a figure is of as words inside a sentence."""
    return says if says[1:2].isupper() else says[:1].lower() + says[1:]

"""Words of lists that a book can add to, and numbers that a vehicle's figure gives."""

from collections.abc import Iterable, Iterator

from baybook.book.checks.check_quantities import check_value, figure_place
from baybook.book.context import Context
from baybook.book.figure_texts import figure_text
from baybook.book.numbers_of_car import numbers
from baybook.book.pint_quantities import kinds_of
from baybook.book.source_model import Shared
from baybook.book.source_types import FLOWS, HAZARDS, Needs, OfCar
from baybook.book.sources.problem_report import Report
from baybook.book.sources.problems import close_match
from baybook.book.sources.read import Path


def check_lists(context: Context) -> None:
    """Check flows and hazards of a procedure, and figures that stand for numbers."""
    shared, data = context.book.shared, context.data
    flows = [
        (("parts", name, "joins", flow), flow)
        for name, part in data.parts.items()
        for flow in part.joins
    ]
    _check_words(context.report, flows, (*FLOWS, *shared.flows))
    _check_words(context.report, _hazards(context), (*HAZARDS, *shared.hazards))
    for each in numbers(data):
        if isinstance(each.number, OfCar):
            _check_of_car(context, each.path, each.number.name, each.kind, each.when)


def _check_of_car(context: Context, path: Path, name: str, kind: str, when: Needs) -> None:
    known = {figure for car in context.book.vehicles.values() for figure in car.data.figures}
    if name.partition(".")[0] in known:
        check_value(context, path, kind, name, context.cars_with(when))
        for car in context.cars_with(when):
            figure = car.data.figures.get(name.partition(".")[0])
            text = figure_text(figure, name) if figure else None
            # 40 A can be years too: only what a text is first counts here.
            if text and kind in kinds_of(text)[1:]:
                place, got = figure_place(car, name), kinds_of(text)[0]
                what = f"expected {kind}, got {name}, which is {text} ({got}) in {place}"
                context.report.error(path, what)
        return
    hint = close_match(name, known) or "the name of a vehicle's figure may stand here too"
    context.report.error(path, f"expected a number, got the text {name}", hint)


def check_shared_lists(shared: Shared, report: Report) -> None:
    """Check the hazards of the shared set-ups and messages."""
    covers = [
        (("safety", name, "covers", place), hazard)
        for name, message in shared.safety.items()
        for place, hazard in enumerate(message.covers)
    ]
    setups = [
        (("setups", name, "hazards", place), hazard)
        for name, setup in shared.setups.items()
        for place, hazard in enumerate(setup.hazards)
    ]
    _check_words(report, [*covers, *setups], (*HAZARDS, *shared.hazards))


def _hazards(context: Context) -> Iterator[tuple[Path, str]]:
    """Give the hazards that a procedure itself writes."""
    data, lines = context.data, context.report.lines.by_path
    for name, setup in data.setups.items():
        for place, hazard in enumerate(setup.hazards):
            path: Path = ("setups", name, "hazards", place)
            if path in lines:
                yield path, hazard
    own = len(data.safety) - len([path for path in lines if len(path) == 2 and path[0] == "safety"])
    for number, message in enumerate(data.safety[own:]):
        for place, hazard in enumerate(message.covers):
            yield ("safety", number, "covers", place), hazard


def _check_words(report: Report, words: Iterable[tuple[Path, str]], known: tuple[str, ...]) -> None:
    for path, word in words:
        if word not in known:
            text = f"expected one of {', '.join(known)}; got {word}"
            report.error(path, text, close_match(word, known) or "shared.yml can add others")

"""A vehicle's figures: each has one form, units that fit, and bounds in order."""

from msgspec import UNSET, UnsetType

from baybook.book.checks.check_quantities import check_order
from baybook.book.figure_texts import bounds
from baybook.book.pint_quantities import kinds_of, unit_table
from baybook.book.quantity_hints import quantity_hint
from baybook.book.source_model import Figure
from baybook.book.sources.load import VehicleSource
from baybook.book.sources.problem_report import Report
from baybook.book.sources.read import Path


def check_vehicle(vehicle: VehicleSource, report: Report) -> None:
    """Check the figures of a vehicle."""
    for name, figure in vehicle.data.figures.items():
        path: Path = ("figures", name)
        _check_form(figure, path, report)
        kinds = [_kinds(text, place, report) for text, place in _texts(figure, path)]
        if len(kinds) == 2 and all(kinds):
            _check_bounds(figure, path, kinds, report)


def _check_form(figure: Figure, path: Path, report: Report) -> None:
    value = figure.value is not UNSET
    between = figure.between is not UNSET
    bound = figure.at_least is not UNSET or figure.at_most is not UNSET
    if value + between + bound + bool(figure.text) > 1:
        report.error(path, "expected one of value, between, at-least, at-most, text; got several")
    elif not (value or between or bound or figure.text or figure.where):
        text = "expected value, between, at-least, at-most, text or where; got none of them"
        report.error(path, text)


def _texts(figure: Figure, path: Path) -> list[tuple[str, Path]]:
    found: list[tuple[str, Path]] = []
    if not isinstance(figure.between, UnsetType):
        found += [(text, (*path, "between", place)) for place, text in enumerate(figure.between)]
    named = (("value", figure.value), ("at-least", figure.at_least), ("at-most", figure.at_most))
    found += [(text, (*path, name)) for name, text in named if not isinstance(text, UnsetType)]
    return found


def _kinds(text: str, path: Path, report: Report) -> list[str]:
    found = kinds_of(text)
    if not found:
        report.error(
            path,
            f"expected a quantity with its unit, got {text}",
            quantity_hint(text),
        )
    return found


def _check_bounds(figure: Figure, path: Path, kinds: list[list[str]], report: Report) -> None:
    low, high = bounds(figure)
    if low is None or high is None:
        return
    both = [kind for kind in kinds[0] if kind in kinds[1]]
    if both:
        values = (unit_table().parse(both[0], text) for text in (low, high))
        check_order(report, path, (low, high), *values)
    else:
        report.error(
            path,
            f"expected two bounds of one kind, got {low} ({kinds[0][0]}) "
            f"and {high} ({kinds[1][0]})",
        )
